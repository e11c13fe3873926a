"""Uncovered (WISC) collector after ISO 9806: heat, bank along the flow, stagnation, dry panel.

Efficiency above one is normal when the water is colder than the air, and is never clipped. The
long-wave excess is the irradiance of the plane less that of a black body at air temperature,
negative under a clear sky.
"""

from __future__ import annotations

import math

from noonwater.core.jit import formula

LONGWAVE_OVER_SUN = 0.85
"""[-] Emittance over absorptance where a certificate does not say, ISO 9806 unglazed steady-state
(from memory; the published conversion to quasi-dynamic coefficients confirms it)."""


@formula
def collector_gain(
    irradiance: float, wind_speed: float, longwave_excess: float, eta0: float, bu: float
) -> float:
    """Heat that the absorber takes when the water is as warm as the air.

    Parameters
    ----------
    irradiance : float
        Sun in the plane, each part already times its incidence angle modifier. [W/m²]
    wind_speed : float
        Wind speed in the plane. [m/s]
    longwave_excess : float
        Long-wave irradiance less that of a black body at air temperature. [W/m²]
    eta0 : float
        Efficiency without loss and without wind. [-]
    bu : float
        Its loss per wind speed. [s/m]

    Returns
    -------
    float
        Gain per area. [W/m²]

    Notes
    -----
    Range: wind up to 5 m/s, the ends of the test; the factor 1 - bu u is held at 0 beyond its
    root (ours, not the source's). eta0 (1 - bu u) G'', with G'' = G + 0.85 (EL - sigma Ta^4).

    References
    ----------
    .. [1] ISO 9806:2013, unglazed steady-state method (from memory for the form; its conversion
       read in an open building-physics library).
    """
    net = irradiance + LONGWAVE_OVER_SUN * longwave_excess
    return eta0 * max(1.0 - bu * wind_speed, 0.0) * net


@formula
def collector_loss_coefficient(wind_speed: float, b1: float, b2: float) -> float:
    """Heat loss per kelvin between water and air.

    Parameters
    ----------
    wind_speed : float
        Wind speed in the plane. [m/s]
    b1 : float
        Loss in still air. [W/(m²·K)]
    b2 : float
        Loss per wind speed. [J/(m³·K)]

    Returns
    -------
    float
        Loss coefficient. [W/(m²·K)]

    Notes
    -----
    Range: wind up to 5 m/s, the ends of the test.

    References
    ----------
    .. [1] ISO 9806:2013, unglazed steady-state method (from memory).
    """
    return b1 + b2 * wind_speed


@formula
def collector_heat_steady(
    irradiance: float,
    temp_mean: float,
    temp_air: float,
    wind_speed: float,
    longwave_excess: float,
    eta0: float,
    bu: float,
    b1: float,
    b2: float,
) -> float:
    """Heat of an uncovered collector at one mean water temperature, steady state.

    Parameters
    ----------
    irradiance : float
        Sun in the plane, each part already times its incidence angle modifier. [W/m²]
    temp_mean : float
        Mean of inlet and outlet temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    wind_speed : float
        Wind speed in the plane. [m/s]
    longwave_excess : float
        Long-wave irradiance less that of a black body at air temperature. [W/m²]
    eta0 : float
        Efficiency without loss and without wind. [-]
    bu : float
        Its loss per wind speed. [s/m]
    b1 : float
        Loss in still air. [W/(m²·K)]
    b2 : float
        Loss per wind speed. [J/(m³·K)]

    Returns
    -------
    float
        Heat per area; negative cools the water. [W/m²]

    Notes
    -----
    Range: as `collector_gain`. eta0 (1 - bu u) G'' - (b1 + b2 u)(Tm - Ta).

    References
    ----------
    .. [1] ISO 9806:2013, unglazed steady-state method (from memory).
    """
    gain = collector_gain(irradiance, wind_speed, longwave_excess, eta0, bu)
    return gain - collector_loss_coefficient(wind_speed, b1, b2) * (temp_mean - temp_air)


@formula
def collector_heat_quasi_dynamic(
    irradiance_modified: float,
    irradiance: float,
    temp_mean: float,
    temp_air: float,
    wind_speed: float,
    longwave_excess: float,
    temp_rate: float,
    eta0: float,
    c1: float,
    c2: float,
    c3: float,
    c4: float,
    c5: float,
    c6: float,
) -> float:
    """Heat of a collector by the quasi-dynamic equation.

    Parameters
    ----------
    irradiance_modified : float
        Beam and diffuse sun in the plane, each times its incidence angle modifier. [W/m²]
    irradiance : float
        Sun in the plane, unmodified. [W/m²]
    temp_mean : float
        Mean of inlet and outlet temperature. [°C]
    temp_air : float
        Air temperature. [°C]
    wind_speed : float
        Wind speed in the plane. [m/s]
    longwave_excess : float
        Long-wave irradiance less that of a black body at air temperature. [W/m²]
    temp_rate : float
        Rise of the mean temperature. [K/s]
    eta0 : float
        Efficiency without loss. [-]
    c1 : float
        Loss. [W/(m²·K)]
    c2 : float
        Loss that grows with the temperature difference. [W/(m²·K²)]
    c3 : float
        Loss per wind speed. [J/(m³·K)]
    c4 : float
        Share of the long-wave excess. [-]
    c5 : float
        Heat capacity. [J/(m²·K)]
    c6 : float
        Loss of efficiency per wind speed. [s/m]

    Returns
    -------
    float
        Heat per area; negative cools the water. [W/m²]

    Notes
    -----
    Range: that of the certificate. Numbers after ISO 9806:2013; the edition of 2017 renumbers to
    a1..a8 and counts wind from 3 m/s (from memory), so don't mix them.

    References
    ----------
    .. [1] ISO 9806:2013, quasi-dynamic equation (read in an open building-physics library).
    """
    excess = temp_mean - temp_air
    loss = excess * (c1 + c2 * excess + c3 * wind_speed)
    sky = c4 * longwave_excess - c6 * wind_speed * irradiance
    return eta0 * irradiance_modified - loss + sky - c5 * temp_rate


