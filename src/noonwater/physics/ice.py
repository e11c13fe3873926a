"""Water that stands, cools, freezes and thaws: its heat followed exactly through a step."""

from __future__ import annotations

import math

from noonwater.core.jit import formula
from noonwater.physics.water import LATENT_HEAT_FUSION

HEAT_CAPACITY_ICE = 2097.0
"""[J/(kg·K)] At 0 °C, IAPWS R10-06 (read by running the iapws library). 6 % less at -20 °C."""

DENSITY_ICE = 916.7
"""[kg/m³] At 0 °C, IAPWS R10-06 (read by running the iapws library)."""

MOST_PHASES = 5
"""Stretches of one step: liquid, freezing, ice and back are three; two to spare."""


@formula
def heat_standing(
    heat: float,
    temp_end: float,
    loss_coefficient: float,
    time: float,
    heat_capacity: float,
    capacity_frozen: float,
    latent: float,
) -> float:
    """Heat content of standing water and its walls after some time in steady weather.

    Parameters
    ----------
    heat : float
        At the start, counted from liquid at 0 °C: below 0 some is ice, below -latent all. [J/m²]
    temp_end : float
        Temperature at which gain and loss are alike. [°C]
    loss_coefficient : float
        To the air, above 0. [W/(m²·K)]
    time : float
        [s]
    heat_capacity : float
        Of water and walls. [J/(m²·K)]
    capacity_frozen : float
        Of ice and walls. [J/(m²·K)]
    latent : float
        To freeze all the water; 0 for a body without any. [J/m²]

    Returns
    -------
    float
        Heat content at the end. [J/m²]

    Notes
    -----
    Range: one lump of one temperature, so thin layers. Exact within a step and stable at any:
    liquid and ice go to `temp_end` exponentially, freezing and thawing go at a steady rate at 0 °C.
    No supercooling, which delays the first ice and hastens it then.

    References
    ----------
    .. [1] Voller, V. R. and Cross, M., Accurate solutions of moving boundary problems using the
       enthalpy method, Int. J. Heat Mass Transfer 24, 1981, 545-556 (from memory, for the heat
       content as the variable; a lump has no boundary).
    """
    left = time
    for _ in range(MOST_PHASES):
        if heat > 0.0 or (heat >= 0.0 and temp_end > 0.0):
            floor, capacity = 0.0, heat_capacity
        elif heat < -latent or (heat <= -latent and temp_end < 0.0):
            floor, capacity = -latent, capacity_frozen
        else:
            # At 0 °C between water and ice.
            rate = loss_coefficient * temp_end
            if rate == 0.0:
                return heat
            bound = -latent if rate < 0.0 else 0.0
            needed = (bound - heat) / rate
            if needed >= left:
                return heat + rate * left
            heat, left = bound, left - needed
            continue
        temp = (heat - floor) / capacity
        constant = capacity / loss_coefficient
        later = temp_end + (temp - temp_end) * math.exp(-left / constant)
        if temp * later >= 0.0:
            return floor + capacity * later
        left -= constant * math.log((temp - temp_end) / -temp_end)
        heat = floor
    return heat


@formula
def temp_standing(
    heat: float, heat_capacity: float, capacity_frozen: float, latent: float
) -> float:
    """Temperature of standing water and its walls.

    Parameters
    ----------
    heat : float
        Counted from liquid at 0 °C. [J/m²]
    heat_capacity : float
        Of water and walls. [J/(m²·K)]
    capacity_frozen : float
        Of ice and walls. [J/(m²·K)]
    latent : float
        To freeze all the water. [J/m²]

    Returns
    -------
    float
        Temperature; 0 between the first ice and the last water. [°C]

    Notes
    -----
    Definition of the heat content in `heat_standing`.
    """
    if heat >= 0.0:
        return heat / heat_capacity
    return min((heat + latent) / capacity_frozen, 0.0)


@formula
def ice_share(heat: float, latent: float) -> float:
    """Share of the standing water that is ice.

    Parameters
    ----------
    heat : float
        Counted from liquid at 0 °C. [J/m²]
    latent : float
        To freeze all the water; 0 for a body without any. [J/m²]

    Returns
    -------
    float
        0 to 1. [-]

    Notes
    -----
    Definition of the heat content in `heat_standing`.
    """
    if heat >= 0.0 or latent <= 0.0:
        return 0.0
    return min(-heat / latent, 1.0)


@formula
def ice_thickness(mass: float) -> float:
    """Thickness of ice on an area.

    Parameters
    ----------
    mass : float
        Water that froze, per area. [kg/m²]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Range: near 0 °C. Mass over `DENSITY_ICE`: 9 % more than the water was deep, which is what
    bursts.
    """
    return mass / DENSITY_ICE


@formula
def latent_of_water(mass: float) -> float:
    """Heat to freeze water at 0 °C.

    Parameters
    ----------
    mass : float
        Water per area. [kg/m²]

    Returns
    -------
    float
        [J/m²]

    Notes
    -----
    Range: fresh water; pool water with its salts freezes within 0.5 K of it, a salt pool of 4 g/L
    at -0.2 °C (from memory). `LATENT_HEAT_FUSION` times the mass.
    """
    return mass * LATENT_HEAT_FUSION
