"""Friction of water in a straight round pipe."""

from __future__ import annotations

from math import log, log10, pi, sqrt

from noonwater.core.jit import formula

ROUGHNESS_PVC = 1.5e-6
"""[m] Drawn plastic pipe; Darcy-Weisbach practice, from memory. 0.06 % of a pad's flow hangs on the
choice among Colebrook, Churchill and Swamee-Jain; less on this."""

RE_LAMINAR = 2000.0
RE_TURBULENT = 4000.0


@formula
def velocity_pipe(flow: float, diameter: float) -> float:
    """Mean velocity of a flow in a round pipe.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Velocity, signed as the flow. [m/s]

    Notes
    -----
    Exact by geometry.
    """
    return 4.0 * flow / (pi * diameter * diameter)


@formula
def reynolds_pipe(flow: float, diameter: float, viscosity: float) -> float:
    """Reynolds number of a flow in a round pipe.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    diameter : float
        Inside diameter. [m]
    viscosity : float
        Kinematic viscosity. [m²/s]

    Returns
    -------
    float
        Reynolds number, never negative. [-]

    Notes
    -----
    Definition.
    """
    return 4.0 * abs(flow) / (pi * diameter * viscosity)


@formula
def friction_factor_laminar(Re: float) -> float:
    """Darcy friction factor of laminar flow.

    Parameters
    ----------
    Re : float
        Reynolds number. [-]

    Returns
    -------
    float
        Darcy friction factor. [-]

    Notes
    -----
    Range: Re below 2000. Hagen-Poiseuille, exact for developed flow.
    """
    return 64.0 / Re


