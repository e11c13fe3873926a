"""The plumbing as data: parts and pipes between named joints.

A part has ports; a pipe joins two ports. A valve's position belongs to a state, not to the part, so
one circuit serves every state. Elevations are above the pool's water.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

PartKind = Literal[
    "pool",
    "pump",
    "filter",
    "heater",
    "panel",
    "check valve",
    "diverter",
    "bypass valve",
    "isolation valve",
    "drain",
    "vacuum breaker",
    "tee",
]

Port = tuple[str, str]
"""A part's name and the name of one of its ports."""


@dataclass(frozen=True)
class Part:
    """One piece of the pad or the roof.

    Attributes
    ----------
    name : str
        Unique in its circuit, in trade words: "filter", "south panel 3".
    kind : PartKind
        What it is.
    ports : tuple of str
        Names of its openings, first the one that water enters.
    elevation : float
        Height of its first port above the pool's water. [m]
    size : float
        Nominal size. [m]
    catalog : str
        Row of the catalog that its figures come from; "" where the kind says all.
    rise : float
        Height of its last port above its first; a panel's upper header lies above its lower. [m]
    """

    name: str
    kind: PartKind
    ports: tuple[str, ...]
    elevation: float
    size: float
    catalog: str = ""
    rise: float = 0.0


@dataclass(frozen=True)
class Fitting:
    """Fittings of one kind along a pipe."""

    kind: str
    count: int


@dataclass(frozen=True)
class Pipe:
    """A run of pipe between two ports.

    Attributes
    ----------
    name : str
        Unique in its circuit.
    start, stop : Port
        What it joins, in the direction of usual flow.
    length : float
        Along the run. [m]
    diameter : float
        Inside diameter. [m]
    nominal : float
        Nominal size. [m]
    fittings : tuple of Fitting
        Elbows and the like along the run.
    role : str
        "suction", "pad", "feed", "header", "roof return" or "return".
    """

    name: str
    start: Port
    stop: Port
    length: float
    diameter: float
    nominal: float
    fittings: tuple[Fitting, ...] = ()
    role: str = "pad"


@dataclass(frozen=True)
class State:
    """Positions of the valves and the pump's speed.

    Attributes
    ----------
    name : str
        "off", "filter 1750 rpm", "solar 2400 rpm", "priming 3000 rpm".
    speed : float
        Turning speed of the pump; 0 where it stands. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.
    positions : tuple of (str, float)
        Opening of each valve that can be set, 0 shut to 1 open.
    """

    name: str
    speed: float
    solar: bool
    positions: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Circuit:
    """All parts and pipes of a job."""

    parts: tuple[Part, ...]
    pipes: tuple[Pipe, ...]

    def part(self, name: str) -> Part:
        """Find a part by name."""
        return next(part for part in self.parts if part.name == name)
