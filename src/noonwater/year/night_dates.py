"""The date to drain and the date to reopen, at a stated risk.

One typical year hides its extremes. Where a source knows the coldest hour in many years, the
typical year's air is moved down by what that hour lies under the year's own coldest, all year
alike; where many real years are at hand, each is run and its own first and last freezing night are
ranked. Decision 0024.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.climate.extremes import RETURN_YEARS, YEARS_FOR_RISK, Extremes, lowest_in_years
from noonwater.climate.weather_year import WeatherYear
from noonwater.model.job import Job
from noonwater.year.night_bodies import (
    COLD_BELIEFS,
    MIDDLE,
    NightBelief,
    colder,
    panel_bodies,
    pipe_body,
)
from noonwater.year.night_loop import body_years
from noonwater.year.night_rows import DAYS, Nights, beyond_bearing, by_night
from noonwater.year.surroundings import Surroundings

RETURN_PERIOD = 10.0
"""[a] Stands in the answer's first line: in one winter of ten it freezes earlier. Ours."""

CAUTIOUS = (MIDDLE, *COLD_BELIEFS)
"""Beliefs whose earliest first and latest last freezing night make the dates."""


@dataclass(frozen=True)
class Span:
    """The freezing part of a year.

    Attributes
    ----------
    first : int
        Day whose evening begins the first freezing night. 0 for 1 January.
    last : int
        Day whose morning ends the last one.
    """

    first: int
    last: int


@dataclass(frozen=True)
class DateRow:
    """The dates at one risk.

    Attributes
    ----------
    return_years : float or None
        In one winter of so many it freezes before the one or after the other; None: not known. [a]
    shift : float
        Added to the typical year's air; 0 where real years were run. [K]
    cautious : Span or None
        Over all of `CAUTIOUS`; None: nothing freezes.
    middle : Span or None
        Of the middle belief.
    """

    return_years: float | None
    shift: float
    cautious: Span | None
    middle: Span | None


@dataclass(frozen=True)
class FreezeRisk:
    """What the dates stand on.

    Attributes
    ----------
    known : bool
        Whether a risk can be stated.
    source : str
        Where it comes from; of what the dates are where it isn't known.
    method : str
        In words.
    rows : tuple of DateRow
        By return period; one row where the risk is not known.
    """

    known: bool
    source: str
    method: str
    rows: tuple[DateRow, ...]

    @property
    def chosen(self) -> DateRow:
        """The row that the answer leads with."""
        return min(self.rows, key=lambda row: abs((row.return_years or 0.0) - RETURN_PERIOD))


def freezing_nights(job: Job, around: Surroundings, belief: NightBelief) -> Nights:
    """Nights in which full panels or pipe get more ice than they bear.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site.
    belief : NightBelief
        What nobody measured.

    Returns
    -------
    (365,) array
        By the day of the evening.
    """
    bodies = (*panel_bodies(job, around, belief), pipe_body(job, around, belief))
    years = body_years(bodies, around.air.temp_air, around.air.step_seconds)
    frozen = [by_night(beyond_bearing(year)).any(axis=1) for year in years]
    return np.asarray(np.any(frozen, axis=0))


def span_of(nights: Nights) -> Span | None:
    """First and last freezing night, either side of the longest stretch without one.

    Parameters
    ----------
    nights : (365,) array
        By the day of the evening.

    Returns
    -------
    Span or None
        None where none freezes. Works across the year's end and in both hemispheres.
    """
    frozen = np.flatnonzero(nights)
    if len(frozen) == 0:
        return None
    gaps = np.diff(np.append(frozen, frozen[0] + DAYS))
    before = int(np.argmax(gaps))
    first = int(frozen[(before + 1) % len(frozen)])
    return Span(first, int(frozen[before] + 1) % DAYS)


def freeze_risk(
    job: Job,
    around: Surroundings,
    weather: WeatherYear,
    others: Sequence[Surroundings] = (),
) -> FreezeRisk:
    """Find the dates and what they are worth.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        The year that stands for all.
    weather : WeatherYear
        The same year's hours, with what its source knows of extremes.
    others : sequence of Surroundings
        All real years at hand, where there are several.

    Returns
    -------
    FreezeRisk
    """
    if len(others) >= YEARS_FOR_RISK:
        return _by_many_years(job, others, weather)
    extremes = weather.extremes
    if extremes is not None and extremes.knows_risk:
        return _by_return_period(job, around, weather, extremes)
    if len(others) > 1:
        rows = (_row_of_nights(None, _nights_of_years(job, others)),)
        return FreezeRisk(
            False,
            f"{len(others)} real years, {weather.provenance.source}",
            f"risk not known: {len(others)} years are too few to tell it; the dates are the "
            "earliest and the latest of these years",
            rows,
        )
    return _by_one_year(job, around, weather, extremes)


