"""A circuit as vessels that communicate: what water can pass where, and where air can come in.

Valves stand as a setting says. Nothing here knows an arrangement: what a part does follows from the
table of kinds and from its vessel, if it has one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from noonwater.catalog import diverter_named
from noonwater.hydraulics.network import port_elevation
from noonwater.hydraulics.volume import (
    EVEN,
    header_share,
    part_volume,
    pipe_volume,
    sag_of,
    vessel_of,
)
from noonwater.model.circuit import Circuit, Part, Pipe, Port, State

POCKET = 1e-3
"""[m] Depth of the water that draining leaves in a panel; only its sign counts."""

SHUT = 1e-9
"""[-] An opening of less is shut."""


@dataclass(frozen=True)
class Setting:
    """How everything that a hand can set stands, and no speed.

    Attributes
    ----------
    positions : tuple of (str, float)
        Opening of each valve and drain; a diverter's counts toward the roof. [-]
    opened : frozenset of str
        Parts that stand open: a vessel with lid or air relief and drain plug out, any other part
        with its unions undone.
    plugged : frozenset of Port
        The pool's ports with a plug in.
    """

    positions: tuple[tuple[str, float], ...] = ()
    opened: frozenset[str] = frozenset()
    plugged: frozenset[Port] = frozenset()

    def position_of(self, part: Part) -> float:
        """How far a valve stands open, 0 to 1; a diverter toward its last port."""
        return dict(self.positions).get(part.name, part.facts.unset)

    def with_position(self, part: str, opening: float) -> Setting:
        """The same with one valve set otherwise."""
        positions = tuple(sorted({**dict(self.positions), part: opening}.items()))
        return Setting(positions, self.opened, self.plugged)


@dataclass(frozen=True)
class Passage:
    """Water between two places, and whether it can pass.

    Attributes
    ----------
    name : str
        Of the part or pipe.
    start, stop : int
        Places.
    volume : float
        When full. [m³]
    length : float
        [m]
    forward, backward : bool
        Whether water can pass from start to stop, and from stop to start, with the pump still.
    seeps : bool
        Whether it is only a drain-down hole, too small to carry.
    owner : str
        Part that its water is told with; "" where that is the part or pipe itself.
    """

    name: str
    start: int
    stop: int
    volume: float
    length: float
    forward: bool = True
    backward: bool = True
    seeps: bool = False
    owner: str = ""

    @property
    def told_with(self) -> str:
        """Name of the part or pipe that its water is told with."""
        return self.owner or self.name


Arc = tuple[int, int, bool]
"""Place at the other end, number of the passage, whether it is passed forward."""


@dataclass(frozen=True)
class Plumbing:
    """A circuit under one setting.

    Attributes
    ----------
    elevation : tuple of float
        Of each place above the pool's water. [m]
    passages : tuple of Passage
        All of them, the shut ones too.
    place_of : mapping of Port to int
        Place of a port.
    waters : mapping of int to float
        Level of the open water at a place. [m]
    breakers : mapping of int to str
        Places where air comes in by itself, and the part there.
    openings : mapping of int to str
        Places that stand open to air, and the part there.
    out, into : tuple of tuple of Arc
        Where water can pass to from a place, and where from.
    """

    elevation: tuple[float, ...]
    passages: tuple[Passage, ...]
    place_of: Mapping[Port, int]
    waters: Mapping[int, float]
    breakers: Mapping[int, str]
    openings: Mapping[int, str]
    out: tuple[tuple[Arc, ...], ...]
    into: tuple[tuple[Arc, ...], ...]

    @property
    def full(self) -> tuple[float, ...]:
        """Every passage full."""
        return (1.0,) * len(self.passages)

    def litres(self, shares: Iterable[float]) -> float:
        """Water in the passages. [L]."""
        pairs = zip(self.passages, shares, strict=True)
        return 1000.0 * sum(passage.volume * share for passage, share in pairs)


@dataclass
class _Draft:
    circuit: Circuit
    residue: float
    elevation: list[float] = field(default_factory=list)
    passages: list[Passage] = field(default_factory=list)
    place_of: dict[Port, int] = field(default_factory=dict)
    waters: dict[int, float] = field(default_factory=dict)
    breakers: dict[int, str] = field(default_factory=dict)
    openings: dict[int, str] = field(default_factory=dict)
    headers: dict[str, int] = field(default_factory=dict)

    def place(self, elevation: float) -> int:
        self.elevation.append(elevation)
        return len(self.elevation) - 1


@lru_cache(maxsize=4096)
def plumbing_of(circuit: Circuit, setting: Setting, residue: float = 0.0) -> Plumbing:
    """Lay out a circuit as vessels that communicate.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    setting : Setting
        How the valves stand and what is open.
    residue : float
        Share of the panels' water that draining leaves in them. [-]

    Returns
    -------
    Plumbing
        Places at the ports' heights, passages between them.
    """
    draft = _Draft(circuit, residue)
    tilted = [pipe for pipe in circuit.pipes if pipe.role == "header" and pipe.slope != 0.0]
    for end in (end for pipe in tilted for end in (pipe.start, pipe.stop)):
        draft.headers[end[0]] = draft.headers.get(end[0], 0) + 1
    for part in circuit.parts:
        _add_part(draft, part, setting)
    for pipe in circuit.pipes:
        _add_pipe(draft, pipe)
    out: list[list[Arc]] = [[] for _ in draft.elevation]
    into: list[list[Arc]] = [[] for _ in draft.elevation]
    for number, passage in enumerate(draft.passages):
        if passage.forward:
            out[passage.start].append((passage.stop, number, True))
            into[passage.stop].append((passage.start, number, True))
        if passage.backward:
            out[passage.stop].append((passage.start, number, False))
            into[passage.start].append((passage.stop, number, False))
    return Plumbing(
        elevation=tuple(draft.elevation),
        passages=tuple(draft.passages),
        place_of=draft.place_of,
        waters=draft.waters,
        breakers=draft.breakers,
        openings=draft.openings,
        out=tuple(tuple(arcs) for arcs in out),
        into=tuple(tuple(arcs) for arcs in into),
    )


def setting_of(state: State) -> Setting:
    """How the valves stand in a state, with nothing open and nothing plugged.

    Parameters
    ----------
    state : State
        Positions.

    Returns
    -------
    Setting
        The same positions.
    """
    return Setting(tuple(sorted(state.positions)))


def _add_pipe(draft: _Draft, pipe: Pipe) -> None:
    """A pipe, straight between its ends; with a low place where its level stretches fall away.

    A header that tilts holds its own water, which is told with the panel that it starts at.
    """
    start, stop = draft.place_of[pipe.start], draft.place_of[pipe.stop]
    if pipe.role == "header" and pipe.slope != 0.0:
        ends = (draft.circuit.part(end[0]) for end in (pipe.start, pipe.stop))
        held = sum(header_share(panel, draft.circuit) for panel in ends) * (1.0 - draft.residue)
        owner = pipe.start[0]
        draft.passages.append(Passage(pipe.name, start, stop, held, pipe.length, owner=owner))
        return
    heights = draft.elevation[start], draft.elevation[stop]
    depth, level = sag_of(pipe, heights[0] - heights[1])
    volume = pipe_volume(pipe)
    if depth <= EVEN or volume <= 0.0:
        draft.passages.append(Passage(pipe.name, start, stop, volume, pipe.length))
        return
    low = draft.place(min(heights) - depth)
    near = 0.5 if abs(heights[0] - heights[1]) < EVEN else level / pipe.length
    first = 1.0 - near if heights[0] > heights[1] else near
    for share, ends_of in ((first, (start, low)), (1.0 - first, (low, stop))):
        draft.passages.append(Passage(pipe.name, *ends_of, share * volume, share * pipe.length))


def _add_part(draft: _Draft, part: Part, setting: Setting) -> None:
    facts = part.facts
    together = facts.joined and not facts.body
    shared = draft.place(part.elevation) if together else None
    for port in part.ports:
        own = draft.place(port_elevation(part, port)) if shared is None else shared
        draft.place_of[(part.name, port)] = own
    places = [draft.place_of[(part.name, port)] for port in part.ports]
    if facts.body:
        for port, place in zip(part.ports, places, strict=True):
            if (part.name, port) not in setting.plugged:
                draft.waters[place] = part.elevation
    elif facts.air and not facts.settable:
        draft.breakers[places[0]] = part.name
    elif facts.air:
        if setting.position_of(part) > SHUT:
            draft.openings[places[0]] = part.name
    elif facts.settable:
        _add_valve(draft, part, setting)
    elif part.ways:
        _add_ways(draft, part, setting)
    if part.name in setting.opened:
        draft.openings.update((place, part.name) for place in places)


def _add_valve(draft: _Draft, part: Part, setting: Setting) -> None:
    """A valve's ways; of two ways the first is open at position 0, the second at 1."""
    position = setting.position_of(part)
    for way, (start, stop) in enumerate(part.ways):
        opening = 1.0 - position if len(part.ways) > 1 and way == 0 else position
        seeps = opening <= SHUT and way == 1 and _has_hole(part)
        lets = opening > SHUT or seeps
        ends = draft.place_of[start], draft.place_of[stop]
        draft.passages.append(Passage(part.name, *ends, 0.0, 0.0, lets, lets, seeps))


def _has_hole(part: Part) -> bool:
    return part.kind == "diverter" and diverter_named(part.catalog).hole > 0.0


def _add_ways(draft: _Draft, part: Part, setting: Setting) -> None:
    """A part that water passes, and the water that it keeps below its ports."""
    vessel = vessel_of(part)
    volume = part_volume(part, draft.circuit)
    kept = vessel.water_volume if vessel else volume * draft.residue * (part.kind == "panel")
    depth = vessel.plug_depth if vessel else POCKET
    for start, stop in part.ways:
        ends = draft.place_of[start], draft.place_of[stop]
        headers = draft.headers.get(part.name, 0) * (1.0 - draft.residue)
        held = header_share(part, draft.circuit) * headers if headers else 0.0
        through = (volume - kept - held) / len(part.ways)
        backward = part.facts.backward
        draft.passages.append(Passage(part.name, *ends, through, 0.0, True, backward))
    if kept > 0.0:
        first = draft.place_of[(part.name, part.ports[0])]
        bottom = draft.place(part.elevation - depth)
        draft.passages.append(Passage(part.name, first, bottom, kept, depth))
        if vessel and part.name in setting.opened:
            draft.openings[bottom] = part.name
