"""Sensible heat between air and a water surface or a sky-facing plate."""

from __future__ import annotations

import math

from noonwater.core.constants import PRESSURE_SEA_LEVEL
from noonwater.core.jit import formula

BOWEN_DOUBT = 0.013
"""[-] Relative doubt of the Bowen constant: texts refer its 0.061 kPa/K to 101.3 or to 100 kPa."""


@formula
def convection_coefficient_bowen(evaporation_coefficient: float, pressure_air: float) -> float:
    """Convection over water from the evaporation coefficient.

    Parameters
    ----------
    evaporation_coefficient : float
        Evaporation coefficient, heat per vapour pressure difference. [W/(m²·Pa)]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Convection coefficient. [W/(m²·K)]

    Notes
    -----
    Range: as the evaporation coefficient. 61 Pa/K at 101.325 kPa; 1.3 % more if the constant is
    meant at 100 kPa. Values up to 66 Pa/K are in use (equal transfer of heat and vapour).

    References
    ----------
    .. [1] Bowen, I. S., The ratio of heat losses by conduction and by evaporation from any water
       surface, Phys. Rev. 27, 1926, 779-787 (from memory).
    """
    return evaporation_coefficient * pressure_air * (61.0 / PRESSURE_SEA_LEVEL)


@formula
def convection_coefficient_watmuff(wind_speed: float) -> float:
    """Wind-driven convection at a flat plate.

    Parameters
    ----------
    wind_speed : float
        Wind speed over the plate. [m/s]

    Returns
    -------
    float
        Convection coefficient. [W/(m²·K)]

    Notes
    -----
    Range: 0 to 7 m/s, plates of about 0.5 m²; larger roofs have less.

    References
    ----------
    .. [1] Watmuff, J. H., Charters, W. W. S., Proctor, D., Solar and wind induced external
       coefficients for solar collectors, COMPLES 2, 1977, 56: h = 2.8 + 3.0 u (from memory; the
       same constants read second-hand in a public discussion of collector models).
    """
    return 2.8 + 3.0 * wind_speed


@formula
def convection_coefficient_plate_up(temp_surface: float, temp_air: float, length: float) -> float:
    """Natural convection at a horizontal plate that faces the sky.

    Parameters
    ----------
    temp_surface : float
        Temperature of the plate. [°C]
    temp_air : float
        Air temperature. [°C]
    length : float
        Shorter side of the plate. [m]

    Returns
    -------
    float
        Convection coefficient. [W/(m²·K)]

    Notes
    -----
    Range: air of 0 to 30 °C near one atmosphere, within 4 %. Warmer than the air: turbulent,
    Nu = 0.14 Ra^(1/3). Colder than the air, as at night under a clear sky: stably layered,
    Nu = 0.27 Ra^(1/4), a small number, which is why calm nights freeze what the air does not. The
    constants in front hold the properties of air at 10 °C (ours, not the source's).

    References
    ----------
    .. [1] McAdams, W. H., Heat Transmission, 3rd ed., 1954, ch. 7 (from memory).
    """
    excess = temp_surface - temp_air
    if excess >= 0.0:
        return 1.74 * math.pow(excess, 1.0 / 3.0)
    return 0.71 * math.sqrt(math.sqrt(-excess / length))