@formula
def friction_factor_colebrook(Re: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow, the implicit standard.

    Parameters
    ----------
    Re : float
        Reynolds number. [-]
    relative_roughness : float
        Roughness over diameter. [-]

    Returns
    -------
    float
        Darcy friction factor. [-]

    Notes
    -----
    Range: Re 4000 to 1e8, relative roughness 0 to 0.05. Newton steps on x = 1/sqrt(f) in
    x + 2 log10(k/3.7 + 2.51 x/Re) = 0, started at Swamee-Jain. Eq. (1) of [1]_ as quoted in
    textbooks (from memory); values checked against a reference library.

    References
    ----------
    .. [1] Colebrook, C. F., J. Inst. Civil Eng. 11 (1939), 133-156. From memory.
    """
    x = 1.0 / sqrt(friction_factor_swamee_jain(Re, relative_roughness))
    for _ in range(6):
        inner = relative_roughness / 3.7 + 2.51 * x / Re
        value = x + 2.0 * log10(inner)
        slope = 1.0 + 2.0 * 2.51 / (Re * inner * log(10.0))
        x -= value / slope
    return 1.0 / (x * x)


@formula
def friction_factor_swamee_jain(Re: float, relative_roughness: float) -> float:
    """Darcy friction factor of turbulent flow, explicit.

    Parameters
    ----------
    Re : float
        Reynolds number. [-]
    relative_roughness : float
        Roughness over diameter. [-]

    Returns
    -------
    float
        Darcy friction factor. [-]

    Notes
    -----
    Range: Re 5000 to 1e8, relative roughness 1e-6 to 0.05; within about 1 % of Colebrook there,
    used from Re 4000 on as the EPANET manual does [2]_. Eq. (13) of [1]_, from memory.

    References
    ----------
    .. [1] Swamee, P. K. and Jain, A. K., J. Hydraulics Div. ASCE 102 (1976), 657-664. From memory.
    .. [2] Rossman, L., EPANET 2 Users Manual, EPA/600/R-00/057 (2000), appendix D. Read
       second-hand.
    """
    y = relative_roughness / 3.7 + 5.74 / Re**0.9
    return 0.25 / log10(y) ** 2


@formula
def friction_factor_slope(Re: float, relative_roughness: float) -> tuple[float, float]:
    """Darcy friction factor over the whole range, and how it changes.

    Parameters
    ----------
    Re : float
        Reynolds number. [-]
    relative_roughness : float
        Roughness over diameter. [-]

    Returns
    -------
    tuple of float
        Darcy friction factor and Re·df/dRe. [-]

    Notes
    -----
    Range: Re above 0. 64/Re up to 2000, Swamee-Jain from 4000; between them the cubic that meets
    both in value and slope. That cubic is Dunlop's, which the EPANET manual prints as a
    polynomial [1]_; a test holds the two forms together. In the transition no formula is exact:
    real pipes jump.

    References
    ----------
    .. [1] Rossman, L., EPANET 2 Users Manual, EPA/600/R-00/057 (2000), appendix D. Read
       second-hand.
    """
    if Re <= RE_LAMINAR:
        f = 64.0 / Re
        return f, -f
    if Re >= RE_TURBULENT:
        power = 5.74 * Re**-0.9
        y = relative_roughness / 3.7 + power
        logarithm = log(y)
        f = 0.25 * (log(10.0) / logarithm) ** 2
        return f, 1.8 * f * power / (y * logarithm)
    power = 5.74 * RE_TURBULENT**-0.9
    y = relative_roughness / 3.7 + power
    logarithm = log(y)
    end = 0.25 * (log(10.0) / logarithm) ** 2
    # The interval is 2000 wide, so slopes are per 2000 and Re·df/dRe at 4000 counts half.
    end_slope = 0.5 * 1.8 * end * power / (y * logarithm)
    t = (Re - RE_LAMINAR) / (RE_TURBULENT - RE_LAMINAR)
    quadratic = 3.0 * (end - 0.032) + 0.064 - end_slope
    cubic = 2.0 * (0.032 - end) - 0.032 + end_slope
    f = 0.032 + t * (-0.032 + t * (quadratic + t * cubic))
    slope = -0.032 + t * (2.0 * quadratic + 3.0 * t * cubic)
    return f, slope * Re / (RE_TURBULENT - RE_LAMINAR)


@formula
def friction_factor(Re: float, relative_roughness: float) -> float:
    """Darcy friction factor over the whole range, the default.

    Parameters
    ----------
    Re : float
        Reynolds number. [-]
    relative_roughness : float
        Roughness over diameter. [-]

    Returns
    -------
    float
        Darcy friction factor. [-]

    Notes
    -----
    Range and source: `friction_factor_slope`.
    """
    return friction_factor_slope(Re, relative_roughness)[0]


@formula
def head_loss_slope_pipe(
    flow: float,
    length: float,
    diameter: float,
    roughness: float,
    viscosity: float,
    gravity: float,
) -> tuple[float, float]:
    """Head lost to friction, and its change with the flow.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    length : float
        Along the pipe. [m]
    diameter : float
        Inside diameter. [m]
    roughness : float
        Height of the wall's roughness. [m]
    viscosity : float
        Kinematic viscosity. [m²/s]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    tuple of float
        Head lost, signed as the flow [m], and its derivative [s/m²].

    Notes
    -----
    Range: that of `friction_factor_slope`, with which this is Darcy-Weisbach; at rest the laminar
    derivative.
    """
    Re = 4.0 * abs(flow) / (pi * diameter * viscosity)
    if Re <= RE_LAMINAR:
        slope = 128.0 * viscosity * length / (pi * gravity * diameter**4)
        return slope * flow, slope
    f, change = friction_factor_slope(Re, roughness / diameter)
    unit = 8.0 * length / (pi * pi * gravity * diameter**5) * abs(flow)
    return unit * f * flow, unit * (2.0 * f + change)


@formula
def head_loss_pipe(
    flow: float,
    length: float,
    diameter: float,
    roughness: float,
    viscosity: float,
    gravity: float,
) -> float:
    """Head lost to friction along a straight pipe.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    length : float
        Along the pipe. [m]
    diameter : float
        Inside diameter. [m]
    roughness : float
        Height of the wall's roughness. [m]
    viscosity : float
        Kinematic viscosity. [m²/s]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Head lost, signed as the flow. [m]

    Notes
    -----
    Darcy-Weisbach; range and source: `friction_factor_slope`.
    """
    return head_loss_slope_pipe(flow, length, diameter, roughness, viscosity, gravity)[0]


@formula
def head_loss_hazen_williams(
    flow: float, length: float, diameter: float, coefficient: float
) -> float:
    """Head lost to friction by the formula behind the trade's tables.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    length : float
        Along the pipe. [m]
    diameter : float
        Inside diameter. [m]
    coefficient : float
        Hazen-Williams C, 150 for new plastic pipe. [-]

    Returns
    -------
    float
        Head lost. [m]

    Notes
    -----
    Range: turbulent water near 16 °C; blind to temperature. Only for comparing with tables, the
    engine does not use it. 0.2083 (100/C)^1.852 Q^1.852 / D^4.8655 in feet for 100 ft, gpm and
    inches, as the trade's tables have it (from memory); the metric form 10.67 ... D^4.8704 gives
    1 % less in 2 inch.
    """
    gpm = flow / 6.30901964e-5
    inches = diameter / 0.0254
    loss: float = 0.002083 * length * (100.0 * gpm / coefficient) ** 1.852 / inches**4.8655
    return loss


@formula
def pressure_rating_pipe(stress: float, diameter_outside: float, wall: float) -> float:
    """Pressure that a plastic pipe is rated for at 23 °C.

    Parameters
    ----------
    stress : float
        Hydrostatic design stress, 13.79 MPa (2000 psi) for the usual PVC. [Pa]
    diameter_outside : float
        Outside diameter. [m]
    wall : float
        Least wall thickness. [m]

    Returns
    -------
    float
        Rated gauge pressure. [Pa]

    Notes
    -----
    Range: solvent-cemented pipe, water, 23 °C. 2 S t / (D - t) of ISO 161-1 as ASTM D1785 uses it
    (from memory; the published ratings read agree within 1.4 %).
    """
    return 2.0 * stress * wall / (diameter_outside - wall)
