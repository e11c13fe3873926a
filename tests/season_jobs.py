"""Whole jobs for checks of a season: a pool in a place, its wind as a factor set beforehand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.catalog import panel_named
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.plant import Array, Bank
from noonwater.model.pool import Pool
from noonwater.model.site import Site, Weather, WeatherFromMonths
from noonwater.year import parameters as at
from noonwater.year.belief import Belief
from noonwater.year.exposure import wind_factor_water
from noonwater.year.parameters import Inputs
from noonwater.year.run import Run, settled_year
from noonwater.year.twins import twins_of
from noonwater.year.varied import base_of, varied
from tests.design_jobs import GOOD

STEP = 1200
"""[s] Of these loops; an hour's means move by some hundredths of a kelvin against 300 s."""

PANEL = "tube 4x12"
KWH = 3.6e6


def pool_job(site: Site, weather: Weather, pool: Pool, heater: Heater | None = None) -> Job:
    """Put a pool with the plain plant of the design tests into a place."""
    return replace(GOOD, site=site, weather=weather, pool=pool, heater=heater or Heater())


def with_array(job: Job, share: float) -> Job:
    """Give a job panels of about so many times its water's area, in two banks that share it."""
    count = round(0.5 * share * job.pool.area / panel_named(PANEL).area)
    return replace(job, array=Array((Bank("south", count, PANEL), Bank("south", count, PANEL))))


def inputs_of(job: Job, wind_factor: float | None = None) -> Inputs:
    """Prepare a job; with a wind factor, wind at the water is that share of the station's."""
    believed = 1.0
    if wind_factor is not None:
        believed = wind_factor / wind_factor_water(job.site, job.pool)
    base = base_of(job, surroundings_of(job, STEP), flows_by_period(job))
    return varied(base, Belief(water_wind=believed))._replace(twins=twins_of(job))


def year_of(job: Job, wind_factor: float | None = None) -> Run:
    """Run a job's settled year."""
    return settled_year(inputs_of(job, wind_factor))


def daytime(year: Run, column: int) -> np.ndarray:
    """Mean of 10 to 19 h on each day. [°C]."""
    return np.asarray(year.record[:, column].reshape(365, 24)[:, 10:19].mean(axis=1))


def kinds(ledger: np.ndarray, pool: int) -> np.ndarray:
    """Rows of one pool's ledger. [J]."""
    return np.asarray(ledger[at.KINDS * pool : at.KINDS * (pool + 1)])


def months(zone: float, sun: str, air: str, dew: str, wind: str) -> WeatherFromMonths:
    """Twelve monthly means as text: sun [kWh/(m²·day)], air and dew point [°C], wind [m/s]."""
    kwh, temps, dews, winds = (tuple(map(float, row.split())) for row in (sun, air, dew, wind))
    return WeatherFromMonths("months", zone, tuple(KWH * each for each in kwh), temps, dews, winds)
