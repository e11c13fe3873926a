"""How much water parts and pipes hold, and how deep a vessel reaches below its ports."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from noonwater.catalog import panel_named
from noonwater.model.circuit import Circuit, Part, Pipe


@dataclass(frozen=True)
class Vessel:
    """A part that keeps water below its ports until its own plug is out.

    Attributes
    ----------
    volume : float
        Water it holds. [m³]
    depth : float
        Of its plug below its ports. [m]
    """

    volume: float
    depth: float


VESSELS = {
    "pump": Vessel(0.004, 0.10),
    "booster pump": Vessel(0.001, 0.05),
    "heater": Vessel(0.006, 0.20),
    "sanitizer": Vessel(0.003, 0.10),
}
"""Pump with its strainer pot, heater, sanitizer: rough sizes, all from memory."""

FILTERS = {
    "none": Vessel(0.0, 0.0),
    "cartridge": Vessel(0.070, 0.30),
    "sand": Vessel(0.120, 0.50),
    "DE": Vessel(0.080, 0.30),
}
"""Filters of a domestic pool by their row of the catalog: rough sizes, all from memory."""

FILTER = Vessel(0.080, 0.30)
"""Any other filter: rough size, from memory."""


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


def vessel_of(part: Part) -> Vessel | None:
    """A part's vessel.

    Parameters
    ----------
    part : Part
        Any part.

    Returns
    -------
    Vessel or None
        None where the part keeps nothing below its ports.
    """
    if part.kind == "filter":
        vessel = FILTERS.get(part.catalog, FILTER)
        return vessel if vessel.volume > 0.0 else None
    return VESSELS.get(part.kind)


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
        return _panel_volume(part, circuit)
    vessel = vessel_of(part)
    return 0.0 if vessel is None else vessel.volume


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


def _panel_volume(part: Part, circuit: Circuit) -> float:
    own = next((row for row in circuit.own_panels if row.name == part.catalog), None)
    row = panel_named(part.catalog if own is None else own.like)
    width = row.width if own is None else own.width
    diameter = (own and own.header_diameter) or row.header_diameter
    volume = row.water_volume
    if own is not None:
        # What a sheet doesn't say is taken from the generic panel, by area.
        volume = own.water_volume or row.water_volume * own.width * own.length / row.area
    headers = min(2.0 * 0.25 * pi * diameter**2 * width, volume)
    return headers + (volume - headers) * (1.0 - part.plugged)
