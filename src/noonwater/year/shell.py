"""Heat through the pool's walls and floor: to the ground, or to the air around them."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.sun import SunSteps
from noonwater.model.pool import Pool
from noonwater.physics.ground import (
    CONDUCTIVITY_SOIL,
    HEAT_CAPACITY_SOIL,
    LAG,
    conductance_outside_wave,
    penetration_depth,
    transmittance_floor,
    transmittance_layers,
    transmittance_wall,
)
from noonwater.physics.pipe_heat import COEFFICIENT_OUTSIDE
from noonwater.year.parameters import Floats

SHELL = 0.09
"""[m²·K/W] 15 cm of concrete at 1.7 W/(m·K) (from memory); a liner's sand bed is like it."""
SURFACE = 0.04
"""[m²·K/W] Between the ground's surface and the air (ISO 6946, from memory)."""
CONDUCTIVITY_FOAM = 0.035
"""[W/(m·K)] Polystyrene (from memory)."""
WALL_ABSORPTANCE = 0.6
"""[-] Of a standing pool's outer wall to the sun: ours."""


def perimeter_of(area: float) -> float:
    """Round of a pool twice as long as wide [m], area in [m²]: ours where no plan is at hand."""
    return 6.0 * math.sqrt(area / 2.0)


def shell_terms(pool: Pool, temp_air: Floats, sun: SunSteps, albedo: float) -> tuple[Floats, float]:
    """What the shell brings and takes, by water area.

    Parameters
    ----------
    pool : Pool
        Size, depth, setting, soil, insulation.
    temp_air : (steps,) array
        A whole year. [°C]
    sun : SunSteps
        For the walls of a pool that stands above the ground.
    albedo : float
        Of the ground around it. [-]

    Returns
    -------
    tuple of ((steps,) array, float)
        Heat at a water temperature of 0 °C [W/m²], loss coefficient [W/(m²·K)].

    Notes
    -----
    The floor's and the ground's part answers to the air's mean of the year and to its yearly wave,
    a month late. The soil's own heat capacity under a pool that warms and cools is left out.
    """
    above = pool.setting == "above ground"
    k = CONDUCTIVITY_SOIL[pool.soil]
    foam = pool.wall_insulation / CONDUCTIVITY_FOAM
    thickness = k * (SHELL + foam + SURFACE)
    perimeter, depth = perimeter_of(pool.area), 0.0 if above else pool.depth
    reach = penetration_depth(k, HEAT_CAPACITY_SOIL[pool.soil])
    loss = transmittance_floor(2.0 * pool.area / perimeter, thickness, depth, k)
    walls = perimeter * pool.depth / pool.area
    if not above:
        loss += walls * transmittance_wall(depth, thickness, thickness, k)
    reached = conductance_outside_wave(perimeter, depth, thickness, thickness, k, reach)
    gain = loss * temp_air.mean() + reached / pool.area * yearly_wave(temp_air, LAG)
    if above:
        wall = transmittance_layers(foam, COEFFICIENT_OUTSIDE)
        lit = WALL_ABSORPTANCE * sun_on_walls(sun, albedo) / COEFFICIENT_OUTSIDE
        gain = gain + walls * wall * (temp_air + lit)
        loss += walls * wall
    return np.asarray(gain), float(loss)


def yearly_wave(temp_air: Floats, lag: float) -> Floats:
    """First harmonic of the air's year around its mean, late by a part of the year. [K]."""
    back, late = _turning(len(temp_air), lag)
    size = 2.0 * np.mean(temp_air * back)
    return np.asarray((size * late).real)


@lru_cache(maxsize=4)
def _turning(steps: int, lag: float) -> tuple[NDArray[np.complex128], NDArray[np.complex128]]:
    """A unit vector that turns back once in a year, and one that turns on, late by a part of it."""
    phase = 2.0 * math.pi * (np.arange(steps) + 0.5) / steps
    return np.exp(-1j * phase), np.exp(1j * (phase - 2.0 * math.pi * lag))


def sun_on_walls(sun: SunSteps, albedo: float) -> Floats:
    """Sun on upright walls, mean over all bearings: a cylinder's. [W/m²]."""
    beam = sun.sun_beam * np.cos(np.radians(np.maximum(sun.height, 0.0))) * (sun.height > 0.0)
    return np.asarray(beam / math.pi + 0.5 * (sun.sun_diffuse + albedo * sun.sun_global))
