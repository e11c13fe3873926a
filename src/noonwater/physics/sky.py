"""Long-wave exchange with sky and ground."""

from __future__ import annotations

import math

from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.core.jit import formula

EMISSIVITY_WATER = 0.95
"""[-] Long-wave emissivity of a pool, ISO/TR 12596 as quoted by Kalogirou, Solar Energy
Engineering ch. 5 (read second-hand). Physics books give 0.96."""

EMISSIVITY_GROUND = 0.95
"""[-] Ground seen by a tilted plane (read in an open building-physics library)."""

CLOUD_FACTOR = 0.784
"""[-] Share of the clear sky's gap to black that full cloud closes. Public codes use 0.784, 0.467
and 0.9 (read); see decision 0004."""

LONGWAVE_DOUBT = 25.0
"""[W/m²] To be carried on any computed sky radiation: no formula is right by day and under a
night's inversion, see decision 0004."""


@formula
def emissivity_sky_berdahl_martin_mean(dew_point: float) -> float:
    """Clear-sky emissivity, mean over the day, at sea level.

    Parameters
    ----------
    dew_point : float
        Dew point of the air near the ground. [°C]

    Returns
    -------
    float
        Emissivity of the clear sky. [-]

    Notes
    -----
    Range: dew points of -13 to 24 °C in the source (from memory). Below -38 °C the parabola turns
    up again; held at its lowest point there (ours, not the source's).

    References
    ----------
    .. [1] Berdahl, P. and Martin, M., Emissivity of clear skies, Solar Energy 32(5), 1984,
       663-664; 0.711 + 0.56 (Td/100) + 0.73 (Td/100)² (read in an open building-physics library).
    """
    hundredth = max(dew_point, -38.356) / 100.0
    return 0.711 + hundredth * (0.56 + 0.73 * hundredth)


@formula
def emissivity_sky_berdahl_martin(
    dew_point: float, hour_solar: float, pressure_air: float
) -> float:
    """Clear-sky emissivity at an hour of the day and a pressure.

    Parameters
    ----------
    dew_point : float
        Dew point of the air near the ground. [°C]
    hour_solar : float
        Hour of solar time; 0 and 24 are solar midnight. [h]
    pressure_air : float
        Air pressure. [Pa]

    Returns
    -------
    float
        Emissivity of the clear sky. [-]

    Notes
    -----
    Range: as the mean form. Adds 0.013 cos(2 pi t/24) and 0.00012 (P - 1000 hPa).

    References
    ----------
    .. [1] Berdahl and Martin 1984 as in the mean form; the two added terms Martin, M. and
       Berdahl, P., Characteristics of infrared sky radiation in the United States, Solar Energy
       33, 1984, 321-336 (from memory).
    """
    hour_term = 0.013 * math.cos(0.2617993877991494 * hour_solar)
    pressure_term = 0.00012 * (0.01 * pressure_air - 1000.0)
    return emissivity_sky_berdahl_martin_mean(dew_point) + hour_term + pressure_term


@formula
def emissivity_sky_walton(dew_point: float, temp_air: float, cloud_cover: float) -> float:
    """Sky emissivity after Clark and Allen, with Walton's cloud polynomial.

    Parameters
    ----------
    dew_point : float
        Dew point of the air near the ground. [°C]
    temp_air : float
        Air temperature; a dew point above it is read as saturated air. [°C]
    cloud_cover : float
        Opaque cloud cover as a fraction, 0 to 1. [-]

    Returns
    -------
    float
        Emissivity of the sky. [-]

    Notes
    -----
    Range: the convention of typical-year weather files, whose infrared columns are mostly this
    formula and not measured. The limit by air temperature is ours, not the source's.

    References
    ----------
    .. [1] Walton, G. N., Thermal analysis research program reference manual, NBSIR 83-2655, 1983;
       Clark, G. and Allen, C., The estimation of atmospheric radiation for clear and cloudy
       skies, 1978 (read second-hand in an engineering reference on weather conversions).
    """
    kelvin = min(dew_point, temp_air) + KELVIN
    tenths = 10.0 * cloud_cover
    cloud = 1.0 + tenths * (0.0224 + tenths * (-0.0035 + 0.00028 * tenths))
    return (0.787 + 0.764 * math.log(kelvin / 273.0)) * cloud


