"""Sheets of water that fall into a pool: what evaporates from them in air that they drag along."""

from __future__ import annotations

import math

from noonwater.core.constants import GRAVITY
from noonwater.core.jit import formula
from noonwater.physics.evaporation import COEFFICIENT_FORCED

DIFFUSION_HEAT = 4.44e-4
"""[W/(m·Pa)] Latent heat times the diffusion of vapour in air over gas constant and temperature:
2.442e6 J/kg · 2.5e-5 m²/s / (461.5 J/(kg·K) · 298 K), 25 °C and sea level (from memory)."""

VISCOSITY_AIR = 1.56e-5
"""[m²/s] Kinematic, 25 °C (from memory)."""

WALL_GRADIENT = 0.371
"""[-] Of the vapour at a sheet whose speed grows as the root of the way, Schmidt number 0.62;
solved from the boundary-layer equations in tests/reference/test_falling_water.py."""


@formula
def speed_falling(fall: float) -> float:
    """Mean speed of water on its way down, from rest.

    Parameters
    ----------
    fall : float
        Height. [m]

    Returns
    -------
    float
        Over the height, as the area of a sheet is spread. [m/s]

    Notes
    -----
    Range: up to some metres, where the air doesn't hold it yet. Exact for free fall: two thirds of
    the speed at the end (the mean over the time would be half).
    """
    return 2.0 / 3.0 * math.sqrt(2.0 * GRAVITY * fall)


@formula
def evaporation_coefficient_falling(wind_speed: float, speed_falling: float) -> float:
    """Evaporation coefficient of a falling sheet of water, each side.

    Parameters
    ----------
    wind_speed : float
        Wind speed at the water. [m/s]
    speed_falling : float
        Mean speed of the water over its height. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: falls of 0.05 to 1.5 m. A smooth sheet in still air drags a laminar layer along, the one
    of a stretching surface [1]_ with the speed of free fall: 4/3 of the coefficient at the foot.
    Higher falls, ripples, spray and splash evaporate more, up to some times as much. Wind's part of
    the pool's own formula is added as squares, because it blows across: ours, not the source's.

    References
    ----------
    .. [1] Sakiadis, B. C., Boundary-layer behavior on continuous solid surfaces, AIChE Journal 7,
       1961, 26-28 and 221-225; power-law speeds after Banks, W. H. H., Journal de mécanique
       théorique et appliquée 2, 1983, 375-392 (both from memory).
    """
    at_foot = 1.5 * speed_falling
    layer = math.sqrt(2.0 * GRAVITY / (VISCOSITY_AIR * at_foot))
    still = 4.0 / 3.0 * WALL_GRADIENT * DIFFUSION_HEAT * layer
    return math.hypot(still, COEFFICIENT_FORCED * wind_speed)
