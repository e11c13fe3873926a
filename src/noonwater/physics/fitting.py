"""Losses at fittings, valves and tees, and what happens to pressure along a header."""

from __future__ import annotations

from math import pi, sqrt

from noonwater.core.jit import formula
from noonwater.physics.pipe_friction import friction_factor_colebrook

BRANCH_STEP = 0.02
"""[-] Half width of the ramp over Crane's step at a flow ratio of 0.4: ours, not the source's."""


@formula
def head_loss_slope_fitting(
    K: float, flow: float, diameter: float, gravity: float
) -> tuple[float, float]:
    """Head lost at a fitting, and its change with the flow.

    Parameters
    ----------
    K : float
        Loss coefficient on the velocity in `diameter`. [-]
    flow : float
        Volume flow. [m³/s]
    diameter : float
        Inside diameter. [m]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    tuple of float
        Head lost, signed as the flow [m], and its derivative [s/m²].

    Notes
    -----
    Definition of K: h = K V²/2g.
    """
    unit = 8.0 * K / (pi * pi * gravity * diameter**4) * abs(flow)
    return unit * flow, 2.0 * unit


@formula
def head_loss_fitting(K: float, flow: float, diameter: float, gravity: float) -> float:
    """Head lost at a fitting.

    Parameters
    ----------
    K : float
        Loss coefficient on the velocity in `diameter`. [-]
    flow : float
        Volume flow. [m³/s]
    diameter : float
        Inside diameter. [m]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Head lost, signed as the flow. [m]

    Notes
    -----
    Definition of K: h = K V²/2g.
    """
    return head_loss_slope_fitting(K, flow, diameter, gravity)[0]


@formula
def friction_factor_crane(diameter: float) -> float:
    """Friction factor of full turbulence that Crane's fitting multiples stand on.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Darcy friction factor. [-]

    Notes
    -----
    Range: nominal 1/2 to 24 inch. Colebrook at Re = 7.5e6·D with roughness over diameter
    3.4126825352925e-5·D^-1.0112 (D in m), the fit of [2]_ that rounds to every value of the
    table in [1]_. For fittings only, whatever the pipe is made of.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, Technical Paper 410. The table itself not read.
    .. [2] Documentation of the open library fluids 1.3.1, ft_Crane. Read.
    """
    return friction_factor_colebrook(7.5e6 * diameter, 3.4126825352925e-5 * diameter**-1.0112)


@formula
def fitting_coefficient_crane(multiple: float, diameter: float) -> float:
    """Loss coefficient of a fitting as a multiple of the fully turbulent friction factor.

    Parameters
    ----------
    multiple : float
        Equivalent length in diameters, 30 for a standard elbow. [-]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Loss coefficient. [-]

    Notes
    -----
    Range: turbulent flow; constant with Re. K = n fT [1]_. Our default: it is constant, so a
    general network solver can check the whole circuit.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, Technical Paper 410. Multiples from memory.
    """
    return multiple * friction_factor_crane(diameter)


@formula
def fitting_coefficient_darby(Re: float, nominal: float, K1: float, Ki: float, Kd: float) -> float:
    """Loss coefficient of a fitting by three constants.

    Parameters
    ----------
    Re : float
        Reynolds number in the pipe. [-]
    nominal : float
        Nominal size. [m]
    K1 : float
        Laminar constant. [-]
    Ki : float
        Turbulent constant. [-]
    Kd : float
        Size constant. [inch^0.3]

    Returns
    -------
    float
        Loss coefficient. [-]

    Notes
    -----
    Range: laminar to turbulent. K1/Re + Ki (1 + Kd/n^0.3), n in inches [1]_.

    References
    ----------
    .. [1] Silverberg, P. and Darby, R., Chemical Engineering 106 (1999) no. 7, 101. Read
       second-hand in the documentation of the open library fluids.
    """
    size: float = (nominal / 0.0254) ** -0.3
    return K1 / Re + Ki * (1.0 + Kd * size)


@formula
def fitting_coefficient_hooper(Re: float, diameter: float, K1: float, K_infinity: float) -> float:
    """Loss coefficient of a fitting by two constants.

    Parameters
    ----------
    Re : float
        Reynolds number in the pipe. [-]
    diameter : float
        Inside diameter. [m]
    K1 : float
        Laminar constant. [-]
    K_infinity : float
        Constant of a large fitting in full turbulence. [-]

    Returns
    -------
    float
        Loss coefficient. [-]

    Notes
    -----
    Range: laminar to turbulent. K1/Re + K_infinity (1 + 1/D), D in inches [1]_, from memory.

    References
    ----------
    .. [1] Hooper, W. B., Chemical Engineering 88 (1981), 96-100. From memory.
    """
    return K1 / Re + K_infinity * (1.0 + 0.0254 / diameter)


