"""Water that stays in the array when the pump stops: it freezes, and it gets hot."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from noonwater.catalog import panel_named
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, Rule, shown
from noonwater.hydraulics.bank import bank_places
from noonwater.hydraulics.resting import resting_array
from noonwater.model.job import Job
from noonwater.year import parameters as at
from noonwater.year.calendar import season_of_step
from noonwater.year.result import YearResult

FROST = (42.0 - 32.0) / 1.8
"""[°C] 42 °F."""
PVC_HOTTEST = 60.0

FROST_WITHOUT_DRAINING = Rule(
    "frost-without-draining",
    "fault",
    limit=f"air over 42 °F ({FROST:.1f} °C) all year, where water stands in the array and nothing "
    "is done about it",
    source=f"{COMMON_PRACTICE}: under a clear sky a roof freezes with the air at 42 °F",
    remedy="an array that drains by itself",
)
STANDING_WATER_TOO_HOT = Rule(
    "standing-water-too-hot",
    "caution",
    limit="at most temp_max of the panel's catalog row, where water stands in the array",
    source="the panel's row in the catalog",
    remedy="an array that drains by itself, or panels that bear it",
)
PVC_TOO_HOT = Rule(
    "pvc-too-hot",
    "caution",
    limit=f"at most 140 °F ({PVC_HOTTEST:g} °C) where water stands in the array and its pipe",
    source="Machinery's Handbook, 31st edition, table 14, read: no rating of PVC above 140 °F",
    remedy="pipe rated for it at the array, not PVC",
)

DRAINING = {
    "pad.breaker": 'Put a vacuum breaker at the high return, pad.breaker = "high return", and '
    "slope every pipe to drain",
    "pad.diverter_seal": 'Use a diverter seal with a drain-down hole, pad.diverter_seal = "drain-'
    'down hole"',
    "pad.edit": "Open or move the valve that keeps the water in, or put a drain at the array's low "
    "corner",
}
"""What lets an array drain, by the field that keeps it full."""


def frost_without_draining(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check that no water stands in the array in a freezing night."""
    where = standing_water(job)
    coldest = float(year.air.min())
    if not where or coldest >= FROST or job.controls.freeze != "none":
        return
    season = season_of_step(job.pool.opens, job.pool.closes, 1) == 1
    inside = float(year.air[season].min()) < FROST
    remedy = DRAINING.get(
        where, "Lay the array above the pool's water, or put a drain at its low corner"
    )
    when = (
        "; blowing it out when the season ends is not enough here"
        if inside
        else "; until then drain and blow it out by hand when the season ends"
    )
    yield FROST_WITHOUT_DRAINING.finding(
        where,
        value=f"air down to {shown(job, coldest, 'temperature')}, "
        f"{'also in' if inside else 'outside'} the season",
        limit=shown(job, FROST, "temperature"),
        text="Water stands in the array when the pump stops and bursts it in a clear cold night.",
        remedy=f"{remedy}{when}.",
    )


def standing_water_too_hot(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check the panels' temperature where water stands in them."""
    hottest = float(year.record[:, at.ARRAY_TEMP].max())
    banks = range(len(job.array.banks))
    weakest = min(
        banks, key=lambda i: panel_named(job.array.banks[i].panel, own=job.own_panel).temp_max
    )
    panel = panel_named(job.array.banks[weakest].panel, own=job.own_panel)
    if standing_water(job) and hottest > panel.temp_max:
        yield STANDING_WATER_TOO_HOT.finding(
            f"array.banks[{weakest}].panel",
            value=shown(job, hottest, "temperature", 0),
            limit=shown(job, panel.temp_max, "temperature", 0),
            text="Water that stands in the panels in the sun gets hotter than they bear, and the "
            "first of it scalds.",
            remedy="Let the array drain when the pump stops, or use panels that bear "
            f"{shown(job, hottest, 'temperature', 0)} full of water.",
        )


def pvc_too_hot(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check the water that a start pushes into PVC pipe."""
    hot = year.record[:, at.ARRAY_TEMP] > PVC_HOTTEST
    if standing_water(job) and hot.any():
        hottest = float(year.record[:, at.ARRAY_TEMP].max())
        yield PVC_TOO_HOT.finding(
            "pad.schedule",
            value=f"{shown(job, hottest, 'temperature', 0)}, {int(np.sum(hot))} hours a year over",
            limit=shown(job, PVC_HOTTEST, "temperature", 0),
            text="Water that stands in the array in the sun gets too hot for PVC pipe, which "
            "softens.",
            remedy="Use pipe rated for it at the array, not PVC, or let the array drain when the "
            "pump stops.",
        )


def standing_water(job: Job) -> str:
    """Field that keeps the array full when the pump stops; "" where it drains.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        The roof's height where a panel that stays full lies below the pool's water, "pad.breaker"
        where nothing lets air in, "pad.diverter_seal" where the diverter shuts the feed in,
        "pad.edit" or the roof's height where something else keeps it.
    """
    rest = resting_array(job)
    if rest.drains:
        return ""
    worst = max(range(len(rest.banks)), key=lambda bank: rest.banks[bank])
    place = bank_places(job)[worst]
    number = next(i for i, roof in enumerate(job.roof) if roof.name == place.bank.roof)
    if place.bottom < 0.0:
        return f"roof[{number}].eave_height"
    if job.pad.breaker == "none":
        return "pad.breaker"
    if "diverter" in rest.held_by and job.pad.diverter_seal == "seals tight":
        return "pad.diverter_seal"
    return "pad.edit" if job.pad.edit else f"roof[{number}].eave_height"
