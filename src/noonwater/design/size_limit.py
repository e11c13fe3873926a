"""What bounds the number of panels: the roof, the pump, what is worth a look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from noonwater.design.rule import counted, rpm, shown
from noonwater.design.size_array import PlaneRoom, array_area
from noonwater.design.size_flow import HAND_SET, SetFlow
from noonwater.model.job import Job

LimitName = Literal["roof", "pump", "pump, fewest", "flow", "pool", "budget"]

OVER_ROOM = "the planes do not hold so many side by side"
"""Why the job's own number is not to be had, where it is more than fits."""
CLOSE = 0.95
"""[-] Of the wanted flow: as good as reached. Ours."""


@dataclass(frozen=True)
class Limit:
    """One bound of the number of panels.

    Attributes
    ----------
    name : str
        What binds: "roof"; "pump" for the most panels it serves and "pump, fewest" for the least;
        "flow" for the most that get the wanted flow, beyond which each gets less; "pool" where the
        curve ends because the array outgrows it; "budget" for the most that it pays.
    planes : tuple of str
        Whose panels.
    panels : int
        The last number that is to be had.
    reason : str
        In a sentence's part, with figures in the job's units.
    """

    name: LimitName
    planes: tuple[str, ...]
    panels: int
    reason: str


Settings = Sequence[tuple[int, SetFlow]]


def limits_of(
    job: Job, rooms: tuple[PlaneRoom, ...], settings: Settings, cap: float, per_area: float
) -> Iterator[Limit]:
    """Name what bounds the panels of some planes.

    Parameters
    ----------
    job : Job
        For its units.
    rooms : tuple of PlaneRoom
        Of the planes.
    settings : sequence of (int, SetFlow)
        Each number of panels that was looked at, rising.
    cap : float
        Area that was not gone beyond. [m²]
    per_area : float
        Flow wanted, per area of the panels. [m/s]

    Yields
    ------
    Limit
    """
    planes = tuple(room.roof.name for room in rooms)
    for room in rooms:
        yield Limit("roof", (room.roof.name,), room.panels, _room_words(job, room))
    most = sum(room.panels for room in rooms)
    last = settings[-1][0] if settings else 0
    if last < most:
        reason = f"{shown(job, cap, 'area', 0)} of panels, twice the pool: more is not looked at"
        yield Limit("pool", planes, last, reason)
    yield from _pump_limits(planes, settings)
    yield from _flow_limit(job, planes, settings, per_area)


def _room_words(job: Job, room: PlaneRoom) -> str:
    wide, long = (
        shown(job, length, "length") for length in (room.roof.width, room.roof.slope_length)
    )
    if not room.panels:
        return f"{wide} along the eave by {long} up the slope hold no '{room.like.panel}' panel"
    rows = "one row" if room.rows == 1 else f"{room.rows} rows"
    return (
        f"{wide} along the eave by {long} up the slope hold {rows} of"
        f" {counted(room.columns, 'panel')} '{room.like.panel}', obstructions not counted"
    )


def _pump_limits(planes: tuple[str, ...], settings: Settings) -> Iterator[Limit]:
    settings = [(count, found) for count, found in settings if OVER_ROOM not in found.bounds]
    had = [count for count, found in settings if not found.bounds]
    if not had:
        if settings:
            yield Limit("pump", planes, 0, settings[0][1].bounds[0])
        return
    over = next(((n, found) for n, found in settings if n > had[-1]), None)
    if over is not None:
        reason = f"with {counted(over[0], 'panel')}, {over[1].bounds[0]}"
        yield Limit("pump", planes, had[-1], reason)
    under = next(((n, found) for n, found in reversed(settings) if n < had[0]), None)
    if under is not None:
        reason = f"with {counted(under[0], 'panel')}, {under[1].bounds[0]}"
        yield Limit("pump, fewest", planes, had[0], reason)


def _flow_limit(
    job: Job, planes: tuple[str, ...], settings: Settings, per_area: float
) -> Iterator[Limit]:
    reached = [
        count
        for count, found in settings
        if found.state and found.state.array_flow >= CLOSE * per_area * array_area(found.job)
    ]
    over = next(((n, found) for n, found in settings if reached and n > reached[-1]), None)
    if over is None or over[1].state is None:
        return
    each = array_area(over[1].job) / over[0]
    wanted, given = (
        shown(job, flow, "flow", 1 if job.units == "US" else 2)
        for flow in (per_area * each, over[1].state.array_flow / over[0])
    )
    setting = "with the valve at its end" if _by_valve(over[1].job) else rpm(over[1].state.rpm)
    reason = (
        f"with {counted(over[0], 'panel')}, each gets {given} of the wanted {wanted}, {setting}"
    )
    yield Limit("flow", planes, reached[-1], reason)


def _by_valve(job: Job) -> bool:
    return job.pad.arrangement in HAND_SET


def budget_limit(
    job: Job, planes: tuple[str, ...], priced: Sequence[tuple[int, float]], budget: float | None
) -> Iterator[Limit]:
    """Name the most panels that a budget pays.

    Parameters
    ----------
    job : Job
        For its currency.
    planes : tuple of str
        Whose panels.
    priced : sequence of (int, float)
        Each number of panels, rising, and its price. [currency]
    budget : float or None
        [currency]

    Yields
    ------
    Limit
        None where it pays all, or there is none.
    """
    over = next(((n, price) for n, price in priced if budget is not None and price > budget), None)
    if over is None or budget is None:
        return
    most = max((n for n, price in priced if price <= budget), default=0)
    money = job.money.currency
    reason = f"{counted(over[0], 'panel')} cost {over[1]:,.0f} of {budget:,.0f} {money}"
    yield Limit("budget", planes, most, reason)
