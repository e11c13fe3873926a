"""Rain, mains, bathers, falls, spa and hall of a job, as the loop gets them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.pool_use import Bathing, Feature, SpaWater
from noonwater.physics.bather import METS_PLAYING, heat_bather
from noonwater.physics.water import density_water, latent_heat
from noonwater.year import parameters as at
from noonwater.year.calendar import month_of_step
from noonwater.year.parameters import Inputs
from noonwater.year.prepare import prepare
from noonwater.year.surroundings import Surroundings
from noonwater.year.terms import mains_of_step, rain_of, rain_terms, water_capacity
from noonwater.year.twins import filled, twins_of
from tests.design_jobs import GOOD, changed

STEP = 1800
RAIN = (0.05, 0.04, 0.1, 0.0, 0.02, 0.1, 0.1, 0.2, 0.2, 0.1, 0.05, 0.04)


@pytest.fixture(scope="module")
def around() -> Surroundings:
    return surroundings_of(changed(controls={"sensor_roof": "west"}), STEP)


def inputs_of(job: Job, around: Surroundings) -> Inputs:
    return prepare(job, around, flows_by_period(job))


def test_all_the_rain_falls(around: Surroundings) -> None:
    job = changed(pool={"rain": RAIN})
    gain, flow, heat = rain_terms(job, around)
    month = month_of_step(2)
    fallen = np.bincount(month, weights=heat * STEP) / latent_heat(28.0) / density_water(28.0)
    assert fallen == pytest.approx(RAIN, rel=1e-12)
    assert (flow * STEP).sum() == pytest.approx(sum(RAIN) * water_capacity(28.0), rel=1e-12)
    mild = around.air.temp_air > 0.0
    assert gain[mild] == pytest.approx((flow * around.air.temp_air)[mild], rel=1e-12)


def test_snow_takes_its_melting_heat(around: Surroundings) -> None:
    job = changed(pool={"rain": RAIN})
    cold = replace(around, air=replace(around.air, temp_air=around.air.temp_air - 40.0))
    gain, flow, _ = rain_terms(job, cold)
    snowing = (cold.air.temp_air < 0.0) & (flow > 0.0)
    assert gain[snowing] == pytest.approx(-333.6e3 / 4180.0 * flow[snowing], rel=2e-3)


def test_no_rain_in_a_hall_or_where_nobody_said() -> None:
    hall = {"enclosure": "indoor", "hall_temp": 29.0, "hall_humidity": 0.6, "rain": RAIN}
    assert rain_of(GOOD) == rain_of(changed(pool=hall)) == (0.0,) * 12
    assert rain_of(changed(pool={"rain": RAIN})) == RAIN


def test_mains_as_told_or_by_the_air(around: Surroundings) -> None:
    assert (mains_of_step(changed(pool={"refill_temp": 12.0}), around) == 12.0).all()
    mains = mains_of_step(GOOD, around)
    assert mains.mean() == pytest.approx(around.air.temp_air.mean() + 3.3, abs=0.5)
    assert month_of_step(2)[mains.argmax()] in (6, 7, 8)


def test_bathers_stir_warm_splash_and_take_the_cover_off(around: Surroundings) -> None:
    bathing = Bathing(4, on_from="07:00", on_until="09:00")
    inputs = inputs_of(changed(pool={"bathing": bathing}), around)
    there = inputs.water.bathers > 0.0
    assert there.sum() == 365 * 4
    assert inputs.water.bathers[there] == pytest.approx(4 / 40.0 * heat_bather(METS_PLAYING))
    assert (inputs.water.activity[there] > 1.0).all()
    assert (inputs.water.activity[~there] == 1.0).all()
    litres = (inputs.water.splash * STEP).sum() * 40.0 / water_capacity(28.0) * 1000.0
    assert litres == pytest.approx(365 * 2 * 4 * 30.0, rel=1e-9)
    assert not inputs.drivers.covered[there].any()
    assert inputs.drivers.covered.any()


def test_falling_water_by_its_area_and_hours(around: Surroundings) -> None:
    one = inputs_of(changed(pool={"feature": (Feature(2.0, 1.0),)}), around).water.falling
    two = inputs_of(changed(pool={"feature": (Feature(2.0, 1.0),) * 2}), around).water.falling
    assert (one > 0.0).sum() == 365 * 8 * 2
    assert two == pytest.approx(2.0 * one)
    higher = inputs_of(changed(pool={"feature": (Feature(2.0, 4.0),)}), around).water.falling
    assert higher.sum() < one.sum(), "the air that a long sheet drags along thickens"


def test_a_hall_has_its_own_air(around: Surroundings) -> None:
    hall = {"enclosure": "indoor", "hall_temp": 29.0, "hall_humidity": 0.6}
    inputs = inputs_of(changed(pool=hall), around)
    assert (inputs.water.temp_over_water == 29.0).all()
    assert not inputs.drivers.pool_sun.any()
    assert inputs.pool.coefficient_hall > 0.0
    assert inputs.drivers.temp_air == pytest.approx(around.air.temp_air), "panels are outside"
    assert np.ptp(inputs.drivers.vapour_pressure) == np.ptp(inputs.drivers.longwave_sky) == 0.0


def test_a_screen_takes_sun_and_wind_and_hides_the_sky(around: Surroundings) -> None:
    plain = inputs_of(GOOD, around).drivers
    screened = inputs_of(changed(pool={"enclosure": "screened"}), around).drivers
    assert (screened.pool_sun <= plain.pool_sun).all()
    assert screened.wind_water.sum() < plain.wind_water.sum()
    assert (screened.longwave_sky > plain.longwave_sky)[plain.longwave_sky < 380.0].all()


def test_a_spa_that_spills_is_part_of_the_pool_and_one_kept_hot_is_not(
    around: Surroundings,
) -> None:
    spa = SpaWater(area=4.0, depth=0.9, every=3)
    job = replace(changed(pool={"spa": spa}), heater=Heater("gas"))
    inputs, plain = inputs_of(job, around), inputs_of(GOOD, around)
    more = 4.0 * 0.9 * water_capacity(28.0)
    assert inputs.pool.capacity == pytest.approx(plain.pool.capacity + more)
    assert inputs.water.spa_in_use.sum() == pytest.approx(365 / 3 * 2, abs=2)
    assert (inputs.water.spa_loss[inputs.water.spa_in_use == 0] == 0.0).all()
    assert (inputs.water.spa_loss[inputs.water.spa_in_use == 1] > 500.0).all()
    kept = replace(spa, between="kept hot")
    hot = inputs_of(changed(pool={"spa": kept}), around)
    assert hot.pool.capacity == plain.pool.capacity
    assert hot.pool.spa_capacity == 0.0
    assert (hot.water.spa_loss > 0.0).mean() > 0.99
    assert hot.water.heater_need.min() == 1.0, "an electric one of its own"
    cold = inputs_of(changed(pool={"spa": spa}), around)
    assert not cold.pool.spa_heated, "without a heater its water is the pool's all day"


def test_twins_that_differ_are_asked_for() -> None:
    assert twins_of(GOOD).tolist() == [1, 1, 0, 1]
    heated = replace(GOOD, heater=Heater("gas"))
    assert twins_of(heated).tolist() == [1, 1, 1, 1]
    assert twins_of(changed(pool={"cover": replace(GOOD.pool.cover, kind="none")}))[at.BARE] == 0


def test_a_twin_that_was_not_run_has_the_temperatures_of_its_equal() -> None:
    record = np.zeros((3, at.RECORD))
    record[:, at.POOL_TEMP_WITHOUT] = 20.0
    whole = filled(record, np.array([1, 1, 0, 1], dtype=np.int8))
    assert (whole[:, at.POOL_TEMP_HEATER_ONLY] == 20.0).all()
    assert not whole[:, at.POOL_TEMP_BARE].any()
    assert not record[:, at.POOL_TEMP_HEATER_ONLY].any()


def test_a_heater_calls_the_pump_at_its_programs_least_power(around: Surroundings) -> None:
    """Circulation against frost has a row of its own behind the program's, with no filter power."""
    job = replace(
        changed(pad={"breaker": "none"}, controls={"freeze": "circulate"}), heater=Heater("gas")
    )
    flows = flows_by_period(job)
    assert flows.freeze_row == 2
    assert prepare(job, around, flows).heater.pump_power == flows.power_filter[:2].min() > 0.0
