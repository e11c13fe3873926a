"""The water's side of the loop's inputs, joined: terms, spa and heater of a job."""

from __future__ import annotations

import numpy as np

from noonwater.model.job import Job
from noonwater.model.pool import Pool
from noonwater.physics.evaporation_formulas import evaporation_coefficient_smith_lof_jones
from noonwater.year.exposure import HALL_AIR_SPEED, air_over_water
from noonwater.year.heater_terms import heater_terms
from noonwater.year.parameters import Drivers, PoolFigures
from noonwater.year.shell import shell_terms
from noonwater.year.spa_terms import spa_in_use, spa_loss
from noonwater.year.surroundings import GROUND_ALBEDO, Surroundings
from noonwater.year.terms import (
    PUMP_HEAT,
    bather_terms,
    falling_of_step,
    mains_of_step,
    rain_terms,
    refill_factor,
    splash_of_step,
    water_capacity,
)
from noonwater.year.water_drivers import HeaterFigures, WaterDrivers


def water_terms(
    job: Job, around: Surroundings, drivers: Drivers, figures: PoolFigures, pump_power: float
) -> tuple[PoolFigures, WaterDrivers, HeaterFigures]:
    """Add to a pool's figures all that comes to its water beside sun, air and sky.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site.
    drivers : Drivers
        Weather over the water, and the pump's program.
    figures : PoolFigures
        Of water and cover alone.
    pump_power : float
        Of the pump when the heater calls it. [W]

    Returns
    -------
    tuple of (PoolFigures, WaterDrivers, HeaterFigures)
    """
    pool, air = job.pool, around.air.temp_air.copy()
    over, mains = air_over_water(around.air, pool), mains_of_step(job, around)
    gain, loss = shell_terms(pool, air, around.sun, GROUND_ALBEDO[job.site.ground])
    rain_gain, rain_flow, rain_heat = rain_terms(job, around)
    activity, bathers = bather_terms(pool, around)
    hourly = 3600 // around.air.step_seconds
    heater, power, need = heater_terms(job.heater, pool.target, air, drivers.period, pump_power)
    figures = _with_spa(figures, pool, job.heater.kind != "none")._replace(
        coefficient_hall=_hall(pool),
        ground_loss=loss,
        refill=refill_factor(pool),
        pump_heat=PUMP_HEAT,
    )
    in_use = np.zeros(len(air), dtype=np.int8)
    lost = np.zeros_like(air)
    if pool.spa is not None and figures.spa_heated:
        in_use = spa_in_use(pool.spa, hourly)
        lost = spa_loss(pool.spa, in_use, drivers, over, figures)
    water = WaterDrivers(
        temp_over_water=over,
        activity=activity,
        falling=falling_of_step(pool, drivers.wind_water, hourly),
        ground_gain=gain,
        rain_gain=rain_gain,
        rain_flow=rain_flow,
        rain_heat=rain_heat,
        splash=splash_of_step(pool, around),
        temp_mains=mains,
        bathers=bathers,
        spa_in_use=in_use,
        spa_loss=lost,
        heater_power=power,
        heater_need=need,
    )
    return figures, water, heater


def _hall(pool: Pool) -> float:
    """Evaporation coefficient of still water in a hall; 0 outdoors. [W/(m²·Pa)]."""
    if pool.enclosure != "indoor":
        return 0.0
    return float(evaporation_coefficient_smith_lof_jones(HALL_AIR_SPEED))


def _with_spa(figures: PoolFigures, pool: Pool, heated: bool) -> PoolFigures:
    spa = pool.spa
    if spa is None:
        return figures
    heated = heated or not spa.spills
    if not spa.spills:
        return figures._replace(spa_heated=heated, spa_target=spa.target)
    held = spa.area * spa.depth * water_capacity(pool.target)
    return figures._replace(
        capacity=figures.capacity + held,
        spa_area=spa.area,
        spa_capacity=held,
        spa_target=spa.target,
        spa_heated=heated,
    )
