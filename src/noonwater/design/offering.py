"""Options that an owner may choose from: the design as drawn up, a smaller one, one with a cover.

The rule, ours: fewer panels leave out the smallest bank where at least half of the panels stay and
the pump serves the rest well, else they are two thirds; a pool without a cover, or with one that
rests in months in which the pool is open, gets one at night all year; where one of the two is not
to be had, a third more panels. Each number of panels gets the design's flow per area, or less where
a panel would get too much. What this roof or pump can't do is not offered.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

from noonwater.core.errors import InputError
from noonwater.design.money_against import Against
from noonwater.design.money_offer import OfferPrice
from noonwater.design.money_parts import Pricing
from noonwater.design.money_savings import SolarYear
from noonwater.design.parts_row import PartRow
from noonwater.design.size import USUAL_COVER
from noonwater.design.size_array import plane_room, shared_out, with_panels
from noonwater.design.size_flow import flow_per_area, set_flow
from noonwater.model.job import Job
from noonwater.model.pool import Cover
from noonwater.year.result import YearResult

Change = Literal["as designed", "fewer panels", "cover", "more panels", "told"]
FEWER, MORE, LEAST_LEFT = 2.0 / 3.0, 4.0 / 3.0, 0.5
"""[-] Of the panels."""
SHARES = (1.0, 0.85, 0.7, 0.55)
"""[-] Of the design's flow per area, tried in turn: a short bank may get too much of it."""
ALL_MONTHS = tuple(range(1, 13))


@dataclass(frozen=True, eq=False)
class OfferOption:
    """One option with what it gives and asks.

    Attributes
    ----------
    change : Change
        What is otherwise than designed.
    told : str
        The option as it was asked for; empty where the rule made it.
    job : Job
        With its pump speeds found.
    price : OfferPrice or None
        None where nothing is known of it.
    unpriced : tuple of PartRow
        Parts without a price: theirs comes on top.
    year : YearResult
        Of the job.
    days : int
        Of the open season at the target or above. [d]
    solar : SolarYear
        What solar brings and takes.
    new_cover : bool
        Whether it asks for a cover that the pool has not; no price holds that.
    """

    change: Change
    told: str
    job: Job
    price: OfferPrice | None
    unpriced: tuple[PartRow, ...]
    year: YearResult
    days: int
    solar: SolarYear
    new_cover: bool = False


@dataclass(frozen=True, eq=False)
class Offering:
    """What is offered.

    Attributes
    ----------
    options : tuple of OfferOption
        The design first.
    pricing : Pricing or None
        The design's parts priced; None without a price list.
    against : tuple of Against
        The design held against other heat.
    days_without : int
        Of the open season at the target without solar. [d]
    """

    options: tuple[OfferOption, ...]
    pricing: Pricing | None
    against: tuple[Against, ...]
    days_without: int

    @property
    def designed(self) -> OfferOption:
        """The job as it stands."""
        return self.options[0]


def usual_options(job: Job) -> Iterator[tuple[Change, Job]]:
    """Give the options beside the design, by the rule.

    Parameters
    ----------
    job : Job
        With its pump speeds found.

    Yields
    ------
    tuple of (Change, Job)
        At most two; each with its flow set.
    """
    per_area = flow_per_area(job)
    fewer = _flowing(_one_bank_less(job), per_area) or _flowing(_two_thirds(job), per_area)
    covered = _covered(job)
    if fewer is not None:
        yield "fewer panels", fewer
    if covered is not None:
        yield "cover", covered
    if fewer is None or covered is None:
        more = _flowing(_more(job), per_area)
        if more is not None:
            yield "more panels", more


def _flowing(job: Job | None, per_area: float) -> Job | None:
    """Set its flow; None where this pump can't, or an edit of the circuit no longer fits."""
    if job is None:
        return None
    for share in SHARES:
        try:
            found = set_flow(job, share * per_area)
        except InputError:
            return None
        if found.state is not None and found.state.primes and not found.bounds:
            return found.job
    return None


def _one_bank_less(job: Job) -> Job | None:
    """Without its smallest bank; None where too little would be left."""
    banks, whole = job.array.banks, job.array.panels
    smallest = min(banks, key=lambda bank: len(bank.numbers))
    if len(banks) == 1 or whole - len(smallest.numbers) < LEAST_LEFT * whole:
        return None
    kept = list(banks)
    kept.remove(smallest)
    roofs = [bank.roof for bank in kept]
    controls = job.controls
    if controls.sensor_roof and controls.sensor_roof not in roofs:
        controls = replace(controls, sensor_roof=roofs[0])
    return replace(job, array=replace(job.array, banks=tuple(kept)), controls=controls)


def _two_thirds(job: Job) -> Job | None:
    return _counted(job, max(1, round(FEWER * job.array.panels)))


def _more(job: Job) -> Job | None:
    return _counted(job, ceil(MORE * job.array.panels))


def _counted(job: Job, count: int) -> Job | None:
    """Another number of panels on the same planes; None where they don't fit."""
    shares: dict[str, int] = {}
    for bank in job.array.banks:
        shares[bank.roof] = shares.get(bank.roof, 0) + len(bank.numbers)
    rooms = {name: plane_room(job, job.roof_named(name)) for name in shares}
    if count == job.array.panels or count > sum(room.panels for room in rooms.values()):
        return None
    return with_panels(job, rooms, shared_out(count, shares, rooms))


def _covered(job: Job) -> Job | None:
    cover = job.pool.cover
    if cover.kind == "none":
        return replace(job, pool=replace(job.pool, cover=Cover(USUAL_COVER)))
    if set(cover.months) >= set(open_months(job)):
        return None
    return replace(job, pool=replace(job.pool, cover=replace(cover, months=ALL_MONTHS)))


def open_months(job: Job) -> tuple[int, ...]:
    """Months in which the pool is open on some day, in the order of the year."""
    first, last = (int(day[:2]) for day in (job.pool.opens, job.pool.closes))
    if (first, job.pool.opens) <= (last, job.pool.closes):
        return tuple(range(first, last + 1))
    return tuple(month for month in ALL_MONTHS if month >= first or month <= last)
