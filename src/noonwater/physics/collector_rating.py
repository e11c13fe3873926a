"""From a panel's test row to the coefficients of the model, and incidence angle modifiers.

A row of an ASHRAE 96 type test is on inlet temperature, gross area, one flow, and a wind and a sky
that the row does not state. They enter here as arguments on purpose: carry them as uncertain.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from noonwater.core.jit import formula
from noonwater.physics.collector import LONGWAVE_OVER_SUN

TEST_WIND_RANGE = (1.0, 3.0, 4.5)
"""[m/s] Low, middle, high wind of an outdoor test of unglazed panels whose row does not state it
(from memory of the test standards' limits; the middle is what the published conversion to
quasi-dynamic coefficients assumes)."""

WIND_SLOPE_RANGE = (1.1, 1.7, 4.0)
"""[J/(m³·K)] Low, middle, high loss per wind speed: 1.1 and 1.7 from certified uncovered
collectors (read), 4.0 bare polymer (from memory)."""

BU_RANGE = (0.0, 0.02, 0.067)
"""[s/m] Low, middle, high loss of efficiency per wind speed: 0.01 to 0.05 bare polymer (from
memory), 0.067 an uncovered hybrid module (read)."""


@formula
def loss_coefficient_from_inlet(loss_coefficient_inlet: float, capacity_rate: float) -> float:
    """Loss on local water temperature from the loss on inlet temperature (FR UL to F' UL).

    Parameters
    ----------
    loss_coefficient_inlet : float
        Slope of the test row, positive. [W/(m²·K)]
    capacity_rate : float
        Test flow times heat capacity per area, above the slope. [W/(m²·K)]

    Returns
    -------
    float
        Loss from the water to the air. [W/(m²·K)]

    Notes
    -----
    Range: slope below the capacity rate. -mc ln(1 - FR UL/mc); eta0 grows by the same ratio. With
    the result `heat_of_bank` gives the test row again at the test flow.

    References
    ----------
    .. [1] Duffie, J. A. and Beckman, W. A., Solar Engineering of Thermal Processes, ch. 6, test
       corrections (from memory); the exact inverse of the balance along the flow.
    """
    return -capacity_rate * math.log(1.0 - loss_coefficient_inlet / capacity_rate)


@formula
def efficiency_from_inlet(
    efficiency_inlet: float, loss_coefficient_inlet: float, capacity_rate: float
) -> float:
    """Efficiency without loss on local water temperature (FR ta to F' ta).

    Parameters
    ----------
    efficiency_inlet : float
        Intercept of the test row. [-]
    loss_coefficient_inlet : float
        Slope of the test row, positive. [W/(m²·K)]
    capacity_rate : float
        Test flow times heat capacity per area, above the slope. [W/(m²·K)]

    Returns
    -------
    float
        Efficiency without loss. [-]

    Notes
    -----
    Range: slope above 0 and below the capacity rate.

    References
    ----------
    .. [1] As `loss_coefficient_from_inlet`.
    """
    mean = loss_coefficient_from_inlet(loss_coefficient_inlet, capacity_rate)
    return efficiency_inlet * mean / loss_coefficient_inlet


@formula
def efficiency_inlet(
    intercept: float, slope: float, curve: float, temp_excess: float, irradiance: float
) -> float:
    """Efficiency of a test row as it is printed.

    Parameters
    ----------
    intercept : float
        FR ta of the row. [-]
    slope : float
        First coefficient with the row's sign, usually negative. [W/(m²·K)]
    curve : float
        Second coefficient with the row's sign. [W/(m²·K²)]
    temp_excess : float
        Inlet less air temperature. [K]
    irradiance : float
        Sun in the plane, above 0. [W/m²]

    Returns
    -------
    float
        Efficiency on gross area; above 1 is possible and kept. [-]

    Notes
    -----
    Range: that of the test, its flow and its unstated wind.

    References
    ----------
    .. [1] Form of the ASHRAE 93/96 correlation in a certification directory of 2007 (read).
    """
    return intercept + (slope + curve * temp_excess) * temp_excess / irradiance


@formula
def flow_factor(
    loss_coefficient: float, capacity_rate_use: float, capacity_rate_test: float
) -> float:
    """Ratio of both row coefficients at another flow to those at the test flow.

    Parameters
    ----------
    loss_coefficient : float
        Loss from the water to the air (F' UL). [W/(m²·K)]
    capacity_rate_use : float
        Flow in use times heat capacity per area. [W/(m²·K)]
    capacity_rate_test : float
        Test flow times heat capacity per area. [W/(m²·K)]

    Returns
    -------
    float
        Factor. [-]

    Notes
    -----
    Range: flows above 0; less flow than about a third of the test's also lowers F', which this
    does not know.

    References
    ----------
    .. [1] Duffie, J. A. and Beckman, W. A., Solar Engineering of Thermal Processes, ch. 6, flow
       rate correction (from memory).
    """
    use = capacity_rate_use * (1.0 - math.exp(-loss_coefficient / capacity_rate_use))
    test = capacity_rate_test * (1.0 - math.exp(-loss_coefficient / capacity_rate_test))
    return use / test


@formula
def loss_still_air(loss_coefficient: float, wind_speed_test: float, wind_slope: float) -> float:
    """Still-air part of a loss that was tested in wind.

    Parameters
    ----------
    loss_coefficient : float
        Loss from the water to the air as tested. [W/(m²·K)]
    wind_speed_test : float
        Wind speed at the test, uncertain, see `TEST_WIND_RANGE`. [m/s]
    wind_slope : float
        Loss per wind speed (b2), uncertain, see `WIND_SLOPE_RANGE`. [J/(m³·K)]

    Returns
    -------
    float
        Loss in still air (b1). [W/(m²·K)]; held at a third of the tested loss (ours).

    Notes
    -----
    Range: wind 0 to 5 m/s. Inverse of b1 + b2 u.

    References
    ----------
    .. [1] ISO 9806:2013, unglazed steady-state method (from memory).
    """
    return max(loss_coefficient - wind_slope * wind_speed_test, loss_coefficient / 3.0)


@formula
def efficiency_still_air(
    efficiency: float,
    wind_speed_test: float,
    bu: float,
    longwave_excess_test: float,
    irradiance_test: float,
) -> float:
    """Efficiency without loss, wind and sky, from one tested under a sky in wind.

    Parameters
    ----------
    efficiency : float
        Efficiency without loss as tested, on total sun. [-]
    wind_speed_test : float
        Wind speed at the test, uncertain. [m/s]
    bu : float
        Loss of efficiency per wind speed, uncertain, see `BU_RANGE`. [s/m]
    longwave_excess_test : float
        Long-wave excess of the sky at the test, 0 indoors, -50 to -100 outdoors. [W/m²]
    irradiance_test : float
        Sun at the test. [W/m²]

    Returns
    -------
    float
        eta0 of `collector_gain`. [-]

    Notes
    -----
    Range: clear-sky test. A row on total sun has the sky's loss inside its intercept; a model that
    takes the sky's loss by itself would count it twice, 7 % at -80 W/m² and 900 W/m². Whether a
    directory has already corrected its rows is not stated: an uncertain input.

    References
    ----------
    .. [1] ISO 9806:2013, unglazed steady-state method, solved for eta0 (ours).
    """
    sky = 1.0 + LONGWAVE_OVER_SUN * longwave_excess_test / irradiance_test
    return efficiency / ((1.0 - bu * wind_speed_test) * sky)


@formula
def coefficients_quasi_dynamic(
    eta0: float, bu: float, b1: float, b2: float
) -> tuple[float, float, float, float]:
    """Quasi-dynamic coefficients from those of the steady-state method.

    Parameters
    ----------
    eta0 : float
        Efficiency without loss and wind. [-]
    bu : float
        Its loss per wind speed. [s/m]
    b1 : float
        Loss in still air. [W/(m²·K)]
    b2 : float
        Loss per wind speed. [J/(m³·K)]

    Returns
    -------
    tuple of float
        c1 [W/(m²·K)], c3 [J/(m³·K)], c4 [-], c6 [s/m].

    Notes
    -----
    Range: exact at 3 m/s; under -80 W/m² within 4 W/m² from 1.5 to 4.5 m/s, 6 at 0.5.
    c1 = b1, c3 = b2, c4 = 0.85 eta0 (1 - 3 bu), c6 = bu eta0.

    References
    ----------
    .. [1] Conversion of the European certification network, 2019 (read in an open
       building-physics library).
    """
    return b1, b2, LONGWAVE_OVER_SUN * eta0 * (1.0 - 3.0 * bu), bu * eta0


@formula
def iam_ashrae(incidence: float, iam_slope: float, iam_curve: float) -> float:
    """Incidence angle modifier in the form of the test rows.

    Parameters
    ----------
    incidence : float
        Angle of the beam on the plane. [°]
    iam_slope : float
        First coefficient with the row's sign, usually negative. [-]
    iam_curve : float
        Second coefficient with the row's sign. [-]

    Returns
    -------
    float
        Modifier. [-]

    Notes
    -----
    Range: 0 to 60° in the tests. 1 + iam_slope s + iam_curve s² with s = 1/cos - 1. It runs
    away near 90°: above 60° it falls from its value there in a straight line to 0 at 90°, and
    never below 0 (ours, not the source's).

    References
    ----------
    .. [1] ASHRAE 93 form in a certification directory of 2007 (read).
    """
    angle = abs(incidence)
    if angle >= 90.0:
        return 0.0
    secant = 1.0 / math.cos(math.radians(min(angle, 60.0))) - 1.0
    modifier = max(1.0 + secant * (iam_slope + iam_curve * secant), 0.0)
    if angle <= 60.0:
        return modifier
    return modifier * (90.0 - angle) / 30.0


@formula
def iam_table(
    incidence: float, angles: NDArray[np.float64], modifiers: NDArray[np.float64]
) -> float:
    """Incidence angle modifier between the points of a certificate's table.

    Parameters
    ----------
    incidence : float
        Angle of the beam on the plane. [°]
    angles : ndarray, shape (n,)
        Angles of the table, rising. [°]
    modifiers : ndarray, shape (n,)
        Modifiers of the table. [-]

    Returns
    -------
    float
        Modifier. [-]; the end values hold beyond the table.

    Notes
    -----
    Range: that of the table. Straight lines between its points, as ISO 9806 has it (from memory).
    """
    return float(np.interp(abs(incidence), angles, modifiers))
