"""Evaporation formulas that were compared; each as published, none tuned.

Coefficients are heat per vapour pressure difference. "Near the surface" is about 0.3 m, as far as
the sources say.
"""

from __future__ import annotations

import math
from types import MappingProxyType

from noonwater.core.constants import KELVIN
from noonwater.core.jit import formula
from noonwater.physics.air import (
    density_dry_air,
    humidity_ratio,
    vapour_pressure_saturation,
)
from noonwater.physics.water import latent_heat

VDI_2089_TRANSFER = MappingProxyType(
    {"covered": 0.7, "quiet": 7.0, "deep in use": 28.0, "shallow in use": 40.0, "wave": 50.0}
)
"""Mass transfer [m/h] of VDI 2089 sheet 1: covered, quiet and wave read second-hand in public
code, the two in use from memory."""


@formula
def evaporation_coefficient_ashrae(wind_speed: float) -> float:
    """Carrier's coefficient, that of the ASHRAE handbooks.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the surface. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: 0 to about 1 m/s in the source; for pools in active use. (95 + 0.425 v)(pw - pa)/Y in
    lb/(h·ft²), ft/min, inHg and Btu/lb is 88.5 + 77.9 u W/(m²·kPa).

    References
    ----------
    .. [1] Smith, Lof and Jones, ASHRAE Trans. 104(1A), 1998, paper 4146, eq. 1, quoting ASHRAE
       Applications 1991 and Carrier 1918 (read).
    """
    return 0.08850 + 0.07792 * wind_speed


@formula
def evaporation_coefficient_smith_lof_jones(wind_speed: float) -> float:
    """Coefficient measured on an outdoor pool in Colorado.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the surface. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: one heated pool, undisturbed, 0 to about 2.2 m/s at 1500 m height.
    (30.6 + 32.1 u)(pw - pa) in kg/(m²·h), mmHg and kJ/kg.

    References
    ----------
    .. [1] Smith, C. C., Lof, G., Jones, R., Measurement and analysis of evaporation from an
       inactive outdoor swimming pool, Solar Energy 53(1), 1994, 3-7 (abstract read, constants
       from memory; they give the ratios to ASHRAE that were read).
    """
    return 0.0638 + 0.0669 * wind_speed


@formula
def evaporation_coefficient_mcmillan(wind_speed: float) -> float:
    """McMillan's coefficient.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: lake of the source. 36 + 25 u W/(m²·kPa).

    References
    ----------
    .. [1] McMillan, W., Heat dispersal - Lake Trawsfynydd cooling studies, 1971 (from memory).
    """
    return 0.036 + 0.025 * wind_speed


@formula
def evaporation_coefficient_richter(wind_speed: float) -> float:
    """Richter's coefficient.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: lake of the source. 42.3 + 56.5 u^0.5 W/(m²·kPa).

    References
    ----------
    .. [1] Richter, D., 1979 (from memory, through the solar pool literature).
    """
    return 0.0423 + 0.0565 * math.sqrt(max(wind_speed, 0.0))


@formula
def evaporation_coefficient_iso_tr(wind_speed: float) -> float:
    """Coefficient of the ISO/TR 12596 type.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the surface. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: outdoor pools heated by the sun. 50.6 + 66.9 u W/(m²·kPa).

    References
    ----------
    .. [1] ISO/TR 12596:1995 (from memory, the report itself not seen).
    """
    return 0.0506 + 0.0669 * wind_speed


@formula
def evaporation_coefficient_penman(wind_speed: float) -> float:
    """Wind function of Penman 1948 as a transfer coefficient.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: daily means, pans and small water. 6.43 (1 + 0.536 u) MJ/(m²·day·kPa).

    References
    ----------
    .. [1] Penman, H. L., Natural evaporation from open water, bare soil and grass, Proc. R. Soc.
       A 193, 1948, 120-145 (constants from memory; 2.6 (1 + 0.536 u) mm/(day·kPa) read in the
       documentation of an evaporation library, 1 % lower).
    """
    return 6.43e3 / 86400.0 * (1.0 + 0.536 * wind_speed)


@formula
def evaporation_coefficient_penman_1956(wind_speed: float) -> float:
    """Wind function of Penman 1956 as a transfer coefficient.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: daily means, open water. 6.43 (0.5 + 0.536 u) MJ/(m²·day·kPa).

    References
    ----------
    .. [1] Penman, H. L., Evaporation: an introductory survey, Neth. J. Agric. Sci. 4, 1956, 9-29
       (from memory).
    """
    return 6.43e3 / 86400.0 * (0.5 + 0.536 * wind_speed)


