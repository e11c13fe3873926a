"""Liquid water: density, heat capacity, viscosity, heat of evaporation."""

from __future__ import annotations

import math

from noonwater.core.constants import KELVIN
from noonwater.core.jit import formula

LATENT_HEAT_FUSION = 333_550.0
"""[J/kg] Ice at 0 °C; checked against the ice equation of IAPWS (iapws library)."""


@formula
def density_water(temp: float) -> float:
    """Density of air-free water at one atmosphere.

    Parameters
    ----------
    temp : float
        Temperature. [°C]

    Returns
    -------
    float
        Density. [kg/m³]

    Notes
    -----
    Range: 0 to 100 °C; within 0.02 kg/m³ of IAPWS-95 there.

    References
    ----------
    .. [1] Kell, G. S., Density, thermal expansivity and compressibility of liquid water,
       J. Chem. Eng. Data 20(1), 1975, 97-105 (from memory; checked against IAPWS-95).
    """
    above = 999.83952 + temp * (
        16.945176
        + temp
        * (-7.9870401e-3 + temp * (-46.170461e-6 + temp * (105.56302e-9 - 280.54253e-12 * temp)))
    )
    return above / (1.0 + 16.879850e-3 * temp)


@formula
def heat_capacity_water(temp: float) -> float:
    """Heat capacity of water at one atmosphere.

    Parameters
    ----------
    temp : float
        Temperature. [°C]

    Returns
    -------
    float
        Isobaric heat capacity. [J/(kg·K)]

    Notes
    -----
    Range: 0 to 100 °C; within 1 J/(kg·K) of IAPWS-95 there. The polynomial is ours, not the
    source's: a least-squares fit to IAPWS-95.

    References
    ----------
    .. [1] IAPWS R6-95(2018), through the iapws library (read by running it).
    """
    return 4219.036 + temp * (
        -3.21071
        + temp * (0.0972682 + temp * (-1.434952e-3 + temp * (1.1133045e-5 - 3.335658e-8 * temp)))
    )


@formula
def viscosity_dynamic_water(temp: float) -> float:
    """Dynamic viscosity of water near one atmosphere.

    Parameters
    ----------
    temp : float
        Temperature. [°C]

    Returns
    -------
    float
        Dynamic viscosity. [Pa·s]

    Notes
    -----
    Range: 0 to 100 °C; within 0.1 % of IAPWS R12-08 there.

    References
    ----------
    .. [1] Pátek, J. et al., Reference correlations for thermophysical properties of liquid water
       at 0.1 MPa, J. Phys. Chem. Ref. Data 38(1), 2009, eq. for viscosity (from memory; checked
       against IAPWS R12-08).
    """
    ratio = (temp + KELVIN) / 300.0
    return 1e-6 * (
        280.68 * math.pow(ratio, -1.9)
        + 511.45 * math.pow(ratio, -7.7)
        + 61.131 * math.pow(ratio, -19.6)
        + 0.45903 * math.pow(ratio, -40.0)
    )


@formula
def viscosity_water(temp: float) -> float:
    """Kinematic viscosity of water near one atmosphere.

    Parameters
    ----------
    temp : float
        Temperature. [°C]

    Returns
    -------
    float
        Kinematic viscosity. [m²/s]

    Notes
    -----
    Range: 0 to 100 °C. Dynamic viscosity over density; sources there.
    """
    return viscosity_dynamic_water(temp) / density_water(temp)


@formula
def latent_heat(temp: float) -> float:
    """Heat of evaporation of water.

    Parameters
    ----------
    temp : float
        Temperature of the surface. [°C]

    Returns
    -------
    float
        Latent heat. [J/kg]

    Notes
    -----
    Range: 0 to 100 °C; within 0.1 % of IAPWS-IF97 up to 60 °C, 0.4 % at 100 °C.

    References
    ----------
    .. [1] Linear form 2501 - 2.361 T kJ/kg, usual in evaporation work (from memory; agrees with
       2437.6 kJ/kg at 80 °F in a text of the US Department of Energy, read second-hand).
    """
    return 2.501e6 - 2361.0 * temp
