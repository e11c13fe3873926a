"""Size: from a target and a season to the curve of what each number of panels gives, and why."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from math import ceil

from noonwater.core.errors import Fault, InputError
from noonwater.core.progress import Steps, Told, untold
from noonwater.design.rule import shown
from noonwater.design.size_array import (
    PlaneRoom,
    array_area,
    plane_room,
    shared_out,
    with_panels,
)
from noonwater.design.size_curve import SizeCurve, SizePoint
from noonwater.design.size_flow import SetFlow, as_set, set_flow, wanted_per_area
from noonwater.design.size_limit import OVER_ROOM, Limit, budget_limit, limits_of
from noonwater.design.size_year import Yield, with_solar, without_solar
from noonwater.model.job import Job
from noonwater.model.pool import Cover, CoverKind
from noonwater.year.flows import PeriodFlows
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from noonwater.year.surroundings import Surroundings

WORKERS = 2
MOST_POINTS = 40
"""Of a curve; on a larger roof not every number of panels is looked at. Ours."""
MOST_AREA_SHARE = 2.0
"""[-] Of the pool's area; more panels are not looked at. Ours."""
USUAL_COVER: CoverKind = "bubble"
"""Cover that a pool without one is tried with, on at night all year. Ours."""

OVER_BUDGET = "the price is over the budget"

FlowsOf = Callable[[Job], PeriodFlows]
PriceOf = Callable[[Job], float]


@dataclass(frozen=True, eq=False)
class SizeStudy:
    """Curves of a job and what bounds them.

    Attributes
    ----------
    job : Job
        The job.
    curves : tuple of SizeCurve
        By planes, each with the job's cover and with the other: the first is the job as it is.
    limits : tuple of Limit
        What bounds the number of panels.
    flow_per_area : float
        Wanted through the panels. [m/s]
    season_days : int
        [d]
    """

    job: Job
    curves: tuple[SizeCurve, ...]
    limits: tuple[Limit, ...]
    flow_per_area: float
    season_days: int

    @property
    def own(self) -> SizePoint | None:
        """The job's own number of panels on its own planes; None where it isn't on the curve."""
        return self.curves[0].at(self.job.array.panels)


@dataclass(frozen=True)
class _Group:
    """Planes whose panels are counted together, each with its room and its share."""

    rooms: dict[str, PlaneRoom]
    shares: dict[str, int]
    own: bool

    @property
    def most(self) -> int:
        return sum(room.panels for room in self.rooms.values())


def size(
    job: Job,
    around: Surroundings,
    flows_of: FlowsOf,
    price_of: PriceOf,
    *,
    roofs: Sequence[str] = (),
    per_area: float | None = None,
    budget: float | None = None,
    told: Told = untold,
) -> SizeStudy:
    """Run a job's year with every number of panels that its planes hold.

    Parameters
    ----------
    job : Job
        The job, its flows already made speeds.
    around : Surroundings
        Of its site, with all its planes.
    flows_of : callable
        Solves a job's circuit for the year.
    price_of : callable
        Prices a variant of the job.
    roofs : sequence of str, optional
        Planes to look at; those of the job together and each alone where left out.
    per_area : float, optional
        Flow wanted through the panels, per gross area; as `wanted_per_area` where left out. [m/s]
    budget : float, optional
        That the price may not go beyond. [currency]
    told : callable, optional
        Is told how far it is.

    Returns
    -------
    SizeStudy

    Raises
    ------
    InputError
        For a plane that isn't there, where no panel fits anywhere, or a program without solar.
    NotConverged
        When a year doesn't settle.
    """
    if not any(period.heats for period in job.pump.program):
        given, allowed = "solar is allowed in no period", "a period with solar = true"
        raise InputError([Fault("pump.program", given, allowed)])
    groups = _groups(job, roofs)
    covers = (job.pool.cover, _other_cover(job.pool.cover))
    wanted = wanted_per_area(job) if per_area is None else per_area
    tasks = [(group, count) for group in groups for count in _counts(job, group)]

    steps = Steps(told, 2 * len(tasks), "numbers of panels")

    def solve(task: tuple[_Group, int]) -> SetFlow:
        group, count = task
        setting = _set(job, group, count, wanted, per_area is None)
        steps.one_done()
        return setting

    def run(found: SetFlow) -> list[tuple[Yield, Yield, int]]:
        primed = found.state is not None and found.state.primes
        runs = [_year(_covered(found.job, cover), around, flows_of) for cover in covers if primed]
        steps.one_done()
        return runs

    with ThreadPoolExecutor(WORKERS) as pool:
        found = list(pool.map(solve, tasks))
        years = list(pool.map(run, found))
    if not any(years):
        raise InputError([_nothing_runs(found)])
    season = next(year[0][2] for year in years if year)
    curves: list[SizeCurve] = []
    limits: list[Limit] = []
    for group in groups:
        mine = [
            (count, setting, year)
            for (owner, count), setting, year in zip(tasks, found, years, strict=True)
            if owner is group
        ]
        settings = [(count, setting) for count, setting, _ in mine]
        rooms = tuple(group.rooms.values())
        limits += limits_of(job, rooms, settings, _cap(job), wanted)
        priced = [(count, price_of(setting.job)) for count, setting in settings if setting.state]
        limits += budget_limit(job, tuple(group.rooms), priced, budget)
        if not any(year for _, _, year in mine):
            continue
        for number, cover in enumerate(covers):
            points = [_no_panels(next(year for _, _, year in mine if year)[number][1])]
            points += [
                _point(n, setting, year[number][0], (price_of(setting.job), budget))
                for n, setting, year in mine
                if year
            ]
            curves.append(SizeCurve(tuple(group.rooms), cover.kind, tuple(points)))
    return SizeStudy(job, tuple(curves), tuple(dict.fromkeys(limits)), wanted, season)


