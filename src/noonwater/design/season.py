"""What the year shows: is the target reached, does solar run, when, and does a timer do harm."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from noonwater.catalog import bank_panel
from noonwater.climate.sun import plane_sun, sun_steps
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.digits import about
from noonwater.core.finding import Finding
from noonwater.design.program import solar_speeds
from noonwater.design.rule import OURS, Rule, percent, shown
from noonwater.design.search import solved
from noonwater.model.job import Job
from noonwater.model.when import minutes_between
from noonwater.year import parameters as at
from noonwater.year.calendar import season_of_step
from noonwater.year.result import JOULES_IN_KWH, YearResult
from noonwater.year.surroundings import GROUND_ALBEDO

Floats = NDArray[np.float64]

LEAST_TIME_AT_TARGET = 0.1
MOST_SUN_MISSED = 0.25
USEFUL_SUN = 200.0
"""[W/m²] On the panels; less hardly starts solar. Ours."""
EDGE = 0.02
"""Share of the useful sun that a window of hours may leave out at each end. Ours."""
MOST_OVER_TARGET = 1.0
COLDER_IN_SEASON = 2.0
"""[K] A season that runs through the cold half of the year is meant for the other half. Ours."""
MOST_HEAT_LOST = 0.05

TARGET_SELDOM_REACHED = Rule(
    "target-seldom-reached",
    "caution",
    limit=f"target reached in at least {percent(LEAST_TIME_AT_TARGET)} of the season's hours",
    source=OURS,
    remedy="a cover, more panels, a lower target or a shorter season",
)
SEASON_IN_THE_COLD = Rule(
    "season-in-the-cold",
    "caution",
    limit=f"season's air at most {COLDER_IN_SEASON:g} K colder than the rest of the year's",
    source=OURS,
    remedy="the season's days turned round, as south of the equator",
)
SOLAR_NEVER_RUNS = Rule(
    "solar-never-runs",
    "fault",
    limit="solar runs in some hour of the year",
    source="logic",
    remedy="look at target, season, program and control differences",
)
SOLAR_HOURS_SHORT = Rule(
    "solar-hours-short",
    "caution",
    limit=f"at most {percent(MOST_SUN_MISSED)} of the season's sun on the panels over "
    f"{USEFUL_SUN:g} W/m² in hours without solar",
    source=OURS,
    remedy="allow solar in the hours that have the sun",
)
TIMER_OVERHEATS = Rule(
    "timer-overheats",
    "caution",
    limit=f"pool no more than {MOST_OVER_TARGET:g} K over its target while a timer runs solar",
    source=OURS,
    remedy="a differential control, which stops at the target",
)
TIMER_COOLS_POOL = Rule(
    "timer-cools-pool",
    "caution",
    limit=f"heat lost on the roof at most {percent(MOST_HEAT_LOST)} of the heat gained, where a "
    "timer commands",
    source=OURS,
    remedy="solar hours that have sun, or a differential control",
)


def target_seldom_reached(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that the owner gets the wanted temperature at all."""
    season = _season(job)
    pool = year.pool[season]
    share = float(np.mean(pool >= job.pool.target))
    if share >= LEAST_TIME_AT_TARGET:
        return
    warmest = float(pool.max())
    word = "never" if share == 0.0 else "seldom"
    covered = job.pool.cover.kind not in ("none", "liquid")
    first = "Add panels" if covered else "Put a cover on at night, add panels"
    kept = float(np.quantile(pool, 1.0 - LEAST_TIME_AT_TARGET))
    yield TARGET_SELDOM_REACHED.finding(
        "pool.target",
        value=f"{percent(share)} of the season's hours; warmest "
        f"{shown(job, warmest, 'temperature')}",
        limit=f"{percent(LEAST_TIME_AT_TARGET)} of the season's hours at "
        f"{shown(job, job.pool.target, 'temperature')}",
        text=f"The pool {word} reaches its target in the season.",
        remedy=f"{first}, narrow the season, or agree with the owner on "
        f"{shown(job, kept, 'temperature')}, which it holds a tenth of the season.",
    )