@formula
def irradiance_modified(
    irradiance_beam: float, irradiance_diffuse: float, iam_beam: float, iam_diffuse: float
) -> float:
    """Sun in the plane after its incidence angle modifiers.

    Parameters
    ----------
    irradiance_beam : float
        Beam sun in the plane. [W/m²]
    irradiance_diffuse : float
        Diffuse sun in the plane, sky and ground. [W/m²]
    iam_beam : float
        Modifier of the beam at its angle. [-]
    iam_diffuse : float
        Modifier of the diffuse sun. [-]

    Returns
    -------
    float
        Sun as at normal incidence. [W/m²]

    Notes
    -----
    Range: modifiers 0 to about 1.

    References
    ----------
    .. [1] ISO 9806:2013, quasi-dynamic equation (read in an open building-physics library).
    """
    return iam_beam * irradiance_beam + iam_diffuse * irradiance_diffuse


@formula
def heat_of_bank(
    gain: float,
    loss_coefficient: float,
    temp_inlet: float,
    temp_air: float,
    capacity_rate: float,
) -> float:
    """Heat of an area through which water flows once, evenly.

    Parameters
    ----------
    gain : float
        Gain per area, see `collector_gain`. [W/m²]
    loss_coefficient : float
        Loss from the water to the air. [W/(m²·K)]
    temp_inlet : float
        Water temperature at the inlet. [°C]
    temp_air : float
        Air temperature. [°C]
    capacity_rate : float
        Mass flow times heat capacity per area. [W/(m²·K)]

    Returns
    -------
    float
        Heat per area; negative cools the water. [W/m²]; 0 without flow.

    Notes
    -----
    Range: loss coefficient 0 or more, alike along the flow. The heat at the inlet's temperature
    times (1 - exp(-x))/x with x = loss coefficient over capacity rate.

    References
    ----------
    .. [1] Duffie, J. A. and Beckman, W. A., Solar Engineering of Thermal Processes, flow factor,
       ch. 6 (from memory); the exact integral of the balance along the flow.
    """
    if capacity_rate <= 0.0:
        return 0.0
    inlet_heat = gain - loss_coefficient * (temp_inlet - temp_air)
    units = loss_coefficient / capacity_rate
    if units < 1e-6:
        return inlet_heat
    return inlet_heat * (1.0 - math.exp(-units)) / units


@formula
def temp_outlet_bank(
    gain: float,
    loss_coefficient: float,
    temp_inlet: float,
    temp_air: float,
    capacity_rate: float,
) -> float:
    """Water temperature at the outlet of an area.

    Parameters
    ----------
    gain : float
        Gain per area, see `collector_gain`. [W/m²]
    loss_coefficient : float
        Loss from the water to the air. [W/(m²·K)]
    temp_inlet : float
        Water temperature at the inlet. [°C]
    temp_air : float
        Air temperature. [°C]
    capacity_rate : float
        Mass flow times heat capacity per area. [W/(m²·K)]

    Returns
    -------
    float
        Outlet temperature. [°C]; without flow the stagnation temperature.

    Notes
    -----
    Range: as `heat_of_bank`.
    """
    if capacity_rate <= 0.0:
        return temp_stagnation(gain, loss_coefficient, temp_air)
    heat = heat_of_bank(gain, loss_coefficient, temp_inlet, temp_air, capacity_rate)
    return temp_inlet + heat / capacity_rate


@formula
def temp_stagnation(gain: float, loss_coefficient: float, temp_air: float) -> float:
    """Temperature of a panel without flow, once settled.

    Parameters
    ----------
    gain : float
        Gain per area, see `collector_gain`; negative at night. [W/m²]
    loss_coefficient : float
        Loss to the air, above 0. [W/(m²·K)]
    temp_air : float
        Air temperature. [°C]

    Returns
    -------
    float
        Panel temperature. [°C]

    Notes
    -----
    Range: loss linear in the difference, so tens of kelvin at most. By day the hottest a plastic
    panel gets; at night the coldest.
    """
    return temp_air + gain / loss_coefficient


@formula
def time_constant_panel(heat_capacity: float, loss_coefficient: float) -> float:
    """Time in which a panel without flow goes 63 % of its way.

    Parameters
    ----------
    heat_capacity : float
        Heat capacity, dry or filled. [J/(m²·K)]
    loss_coefficient : float
        Loss to the air, above 0. [W/(m²·K)]

    Returns
    -------
    float
        Time constant. [s]

    Notes
    -----
    Range: one lump of one temperature.
    """
    return heat_capacity / loss_coefficient


@formula
def temp_after(temp_start: float, temp_end: float, time: float, time_constant: float) -> float:
    """Temperature on its way to a settled value.

    Parameters
    ----------
    temp_start : float
        Temperature at the start. [°C]
    temp_end : float
        Settled temperature. [°C]
    time : float
        Time since the start. [s]
    time_constant : float
        Time constant, above 0. [s]

    Returns
    -------
    float
        Temperature. [°C]

    Notes
    -----
    Range: steady weather during the time. Exact for the linear balance, stable at any step.
    """
    return temp_end + (temp_start - temp_end) * math.exp(-time / time_constant)