def base_plane(name: str) -> str:
    """Plane that a row belongs to."""
    return name.partition(", row ")[0]


def refuse_planes(job: Job, roofs: Sequence[str]) -> None:
    """Refuse names of roof planes that a job hasn't.

    Parameters
    ----------
    job : Job
        The job.
    roofs : sequence of str
        Names.

    Raises
    ------
    InputError
        With every one.
    """
    known = [roof.name for roof in job.roof]
    names = ", ".join(f"'{name}'" for name in known)
    faults = [Fault("--roof", f"'{name}'", names) for name in roofs if name not in known]
    if faults:
        raise InputError(faults)


def _groups(job: Job, roofs: Sequence[str]) -> list[_Group]:
    refuse_planes(job, roofs)
    known = {roof.name: roof for roof in job.roof}
    shares: dict[str, int] = {}
    for bank in job.array.banks:
        shares[bank.roof] = shares.get(bank.roof, 0) + len(bank.numbers)
    wanted: list[tuple[str, ...]] = [(name,) for name in dict.fromkeys(roofs)]
    if not wanted:
        wanted = list(dict.fromkeys([tuple(shares), *((name,) for name in known)]))
    groups = []
    for planes in wanted:
        rooms = {name: plane_room(job, known[name]) for name in planes}
        own = set(planes) == set(shares)
        counted = shares if own else dict.fromkeys(planes, 1)
        if own or any(room.panels for room in rooms.values()):
            groups.append(_Group(rooms, counted, own))
    if not groups or not any(group.most for group in groups):
        raise InputError([_no_room(job, plane) for plane in dict.fromkeys(sum(wanted, ()))])
    return groups


def _no_room(job: Job, plane: str) -> Fault:
    number = next(i for i, roof in enumerate(job.roof) if roof.name == plane)
    roof = job.roof[number]
    room = plane_room(job, roof)
    given = (
        f"{shown(job, roof.width, 'length')} by {shown(job, roof.slope_length, 'length')},"
        f" no room for a '{room.like.panel}' panel"
    )
    return Fault(f"roof[{number}]", given, "a plane that holds one", "another plane or panel")


def _nothing_runs(found: Sequence[SetFlow]) -> Fault:
    why = next((bound for each in found for bound in each.bounds), "no water reaches the panels")
    return Fault("pump.pump", why, "a pump that lifts water over the array", "noonwater check")


def _cap(job: Job) -> float:
    """Area that is not gone beyond. [m²]."""
    return MOST_AREA_SHARE * job.pool.area


def _counts(job: Job, group: _Group) -> list[int]:
    area = next(iter(group.rooms.values())).panel_area
    most = min(group.most, max(int(_cap(job) / area), 1))
    step = ceil(most / MOST_POINTS)
    counts = {*range(step, most + 1, step), most}
    if group.own:
        counts.add(job.array.panels)
    return sorted(count for count in counts if count)


def _set(job: Job, group: _Group, count: int, per_area: float, as_it_is: bool) -> SetFlow:
    if group.own and count == job.array.panels:
        own = as_set(job) if as_it_is else set_flow(job, per_area)
        over = any(group.shares[name] > room.panels for name, room in group.rooms.items())
        return replace(own, bounds=(OVER_ROOM, *own.bounds)) if over else own
    split = shared_out(count, group.shares, group.rooms)
    return set_flow(with_panels(job, group.rooms, split), per_area)


def _year(job: Job, around: Surroundings, flows_of: FlowsOf) -> tuple[Yield, Yield, int]:
    """Yield with solar and without, and the season's days."""
    inputs = prepare(job, around, flows_of(job))
    year = settled_year(inputs)
    days = int((inputs.drivers.season == 1).sum()) * 365 // len(inputs.drivers.season)
    return with_solar(year, inputs), without_solar(year, inputs), days


def _covered(job: Job, cover: Cover) -> Job:
    return job if job.pool.cover == cover else replace(job, pool=replace(job.pool, cover=cover))


def _other_cover(cover: Cover) -> Cover:
    return Cover("none") if cover.kind != "none" else Cover(USUAL_COVER)


def _no_panels(year: Yield) -> SizePoint:
    return SizePoint(0, 0.0, (), 0.0, None, 0.0, 0.0, 0.0, (), year, 0.0)


def _point(count: int, found: SetFlow, year: Yield, money: tuple[float, float | None]) -> SizePoint:
    state = found.state
    assert state is not None
    split: dict[str, int] = {}
    for bank in found.job.array.banks:
        name = base_plane(bank.roof)
        split[name] = split.get(name, 0) + len(bank.numbers)
    price, budget = money
    over = (OVER_BUDGET,) if budget is not None and price > budget else ()
    bypassed = found.job.pad.arrangement == "diverter with bypass"
    return SizePoint(
        panels=count,
        area=array_area(found.job),
        split=tuple(split.items()),
        rpm=state.rpm,
        bypass_open=found.job.pad.bypass_open if bypassed else None,
        flow=state.array_flow,
        head=state.head,
        power=state.power,
        bounds=(*found.bounds, *over),
        year=year,
        price=price,
    )