def _by_return_period(
    job: Job, around: Surroundings, weather: WeatherYear, extremes: Extremes
) -> FreezeRisk:
    coldest = float(weather.temp_air.min())
    rows = []
    for years in RETURN_YEARS:
        lowest = lowest_in_years(extremes, years)
        shift = min((coldest if lowest is None else lowest) - coldest, 0.0)
        rows.append(_row(job, around, years, shift))
    return FreezeRisk(
        True,
        f"lowest temperatures in many years, {extremes.source}",
        "the typical year with all its air colder, by what the coldest hour in so many years lies "
        "under the year's own coldest hour",
        tuple(rows),
    )


def _by_one_year(
    job: Job, around: Surroundings, weather: WeatherYear, extremes: Extremes | None
) -> FreezeRisk:
    coldest = float(weather.temp_air.min())
    lowest = extremes.temp_lowest if extremes is not None else None
    shift = min((coldest if lowest is None else lowest) - coldest, 0.0)
    if extremes is not None and shift < 0.0:
        method = (
            "risk not known: dates of this one year, its air moved down to the "
            f"{extremes.source}, which is no extreme of many years"
        )
        source = extremes.source
    else:
        method = "risk not known: dates of this one year alone, which hides extremes"
        source = weather.provenance.source
    return FreezeRisk(False, source, method, (_row(job, around, None, shift),))


def _row(job: Job, around: Surroundings, years: float | None, shift: float) -> DateRow:
    moved = colder(around, shift)
    nights = [freezing_nights(job, moved, belief) for belief in CAUTIOUS]
    row = _row_of_nights(years, nights)
    return DateRow(row.return_years, shift, row.cautious, row.middle)


def _row_of_nights(years: float | None, nights: Sequence[Nights]) -> DateRow:
    everything = np.any(nights, axis=0)
    return DateRow(years, 0.0, span_of(everything), span_of(nights[0]))


def _nights_of_years(job: Job, others: Iterable[Surroundings]) -> list[Nights]:
    """Nights of all years together, by belief."""
    by_year = [[freezing_nights(job, year, belief) for belief in CAUTIOUS] for year in others]
    return [np.any([year[i] for year in by_year], axis=0) for i in range(len(CAUTIOUS))]


def _by_many_years(job: Job, others: Sequence[Surroundings], weather: WeatherYear) -> FreezeRisk:
    middle, cautious = [], []
    for year in others:
        nights = [freezing_nights(job, year, belief) for belief in CAUTIOUS]
        middle.append(nights[0])
        cautious.append(np.any(nights, axis=0))
    rows = [
        DateRow(years, 0.0, ranked_span(cautious, years), ranked_span(middle, years))
        for years in RETURN_YEARS
        if years <= len(others) + 1
    ]
    return FreezeRisk(
        True,
        f"{len(others)} real years, {weather.provenance.source}",
        "each year's own first and last freezing night, ranked",
        tuple(rows),
    )


def ranked_span(years: Sequence[Nights], return_years: float) -> Span | None:
    """First and last freezing night that one winter of so many goes beyond.

    Parameters
    ----------
    years : sequence of (365,) array
        Freezing nights of each year.
    return_years : float
        At most one more than there are years. [a]

    Returns
    -------
    Span or None
        None where fewer winters freeze than that. The k-th earliest of n stands for k in n + 1
        winters (Weibull's plotting position, from memory), with straight lines between.
    """
    whole = span_of(np.any(years, axis=0))
    if whole is None:
        return None
    turn = _middle_of_gap(whole)
    firsts, lasts = [], []
    for nights in years:
        from_turn = np.flatnonzero(np.roll(nights, -turn))
        firsts.append(float(from_turn[0]) if len(from_turn) else np.inf)
        lasts.append(float(from_turn[-1]) if len(from_turn) else -np.inf)
    first = _ranked(np.sort(firsts), return_years)
    last = -_ranked(np.sort(-np.array(lasts)), return_years)
    if not np.isfinite(first) or not np.isfinite(last):
        return None
    return Span((int(first) + turn) % DAYS, (int(np.ceil(last)) + 1 + turn) % DAYS)


def _ranked(ascending: np.ndarray[tuple[int], np.dtype[np.float64]], years: float) -> float:
    rank = (len(ascending) + 1) / years - 1.0
    low = min(max(int(rank), 0), len(ascending) - 1)
    high = min(low + 1, len(ascending) - 1)
    part = max(rank - low, 0.0)
    if part == 0.0 or not np.isfinite(ascending[high]):
        return float(ascending[low])
    return float(ascending[low] + part * (ascending[high] - ascending[low]))


def _middle_of_gap(whole: Span) -> int:
    gap = (whole.first - whole.last) % DAYS
    return (whole.last + gap // 2) % DAYS
