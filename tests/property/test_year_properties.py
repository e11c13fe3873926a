"""What holds of any pool's weeks: more area, wind, covers, rest, heaters, solar first."""

from __future__ import annotations

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.physics.air import vapour_pressure_saturation
from noonwater.year import parameters as at
from noonwater.year.parameters import Inputs, resting_state
from noonwater.year.run import Run, run
from noonwater.year.water_drivers import HeaterFigures, bare_water
from tests.years import made_inputs

PER_DAY = 288
PLAIN = made_inputs()
NEVER = 999.0
"""[°C] A target or a cooling target that no pool reaches."""


def days(inputs: Inputs, first: int, count: int, pool: float) -> Run:
    """Run from day ``first`` with the pool at a temperature [°C]."""
    air = float(inputs.drivers.temp_air[first * PER_DAY])
    return run(inputs, resting_state(pool, air, 2), first * PER_DAY, count * PER_DAY)


def with_area(inputs: Inputs, factor: float) -> Inputs:
    """Give the plant so many times its panels, at the same flow through each."""
    array = inputs.array
    return inputs._replace(
        array=array._replace(
            area=array.area * factor,
            capacity_dry=array.capacity_dry * factor,
            capacity_water=array.capacity_water * factor,
            flow_capacity=array.flow_capacity * factor,
        )
    )


def with_air(inputs: Inputs, **drivers: float) -> Inputs:
    """Hold drivers at one value through the year; the air over the water is the air."""
    steps = len(inputs.drivers.temp_air)
    held = {name: np.full(steps, value) for name, value in drivers.items()}
    changed = inputs.drivers._replace(**held)
    return inputs._replace(drivers=changed, water=bare_water(changed.temp_air))


def without_solar(inputs: Inputs) -> Inputs:
    """Close the season for solar."""
    drivers = inputs.drivers
    return inputs._replace(drivers=drivers._replace(season=np.zeros_like(drivers.season)))


@st.composite
def heated(draw: st.DrawFn) -> Inputs:
    """The made plant with a heater of any size, set at or under solar's target."""
    steps = len(PLAIN.drivers.temp_air)
    return PLAIN._replace(
        water=PLAIN.water._replace(
            heater_power=np.full(steps, draw(st.sampled_from([5e3, 2e4, 1e8]))),
            heater_need=np.full(steps, draw(st.floats(0.2, 1.3))),
        ),
        heater=HeaterFigures(
            target=PLAIN.control.target - draw(st.floats(0.0, 5.0)),
            need_slope=0.0,
            solar_lead=draw(st.floats(0.0, 3.0)),
            pump_power=300.0,
        ),
        twins=np.array([1, 1, 1, 0], dtype=np.int8),
    )


@settings(max_examples=40)
@given(
    st.floats(0.1, 4.0),
    st.floats(1.02, 3.0),
    st.integers(0, 330),
    st.floats(8.0, 30.0),
    st.booleans(),
)
def test_more_area_is_never_colder(
    area: float, more: float, first: int, pool: float, drains: bool
) -> None:
    """The mean of a month without target and cooling; a thousandth of a kelvin for the switches."""
    control = PLAIN.control._replace(target=NEVER, cooling_target=NEVER)
    plain = PLAIN._replace(control=control, array=PLAIN.array._replace(drains=drains))
    small, large = (
        days(with_area(plain, size), first, 30, pool).record[:, at.POOL_TEMP].mean()
        for size in (area, area * more)
    )
    assert large >= small - 1e-3


@settings(max_examples=30)
@given(
    st.floats(-15.0, 12.0),
    st.floats(0.05, 1.0),
    st.floats(0.0, 6.0),
    st.floats(0.05, 6.0),
    st.floats(18.0, 34.0),
)
def test_more_wind_never_warms_where_air_is_colder_and_drier(
    air: float, humidity: float, wind: float, more: float, pool: float
) -> None:
    """Every hour of ten days without solar."""
    vapour = humidity * vapour_pressure_saturation(air)
    inputs = with_air(without_solar(PLAIN), temp_air=air, vapour_pressure=vapour, wind_water=wind)
    gusty = with_air(inputs, temp_air=air, wind_water=wind + more)
    calm, windy = (days(each, 100, 10, pool) for each in (inputs, gusty))
    temps = windy.record[:, at.POOL_TEMP]
    assume(temps.min() > air)
    assert (temps <= calm.record[:, at.POOL_TEMP] + 1e-9).all()
    assert windy.end[at.POOL] < calm.end[at.POOL], "the heat state, which counts ice"


