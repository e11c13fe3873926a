"""How much water parts and pipes hold, and how deep a vessel reaches below its ports."""

from __future__ import annotations

from math import pi

from noonwater.catalog import VesselType, panel_named, vessel_like, water_held
from noonwater.model.circuit import Circuit, Part, Pipe


def pipe_volume(pipe: Pipe) -> float:
    """Water that a pipe holds.

    Parameters
    ----------
    pipe : Pipe
        The pipe.

    Returns
    -------
    float
        Bore times length [m³]; 0 for a stretch of header, which its panels count.
    """
    return 0.0 if pipe.role == "header" else 0.25 * pi * pipe.diameter**2 * pipe.length


def vessel_of(part: Part) -> VesselType | None:
    """A part's vessel.

    Parameters
    ----------
    part : Part
        Any part.

    Returns
    -------
    VesselType or None
        None where the part keeps nothing below its ports.
    """
    vessel = vessel_like(part.kind, part.catalog)
    return vessel if vessel is not None and vessel.water_volume > 0.0 else None


def part_volume(part: Part, circuit: Circuit) -> float:
    """Water that a part holds.

    Parameters
    ----------
    part : Part
        Any part.
    circuit : Circuit
        For the job's own panels.

    Returns
    -------
    float
        A panel's by its row of the catalog, plugged tubes left out; a vessel's by its size; valves
        and tees count nothing besides their pipes. [m³]
    """
    if part.kind == "panel":
        return water_held(panel_named(part.catalog, own=circuit.own_panels), part.plugged)
    vessel = vessel_of(part)
    return 0.0 if vessel is None else vessel.water_volume


def circuit_volume(circuit: Circuit) -> float:
    """Water that a circuit holds when all of it is full.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    float
        Without the pool. [m³]
    """
    pipes = sum(pipe_volume(pipe) for pipe in circuit.pipes)
    return pipes + sum(part_volume(part, circuit) for part in circuit.parts)
