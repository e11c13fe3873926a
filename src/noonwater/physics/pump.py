"""The filter pump: head, wire power, and how both follow its speed."""

from __future__ import annotations

from noonwater.core.jit import formula


@formula
def pump_head(
    flow: float, speed_ratio: float, head_shutoff: float, fall: float, exponent: float
) -> float:
    """Head of a pump at a share of its rated speed.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    speed_ratio : float
        Turning speed over rated speed. [-]
    head_shutoff : float
        Head at rated speed without flow. [m]
    fall : float
        Coefficient of the curve's fall. [m/(m³/s)^exponent]
    exponent : float
        Exponent of the curve's fall. [-]

    Returns
    -------
    float
        Head. [m]

    Notes
    -----
    Range: flow from 0 to the end of the measured curve; against backward flow the curve is
    continued as an odd function, ours, so that a solver is pushed back. H = H0 n² - a n^(2-b) Q^b:
    the affinity laws. Measured rows follow them within their rounding at half speed.
    """
    return pump_head_slope(flow, speed_ratio, head_shutoff, fall, exponent)[0]


@formula
def pump_head_slope(
    flow: float, speed_ratio: float, head_shutoff: float, fall: float, exponent: float
) -> tuple[float, float]:
    """Head of a pump, and its change with the flow.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    speed_ratio : float
        Turning speed over rated speed, above 0. [-]
    head_shutoff : float
        Head at rated speed without flow. [m]
    fall : float
        Coefficient of the curve's fall. [m/(m³/s)^exponent]
    exponent : float
        Exponent of the curve's fall. [-]

    Returns
    -------
    tuple of float
        Head [m] and its derivative, never positive [s/m²].

    Notes
    -----
    Range and source: `pump_head`.
    """
    size = abs(flow)
    unit = fall * speed_ratio ** (2.0 - exponent) * size ** (exponent - 1.0)
    return head_shutoff * speed_ratio**2 - unit * flow, -exponent * unit


@formula
def pump_power(
    flow: float, speed_ratio: float, power_floor: float, power_turning: float, power_flow: float
) -> float:
    """Electric power that a pump draws at the wire.

    Parameters
    ----------
    flow : float
        Volume flow, not negative. [m³/s]
    speed_ratio : float
        Turning speed over rated speed. [-]
    power_floor : float
        Drive and display, at any speed. [W]
    power_turning : float
        Coefficient of the cube of the speed. [W]
    power_flow : float
        Coefficient of the square of the speed times the flow. [W/(m³/s)]

    Returns
    -------
    float
        Power; 0 where the pump stands. [W]

    Notes
    -----
    Range: 450 to 3450 rpm. P0 + c3 n³ + c2 n² Q, fitted to nine measured points of one pump
    (residuals within 33 W at full speed and 5 W at 650 rpm and below). The total then goes with
    the speed to the power 2.0 to 2.4 as measured, not 3: the floor does not shrink.
    """
    if speed_ratio <= 0.0:
        return 0.0
    return power_floor + power_turning * speed_ratio**3 + power_flow * speed_ratio**2 * flow


@formula
def hydraulic_power(flow: float, head: float, density: float, gravity: float) -> float:
    """Power that water gains from a pump or loses at a resistance.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    head : float
        Head. [m]
    density : float
        Density of the water. [kg/m³]
    gravity : float
        Acceleration of free fall. [m/s²]

    Returns
    -------
    float
        Power. [W]

    Notes
    -----
    Exact.
    """
    return density * gravity * flow * head


@formula
def energy_factor(flow: float, power: float) -> float:
    """Water moved for a unit of electric energy.

    Parameters
    ----------
    flow : float
        Volume flow. [m³/s]
    power : float
        Electric power. [W]

    Returns
    -------
    float
        Volume for energy. [m³/J]

    Notes
    -----
    Definition of the energy factor in the ENERGY STAR list of pool pumps (read), there in gal/Wh.
    """
    return flow / power


@formula
def weighted_energy_factor(
    flow_low: float, power_low: float, flow_high: float, power_high: float
) -> float:
    """Energy factor of a variable-speed pump over its two load points.

    Parameters
    ----------
    flow_low : float
        Flow at the low load point. [m³/s]
    power_low : float
        Electric power there. [W]
    flow_high : float
        Flow at the high load point. [m³/s]
    power_high : float
        Electric power there. [W]

    Returns
    -------
    float
        Volume for energy. [m³/J]

    Notes
    -----
    Definition, with weights 0.8 low and 0.2 high: 10 CFR 431 Subpart Y, appendix C, from memory.
    """
    return (0.8 * flow_low + 0.2 * flow_high) / (0.8 * power_low + 0.2 * power_high)