@formula
def emissivity_cloudy(emissivity_clear: float, cloud_cover: float, cloud_factor: float) -> float:
    """Sky emissivity under cloud.

    Parameters
    ----------
    emissivity_clear : float
        Emissivity of the clear sky. [-]
    cloud_cover : float
        Opaque cloud cover as a fraction, 0 to 1. [-]
    cloud_factor : float
        Share of the gap to black that full cloud closes, see `CLOUD_FACTOR`. [-]

    Returns
    -------
    float
        Emissivity of the sky. [-]

    Notes
    -----
    Range: cover and factor 0 to 1.

    References
    ----------
    .. [1] Form and factors in public building-physics codes after Martin and Berdahl 1984 (read).
    """
    return emissivity_clear + (1.0 - emissivity_clear) * cloud_factor * cloud_cover


@formula
def longwave_emitted(temp: float, emissivity: float) -> float:
    """Long-wave radiation sent out by a surface.

    Parameters
    ----------
    temp : float
        Temperature of the surface. [°C]
    emissivity : float
        Emissivity. [-]

    Returns
    -------
    float
        Radiation sent out. [W/m²]

    Notes
    -----
    Range: grey surface. Stefan-Boltzmann law, constant of CODATA 2018.
    """
    square = (temp + KELVIN) * (temp + KELVIN)
    return emissivity * STEFAN_BOLTZMANN * square * square


@formula
def longwave_sky(emissivity: float, temp_air: float) -> float:
    """Long-wave radiation of the sky on a level plane.

    Parameters
    ----------
    emissivity : float
        Emissivity of the sky, referred to air temperature. [-]
    temp_air : float
        Air temperature. [°C]

    Returns
    -------
    float
        Downward long-wave irradiance. [W/m²]

    Notes
    -----
    Range: carry `LONGWAVE_DOUBT`. Definition of the sky's emissivity.
    """
    return longwave_emitted(temp_air, emissivity)


@formula
def longwave_on_tilt(longwave_sky: float, longwave_ground: float, tilt: float) -> float:
    """Long-wave irradiance of a tilted plane.

    Parameters
    ----------
    longwave_sky : float
        Sky radiation on a level plane. [W/m²]
    longwave_ground : float
        Radiation sent out by ground and surroundings. [W/m²]
    tilt : float
        Slope of the plane; 0 level, 90 upright. [°]

    Returns
    -------
    float
        Long-wave irradiance of the plane. [W/m²]

    Notes
    -----
    Range: free horizon, sky alike in all directions. View of the sky (1 + cos tilt)/2 (read in an
    open building-physics library).
    """
    view_sky = 0.5 * (1.0 + math.cos(math.radians(tilt)))
    return view_sky * longwave_sky + (1.0 - view_sky) * longwave_ground


@formula
def longwave_net(temp_surface: float, longwave_down: float, emissivity: float) -> float:
    """Long-wave heat that a surface gains.

    Parameters
    ----------
    temp_surface : float
        Temperature of the surface. [°C]
    longwave_down : float
        Long-wave irradiance of the surface. [W/m²]
    emissivity : float
        Emissivity, equal to absorptance. [-]

    Returns
    -------
    float
        Net gain; negative is a loss, the usual case. [W/m²]

    Notes
    -----
    Range: grey surface that sees no other warm surface. Kirchhoff's and Stefan-Boltzmann's laws.
    """
    return emissivity * longwave_down - longwave_emitted(temp_surface, emissivity)


@formula
def temp_sky(longwave: float) -> float:
    """Temperature of a black sky of the same radiation.

    Parameters
    ----------
    longwave : float
        Downward long-wave irradiance. [W/m²]

    Returns
    -------
    float
        Sky temperature. [°C]

    Notes
    -----
    Range: positive radiation. Stefan-Boltzmann law.
    """
    return math.sqrt(math.sqrt(longwave / STEFAN_BOLTZMANN)) - KELVIN
