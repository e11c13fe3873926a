"""All that a search may change of a job, as axes of few values each, and the job at a place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from noonwater.catalog import PipeSize
from noonwater.design.array_layout import LONGEST_BANK
from noonwater.design.size import MOST_AREA_SHARE
from noonwater.design.size_array import PlaneRoom, plane_room, with_panels
from noonwater.design.tune_pipe import sizes_of, with_roof_pipe
from noonwater.model.job import Job
from noonwater.model.plant import BreakerPlace, Period
from noonwater.model.pool import Cover, CoverKind
from noonwater.model.when import minutes_between

Place = tuple[int, ...]
"""One value of each axis, by its number."""

AxisName = Literal[
    "panels", "longest bank", "pipe", "breaker", "pace", "difference", "cover", "from", "until"
]

BANKS = (3, 4, 6, 8, 10, LONGEST_BANK)
PIPES = (0.035, 0.095)
"""[m] Sizes of pipe to the roof that are tried. Ours."""
BREAKERS: tuple[BreakerPlace, ...] = ("high return", "feed")
PACES = 5
"""From the slowest setting that may be used to the pump's end, in so many steps."""
DIFFERENCES = ((3.0, 1.0), (4.0, 1.5), (5.0, 2.0), (6.0, 3.0), (8.0, 4.0))
"""[K] Differences to start and stop. Ours."""
NEW_COVERS: tuple[CoverKind, ...] = ("none", "bubble", "solid")
SHIFTS = (-120, -60, 0, 60, 120)
"""[min] Of the solar period's start and stop. Ours."""
MOST_PLANES = 4


@dataclass(frozen=True)
class Axis:
    """One thing that may be chosen.

    Attributes
    ----------
    name : AxisName
        What it is.
    values : tuple
        Its values, in order where `ordered`.
    ordered : bool
        Whether a neighbour in the row is a neighbour in kind.
    plane : str
        Of panels: whose.
    """

    name: AxisName
    values: tuple[object, ...]
    ordered: bool = True
    plane: str = ""


@dataclass(frozen=True, eq=False)
class Space:
    """The axes of a job.

    Attributes
    ----------
    job : Job
        As it stands, its flows already made speeds.
    rooms : tuple of PlaneRoom
        Of the planes that may carry panels, one axis each.
    axes : tuple of Axis
        Panels of each plane first.
    """

    job: Job
    rooms: tuple[PlaneRoom, ...]
    axes: tuple[Axis, ...]

    def number(self, name: AxisName) -> int:
        """Find an axis by its name; of panels the first."""
        return next(i for i, axis in enumerate(self.axes) if axis.name == name)

    def panels(self, place: Place) -> dict[str, int]:
        """Panels of each plane at a place, planes without any left out."""
        counts = {
            axis.plane: int(str(axis.values[place[number]]))
            for number, axis in enumerate(self.axes)
            if axis.name == "panels"
        }
        return {plane: count for plane, count in counts.items() if count}

    def whole(self, place: Place, name: AxisName) -> int:
        """A whole number at a place: longest bank, pace, minutes."""
        number = self.number(name)
        return int(str(self.axes[number].values[place[number]]))

    def pipe(self, place: Place) -> PipeSize:
        """Pipe to the roof at a place."""
        number = self.number("pipe")
        value = self.axes[number].values[place[number]]
        assert isinstance(value, PipeSize)
        return value

    def cover(self, place: Place) -> Cover:
        """Cover at a place."""
        number = self.number("cover")
        value = self.axes[number].values[place[number]]
        assert isinstance(value, Cover)
        return value

    def breaker(self, place: Place) -> BreakerPlace:
        """Place of the vacuum breaker at a place."""
        number = self.number("breaker")
        value = self.axes[number].values[place[number]]
        return "feed" if value == "feed" else "high return"

    def difference(self, place: Place) -> tuple[float, float]:
        """Differences to start and to stop at a place. [K]."""
        number = self.number("difference")
        value = self.axes[number].values[place[number]]
        assert isinstance(value, tuple)
        return float(value[0]), float(value[1])