@formula
def evaporation_coefficient_rohwer(
    wind_speed: float, temp_water: float, pressure_air: float
) -> float:
    """Rohwer's coefficient, the only one with a term for height.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the surface. [m/s]
    temp_water : float
        Surface temperature. [°C]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: pans at heights up to 3000 m. E = 0.771 (1.465 - 0.0186 B)(0.44 + 0.118 W)(es - ea) in
    inches a day, inHg and mph.

    References
    ----------
    .. [1] Rohwer, C., Evaporation from free water surfaces, USDA Technical Bulletin 271, 1931
       (from memory).
    """
    pascal_per_inch = 3386.389
    height_term = 1.465 - 0.0186 * pressure_air / pascal_per_inch
    inch_per_day = 0.771 * height_term * (0.44 + 0.118 * wind_speed / 0.44704) / pascal_per_inch
    return inch_per_day * 25.4 / 86400.0 * latent_heat(temp_water)


@formula
def evaporation_rate_shah_quiet(
    temp_water: float, temp_air: float, vapour_pressure_air: float, pressure_air: float
) -> float:
    """Evaporation of an undisturbed indoor pool by free convection.

    Parameters
    ----------
    temp_water : float
        Surface temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    vapour_pressure_air : float
        Vapour pressure of the air. [Pa]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Evaporation. [kg/(m²·s)]

    Notes
    -----
    Range: indoor pools, no wind. The larger of 35 rho_w (rho_r - rho_w)^(1/3) (Ww - Wr) and
    0.00005 (pw - pa) kg/(m²·h). The densities are of dry air; with those of the mixture it comes
    out 26 % low at 28/28 °C and 50 %, and nothing at 28/30 °C.

    References
    ----------
    .. [1] Shah, M. M., Improved method for calculating evaporation from indoor water pools,
       Energy Build. 49, 2012 (form from memory; five points of his table read second-hand).
    """
    pressure_water = vapour_pressure_saturation(temp_water)
    density_surface = density_dry_air(temp_water, pressure_water, pressure_air)
    density_room = density_dry_air(temp_air, vapour_pressure_air, pressure_air)
    excess = max(density_room - density_surface, 0.0)
    humid = humidity_ratio(pressure_water, pressure_air) - humidity_ratio(
        vapour_pressure_air, pressure_air
    )
    free = 35.0 * density_surface * math.pow(excess, 1.0 / 3.0) * humid
    forced = 0.00005 * (pressure_water - vapour_pressure_air)
    return max(free, forced) / 3600.0


@formula
def evaporation_ratio_shah_occupied(density_difference: float, swimmers_per_area: float) -> float:
    """Evaporation of an indoor pool in use over that of the same pool quiet.

    Parameters
    ----------
    density_difference : float
        Dry-air density of the room minus that at the surface. [kg/m³]
    swimmers_per_area : float
        Swimmers per water area. [1/m²]

    Returns
    -------
    float
        Ratio. [-]

    Notes
    -----
    Range: more than 0.05 swimmers/m². 1.9 - 21 d_rho + 5.3 N.

    References
    ----------
    .. [1] Shah, M. M., HPAC Engineering, 27 March 2013, in US units 1.9 - 336 d_rho + 57 N (read).
    """
    return 1.9 - 21.0 * density_difference + 5.3 * swimmers_per_area


@formula
def evaporation_rate_vdi_2089(
    transfer: float,
    temp_water: float,
    temp_air: float,
    vapour_pressure_air: float,
) -> float:
    """Evaporation of an indoor pool after VDI 2089.

    Parameters
    ----------
    transfer : float
        Mass transfer, see `VDI_2089_TRANSFER`. [m/h]
    temp_water : float
        Surface temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    vapour_pressure_air : float
        Vapour pressure of the air. [Pa]

    Returns
    -------
    float
        Evaporation. [kg/(m²·s)]

    Notes
    -----
    Range: indoor pools. beta/(R T)(pw - pa), R 461.52 J/(kg·K), T the mean of water and air.

    References
    ----------
    .. [1] VDI 2089 sheet 1 (coefficients and R read second-hand in public code, form from memory).
    """
    kelvin = 0.5 * (temp_water + temp_air) + KELVIN
    difference = vapour_pressure_saturation(temp_water) - vapour_pressure_air
    return transfer / 3600.0 / (461.52 * kelvin) * difference


@formula
def evaporation_rate_humidity_form(
    wind_speed: float, humidity_ratio_water: float, humidity_ratio_air: float
) -> float:
    """Evaporation by the form (25 + 19 u)(xs - x) of engineering tables.

    Parameters
    ----------
    wind_speed : float
        Air speed over the water. [m/s]
    humidity_ratio_water : float
        Humidity ratio of saturated air at the surface. [kg/kg]
    humidity_ratio_air : float
        Humidity ratio of the air. [kg/kg]

    Returns
    -------
    float
        Evaporation. [kg/(m²·s)]

    Notes
    -----
    Range: still air to about 1 m/s, sea level. (25 + 19 u)(xs - x) kg/(m²·h).

    References
    ----------
    .. [1] Form and worked example in a public engineering reference (read second-hand).
    """
    per_hour = (25.0 + 19.0 * wind_speed) * (humidity_ratio_water - humidity_ratio_air)
    return per_hour / 3600.0
