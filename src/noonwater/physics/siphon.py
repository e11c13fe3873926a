"""What the atmosphere lets a siphon do."""

from __future__ import annotations

from noonwater.core.jit import formula


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
