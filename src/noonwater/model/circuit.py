"""The plumbing as data: parts and pipes between named joints.

A part has ports; a pipe joins two ports. A valve's position belongs to a state, not to the part, so
one circuit serves every state. Elevations are above the pool's water.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from noonwater.model.own_part import OwnPanel, OwnPump

PartKind = Literal[
    "pool",
    "spa",
    "pump",
    "booster pump",
    "filter",
    "heater",
    "sanitizer",
    "suction cleaner",
    "pressure cleaner",
    "panel",
    "check valve",
    "diverter",
    "bypass valve",
    "isolation valve",
    "drain",
    "vacuum breaker",
    "tee",
    "plug",
]

Feature = Literal["actuator", "stops", "by hand", "sight window"]
"""What a part of a kind may have or not: what turns a diverter, and stops that hold it between its
ends; a window that shows a check valve's flap."""

Port = tuple[str, str]
"""A part's name and the name of one of its ports."""


@dataclass(frozen=True)
class Kind:
    """What every part of a kind is.

    Attributes
    ----------
    ports : tuple of str
        Every opening that such a part may have, first the one that water enters. A diverter has
        three: one that all its water passes ("in", or "out" on a suction), then the two ways.
    settable : bool
        Whether a state gives it a position, 0 shut to 1 open; a diverter's counts toward the last
        of its ports.
    unset : float
        Position where a state gives none.
    driven : bool
        Whether it turns at a speed of the state.
    backward : bool
        Whether water can pass it from its last port to its first, in some position, standing.
    air : bool
        Whether air can come in through it.
    body : bool
        Whether it is an open body of water at a level of its own.
    joined : bool
        Whether all its ports are one place: no loss between them.
    features : tuple of Feature
        What such a part may have besides.
    """

    ports: tuple[str, ...]
    settable: bool = False
    unset: float = 1.0
    driven: bool = False
    backward: bool = True
    air: bool = False
    body: bool = False
    joined: bool = False
    features: tuple[Feature, ...] = ()


_RUN = ("in", "out")

KINDS: dict[PartKind, Kind] = {
    "pool": Kind(
        ("return", "suction", "cleaner line", "cleaner"), body=True, air=True, joined=True
    ),
    "spa": Kind(("return", "suction"), body=True, air=True, joined=True),
    "pump": Kind(_RUN, driven=True),
    "booster pump": Kind(_RUN, driven=True),
    "filter": Kind(_RUN),
    "heater": Kind(_RUN),
    "sanitizer": Kind(_RUN),
    "suction cleaner": Kind(_RUN),
    "pressure cleaner": Kind(_RUN),
    "panel": Kind(("low", "high")),
    "check valve": Kind(_RUN, backward=False, features=("sight window",)),
    "diverter": Kind(
        ("in", "out", "pool", "solar", "spa", "cleaner"),
        settable=True,
        features=("actuator", "stops", "by hand"),
    ),
    "bypass valve": Kind(_RUN, settable=True),
    "isolation valve": Kind(_RUN, settable=True),
    "drain": Kind(("in", "air"), settable=True, unset=0.0, air=True),
    "vacuum breaker": Kind(_RUN, air=True, joined=True),
    "tee": Kind(("run in", "run out", "branch"), joined=True),
    "plug": Kind(("in",), backward=False),
}
"""The words of the plumbing. A drain's port "air" has no pipe: open, it stands at atmospheric
pressure. A plug closes the port that a pipe without length joins it to."""


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
        Height of its first port above the pool's water; of a spa, of its water. [m]
    size : float
        Nominal size. [m]
    catalog : str
        Row of the catalog that its figures come from; "" where the kind says all. A diverter's is
        "seals tight" or "drain-down hole": a hole in the seal empties the feed to the pool's side.
    rise : float
        Height of its last port above its first; a panel's upper header lies above its lower. [m]
    features : tuple of Feature
        What it has besides.
    plugged : float
        Share of a panel's tubes that are plugged. [-]
    """

    name: str
    kind: PartKind
    ports: tuple[str, ...]
    elevation: float
    size: float
    catalog: str = ""
    rise: float = 0.0
    features: tuple[Feature, ...] = ()
    plugged: float = 0.0

    @property
    def facts(self) -> Kind:
        """What every part of its kind is."""
        return KINDS[self.kind]

    @property
    def ways(self) -> tuple[tuple[Port, Port], ...]:
        """Ports between which water can pass, in the direction of usual flow; one pair per way.

        A diverter's first way is open at position 0, its second at 1. A plug and the bodies of
        water have none; a joined part's ports are one place.
        """
        ends = [(self.name, port) for port in self.ports]
        if self.kind == "diverter":
            common, first, second = ends
            if common[1] == "out":
                return (first, common), (second, common)
            return (common, first), (common, second)
        if self.facts.joined or len(ends) < 2:
            return ()
        return ((ends[0], ends[-1]),)


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
        "suction", "pad", "feed", "header", "roof return", "return", or "cleaner" for a line that
        only a cleaner uses, "spa" for one that only a spa uses.
    slope : float
        Fall per length of its level stretches toward its lower end, so that it drains; negative
        where they fall away from it, so that water stays in them. Heights of its ends are those of
        its ports; a header's follow its bank's slope. [-]
    """

    name: str
    start: Port
    stop: Port
    length: float
    diameter: float
    nominal: float
    fittings: tuple[Fitting, ...] = ()
    role: str = "pad"
    slope: float = 0.0


