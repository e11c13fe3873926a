"""What the atmosphere lets a siphon do."""

from __future__ import annotations

from math import pi

from noonwater.core.jit import formula

CARRY_VELOCITY = 0.6096
"""[m/s] 2 ft/s of water carry air down a vertical pipe: a trade article and a manual, both read,
agreeing and possibly of one author."""


@formula
def siphon_height(
    pressure_air: float, vapour_pressure: float, density: float, gravity: float
) -> float:
    """Height at which water in a sealed pipe boils and a siphon tears off.

    Parameters
    ----------
    pressure_air : float
        Air pressure at the open surface; add gauge pressure at the top if any. [Pa]
    vapour_pressure : float
        Saturation pressure at the water's temperature. [Pa]
    density : float
        Density of the water. [kg/m³]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Greatest height of still water above the open surface. [m]

    Notes
    -----
    Range: ideal; dissolved air comes out and tears a siphon earlier. (p - pv)/(rho g).
    """
    return (pressure_air - vapour_pressure) / (density * gravity)


@formula
def flow_carrying_air(diameter: float) -> float:
    """Least flow that carries air down a pipe, so that a siphon forms behind it.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Flow. [m³/s]

    Notes
    -----
    Range: pool pipe of 1½ to 2½ inch, for which the rule is told. `CARRY_VELOCITY` over the whole
    cross section; bubbles in larger pipe rise faster, and the rule then says too little.
    """
    return CARRY_VELOCITY * 0.25 * pi * diameter * diameter
