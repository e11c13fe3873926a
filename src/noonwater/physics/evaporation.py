"""Evaporation from a pool: the formula in use, its range, heat and mass, bathers.

Every coefficient is heat per vapour pressure difference; a negative heat is condensation on water
colder than the dew point. Formulas that were compared and not chosen are in `evaporation_formulas`;
the comparison is decision 0003.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from noonwater.core.constants import KELVIN
from noonwater.core.jit import formula
from noonwater.physics.evaporation_formulas import evaporation_coefficient_smith_lof_jones
from noonwater.physics.water import latent_heat

EVAPORATION_FACTOR_LOW = 0.65
"""[-] Lower end of the stated range, times the default. The two cold lakes of decision 0003 lie
lower still (0.76 and 0.58)."""

EVAPORATION_FACTOR_HIGH = 1.6
"""[-] Upper end of the stated range, times the default. Reaches Smith-Lof-Jones, and with it the
one windy pool that was measured, up to 2.2 m/s of wind; `evaporation_coefficient_high` goes on."""

ACTIVITY_ASHRAE = MappingProxyType(
    {
        "residential": 0.5,
        "condominium": 0.65,
        "therapy": 0.65,
        "hotel": 0.8,
        "public": 1.0,
        "whirlpool": 1.0,
        "wave": 1.5,
    }
)
"""Activity factors [-] that belong to the ASHRAE coefficient alone (ASHRAE Applications 1995, read
second-hand; whirlpool 1.0 from memory, the page read gave 1.5). Multiplying any other formula by
them counts the quietness of a home pool twice."""

COEFFICIENT_FORCED = 0.031
"""[J/(m³·Pa)] Wind's part of the default formula, see `evaporation_coefficient_ryan_harleman`."""

SWIMMERS_MEASURED = 17.5 / 92.90304
"""[1/m²] Middle of 15 to 20 swimmers per 1000 ft² of the measured occupied pool (read)."""

OCCUPIED_RATIO_MEASURED = 1.70
"""[-] Measured evaporation of that pool over the same pool quiet, ± 10 % (read)."""


@formula
def temp_virtual(temp: float, vapour_pressure: float, pressure_air: float) -> float:
    """Virtual temperature: that of dry air of the same density.

    Parameters
    ----------
    temp : float
        Temperature of the moist air. [°C]
    vapour_pressure : float
        Partial pressure of the vapour. [Pa]
    pressure_air : float
        Total pressure. [Pa]

    Returns
    -------
    float
        Virtual temperature. [°C]

    Notes
    -----
    Range: vapour pressure well below total pressure. T/(1 - 0.378 e/p), T in kelvin (read in
    public code of a reservoir temperature model).
    """
    return (temp + KELVIN) / (1.0 - 0.378 * vapour_pressure / pressure_air) - KELVIN


@formula
def evaporation_coefficient_ryan_harleman(
    wind_speed: float,
    temp_water: float,
    temp_air: float,
    vapour_pressure_water: float,
    vapour_pressure_air: float,
    pressure_air: float,
) -> float:
    """Evaporation coefficient of free and forced convection together.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]
    temp_water : float
        Surface temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    vapour_pressure_water : float
        Saturation pressure at the surface. [Pa]
    vapour_pressure_air : float
        Vapour pressure of the air. [Pa]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: cooling ponds and lakes of the source, 0 to 10 m/s. 0.027 dTv^(1/3) + 0.031 u, dTv the
    difference of virtual temperatures, water minus air; the free part is zero when the air is the
    lighter one. A plain temperature difference instead errs by up to 1.7 K and 22 % of heat.
    Public code of a US reservoir model has 3.59 and 4.26 W/(m²·mmHg), that is 0.0269 and 0.0320
    (read): the wind constant is in doubt by 3 %.

    References
    ----------
    .. [1] Ryan, P. J. and Harleman, D. R. F., An analytical and experimental study of transient
       cooling pond behavior, MIT Parsons Laboratory report 161, 1973 (structure read second-hand,
       constants from memory: 22.4 and 14 Btu/(ft²·day·mmHg) with °F and mph).
    """
    dry_water = pressure_air - 0.378 * vapour_pressure_water
    dry_air = pressure_air - 0.378 * vapour_pressure_air
    difference = (temp_water + KELVIN) / dry_water - (temp_air + KELVIN) / dry_air
    excess = max(pressure_air * difference, 0.0)
    # The cube root by its own name is faster than a power, and the year calls it each step.
    return 0.027 * float(np.cbrt(excess)) + COEFFICIENT_FORCED * wind_speed


