"""Valves that a hand sets, and a hole in a shut one."""

from __future__ import annotations

from math import exp, log, pi

from noonwater.core.jit import formula

OPENING_LEAST = 0.02
"""[-] A valve less open than this, 2° of the handle, counts as shut: ours."""


@formula
def valve_coefficient(K_open: float, opening: float) -> float:
    """Loss coefficient of a hand-set ball valve that stands partly open.

    Parameters
    ----------
    K_open : float
        Loss coefficient, wide open. [-]
    opening : float
        How far it is open, `OPENING_LEAST` to 1: the handle's way from shut. [-]

    Returns
    -------
    float
        Loss coefficient on the pipe's velocity. [-]

    Notes
    -----
    Range: handle 0 to 65° from open, the table of a plug cock [1]_: 0.05, 0.29, 1.56, 5.5, 17.3,
    52.6, 206, 486 at 5, 10, 20, 30, 40, 50, 60, 65°, added to `K_open`. A ball valve's 5.5 a third
    and 210 two thirds shut [2]_ are the same within 2 %. Between them ln K goes by a straight line
    with the angle, below 10° K goes with the angle to the power 2.54, and from 65° to shut ln K
    goes on as from 60 to 65°: ours, not the source's. A real valve is set by what is measured.

    References
    ----------
    .. [1] Table of fittings in a public engineering note (5, 10, 20, 40, 60°), read; 50 and 65°,
       the classical stopcock values, from memory.
    .. [2] Munson, Okiishi, Huebsch and Rothmayer, Fundamentals of Fluid Mechanics, Table 8.2, read
       as a page copied by others.
    """
    angle = handle_angle_valve(opening)
    if angle <= 10.0:
        small: float = (angle / 10.0) ** 2.54
        return K_open + 0.29 * small
    # Above the last pair the slope from 60 to 65 degrees goes on.
    low, high, at_low, at_high = 60.0, 65.0, 206.0, 486.0
    if angle <= 20.0:
        low, high, at_low, at_high = 10.0, 20.0, 0.29, 1.56
    elif angle <= 30.0:
        low, high, at_low, at_high = 20.0, 30.0, 1.56, 5.5
    elif angle <= 40.0:
        low, high, at_low, at_high = 30.0, 40.0, 5.5, 17.3
    elif angle <= 50.0:
        low, high, at_low, at_high = 40.0, 50.0, 17.3, 52.6
    elif angle <= 60.0:
        low, high, at_low, at_high = 50.0, 60.0, 52.6, 206.0
    growth: float = exp(log(at_high / at_low) * (angle - low) / (high - low))
    return K_open + at_low * growth


@formula
def handle_angle_valve(opening: float) -> float:
    """Angle of a quarter-turn valve's handle to the pipe.

    Parameters
    ----------
    opening : float
        How far it is open, 0 to 1: the handle's way from shut. [-]

    Returns
    -------
    float
        0 along the pipe, open, to 90 across it, shut. [°]

    Notes
    -----
    Definition.
    """
    return 90.0 * (1.0 - opening)


@formula
def resistance_orifice(diameter: float, discharge: float, gravity: float) -> float:
    """Head that a small hole takes, per square of the flow through it.

    Parameters
    ----------
    diameter : float
        Of the hole. [m]
    discharge : float
        Discharge coefficient: 0.6 to 0.62 of a sharp edge, about 0.8 of a hole as deep as wide. [-]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        h / Q². [m/(m³/s)²]

    Notes
    -----
    Range: a hole much smaller than the pipe on either side, Re above some thousand in the hole.
    Q = C A sqrt(2 g h), Torricelli's law with a contracted jet [1]_.

    References
    ----------
    .. [1] Munson, Okiishi, Huebsch and Rothmayer, Fundamentals of Fluid Mechanics, section 3.6;
       coefficients from memory.
    """
    through = discharge * 0.25 * pi * diameter * diameter
    return 1.0 / (2.0 * gravity * through * through)
