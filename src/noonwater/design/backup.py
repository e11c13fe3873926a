"""The backup heater beside solar: is it the pad's, does it leave the sun room, when may it fire."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.climate.weather_year import WeatherYear
from noonwater.core.digits import about
from noonwater.core.finding import Finding
from noonwater.design.rule import OURS, Rule, percent, shown
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart
from noonwater.year import parameters as at
from noonwater.year.calendar import season_of_step
from noonwater.year.heater_terms import SOLAR_ROOM, set_point
from noonwater.year.result import JOULES_IN_KWH, YearResult

MOST_OUT_OF_SEASON = 0.05
"""[-] Of the heater's energy. Ours."""

HEATERS_DISAGREE = Rule(
    "heaters-disagree",
    "caution",
    limit="the heater that the year runs is one that stands on the pad",
    source="logic",
    remedy="the same kind in heater.kind and in pad.heater",
)
HEATER_OUT_OF_SEASON = Rule(
    "heater-out-of-season",
    "caution",
    limit=f"at most {percent(MOST_OUT_OF_SEASON)} of the heater's energy outside the pool's season",
    source=OURS,
    remedy="the heater's months within the season",
)
HEATER_LEAVES_SOLAR_NO_ROOM = Rule(
    "heater-leaves-solar-no-room",
    "caution",
    limit=f"the heater's set point at least {SOLAR_ROOM:g} K below solar's target",
    source=OURS,
    remedy="a lower set point of the heater, or a higher target of solar",
)


def heaters_disagree(job: Job) -> Iterator[Finding]:
    """Check that the year's heater is the pad's.

    A pad's heater that the year doesn't run is no fault: the pool is then told without it.
    """
    kind, on_pad = job.heater.kind, job.pad.heater
    added = [
        edit.catalog for edit in job.pad.edit if isinstance(edit, AddPart) and edit.kind == "heater"
    ]
    if kind in ("none", on_pad, *added) or "" in added:
        return
    yield HEATERS_DISAGREE.finding(
        "pad.heater",
        value=f"{on_pad} on the pad, {kind} in the year",
        limit=f"{kind} in both",
        text="The heater whose heat the year counts is not the one on the pad, so flows, head and "
        "parts list are those of another.",
        remedy=f'Set pad.heater = "{kind}", or change heater.kind.',
    )


def heater_out_of_season(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that the heater doesn't keep a closed pool warm."""
    energy = year.record[:, at.HEATER_ENERGY]
    closed = season_of_step(job.pool.opens, job.pool.closes, 1) == 0
    total, outside = float(energy.sum()), float(energy[closed].sum())
    if outside <= MOST_OUT_OF_SEASON * total:
        return
    kwh = about(outside / JOULES_IN_KWH)
    yield HEATER_OUT_OF_SEASON.finding(
        "heater.months",
        value=f"{kwh:,.0f} kWh, {percent(outside / total)} of its energy",
        limit=f"{percent(MOST_OUT_OF_SEASON)} after {job.pool.closes} and before {job.pool.opens}",
        text="The heater keeps the pool warm while it is closed.",
        remedy=f"Let it help in months {_months_of_season(job)} only: heater.months;"
        " or let the pool's season reach as far as the owner swims.",
    )


def _months_of_season(job: Job) -> str:
    first, last = int(job.pool.opens.split("-")[0]), int(job.pool.closes.split("-")[0])
    return f"{first} to {last}" if first != last else str(first)


def heater_leaves_solar_no_room(job: Job) -> Iterator[Finding]:
    """Check that the heater is set below the temperature that solar stops at."""
    target, point = job.pool.target, set_point(job.heater, job.pool.target)
    if job.heater.kind == "none" or point <= target - SOLAR_ROOM:
        return
    highest = shown(job, target - SOLAR_ROOM, "temperature")
    yield HEATER_LEAVES_SOLAR_NO_ROOM.finding(
        "heater.target",
        value=shown(job, point, "temperature"),
        limit=f"{highest}, {shown(job, SOLAR_ROOM, 'temperature difference')} below solar's target",
        text="The heater keeps the pool so warm that the sun finds little left to do.",
        remedy=f"Set the heater to {highest}, or let solar heat to "
        f"{shown(job, point + SOLAR_ROOM, 'temperature')}.",
    )
