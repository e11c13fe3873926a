"""What a job's nights ask for: a full array that is open when it freezes, a trip too low."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import numpy as np

from noonwater.core.finding import Finding
from noonwater.design.rule import OURS, Rule, counted, shown
from noonwater.design.standing_water import standing_water
from noonwater.hydraulics.resting import resting_array
from noonwater.model.job import Job
from noonwater.model.pool import DAYS_BEFORE_MONTH
from noonwater.year.calendar import season_of_step
from noonwater.year.night import NightResult
from noonwater.year.night_dates import Span

DAYS = 365
TRIP_ROOM = 0.5
"""[K] Added to the highest trip that a night needs, for the controller's own error: ours."""

SEASON_FREEZES = Rule(
    "season-freezes",
    "fault",
    limit="season shut before the date to drain and open after the date to reopen, where water "
    "stands in the array and no freeze action is set",
    source=f"{OURS}: the year's nights reckoned, docs/decisions/0024-freeze.md",
    remedy="a shorter season, a freeze action, or an array that drains by itself",
)
TRAPPED_WATER_FREEZES = Rule(
    "trapped-water-freezes",
    "caution",
    limit="no water left in drained panels in the freezing part of the season",
    source=f"{OURS}: the year's nights reckoned, docs/decisions/0024-freeze.md",
    remedy="slope the panels so that nothing stays, or a shorter season",
)
FREEZE_TRIP_MISSES = Rule(
    "freeze-trip-misses",
    "caution",
    limit="freeze action before ice in every night of the year, sky and panels at their doubtful "
    "ends",
    source=f"{OURS}: the year's nights reckoned, docs/decisions/0024-freeze.md",
    remedy="a higher trip, or a sensor on a piece of panel",
)


def season_freezes(job: Job, nights: NightResult) -> Iterator[Finding]:
    """Check that no full array without a freeze action is open in the freezing weeks."""
    span = nights.risk.chosen.cautious
    if span is None or not standing_water(job) or job.controls.freeze != "none":
        return
    inside = _season_days(job, span)
    if not inside:
        return
    yield SEASON_FREEZES.finding(
        _edge(job, span),
        value=f"{counted(inside, 'day')} of the season in the freezing part of the year",
        limit=f"drained from {day_words(span.first)} to {day_words(span.last)}",
        text="Water stands in the array in nights that freeze it, and nothing is set to be done "
        "about it.",
        remedy=f'Set pool.closes = "{day_text(span.first - 1)}" or earlier and pool.opens = '
        f'"{day_text(span.last)}" or later and drain and blow out between, set controls.freeze to '
        '"drain" or "circulate", or let the array drain by itself with a vacuum breaker.',
    )


def trapped_water_freezes(job: Job, nights: NightResult) -> Iterator[Finding]:
    """Check what draining leaves behind, in season."""
    span = nights.risk.chosen.cautious
    told = job.array.trapped_water
    trapped = max(resting_array(job).left_in(told))
    if span is None or trapped <= 0.0 or standing_water(job):
        return
    inside = _season_days(job, span)
    if not inside:
        return
    yield TRAPPED_WATER_FREEZES.finding(
        "array.trapped_water" if told > 0.0 else "array.banks",
        value=f"{100.0 * trapped:.0f} % of the panels' water",
        limit=f"0 % from {day_words(span.first)} to {day_words(span.last)}",
        text="Water that draining leaves in the panels freezes in nights of the season.",
        remedy="Slope the headers to their drain so that nothing stays, ask the panel's maker what "
        f'ice it bears, or set pool.closes = "{day_text(span.first - 1)}" and pool.opens = '
        f'"{day_text(span.last)}".',
    )


def freeze_trip_misses(job: Job, nights: NightResult) -> Iterator[Finding]:
    """Check that the job's freeze action comes before the ice."""
    trip = nights.trips[-1]
    if job.controls.freeze == "none" or trip.missed_most == 0:
        return
    needed = max(trip.needed or trip.temp, trip.temp) + TRIP_ROOM
    remedy = (
        f"Raise controls.freeze_trip to {shown(job, math.ceil(2.0 * needed) / 2.0, 'temperature')}"
    )
    if trip.watch == "air":
        remedy += ', or watch a piece of panel on the roof: controls.freeze_watch = "sensor"'
    yield FREEZE_TRIP_MISSES.finding(
        "controls.freeze_trip",
        value=f"{counted(int(np.sum(trip.missed)), 'night')} of this year missed, up to "
        f"{trip.missed_most} at the cold end of what nobody measured",
        limit="none",
        text=f"Under a clear sky the array freezes while the {trip.watch} is still above the trip "
        f"of {shown(job, trip.temp, 'temperature')}.",
        remedy=f"{remedy}; a power cut defeats either, so keep what drains by itself.",
    )


NightCheck = Callable[[Job, NightResult], Iterator[Finding]]
NIGHT_CHECKS: dict[Rule, NightCheck] = {
    SEASON_FREEZES: season_freezes,
    TRAPPED_WATER_FREEZES: trapped_water_freezes,
    FREEZE_TRIP_MISSES: freeze_trip_misses,
}


def night_findings(job: Job, nights: NightResult) -> list[Finding]:
    """List what a job's nights ask for.

    Parameters
    ----------
    job : Job
        The job.
    nights : NightResult
        Of this job.

    Returns
    -------
    list of Finding
        In the order of `NIGHT_CHECKS`.
    """
    return [finding for check in NIGHT_CHECKS.values() for finding in check(job, nights)]


def day_text(day: int) -> str:
    """Day of the year, 0 for 1 January, as 'MM-DD'."""
    day %= DAYS
    month = next(m for m in range(12) if day < DAYS_BEFORE_MONTH[m + 1])
    return f"{month + 1:02d}-{day - DAYS_BEFORE_MONTH[month] + 1:02d}"


def day_words(day: int) -> str:
    """Day of the year, 0 for 1 January, as '6 October'."""
    from noonwater.climate.weather_year import MONTHS

    month, date = day_text(day).split("-")
    return f"{int(date)} {MONTHS[int(month) - 1]}"


def _season_days(job: Job, span: Span) -> int:
    """Days of the season whose night freezes at the chosen risk."""
    season = season_of_step(job.pool.opens, job.pool.closes, 1)[::24] == 1
    return int(np.sum(season & _inside(np.arange(DAYS), span)))


def _inside(
    days: np.ndarray[tuple[int], np.dtype[np.int64]], span: Span
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    length = (span.last - span.first) % DAYS or DAYS
    return (days - span.first) % DAYS < length


def _edge(job: Job, span: Span) -> str:
    """Field whose day lies inside; the closing day where both or neither do."""
    from noonwater.model.pool import day_of_year

    opens, closes = (day_of_year(job.pool.opens, "opens"), day_of_year(job.pool.closes, "closes"))
    inside = _inside(np.array([opens, closes]), span)
    return "pool.opens" if inside[0] and not inside[1] else "pool.closes"
