"""A dry surface under the night sky: how cold it gets, and how soon water on it freezes."""

from __future__ import annotations

from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.core.jit import formula
from noonwater.physics.sky import longwave_net
from noonwater.physics.water import LATENT_HEAT_FUSION, heat_capacity_water


@formula
def temp_surface_dry(
    temp_air: float, longwave_down: float, emissivity: float, convection_coefficient: float
) -> float:
    """Temperature of a dry thin surface between air and sky, without sun.

    Parameters
    ----------
    temp_air : float
        Air temperature. [°C]
    longwave_down : float
        Long-wave irradiance of the surface. [W/m²]
    emissivity : float
        Long-wave emissivity. [-]
    convection_coefficient : float
        Whole convection of the surface, back included. [W/(m²·K)]

    Returns
    -------
    float
        Surface temperature. [°C]

    Notes
    -----
    Range: steady night. Balance of convection and long-wave exchange by three Newton steps, within
    0.01 K (ours).
    """
    temp = temp_air
    for _ in range(3):
        kelvin = temp + KELVIN
        slope = (
            convection_coefficient + 4.0 * emissivity * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin
        )
        excess = longwave_net(temp, longwave_down, emissivity) + convection_coefficient * (
            temp_air - temp
        )
        temp += excess / slope
    return temp


@formula
def freezing_coefficient_limit(temp_air: float, longwave_down: float, emissivity: float) -> float:
    """Convection below which a dry surface in air above 0 °C freezes.

    Parameters
    ----------
    temp_air : float
        Air temperature, above 0. [°C]
    longwave_down : float
        Long-wave irradiance of the surface. [W/m²]
    emissivity : float
        Long-wave emissivity. [-]

    Returns
    -------
    float
        Whole convection of the surface at which it stands at 0 °C. [W/(m²·K)]; 0 or less means
        that it doesn't freeze at all.

    Notes
    -----
    Range: steady night, dry surface. A wet one evaporates and freezes earlier.
    """
    return -longwave_net(0.0, longwave_down, emissivity) / temp_air


@formula
def cooling_time(mass: float, temp_from: float, temp_to: float, heat_loss: float) -> float:
    """Time in which still water cools at a steady loss.

    Parameters
    ----------
    mass : float
        Water per area of the surface. [kg/m²]
    temp_from, temp_to : float
        Temperature at start and end. [°C]
    heat_loss : float
        Heat lost. [W/m²]

    Returns
    -------
    float
        Time. [s]

    Notes
    -----
    Range: liquid water alone; plastic walls add a little.
    """
    capacity = heat_capacity_water(0.5 * (temp_from + temp_to))
    return mass * capacity * (temp_from - temp_to) / heat_loss


@formula
def freezing_time(mass: float, heat_loss: float) -> float:
    """Time in which water at 0 °C becomes solid at a steady loss.

    Parameters
    ----------
    mass : float
        Water per area of the surface. [kg/m²]
    heat_loss : float
        Heat lost. [W/m²]

    Returns
    -------
    float
        Time. [s]

    Notes
    -----
    Range: still water; flowing water does not freeze so, drained panels have none.
    """
    return mass * LATENT_HEAT_FUSION / heat_loss