@formula
def evaporation_coefficient(
    wind_speed: float,
    temp_water: float,
    temp_air: float,
    vapour_pressure_water: float,
    vapour_pressure_air: float,
    pressure_air: float,
) -> float:
    """Evaporation coefficient in use, chosen in decision 0003.

    Parameters
    ----------
    wind_speed : float
        Wind speed 2 m above the water. [m/s]
    temp_water : float
        Surface temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    vapour_pressure_water : float
        Saturation pressure at the surface. [Pa]
    vapour_pressure_air : float
        Vapour pressure of the air. [Pa]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Heat per vapour pressure difference. [W/(m²·Pa)]

    Notes
    -----
    Range: undisturbed open water, 0 to 10 m/s. It falls short of the one pool measured in wind by
    up to 30 %; `evaporation_coefficient_low` and `evaporation_coefficient_high` are the range to
    state with a result.

    References
    ----------
    .. [1] As `evaporation_coefficient_ryan_harleman`.
    """
    return evaporation_coefficient_ryan_harleman(
        wind_speed,
        temp_water,
        temp_air,
        vapour_pressure_water,
        vapour_pressure_air,
        pressure_air,
    )


@formula
def evaporation_coefficient_low(evaporation_coefficient: float) -> float:
    """Lower end of the range of the evaporation coefficient.

    Parameters
    ----------
    evaporation_coefficient : float
        Default coefficient. [W/(m²·Pa)]

    Returns
    -------
    float
        Lower end. [W/(m²·Pa)]

    Notes
    -----
    Range: as the default. `EVAPORATION_FACTOR_LOW` times it; spread of decision 0003.
    """
    return EVAPORATION_FACTOR_LOW * evaporation_coefficient


@formula
def evaporation_coefficient_high(evaporation_coefficient: float, wind_speed: float) -> float:
    """Upper end of the range of the evaporation coefficient.

    Parameters
    ----------
    evaporation_coefficient : float
        Default coefficient. [W/(m²·Pa)]
    wind_speed : float
        Wind speed at the water. [m/s]

    Returns
    -------
    float
        Upper end. [W/(m²·Pa)]

    Notes
    -----
    Range: as the default. The larger of `EVAPORATION_FACTOR_HIGH` times it and Smith-Lof-Jones, so
    that the range always holds the one windy outdoor pool that was measured; decision 0003.
    """
    wind_pool = evaporation_coefficient_smith_lof_jones(wind_speed)
    return max(EVAPORATION_FACTOR_HIGH * evaporation_coefficient, wind_pool)


@formula
def evaporation_heat(
    evaporation_coefficient: float, vapour_pressure_water: float, vapour_pressure_air: float
) -> float:
    """Heat that evaporation takes from the water.

    Parameters
    ----------
    evaporation_coefficient : float
        Evaporation coefficient. [W/(m²·Pa)]
    vapour_pressure_water : float
        Saturation pressure at the surface. [Pa]
    vapour_pressure_air : float
        Vapour pressure of the air. [Pa]

    Returns
    -------
    float
        Heat lost; negative is condensation. [W/m²]

    Notes
    -----
    Range: as the coefficient. Dalton's form. Sources give no coefficient of their own for
    condensation; the same one is used (ours, not the source's).
    """
    return evaporation_coefficient * (vapour_pressure_water - vapour_pressure_air)


@formula
def evaporation_rate(evaporation_heat: float, temp_water: float) -> float:
    """Mass of water leaving the surface.

    Parameters
    ----------
    evaporation_heat : float
        Evaporation heat. [W/m²]
    temp_water : float
        Surface temperature. [°C]

    Returns
    -------
    float
        Evaporation; negative is condensation. [kg/(m²·s)]

    Notes
    -----
    Range: 0 to 100 °C. Heat over `latent_heat`.
    """
    return evaporation_heat / latent_heat(temp_water)


@formula
def activity_factor(swimmers_per_area: float) -> float:
    """Evaporation of a pool in use over that of the same pool undisturbed.

    Parameters
    ----------
    swimmers_per_area : float
        Swimmers in the water per water area. [1/m²]

    Returns
    -------
    float
        Factor on the undisturbed coefficient. [-]

    Notes
    -----
    Range: 0 to 0.22 swimmers/m². A straight line from 1 to the one measured pool in use, 1.70 at
    15 to 20 swimmers per 1000 ft²: the line is ours, not the source's.

    References
    ----------
    .. [1] Smith, C. C., Lof, G. O. G., Jones, R. W., Rates of evaporation from swimming pools in
       active use, ASHRAE Trans. 104(1A), 1998, paper 4146 (read).
    """
    return 1.0 + (OCCUPIED_RATIO_MEASURED - 1.0) * swimmers_per_area / SWIMMERS_MEASURED
