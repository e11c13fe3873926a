"""Heat that a pool loses to the ground it lies in, or to the air where it stands above it.

The standard is written for heated basements of buildings; a pool is one whose walls and floor are a
bare shell. These run at preparation, not in the year's loop.
"""

from __future__ import annotations

import math
from types import MappingProxyType

from noonwater.core.jit import formula

CONDUCTIVITY_SOIL = MappingProxyType({"sand or gravel": 2.0, "clay or silt": 1.5, "rock": 3.5})
"""[W/(m·K)] ISO 13370's three kinds of ground (from memory; the penetration depths that follow from
them, 3.2, 2.2 and 4.2 m, were read). Dry sand has a fifth of it, soil in flowing groundwater acts
as more: doubt a factor of two."""

HEAT_CAPACITY_SOIL = MappingProxyType({"sand or gravel": 2.0e6, "clay or silt": 3.0e6, "rock": 2e6})
"""[J/(m³·K)] Source as `CONDUCTIVITY_SOIL`."""

YEAR = 3.15e7
"""[s] As the standard has it."""

LAG = 1.0 / 12.0
"""[year] By how much the outside part follows the air, ISO 13370 for basements (from memory)."""


@formula
def penetration_depth(conductivity: float, heat_capacity_volume: float) -> float:
    """Depth at which the year's wave of temperature is 1/e of that at the surface.

    Parameters
    ----------
    conductivity : float
        Of the ground. [W/(m·K)]
    heat_capacity_volume : float
        Of the ground. [J/(m³·K)]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Range: even ground. Eq. H.1 of [1]_.

    References
    ----------
    .. [1] ISO 13370:2017, Thermal performance of buildings, heat transfer via the ground (read in
       public code of the standard).
    """
    return math.sqrt(YEAR * conductivity / (math.pi * heat_capacity_volume))


@formula
def transmittance_floor(
    characteristic_dimension: float, thickness_floor: float, depth: float, conductivity: float
) -> float:
    """Heat through the floor of a body sunk in the ground, to the air above the ground.

    Parameters
    ----------
    characteristic_dimension : float
        Floor area over half its perimeter. [m]
    thickness_floor : float
        Thickness of ground that resists as much as floor and surfaces do. [m]
    depth : float
        Of the floor under the ground's surface. [m]
    conductivity : float
        Of the ground. [W/(m·K)]

    Returns
    -------
    float
        Per floor area. [W/(m²·K)]

    Notes
    -----
    Range: a year's mean, floors from 2 m across. Eq. 13 and 14 of [1]_. It holds 20 % of a round
    pit in even ground (tests/reference/test_ground_heat.py).

    References
    ----------
    .. [1] As `penetration_depth`.
    """
    whole = thickness_floor + 0.5 * depth
    if whole < characteristic_dimension:
        round_way = math.pi * characteristic_dimension
        return 2.0 * conductivity / (round_way + whole) * math.log(round_way / whole + 1.0)
    return conductivity / (0.457 * characteristic_dimension + whole)


@formula
def transmittance_wall(
    depth: float, thickness_floor: float, thickness_wall: float, conductivity: float
) -> float:
    """Heat through the walls of a body sunk in the ground, to the air above the ground.

    Parameters
    ----------
    depth : float
        Of the wall under the ground's surface. [m]
    thickness_floor : float
        Thickness of ground that resists as much as floor and surfaces do. [m]
    thickness_wall : float
        The same of the walls. [m]
    conductivity : float
        Of the ground. [W/(m·K)]

    Returns
    -------
    float
        Per wall area. [W/(m²·K)]

    Notes
    -----
    Range: a year's mean, 0.2 to 6 m deep. Eq. 16 of [1]_; where the wall resists more than the
    floor, the wall's thickness stands for the floor's.

    References
    ----------
    .. [1] As `penetration_depth`.
    """
    floor = min(thickness_floor, thickness_wall)
    edge = 1.0 + 0.5 * floor / (floor + depth)
    log = math.log(depth / thickness_wall + 1.0)
    return 2.0 * conductivity / (math.pi * depth) * edge * log


@formula
def conductance_outside_wave(
    perimeter: float,
    depth: float,
    thickness_floor: float,
    thickness_wall: float,
    conductivity: float,
    penetration_depth: float,
) -> float:
    """How the year's wave of the air reaches a body sunk in the ground.

    Parameters
    ----------
    perimeter : float
        Of the floor. [m]
    depth : float
        Of the floor under the ground's surface. [m]
    thickness_floor : float
        Thickness of ground that resists as much as floor and surfaces do. [m]
    thickness_wall : float
        The same of the walls. [m]
    conductivity : float
        Of the ground. [W/(m·K)]
    penetration_depth : float
        Of the year's wave. [m]

    Returns
    -------
    float
        Amplitude of the heat over the amplitude of the air's year. [W/K]

    Notes
    -----
    Range: 0.2 to 6 m deep. Annex H of [1]_, heated basement (from memory; the slab's form was read
    and is this one at no depth). The wave inside, the soil that warms and cools with the pool, is
    left out: ours; see decision 0016.

    References
    ----------
    .. [1] As `penetration_depth`.
    """
    faded = math.exp(-depth / penetration_depth)
    floor = faded * math.log(penetration_depth / thickness_floor + 1.0)
    wall = 2.0 * (1.0 - faded) * math.log(penetration_depth / thickness_wall + 1.0)
    return 0.37 * perimeter * conductivity * (floor + wall)


@formula
def transmittance_layers(resistance: float, coefficient_outside: float) -> float:
    """Heat through a wall that stands in the air, water on its inside.

    Parameters
    ----------
    resistance : float
        Of the wall. [m²·K/W]
    coefficient_outside : float
        Convection and long-wave at the outer face. [W/(m²·K)]

    Returns
    -------
    float
        [W/(m²·K)]

    Notes
    -----
    Range: water's own resistance, below 0.01 m²·K/W, left out. Resistances in series.
    """
    return 1.0 / (resistance + 1.0 / coefficient_outside)
