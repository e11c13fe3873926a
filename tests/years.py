"""A made year for tests: smooth seasons and days, two banks, one period of the pump."""

from __future__ import annotations

import numpy as np

from noonwater.year.parameters import (
    POOLS,
    ArrayFigures,
    ControlFigures,
    Drivers,
    Inputs,
    PoolFigures,
)
from noonwater.year.water_drivers import NO_HEATER, HeaterFigures, bare_water

STEPS = 105_120


def made_inputs() -> Inputs:
    """Inputs by hand: a 40 m² pool, 30 m² of panels, a mild place; same values at every call."""
    hour = np.arange(STEPS) / 12.0
    season = -np.cos(hour / 8760.0 * 2.0 * np.pi)
    day = np.maximum(0.0, np.sin((hour % 24.0 - 6.0) / 12.0 * np.pi))
    sun = 800.0 * day * (1.0 + 0.3 * season)
    temp_air = 18.0 + 8.0 * season + 5.0 * day
    drivers = Drivers(
        temp_air=temp_air,
        vapour_pressure=1200.0 + 400.0 * season,
        wind_water=1.0 + 0.5 * np.sin(hour / 53.0),
        longwave_sky=335.0 + 40.0 * season,
        pool_sun=0.85 * sun,
        covered=np.zeros(STEPS, dtype=np.int8),
        season=np.ones(STEPS, dtype=np.int8),
        cooling=np.zeros(STEPS, dtype=np.int8),
        period=np.where((hour % 24.0 >= 8.0) & (hour % 24.0 < 17.0), 0, -1).astype(np.int8),
        bank_gain=np.array([0.85 * sun - 40.0, 0.8 * sun - 40.0]),
        bank_loss=np.array([18.0 + 0.0 * hour, 19.0 + 0.0 * hour]),
        sensor_gain=0.85 * sun - 40.0,
        sensor_loss=18.0 + 0.0 * hour,
    )
    return Inputs(
        drivers=drivers,
        pool=PoolFigures(40.0, 56.0 * 4.16e6, 101325.0, 1.0, 1.0, 0.0),
        array=ArrayFigures(
            area=np.array([20.0, 10.0]),
            capacity_dry=np.array([92e3, 46e3]),
            capacity_water=np.array([340e3, 170e3]),
            flow_capacity=np.array([[5600.0, 2800.0]]),
            fill_time=np.array([90.0]),
            pipe_wall=np.array([20e3, 22e3]),
            pipe_water=np.array([150e3, 165e3]),
            pipe_conductance=np.array([30.0, 33.0]),
            sensor_capacity=4600.0,
            drains=True,
        ),
        control=ControlFigures(
            on_difference=5.0,
            off_difference=2.0,
            target=29.0,
            deadband=0.3,
            differential=True,
            valve_travel=35.0,
            power_filter=np.array([300.0]),
            power_solar=np.array([500.0]),
            power_priming=900.0,
            priming_time=180.0,
            solar_in_period=np.array([1], dtype=np.int8),
            step=300.0,
        ),
        water=bare_water(temp_air),
        heater=NO_HEATER,
        twins=np.array([1, 1, 0, 0], dtype=np.int8),
    )


def with_terms(inputs: Inputs, **pool: float) -> Inputs:
    """Everything that comes to the water: ground, rain, mains, bathers, falls, heat of the pump."""
    steps = len(inputs.drivers.temp_air)
    hour = np.arange(steps) / 12.0 % 24.0
    there = (hour >= 14.0) & (hour < 16.0)
    return inputs._replace(
        pool=inputs.pool._replace(
            ground_loss=2.5,
            refill=4180.0 / 2.44e6,
            pump_heat=0.75,
            cover_evaporation=0.05,
            cover_sun=0.85,
            cover_resistance=0.05,
            **pool,
        ),
        drivers=inputs.drivers._replace(
            covered=((hour >= 20.0) | (hour < 8.0)).astype(np.int8),
        ),
        water=inputs.water._replace(
            activity=np.where(there, 1.5, 1.0),
            falling=np.where((hour >= 10.0) & (hour < 18.0), 0.01, 0.0),
            ground_gain=np.full(steps, 40.0),
            rain_gain=np.full(steps, 2.4),
            rain_flow=np.full(steps, 0.16),
            rain_heat=np.full(steps, 90.0),
            splash=np.where(there, 5.0, 0.0),
            temp_mains=np.full(steps, 14.0),
            bathers=np.where(there, 30.0, 0.0),
        ),
        twins=np.ones(POOLS, dtype=np.int8),
    )


def with_heater(inputs: Inputs, target: float, power: float, lead: float) -> Inputs:
    """A heater from six in the morning on that needs a fifth of what it gives."""
    steps = len(inputs.drivers.temp_air)
    hour = np.arange(steps) / 12.0 % 24.0
    return inputs._replace(
        heater=HeaterFigures(target, 0.0, lead, 300.0),
        water=inputs.water._replace(
            heater_power=np.where(hour >= 6.0, power, 0.0), heater_need=np.full(steps, 0.2)
        ),
    )


def with_spa(inputs: Inputs) -> Inputs:
    """A spa for two hours each evening, whose water is the pool's between them."""
    hour = np.arange(len(inputs.drivers.temp_air)) / 12.0 % 24.0
    return inputs._replace(
        pool=inputs.pool._replace(
            spa_area=5.0, spa_capacity=4.5 * 4.16e6, spa_target=38.0, spa_heated=True
        ),
        water=inputs.water._replace(
            spa_in_use=((hour >= 18.0) & (hour < 20.0)).astype(np.int8),
            spa_loss=np.where((hour >= 18.0) & (hour < 20.0), 4e3, 0.0),
        ),
    )