def season_in_the_cold(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that the pool is open in the warm part of the year."""
    season = _season(job)
    if season.all():
        return
    inside, outside = float(year.air[season].mean()), float(year.air[~season].mean())
    if inside >= outside - COLDER_IN_SEASON:
        return
    yield SEASON_IN_THE_COLD.finding(
        "pool.opens",
        value=f"air of {shown(job, inside, 'temperature')} in the season, "
        f"{shown(job, outside, 'temperature')} outside it",
        limit=f"at most {shown(job, COLDER_IN_SEASON, 'temperature difference')} colder",
        text="The pool is open in the cold part of the year and closed in the warm one.",
        remedy="South of the equator the warm months are October to April: set pool.opens and "
        "pool.closes to them, and the months of cover and heater.",
    )


def solar_never_runs(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that solar runs, where the program allows it and the start succeeds."""
    if year.record[:, at.SOLAR_TIME].sum() > 0.0 or not _can_run(job):
        return
    already = float(np.mean(year.pool_without_solar[_season(job)] >= job.pool.target))
    if already > 1.0 - LEAST_TIME_AT_TARGET:
        where, reason = "pool.target", "the pool is at its target without it"
        remedy = "Raise the target if the owner wants more, else build no solar."
    else:
        where, reason = "controls.on_difference", "the controller never starts it"
        remedy = (
            "Lower controls.on_difference, and look at the season's days, the program's hours and "
            "the sensor's plane."
        )
    yield SOLAR_NEVER_RUNS.finding(
        where,
        value="0 h in the year",
        limit="more than none",
        text=f"Solar never runs: {reason}.",
        remedy=remedy,
    )


def _can_run(job: Job) -> bool:
    states = [solved(job, speed, True, job.pool.target) for speed in solar_speeds(job)]
    return any(state is not None and state.primes for state in states)


def solar_hours_short(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that solar is allowed when the sun is on the panels."""
    missed = sun_missed(job, weather)
    if missed <= MOST_SUN_MISSED:
        return
    by_hour = _sun_by_hour(job, weather)
    total = float(by_hour.sum())
    before = np.cumsum(by_hour) / total
    first = int(np.argmax(before > EDGE))
    last = int(np.argmax(before >= 1.0 - EDGE))
    yield SOLAR_HOURS_SHORT.finding(
        "pump.program",
        value=f"{percent(missed)} missed",
        limit=f"{percent(MOST_SUN_MISSED)}",
        text="Much of the sun on the panels comes at hours in which the program does not let "
        "solar run.",
        remedy=f"Allow solar from {first:02d}:00 to {last + 1:02d}:00, standard time.",
    )


def sun_missed(job: Job, weather: WeatherYear) -> float:
    """Share of the season's useful sun on the panels in hours that the program keeps from solar.

    Parameters
    ----------
    job : Job
        The job.
    weather : WeatherYear
        Of its site.

    Returns
    -------
    float
        0 also where solar is allowed in no hour, which is told otherwise. [-]
    """
    allowed = _allowed(job)
    by_hour = _sun_by_hour(job, weather)
    total = float(by_hour.sum())
    if not allowed.any() or total <= 0.0:
        return 0.0
    return 1.0 - float((by_hour * allowed).sum()) / total


def _sun_by_hour(job: Job, weather: WeatherYear) -> Floats:
    """Useful sun of the season by hour of the day."""
    by_hour = (_useful_sun(job, weather) * _season(job)).reshape(365, 24).sum(axis=0)
    return np.asarray(by_hour)


def _useful_sun(job: Job, weather: WeatherYear) -> Floats:
    """Sun on the panels, by hour, where it is enough to be worth pumping for. [W/m²]."""
    total = np.zeros(len(weather.sun_global))
    for bank in job.array.banks:
        roof = job.roof_named(bank.roof)
        on_plane = _sun_on_plane(weather, roof.pitch, roof.bearing, job.site.ground)
        area = len(bank.numbers) * bank_panel(bank, job.own_panel).area
        total += np.where(on_plane > USEFUL_SUN, on_plane, 0.0) * area
    return total


@lru_cache(maxsize=16)
def _sun_on_plane(weather: WeatherYear, pitch: float, bearing: float, ground: str) -> Floats:
    plane = plane_sun(sun_steps(weather, 3600), pitch, bearing, GROUND_ALBEDO[ground])
    return np.asarray(plane.beam + plane.sky + plane.ground)


def timer_overheats(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check what a timer, which knows no target, makes of the pool."""
    if job.controls.kind != "timer":
        return
    running = year.record[:, at.SOLAR_TIME] > 0.0
    warmest = float(year.pool[running].max()) if running.any() else job.pool.target
    if warmest <= job.pool.target + MOST_OVER_TARGET:
        return
    yield TIMER_OVERHEATS.finding(
        "controls.kind",
        value=shown(job, warmest, "temperature"),
        limit=f"{shown(job, job.pool.target, 'temperature')}, the target",
        text="The timer keeps heating a pool that is warm enough.",
        remedy='Use controls.kind = "differential", or have somebody shut solar off in the warm '
        "months.",
    )


def timer_cools_pool(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that a timer doesn't pump the pool's heat into the evening air."""
    if job.controls.kind != "timer":
        return
    heat = year.solar_heat
    gained, lost = float(heat[heat > 0.0].sum()), -float(heat[heat < 0.0].sum())
    if lost <= MOST_HEAT_LOST * gained:
        return
    by_hour = heat.reshape(365, 24).sum(axis=0)
    warm = np.flatnonzero(by_hour > 0.0)
    hours = f"{warm[0]:02d}:00 to {warm[-1] + 1:02d}:00" if len(warm) else "no hour"
    yield TIMER_COOLS_POOL.finding(
        "pump.program",
        value=f"{about(lost / JOULES_IN_KWH):,.0f} kWh a year",
        limit=f"{MOST_HEAT_LOST * gained / JOULES_IN_KWH:.0f} kWh a year",
        text="The timer sends water to the roof when the panels cool it.",
        remedy=f'Allow solar from {hours} only, or use controls.kind = "differential".',
    )


def _season(job: Job) -> NDArray[np.bool_]:
    return np.asarray(season_of_step(job.pool.opens, job.pool.closes, 1) == 1)


def _allowed(job: Job) -> Floats:
    """Share of each hour of the day in which solar is allowed."""
    minutes = np.zeros(24 * 60)
    for period in job.pump.program:
        if period.heats:
            minutes[minutes_between(period.start, period.stop)] = 1.0
    return np.asarray(minutes.reshape(24, 60).mean(axis=1))
