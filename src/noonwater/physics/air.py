"""Moist air: vapour pressure, dew point, pressure at height, densities, humidity ratio."""

from __future__ import annotations

import math

from noonwater.core.constants import KELVIN, PRESSURE_SEA_LEVEL
from noonwater.core.jit import formula

GAS_CONSTANT_AIR = 287.042
"""[J/(kg·K)] Dry air, ASHRAE Fundamentals 2017 ch. 1 (as in psychrolib, read)."""

RATIO_VAPOUR_AIR = 0.621945
"""[-] Molar mass of water over that of dry air, ASHRAE Fundamentals 2017 ch. 1 (as in
psychrolib, read)."""


@formula
def vapour_pressure_saturation(temp: float) -> float:
    """Saturation pressure of water vapour over liquid water.

    Parameters
    ----------
    temp : float
        Temperature. [°C]

    Returns
    -------
    float
        Saturation pressure. [Pa]

    Notes
    -----
    Range: -40 to 100 °C; within 0.15 % of IAPWS-IF97 from 0 to 100 °C. Below 0 °C the surface is
    supercooled water, as in the humidity of weather files, not ice. One exponential, because the
    year's loop calls it at each step.

    References
    ----------
    .. [1] Buck, A. L., New equations for computing vapor pressure and enhancement factor,
       J. Appl. Meteor. 20, 1981, 1527-1532, constants as revised in 1996 (from memory; checked
       against IAPWS-IF97 and psychrolib).
    """
    # A product with the inverse: one division less in a function that the year calls each step.
    return 611.21 * math.exp((18.678 - temp * (1.0 / 234.5)) * temp / (257.14 + temp))


@formula
def vapour_pressure_at_humidity(temp: float, relative_humidity: float) -> float:
    """Vapour pressure of air of known humidity.

    Parameters
    ----------
    temp : float
        Air temperature. [°C]
    relative_humidity : float
        Relative humidity as a fraction, 0 to 1. [-]

    Returns
    -------
    float
        Partial pressure of the vapour. [Pa]

    Notes
    -----
    Range: that of the saturation pressure. The definition of relative humidity, over water.
    """
    return relative_humidity * vapour_pressure_saturation(temp)


@formula
def dew_point(vapour_pressure: float) -> float:
    """Temperature at which the vapour would be saturated over water.

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of the vapour. [Pa]

    Returns
    -------
    float
        Dew point. [°C]

    Notes
    -----
    Range: 1 Pa to 100 kPa; lower pressures are read as 1 Pa (-60 °C), ours, not the source's.
    The exact inverse of `vapour_pressure_saturation`: its exponent is quadratic in temperature.
    """
    log_ratio = math.log(max(vapour_pressure, 1.0) / 611.21)
    slope = 18.678 - log_ratio
    return 0.5 * 234.5 * (slope - math.sqrt(slope * slope - 4.0 * 257.14 * log_ratio / 234.5))


@formula
def pressure_at_elevation(elevation: float) -> float:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    elevation : float
        Height above sea level. [m]

    Returns
    -------
    float
        Air pressure. [Pa]

    Notes
    -----
    Range: -500 to 11000 m.

    References
    ----------
    .. [1] ISO 2533:1975, as ASHRAE Fundamentals 2017 ch. 1 eq. 3 (from memory; checked against
       psychrolib).
    """
    return PRESSURE_SEA_LEVEL * math.pow(1.0 - 2.25577e-5 * elevation, 5.2559)


@formula
def density_dry_air(temp: float, vapour_pressure: float, pressure_air: float) -> float:
    """Mass of dry air in a cubic metre of moist air.

    Parameters
    ----------
    temp : float
        Air temperature. [°C]
    vapour_pressure : float
        Partial pressure of the vapour. [Pa]
    pressure_air : float
        Total pressure. [Pa]

    Returns
    -------
    float
        Dry air per volume of the mixture. [kg/m³]

    Notes
    -----
    Range: ideal gas. Shah's evaporation formulas want this density, not that of the mixture.
    """
    return (pressure_air - vapour_pressure) / (GAS_CONSTANT_AIR * (temp + KELVIN))


@formula
def density_moist_air(temp: float, vapour_pressure: float, pressure_air: float) -> float:
    """Density of moist air, vapour included.

    Parameters
    ----------
    temp : float
        Air temperature. [°C]
    vapour_pressure : float
        Partial pressure of the vapour. [Pa]
    pressure_air : float
        Total pressure. [Pa]

    Returns
    -------
    float
        Density of the mixture. [kg/m³]

    Notes
    -----
    Range: ideal gas. Constants of ASHRAE Fundamentals 2017 ch. 1 (as in psychrolib, read).
    """
    return (pressure_air - (1.0 - RATIO_VAPOUR_AIR) * vapour_pressure) / (
        GAS_CONSTANT_AIR * (temp + KELVIN)
    )


@formula
def humidity_ratio(vapour_pressure: float, pressure_air: float) -> float:
    """Mass of vapour per mass of dry air.

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of the vapour. [Pa]
    pressure_air : float
        Total pressure. [Pa]

    Returns
    -------
    float
        Humidity ratio. [kg/kg]

    Notes
    -----
    Range: ideal gas, vapour pressure below total pressure. ASHRAE Fundamentals 2017 ch. 1 eq. 20
    (as in psychrolib, read).
    """
    return RATIO_VAPOUR_AIR * vapour_pressure / (pressure_air - vapour_pressure)