@formula
def tee_coefficient_run_converging(ratio: float) -> float:
    """Loss of the straight leg where a branch joins at a right angle.

    Parameters
    ----------
    ratio : float
        Flow of the branch over the joined flow, 0 to 1. [-]

    Returns
    -------
    float
        Loss coefficient on the velocity of the joined flow. [-]

    Notes
    -----
    Range: 90° tee, run and joined pipe of one size. Crane [1]_, read second-hand.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, TP 410 (2009), ch. 2, as given in the documentation of the
       open library fluids.
    """
    return 1.55 * ratio - ratio * ratio


@formula
def tee_coefficient_branch_converging(ratio: float, area_ratio: float) -> float:
    """Loss of a branch that joins a straight run at a right angle; negative where it is sucked.

    Parameters
    ----------
    ratio : float
        Flow of the branch over the joined flow, 0 to 1. [-]
    area_ratio : float
        Area of the branch over that of the run. [-]

    Returns
    -------
    float
        Loss coefficient on the velocity of the joined flow. [-]

    Notes
    -----
    Range: 90° tee. Crane [1]_, read second-hand. Its factor steps from 0.54 to 0.55 at a ratio of
    0.4; a ramp 0.04 wide over that step is ours, not the source's: a step has no answer to
    iterate to.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, TP 410 (2009), ch. 2, as given in the documentation of the
       open library fluids.
    """
    low, high = 0.4 - BRANCH_STEP, 0.4 + BRANCH_STEP
    if area_ratio <= 0.35:
        C = 1.0
    elif ratio <= low:
        C = 0.9 * (1.0 - ratio)
    elif ratio >= high:
        C = 0.55
    else:
        start = 0.9 * (1.0 - low)
        C = start + (0.55 - start) * (ratio - low) / (high - low)
    return C * (1.0 + (ratio / area_ratio) ** 2 - 2.0 * (1.0 - ratio) ** 2)


@formula
def tee_coefficient_run_diverging(ratio: float, area_ratio: float) -> float:
    """Loss of the straight leg where a branch leaves; negative where pressure recovers.

    Parameters
    ----------
    ratio : float
        Flow of the branch over the whole flow, 0 to 1. [-]
    area_ratio : float
        Area of the branch over that of the run. [-]

    Returns
    -------
    float
        Loss coefficient on the velocity of the whole flow. [-]

    Notes
    -----
    Range: tee or wye, run of one size. Crane [1]_, read second-hand.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, TP 410 (2009), ch. 2, as given in the documentation of the
       open library fluids.
    """
    if area_ratio <= 0.4:
        M = 0.4
    elif ratio <= 0.5:
        M = 2.0 * (2.0 * ratio - 1.0)
    else:
        M = 0.3 * (2.0 * ratio - 1.0)
    return M * ratio * ratio


@formula
def tee_coefficient_branch_diverging(ratio: float, area_ratio: float) -> float:
    """Loss of a branch that leaves a straight run at a right angle.

    Parameters
    ----------
    ratio : float
        Flow of the branch over the whole flow, 0 to 1. [-]
    area_ratio : float
        Area of the branch over that of the run. [-]

    Returns
    -------
    float
        Loss coefficient on the velocity of the whole flow. [-]

    Notes
    -----
    Range: 90° tee. Crane [1]_, read second-hand.

    References
    ----------
    .. [1] Crane Co., Flow of Fluids, TP 410 (2009), ch. 2, as given in the documentation of the
       open library fluids.
    """
    H = 1.0 if sqrt(area_ratio) <= 2.0 / 3.0 else 0.3
    G = 1.0 if area_ratio <= 2.0 / 3.0 else 1.0 + 0.3 * ratio * ratio
    return G * (1.0 + H * (ratio / area_ratio) ** 2)


@formula
def momentum_head_header(
    flow_faster: float, flow_slower: float, area: float, theta: float, gravity: float
) -> float:
    """Static head that a header gains where flow leaves it, or loses where flow joins.

    Parameters
    ----------
    flow_faster : float
        Header flow on the side that carries more. [m³/s]
    flow_slower : float
        Header flow on the other side. [m³/s]
    area : float
        Cross section of the header. [m²]
    theta : float
        Momentum factor: 1 in a dividing header (Bernoulli), 2 in a combining one. [-]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Rise of static head from the faster to the slower side. [m]

    Notes
    -----
    Range: idealised factors, not validated against a measured array; 0.8 to 1 dividing and 2 to
    2.2 combining have been tried. theta (V1² - V2²)/2g, the momentum balance of manifolds.
    """
    return theta * (flow_faster**2 - flow_slower**2) / (2.0 * gravity * area * area)
