"""The spa while it is apart from the pool: in use, or kept hot under a lid."""

from __future__ import annotations

import numpy as np

from noonwater.core.jit import compiled
from noonwater.model.pool_use import SpaWater
from noonwater.physics.cover import COVERS
from noonwater.year.balance import surface_losses
from noonwater.year.calendar import evening_of_step, hours_of_step
from noonwater.year.parameters import Bytes, Drivers, Floats, PoolFigures

STIRRED = 1.5
"""[-] Evaporation of a spa with its jets on, over still water (read second-hand as a spa's factor;
ASHRAE's own is 1.0, from memory)."""

LID = "foam"
"""Kind of cover on a spa that is kept hot."""


def spa_in_use(spa: SpaWater, steps_per_hour: int) -> Bytes:
    """1 in each step in which the spa is in use.

    Parameters
    ----------
    spa : SpaWater
        Hours, months, one day in so many.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
    """
    hours = hours_of_step(spa.on_from, spa.on_until, spa.months, steps_per_hour)
    day = evening_of_step(spa.on_from, steps_per_hour)
    return np.asarray(hours * (day % spa.every == 0), dtype=np.int8)


def spa_loss(
    spa: SpaWater, in_use: Bytes, drivers: Drivers, temp_air: Floats, pool: PoolFigures
) -> Floats:
    """Heat that the spa at its set point loses while it is apart from the pool. [W].

    Parameters
    ----------
    spa : SpaWater
        Size and set point.
    in_use : (steps,) array
        1 in use.
    drivers : Drivers
        Weather over the water.
    temp_air : (steps,) array
        Over the water. [°C]
    pool : PoolFigures
        Air pressure, hall.

    Returns
    -------
    (steps,) array
        Zero between uses for a spa that spills into the pool. The sun on it is left out.
    """
    lid = COVERS[LID]
    losses = np.zeros_like(temp_air)
    shares = (STIRRED, 0.0 if spa.spills else lid.evaporation_kept, lid.resistance)
    _losses(
        spa.target,
        (temp_air, drivers.vapour_pressure, drivers.wind_water, drivers.longwave_sky),
        in_use,
        (pool.pressure, pool.evaporation_factor, pool.coefficient_hall),
        shares,
        losses,
    )
    return np.maximum(losses, 0.0) * spa.area


@compiled
def _losses(
    temp: float,
    air: tuple[Floats, Floats, Floats, Floats],
    in_use: Bytes,
    figures: tuple[float, float, float],
    shares: tuple[float, float, float],
    losses: Floats,
) -> None:
    temp_air, vapour_pressure, wind, longwave = air
    pressure, factor, hall = figures
    stirred, kept, resistance = shares
    for i in range(len(losses)):
        used = in_use[i] == 1
        if not used and kept == 0.0:
            continue
        evaporated, convected, radiated = surface_losses(
            temp,
            temp_air[i],
            vapour_pressure[i],
            wind[i],
            longwave[i],
            pressure,
            factor,
            stirred if used else kept,
            0.0 if used else resistance,
            hall,
        )
        losses[i] = evaporated + convected + radiated
