"""What holds of controls and sensors whatever their settings."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.year import parameters as at
from noonwater.year.command import (
    CIRCULATING,
    COOLING,
    HEATING,
    RESTING,
    Command,
    mode_in_frost,
    mode_wanted,
)
from noonwater.year.parameters import Inputs, resting_state
from noonwater.year.run import Run, run
from tests.years import made_inputs

PER_DAY = 288
PLAIN = made_inputs()
TEMPS = st.floats(-10.0, 80.0)


def days(inputs: Inputs, first: int, count: int, pool: float) -> Run:
    air = float(inputs.drivers.temp_air[first * PER_DAY])
    return run(inputs, resting_state(pool, air, 2), first * PER_DAY, count * PER_DAY)


@st.composite
def plants(draw: st.DrawFn) -> Inputs:
    """The made plant with any controls, any sensor, wet or dry at rest."""
    drivers, array, control = PLAIN.drivers, PLAIN.array, PLAIN.control
    off = draw(st.floats(0.0, 5.0))
    return PLAIN._replace(
        drivers=drivers._replace(
            cooling=np.full_like(drivers.cooling, draw(st.integers(0, 1))),
            period=np.zeros_like(drivers.period) if draw(st.booleans()) else drivers.period,
            sensor_gain=drivers.sensor_gain * draw(st.floats(0.0, 1.2)),
        ),
        array=array._replace(
            flow_capacity=np.vstack([array.flow_capacity, [[2000.0, 1000.0]]]),
            fill_time=np.array([90.0, 250.0]),
            drains=draw(st.booleans()),
            sensor_link=draw(st.floats(0.0, 200.0)),
        ),
        control=control._replace(
            power_filter=np.array([300.0, 0.0]),
            power_solar=np.array([500.0, 200.0]),
            solar_in_period=np.array([1, 0], dtype=np.int8),
            on_difference=off + draw(st.floats(0.5, 6.0)),
            off_difference=off,
            target=draw(st.floats(20.0, 32.0)),
            least_run=draw(st.floats(0.0, 3600.0)),
            least_rest=draw(st.floats(0.0, 3600.0)),
            cooling_target=draw(st.floats(24.0, 40.0)),
            freeze_row=draw(st.sampled_from([-1, 1])),
            drains_in_frost=draw(st.booleans()),
            freeze_trip=draw(st.floats(-5.0, 15.0)),
            freeze_by_sensor=draw(st.booleans()),
        ),
    )


@settings(max_examples=60)
@given(plants(), st.integers(0, 350), st.floats(5.0, 33.0))
def test_heat_closes_and_is_booked_once(plant: Inputs, first: int, pool: float) -> None:
    done = days(plant, first, 10, pool)
    assert done.closure < 1e-6
    sums = done.record.sum(axis=0)
    booked = sums[at.SOLAR_HEAT] - sums[at.COOLING_HEAT] - sums[at.FREEZE_HEAT]
    moved = np.abs(done.record[:, [at.SOLAR_HEAT, at.COOLING_HEAT, at.FREEZE_HEAT]]).sum()
    assert abs(done.ledger[at.DELIVERED] - booked) <= 1e-9 * max(moved, 1.0)
    time = sums[[at.SOLAR_TIME, at.COOLING_TIME, at.FREEZE_TIME]].sum()
    assert 0.0 <= time <= 10 * 86400.0 + 1e-6
    assert np.isfinite(done.record).all()


@settings(max_examples=30)
@given(plants(), st.integers(0, 350), st.floats(5.0, 33.0))
def test_starts_are_no_more_than_runs_and_rests_allow(
    plant: Inputs, first: int, pool: float
) -> None:
    """Frost asks for no rest, so it is left out; each day's program may cut one run short."""
    plant = plant._replace(control=plant.control._replace(freeze_row=-1))
    record = days(plant, first, 10, pool).record
    shortest = plant.control.least_run + plant.control.least_rest
    assert record[:, at.STARTS].sum() <= 10.0 * 86400.0 / max(shortest, 300.0) + 11.0


@settings(max_examples=30)
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.integers(90, 250))
def test_more_shade_on_the_sensor_never_brings_more_heat(
    one: float, other: float, first: int
) -> None:
    """Without a target: with one, what a shaded sensor misses by day it may make up for later.

    A shaded piece of panel feels no more than an unshaded one, so solar runs in a part of its
    hours, all of them with panels warmer than the pool. Half a percent for what a colder pool
    takes up faster, and for starts saved.
    """

    def heat(shade: float) -> float:
        drivers = PLAIN.drivers
        sun = np.maximum(drivers.sensor_gain + 40.0, 0.0)
        shaded = PLAIN._replace(
            drivers=drivers._replace(sensor_gain=sun * (1.0 - 0.8 * shade) - 40.0),
            control=PLAIN.control._replace(target=90.0),
        )
        return float(days(shaded, first, 10, 22.0).record[:, at.SOLAR_HEAT].sum())

    less, more = sorted((one, other))
    assert heat(more) <= heat(less) * 1.005


@settings(max_examples=30)
@given(st.floats(24.0, 31.0), st.integers(120, 240))
def test_cooling_only_cools(target: float, first: int) -> None:
    drivers = PLAIN.drivers
    warm = PLAIN._replace(
        drivers=drivers._replace(
            cooling=np.ones_like(drivers.cooling), period=np.zeros_like(drivers.period)
        ),
        control=PLAIN.control._replace(target=22.0),
    )
    cooled = days(warm._replace(control=warm.control._replace(cooling_target=target)), first, 5, 31)
    assert cooled.record[:, at.COOLING_HEAT].reshape(5, 24).sum(axis=1).min() >= -1e-6
    plain = days(warm, first, 5, 31)
    assert (cooled.record[:, at.POOL_TEMP] <= plain.record[:, at.POOL_TEMP] + 0.02).all()


@given(
    st.sampled_from([RESTING, HEATING, COOLING]),
    st.floats(0.0, 7200.0),
    TEMPS,
    TEMPS,
    st.booleans(),
    st.booleans(),
)
def test_the_controller_never_heats_by_a_cold_roof_nor_out_of_its_time(
    mode: float, since: float, pool: float, sensor: float, heats: bool, cools: bool
) -> None:
    command = Command(0.0, 28.0, 0.3, 5.0, 2.0, 31.0, 0.0, 0.0)
    wanted = mode_wanted(mode, since, pool, sensor, heats, cools, command)
    if wanted == HEATING:
        assert heats and sensor > pool and pool < 28.3
    if wanted == COOLING:
        assert cools and sensor < pool and pool > 30.7
    eager = mode_wanted(mode, since, pool, sensor, heats, cools, command._replace(least_run=3600.0))
    if wanted != RESTING:
        assert eager != RESTING, "a least run never stops what would run"


@given(st.sampled_from([RESTING, HEATING, CIRCULATING]), TEMPS, TEMPS, st.floats(0.0, 7200.0))
def test_frost_is_met_from_any_mode(mode: float, watched: float, trip: float, since: float) -> None:
    command = Command(0.0, 28.0, 0.3, 5.0, 2.0, 31.0, 600.0, 3600.0)
    if watched < trip:
        assert mode_in_frost(mode, since, watched, trip, command) == CIRCULATING
