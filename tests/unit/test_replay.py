"""A day replayed is the day of the year: hour by hour the same, only finer."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import numpy as np
import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_file import read_job_tables
from noonwater.app.replay import CIRCULATING, HEATING, replay_day, telling_days
from noonwater.app.study import run_year
from noonwater.app.weather import weather_of
from noonwater.core.errors import InputError
from noonwater.year import parameters as at

JOB = read_job_tables(tomllib.loads(demo_text("lagoon-court")))
HOUR = 3600.0


@pytest.mark.parametrize("day", [0, 119, 364])
def test_a_replayed_day_sums_to_the_year_s_hours(day: int) -> None:
    record = run_year(JOB).record[24 * day : 24 * (day + 1)]
    found = replay_day(JOB, day)
    hours = (24, -1)
    np.testing.assert_allclose(found.pool.reshape(hours).mean(axis=1), record[:, at.POOL_TEMP])
    np.testing.assert_allclose(found.sensor.reshape(hours).mean(axis=1), record[:, at.SENSOR_TEMP])
    np.testing.assert_allclose(found.panels.reshape(hours).mean(axis=1), record[:, at.ARRAY_TEMP])
    energy = found.power.reshape(hours).mean(axis=1) * HOUR
    np.testing.assert_allclose(energy, record[:, at.PUMP_ENERGY])
    heat = found.heat.reshape(hours).mean(axis=1) * HOUR
    taken = record[:, at.COOLING_HEAT] + record[:, at.FREEZE_HEAT]
    np.testing.assert_allclose(heat, record[:, at.SOLAR_HEAT] - taken, atol=1e-3)


def test_solar_starts_where_the_sensor_passes_its_mark_and_never_outside_the_program() -> None:
    found = replay_day(JOB, 119)
    runs = np.flatnonzero(found.mode == HEATING)
    assert len(runs) > 0
    hours = (runs + 1) * found.step / HOUR
    assert hours.min() >= 8.0
    assert hours.max() <= 17.0 + found.step / HOUR
    first = runs[0]
    assert found.sensor[first - 1] > found.pool[first - 1] + JOB.controls.on_difference


def test_frost_is_seen_in_the_steps() -> None:
    cold = replace(JOB, controls=replace(JOB.controls, freeze="circulate", freeze_trip=15.0))
    day = telling_days(cold)[0][0]
    found = replay_day(cold, day)
    frost = found.mode == CIRCULATING
    assert frost.any()
    assert found.air[frost].max() < 15.0 + 1.5
    assert found.power[frost].min() > 0.0


def test_telling_days_are_what_they_are_called() -> None:
    weather = weather_of(JOB)
    days = {why: day for day, why in telling_days(JOB)}
    assert len(days) == 14
    assert int(weather.temp_air.argmin()) // 24 == days["coldest night"]
    june = weather.sun_global.reshape(365, 24).sum(axis=1)[151:181]
    assert days["clearest in Jun"] == 151 + int(june.argmax())


@pytest.mark.parametrize("day", [-1, 365])
def test_a_day_that_no_year_has_is_refused(day: int) -> None:
    with pytest.raises(InputError):
        replay_day(JOB, day)
