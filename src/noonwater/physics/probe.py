"""Heat between the air and a thin round body across the wind: a temperature probe."""

from __future__ import annotations

from noonwater.core.jit import formula

CONDUCTIVITY_AIR = 0.0263
"""[W/(m·K)] At 300 K (from memory, the tables of [1] in `convection_coefficient_cylinder`)."""
VISCOSITY_AIR = 15.89e-6
"""[m²/s] At 300 K (from memory, the same tables)."""
PRANDTL_AIR = 0.707


@formula
def nusselt_cylinder(reynolds: float, prandtl: float) -> float:
    """Mean Nusselt number of a cylinder across a stream.

    Parameters
    ----------
    reynolds : float
        On the diameter. [-]
    prandtl : float
        Of the fluid. [-]

    Returns
    -------
    float
        On the diameter. [-]

    Notes
    -----
    Range: reynolds times prandtl above 0.2; no upper limit given. The authors claim 20 %.

    References
    ----------
    .. [1] Churchill, S. W. and Bernstein, M., A correlating equation for forced convection from
       gases and liquids to a circular cylinder in crossflow, J. Heat Transfer 99, 1977, 300-306
       (from memory).
    """
    laminar = 0.62 * reynolds**0.5 * prandtl ** (1.0 / 3.0)
    laminar /= (1.0 + (0.4 / prandtl) ** (2.0 / 3.0)) ** 0.25
    return float(0.3 + laminar * (1.0 + (reynolds / 282000.0) ** 0.625) ** 0.8)


@formula
def convection_coefficient_cylinder(wind_speed: float, diameter: float) -> float:
    """Convection of a thin round body in the air.

    Parameters
    ----------
    wind_speed : float
        Across it. [m/s]
    diameter : float
        Of the body. [m]

    Returns
    -------
    float
        Per area of its surface. [W/(m²·K)]

    Notes
    -----
    Range: winds of 0.01 to 100 m/s at 10 mm; properties of air at 27 °C, which errs by 3 % at
    0 °C. The authors of the number claim 20 %. Calm air has buoyancy besides, which is left out.

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., Fundamentals of Heat and Mass Transfer, section 7.4
       and table A.4 (from memory).
    """
    reynolds = wind_speed * diameter / VISCOSITY_AIR
    return nusselt_cylinder(reynolds, PRANDTL_AIR) * CONDUCTIVITY_AIR / diameter