@settings(max_examples=20)
@given(
    st.floats(0.0, 8.0),
    st.floats(0.0, 0.5),
    st.integers(0, 350),
    st.floats(2.0, 33.0),
)
def test_a_perfect_cover_never_evaporates(
    wind: float, resistance: float, first: int, pool: float
) -> None:
    """Nor condenses; the pool without a cover beside it does."""
    inputs = with_air(PLAIN, wind_water=wind)
    inputs = inputs._replace(
        drivers=inputs.drivers._replace(covered=np.ones_like(inputs.drivers.covered)),
        pool=PLAIN.pool._replace(cover_evaporation=0.0, cover_resistance=resistance),
        twins=np.array([1, 1, 0, 1], dtype=np.int8),
    )
    done = days(inputs, first, 10, pool)
    assert done.record[:, at.EVAPORATION].max() == done.record[:, at.EVAPORATION].min() == 0.0
    assert done.ledger[at.EVAPORATED] == done.ledger[at.KINDS * at.WITHOUT + at.EVAPORATED] == 0.0
    assert done.ledger[at.KINDS * at.BARE + at.EVAPORATED] != 0.0


@settings(max_examples=25)
@given(
    st.floats(2.0, 38.0),
    st.floats(1.0, 40.0),
    st.floats(0.0, 5.0),
    st.floats(0.0, 0.2),
    st.floats(0.0, 5.0),
)
def test_without_sun_and_flow_the_pool_becomes_its_surroundings(
    temp: float, start: float, wind: float, resistance: float, ground: float
) -> None:
    """Damp air, a black sky, the ground and the mains all at one temperature: so is the end."""
    black = STEFAN_BOLTZMANN * (temp + KELVIN) ** 4
    inputs = with_air(
        without_solar(PLAIN),
        temp_air=temp,
        vapour_pressure=vapour_pressure_saturation(temp),
        wind_water=wind,
        longwave_sky=black,
        pool_sun=0.0,
    )
    steps = len(inputs.drivers.temp_air)
    inputs = inputs._replace(
        drivers=inputs.drivers._replace(covered=np.ones_like(inputs.drivers.covered)),
        pool=PLAIN.pool._replace(
            capacity=40.0 * 0.3 * 4.16e6,
            cover_evaporation=0.1,
            cover_resistance=resistance,
            ground_loss=ground,
            refill=1.7e-3,
        ),
        water=inputs.water._replace(
            ground_gain=np.full(steps, ground * temp), temp_mains=np.full(steps, temp)
        ),
    )
    temps = days(inputs, 0, 120, start).record[:, at.POOL_TEMP]
    assert abs(temps[-1] - temp) < 0.01
    miss = np.abs(temps - temp)
    assert (np.diff(miss) <= 1e-9).all(), "it never turns back"


@settings(max_examples=30)
@given(heated(), st.integers(0, 335), st.floats(8.0, 30.0))
def test_a_heater_never_makes_the_pool_colder(plant: Inputs, first: int, pool: float) -> None:
    """Beside solar by the mean of the weeks, because it shifts when solar starts."""
    done = days(plant, first, 25, pool)
    record = done.record
    assert done.closure < 1e-6
    assert (record[:, at.POOL_TEMP_HEATER_ONLY] >= record[:, at.POOL_TEMP_WITHOUT] - 1e-9).all()
    assert record[:, at.HEATER_HEAT].min() >= 0.0
    idle = np.zeros_like(plant.water.heater_power)
    solar = days(plant._replace(water=plant.water._replace(heater_power=idle)), first, 25, pool)
    assert record[:, at.POOL_TEMP].mean() >= solar.record[:, at.POOL_TEMP].mean() - 1e-3


@settings(max_examples=30)
@given(heated(), st.integers(0, 335), st.floats(8.0, 30.0))
def test_solar_first_saves_heat(plant: Inputs, first: int, pool: float) -> None:
    """The heater beside solar gives no more than the heater alone, and needs no more."""
    sums = days(plant, first, 25, pool).record.sum(axis=0)
    assert sums[at.HEATER_HEAT] <= sums[at.HEATER_ONLY_HEAT] * (1.0 + 1e-6) + 1.0
    assert sums[at.HEATER_ENERGY] <= sums[at.HEATER_ONLY_ENERGY] * (1.0 + 1e-6) + 1.0