@dataclass(frozen=True)
class State:
    """Positions of the valves and the pumps' speeds.

    Attributes
    ----------
    name : str
        "off", "filter 1750 rpm", "solar 2400 rpm", "priming 3000 rpm".
    speed : float
        Turning speed of the filter pump; 0 where it stands. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.
    positions : tuple of (str, float)
        Opening of each valve that can be set, 0 shut to 1 open.
    speeds : tuple of (str, float)
        Turning speed of each booster pump; one that is not named stands. [rpm]
    """

    name: str
    speed: float
    solar: bool
    positions: tuple[tuple[str, float], ...] = ()
    speeds: tuple[tuple[str, float], ...] = ()

    def position_of(self, part: Part) -> float:
        """How far a valve stands open, 0 to 1; a diverter toward its last port."""
        return dict(self.positions).get(part.name, part.facts.unset)

    def speed_of(self, part: Part) -> float:
        """Turning speed of a pump or booster pump. [rpm]."""
        if part.kind == "pump":
            return self.speed
        return dict(self.speeds).get(part.name, 0.0)


@dataclass(frozen=True)
class Circuit:
    """All parts and pipes of a job.

    Attributes
    ----------
    parts, pipes : tuple of Part, tuple of Pipe
        In the order in which they were laid out.
    own_pumps, own_panels : tuple of OwnPump, tuple of OwnPanel
        The job's own parts, whose names stand beside those of the catalog.
    """

    parts: tuple[Part, ...]
    pipes: tuple[Pipe, ...]
    own_pumps: tuple[OwnPump, ...] = ()
    own_panels: tuple[OwnPanel, ...] = ()

    def __hash__(self) -> int:
        """Hash of all there is, worked out once: answers are kept by circuit."""
        known = self.__dict__.get("_hash")
        if known is None:
            known = hash((self.parts, self.pipes, self.own_pumps, self.own_panels))
            object.__setattr__(self, "_hash", known)
        return int(known)

    def __getstate__(self) -> dict[str, object]:
        """Leave the hash out of a copy for another process: there texts hash otherwise."""
        return {name: value for name, value in self.__dict__.items() if name != "_hash"}

    def part(self, name: str) -> Part:
        """Find a part by name."""
        return next(part for part in self.parts if part.name == name)

    def of_kind(self, *kinds: PartKind) -> tuple[Part, ...]:
        """All parts of some kinds."""
        return tuple(part for part in self.parts if part.kind in kinds)

    def pipes_at(self, name: str) -> tuple[Pipe, ...]:
        """All pipes that end at a part."""
        return tuple(pipe for pipe in self.pipes if name in (pipe.start[0], pipe.stop[0]))
