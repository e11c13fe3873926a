"""The terms of one step: what the water loses, what a node does.

Scalar functions that the loop compiles in; each stands here once and is tested as it is.
"""

from __future__ import annotations

from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.core.jit import formula
from noonwater.physics.air import vapour_pressure_saturation
from noonwater.physics.convection import convection_coefficient_bowen
from noonwater.physics.cover import covered_dry_share, covered_evaporation
from noonwater.physics.evaporation import evaporation_coefficient, evaporation_heat
from noonwater.physics.sky import longwave_net

EMISSIVITY_WATER = 0.95
"""[-] Kalogirou, Solar Energy Engineering, quoting ISO/TR 12596 (read second-hand)."""

FREEZING = 0.0
"""[°C] The water's surface is never colder: below it the heat state counts ice (ours)."""


@formula
def surface_losses(
    temp_water: float,
    temp_air: float,
    vapour_pressure_air: float,
    wind_speed: float,
    longwave_down: float,
    pressure_air: float,
    evaporation_factor: float,
    evaporation_share: float,
    cover_resistance: float,
    coefficient_hall: float = 0.0,
) -> tuple[float, float, float]:
    """Heat that leaves the water: evaporation, convection, long-wave.

    Parameters
    ----------
    temp_water, temp_air : float
        [°C]
    vapour_pressure_air, pressure_air : float
        [Pa]
    wind_speed : float
        At 2 m over the water. [m/s]
    longwave_down : float
        From the sky. [W/m²]
    evaporation_factor : float
        Times the default coefficient of evaporation, and so of convection: how the range of
        decision 0003 enters. [-]
    evaporation_share : float
        Share of evaporation that a cover leaves; 1 without cover. [-]
    cover_resistance : float
        Of a cover to heat; 0 without cover. [m²·K/W]
    coefficient_hall : float
        Evaporation coefficient of still water in a hall; 0 outdoors. [W/(m²·Pa)]

    Returns
    -------
    tuple of float
        Each positive where the water loses. [W/m²]

    Notes
    -----
    The functions of the physics room joined, nothing new. Below 0 °C the surface is taken at
    0 °C: the heat state then counts ice. Ours, not a source's.
    """
    surface = max(temp_water, FREEZING)
    vapour_pressure_water = vapour_pressure_saturation(surface)
    if coefficient_hall > 0.0:
        coefficient = evaporation_factor * coefficient_hall
    else:
        coefficient = evaporation_factor * evaporation_coefficient(
            wind_speed, surface, temp_air, vapour_pressure_water, vapour_pressure_air, pressure_air
        )
    evaporated = covered_evaporation(
        evaporation_heat(coefficient, vapour_pressure_water, vapour_pressure_air),
        evaporation_share,
    )
    convection = convection_coefficient_bowen(coefficient, pressure_air)
    convected = convection * (surface - temp_air)
    radiated = -longwave_net(surface, longwave_down, EMISSIVITY_WATER)
    if cover_resistance > 0.0:
        top = convection + radiation_coefficient(surface)
        passed = covered_dry_share(cover_resistance, top)
        return evaporated, convected * passed, radiated * passed
    return evaporated, convected, radiated


@formula
def falling_losses(
    temp_water: float,
    temp_air: float,
    vapour_pressure_air: float,
    pressure_air: float,
    coefficient_falling: float,
) -> tuple[float, float]:
    """Heat that falling water loses to the air, which no cover keeps: evaporation, convection.

    Parameters
    ----------
    temp_water, temp_air : float
        [°C]
    vapour_pressure_air, pressure_air : float
        [Pa]
    coefficient_falling : float
        Evaporation coefficient of the falling water. [W/(m²·Pa)]

    Returns
    -------
    tuple of float
        Each positive where the water loses, by the area that the coefficient is for. [W/m²]

    Notes
    -----
    Convection by the Bowen ratio, as at the pool's surface.
    """
    surface = max(temp_water, FREEZING)
    vapour_pressure_water = vapour_pressure_saturation(surface)
    evaporated = evaporation_heat(coefficient_falling, vapour_pressure_water, vapour_pressure_air)
    convection = convection_coefficient_bowen(coefficient_falling, pressure_air)
    return evaporated, convection * (surface - temp_air)


@formula
def radiation_coefficient(temp: float) -> float:
    """Slope of the long-wave a surface sends out.

    Parameters
    ----------
    temp : float
        [°C]

    Returns
    -------
    float
        [W/(m²·K)]

    Notes
    -----
    Derivative of the Stefan-Boltzmann law.
    """
    kelvin = temp + KELVIN
    return 4.0 * EMISSIVITY_WATER * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin


@formula
def node_after_step(temp: float, inertia: float, heat: float, conductance: float) -> float:
    """Temperature of a well-mixed body after a step, by the implicit rule.

    Parameters
    ----------
    temp : float
        Before the step. [°C]
    inertia : float
        Heat capacity over the step's length. [W/K], or [W/(m²·K)] with the two below per m²
    heat : float
        Taken up whatever the temperature, and each conductance times the temperature beyond it. [W]
    conductance : float
        Sum of all exchanges. [W/K]

    Returns
    -------
    float
        [°C]

    Notes
    -----
    Backward Euler: stable for any step, and what crosses each conductance in the step is exactly
    that conductance times (temperature beyond - result), so a ledger closes.
    """
    return (inertia * temp + heat) / (inertia + conductance)