def space_of(job: Job) -> Space:
    """Lay out what may be chosen.

    Parameters
    ----------
    job : Job
        The job, its flows already made speeds.

    Returns
    -------
    Space
        Planes that hold a panel, the largest first, at most `MOST_PLANES`. A cover that the owner
        has stays, and may be used in the whole season.
    """
    rooms = sorted(
        (room for roof in job.roof if (room := plane_room(job, roof)).panels),
        key=lambda room: -room.panels,
    )[:MOST_PLANES]
    most = int(MOST_AREA_SHARE * job.pool.area / min((r.panel_area for r in rooms), default=1.0))
    pipes = tuple(size for size in sizes_of(job) if PIPES[0] <= size.nominal <= PIPES[1])
    own = job.pad.breaker
    breakers = sorted(BREAKERS, key=lambda place: place != own)
    axes = [
        Axis("panels", tuple(range(min(room.panels, most) + 1)), plane=room.roof.name)
        for room in rooms
    ]
    axes += [
        Axis("longest bank", BANKS),
        Axis("pipe", pipes),
        Axis("breaker", tuple(breakers), ordered=False),
        Axis("pace", tuple(range(PACES))),
        Axis("difference", _differences(job)),
        Axis("cover", _covers(job), ordered=False),
        Axis("from", SHIFTS),
        Axis("until", SHIFTS),
    ]
    return Space(job, tuple(rooms), tuple(axes))


def job_at(space: Space, place: Place) -> Job | None:
    """Build the job at a place, the speed or the valve not yet set.

    Parameters
    ----------
    space : Space
        The axes.
    place : Place
        One value of each.

    Returns
    -------
    Job or None
        None without panels, or with hours of which none are left.

    Raises
    ------
    InputError
        Where the job's own edits of the circuit don't bear it.
    """
    split = space.panels(place)
    if not split:
        return None
    longest = space.whole(place, "longest bank")
    rooms = {
        room.roof.name: replace(room, like=replace(room.like, panels=longest, changed=()))
        for room in space.rooms
    }
    job = with_panels(space.job, rooms, split)
    program = _shifted(job.pump.program, space.whole(place, "from"), space.whole(place, "until"))
    if program is None:
        return None
    on, off = space.difference(place)
    job = replace(
        job,
        pump=replace(job.pump, program=program),
        pool=replace(job.pool, cover=space.cover(place)),
        pad=replace(job.pad, breaker=space.breaker(place)),
        controls=replace(job.controls, on_difference=on, off_difference=off),
    )
    return with_roof_pipe(job, space.pipe(place))


def _differences(job: Job) -> tuple[tuple[float, float], ...]:
    controls = job.controls
    if controls.kind == "timer":  # that asks for no difference
        return ((controls.on_difference, controls.off_difference),)
    return DIFFERENCES


def _covers(job: Job) -> tuple[Cover, ...]:
    own = job.pool.cover
    if own.kind != "none":
        whole = replace(own, months=Cover().months)
        return (own,) if set(own.months) == set(whole.months) else (own, whole)
    return tuple(Cover(kind) for kind in NEW_COVERS)


def _shifted(program: tuple[Period, ...], earlier: int, later: int) -> tuple[Period, ...] | None:
    """Move start and stop of the longest period that heats; others give way, the pump may rest."""
    heating = [i for i, period in enumerate(program) if period.heats]
    if not heating:
        return program
    lengths = {i: len(minutes_between(program[i].start, program[i].stop)) for i in heating}
    moved = max(heating, key=lambda i: lengths[i])
    if lengths[moved] - earlier + later < 60 or lengths[moved] - earlier + later > 22 * 60:
        return None
    if not earlier and not later:
        return program
    day = [-1] * (24 * 60)
    for i, period in enumerate(program):
        for minute in minutes_between(period.start, period.stop):
            if i != moved:
                day[minute] = i
    first = minutes_between(program[moved].start, program[moved].stop)[0] + earlier
    for minute in range(first, first + lengths[moved] - earlier + later):
        day[minute % (24 * 60)] = moved
    return tuple(_periods(program, day))


def _periods(program: tuple[Period, ...], day: list[int]) -> list[Period]:
    """Periods of a day told by the minute, in the order of the day."""
    turns = [minute for minute in range(24 * 60) if day[minute] != day[minute - 1]]
    if not turns:
        return [program[day[0]]]
    edges = [*turns, turns[0] + 24 * 60]
    return [
        replace(program[day[start]], start=_clock(start), stop=_clock(stop))
        for start, stop in pairwise(edges)
        if day[start] >= 0
    ]


def _clock(minute: int) -> str:
    minute %= 24 * 60
    return f"{minute // 60:02d}:{minute % 60:02d}"
