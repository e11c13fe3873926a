"""Heat between the water in a pipe and the air around it."""

from __future__ import annotations

import math

from noonwater.core.jit import formula

CONDUCTIVITY_PVC = 0.19
"""[W/(m·K)] Rigid PVC; handbooks give 0.16 to 0.21 (from memory)."""

DENSITY_PVC = 1400.0
"""[kg/m³] Rigid PVC pipe (from memory)."""

HEAT_CAPACITY_PVC = 1000.0
"""[J/(kg·K)] Rigid PVC; handbooks give 840 to 1170 (from memory)."""

COEFFICIENT_OUTSIDE = 12.0
"""[W/(m²·K)] Convection and long-wave of a bare pipe outdoors in a breeze. Common practice, no
source."""


@formula
def conductance_pipe(
    diameter: float, diameter_outside: float, conductivity: float, coefficient_outside: float
) -> float:
    """Heat conductance from water to air per length of pipe.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]
    diameter_outside : float
        [m]
    conductivity : float
        Of the wall. [W/(m·K)]
    coefficient_outside : float
        Convection and long-wave at the outer face. [W/(m²·K)]

    Returns
    -------
    float
        [W/(m·K)]

    Notes
    -----
    Range: water flowing, so that the resistance inside is small beside the two counted; ours to
    leave it out. Wall and outer film in series.

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., Fundamentals of Heat and Mass Transfer, radial
       conduction in a cylinder, section 3.3 (from memory); checked by integrating Fourier's law.
    """
    wall = math.log(diameter_outside / diameter) / (2.0 * math.pi * conductivity)
    film = 1.0 / (math.pi * diameter_outside * coefficient_outside)
    return 1.0 / (wall + film)


@formula
def capacity_pipe_wall(
    diameter: float, diameter_outside: float, density: float, heat_capacity: float
) -> float:
    """Heat capacity of a pipe's wall per length.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]
    diameter_outside : float
        [m]
    density : float
        Of the wall. [kg/m³]
    heat_capacity : float
        Of the wall. [J/(kg·K)]

    Returns
    -------
    float
        [J/(m·K)]

    Notes
    -----
    Geometry; range: any pipe.
    """
    area = 0.25 * math.pi * (diameter_outside * diameter_outside - diameter * diameter)
    return area * density * heat_capacity
