"""One step of a pool: what crosses its surface, booked and added up."""

from __future__ import annotations

from noonwater.core.jit import formula
from noonwater.year.balance import surface_losses
from noonwater.year.parameters import (
    POOL,
    SUN,
    SUN_WITHOUT,
    Floats,
    PoolFigures,
)


@formula
def step_pool(
    state: Floats,
    ledger: Floats,
    place: int,
    pool: PoolFigures,
    air: tuple[float, float, float, float, float],
    covered: bool,
    heat: float,
    capacity: float,
    step: float,
) -> float:
    """Move one pool by a step, book what crossed its surface, return the evaporation [W/m²].

    ``air`` is temperature [°C], vapour pressure [Pa], wind at the water [m/s], long-wave and
    absorbed sun [W/m²]: loaded once a step, so that both pools share what depends on them alone.
    """
    temp_air, vapour_pressure, wind, longwave, absorbed = air
    evaporated, convected, radiated = surface_losses(
        state[place],
        temp_air,
        vapour_pressure,
        wind,
        longwave,
        pool.pressure,
        pool.evaporation_factor,
        pool.cover_evaporation if covered else 1.0,
        pool.cover_resistance if covered else 0.0,
    )
    sun = absorbed * (pool.cover_sun if covered else 1.0)
    first = SUN if place == POOL else SUN_WITHOUT
    scale = pool.area * step
    ledger[first] += sun * scale
    ledger[first + 1] -= evaporated * scale
    ledger[first + 2] -= convected * scale
    ledger[first + 3] -= radiated * scale
    state[place] += ((sun - evaporated - convected - radiated) * scale + heat) / capacity
    return evaporated
