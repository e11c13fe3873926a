"""How much water parts and pipes hold, and how deep a vessel reaches below its ports."""

from __future__ import annotations

from math import pi

from noonwater.catalog import VesselType, panel_named, vessel_like, water_held, water_in_headers
from noonwater.model.circuit import Circuit, Part, Pipe

EVEN = 1e-6
"""[m] Ends closer in height than this are level with each other."""


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


def sag_of(pipe: Pipe, drop: float) -> tuple[float, float]:
    """How deep a pipe hangs below its lower end, and how much of its length lies level.

    Parameters
    ----------
    pipe : Pipe
        The pipe.
    drop : float
        Height of one of its ends above the other. [m]

    Returns
    -------
    tuple of float
        Depth [m], 0 where the pipe drains; length of its level stretches [m], taken as what is left
        of it beside its rise.
    """
    level = max(pipe.length - abs(drop), 0.0)
    if pipe.slope >= 0.0 or pipe.role == "header":
        return 0.0, level
    # Between ends of one height it hangs in the middle, so only half of it falls.
    return -pipe.slope * level * (0.5 if abs(drop) < EVEN else 1.0), level


def header_share(panel: Part, circuit: Circuit) -> float:
    """Water in half of one of a panel's headers.

    Parameters
    ----------
    panel : Part
        A panel.
    circuit : Circuit
        For the job's own panels.

    Returns
    -------
    float
        Of the water that the panel is counted with. [m³]
    """
    return 0.25 * water_in_headers(panel_named(panel.catalog, own=circuit.own_panels))


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
