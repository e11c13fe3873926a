"""Sun and weather at each step of the year, and the sun on each plane."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.outside import sun_outside_of_day
from noonwater.climate.sun_path import steps_in_hour, sun_position
from noonwater.climate.weather_year import FloatArray, WeatherYear, frozen_copy
from noonwater.core.errors import Fault, InputError


@dataclass(frozen=True, eq=False)
class SunSteps:
    """Sun at the middle of each step; arrays of 8760 x 3600 / step_seconds.

    Attributes
    ----------
    step_seconds : int
        Length of a step. [s]
    height : array
        Apparent height over the horizon, refraction included. [°]
    azimuth : array
        Clockwise from north. [°]
    sun_global, sun_diffuse : array
        On the level. [W/m²]
    sun_beam : array
        Square to the sun. [W/m²]
    sun_outside : array
        Square to the sun, outside the atmosphere. [W/m²]
    """

    step_seconds: int
    height: FloatArray
    azimuth: FloatArray
    sun_global: FloatArray
    sun_beam: FloatArray
    sun_diffuse: FloatArray
    sun_outside: FloatArray


@dataclass(frozen=True, eq=False)
class PlaneSun:
    """Sun on a plane at each step.

    Attributes
    ----------
    beam, sky, ground : array
        Straight from the sun, from the rest of the sky (its bright ring round the sun included),
        and sent back by the ground. [W/m²]
    incidence_cosine : array
        Cosine of the angle between the sun and the plane's normal; zero with the sun behind the
        plane or below the horizon. [-]
    """

    beam: FloatArray
    sky: FloatArray
    ground: FloatArray
    incidence_cosine: FloatArray


@dataclass(frozen=True, eq=False)
class WeatherSteps:
    """Weather at the middle of each step; arrays of 8760 x 3600 / step_seconds.

    Attributes
    ----------
    step_seconds : int
        Length of a step. [s]
    temp_air, dew_point : array
        [°C]
    vapour_pressure, pressure : array
        [Pa]
    wind_speed : array
        At 10 m over open ground. [m/s]
    longwave_sky : array
        [W/m²]
    """

    step_seconds: int
    temp_air: FloatArray
    dew_point: FloatArray
    vapour_pressure: FloatArray
    wind_speed: FloatArray
    pressure: FloatArray
    longwave_sky: FloatArray


def sun_steps(weather: WeatherYear, step_seconds: int) -> SunSteps:
    """Spread each hour's sun over its steps.

    Parameters
    ----------
    weather : WeatherYear
        Hourly year.
    step_seconds : int
        Length of a step, a whole part of an hour. [s]

    Returns
    -------
    SunSteps
        Global keeps each hour's mean exactly; so does beam wherever a step of the hour has the sun
        up and the hour's global can hold it. Diffuse is the remainder, global less beam on the
        level in every step, so it takes over what the source's three values fail to close by.

    Raises
    ------
    InputError
        When the step is not a whole part of an hour.

    Notes
    -----
    Ours, not a source's: beam is even over the steps with the sun up, diffuse goes with the sine
    of the sun's height; light before sunrise stays with the hour's lit steps, and in an hour
    without one it is even and diffuse. Beam never exceeds the sun outside the atmosphere.
    """
    steps = steps_in_hour(step_seconds)
    height, azimuth = sun_position(
        weather.latitude, weather.longitude, weather.utc_offset, step_seconds
    )
    sine = np.sin(np.radians(np.maximum(height, 0.0))).reshape(-1, steps)
    lit = sine > 0.0
    outside = np.repeat(sun_outside_of_day(), 24 * steps).reshape(-1, steps)
    share = lit * (steps / np.maximum(lit.sum(axis=1), 1))[:, None]
    beam = np.minimum(weather.sun_beam[:, None] * share, outside)
    level = (beam * sine).mean(axis=1)
    room = np.minimum(1.0, weather.sun_global / np.maximum(level, 1e-12))
    beam *= room[:, None]
    rest = np.maximum(weather.sun_global - level * room, 0.0)
    mean_sine = sine.mean(axis=1)
    shape = np.where((mean_sine > 0.0)[:, None], sine / np.maximum(mean_sine, 1e-12)[:, None], 1.0)
    diffuse = rest[:, None] * shape
    return SunSteps(
        step_seconds=step_seconds,
        height=height,
        azimuth=azimuth,
        sun_global=_flat(diffuse + beam * sine),
        sun_beam=_flat(beam),
        sun_diffuse=_flat(diffuse),
        sun_outside=_flat(outside),
    )


def plane_sun(sun: SunSteps, tilt: float, bearing: float, albedo: float | FloatArray) -> PlaneSun:
    """Sun on a tilted plane at each step.

    Parameters
    ----------
    sun : SunSteps
        Sun on the level and its place.
    tilt : float
        Slope against the level, 0 to 90. [°]
    bearing : float
        Where the plane faces, clockwise from north. [°]
    albedo : float or array of 8760
        Share of the sun that the ground sends back, one value or one an hour. [-]

    Returns
    -------
    PlaneSun
        Never negative, never NaN.

    Raises
    ------
    InputError
        When tilt or bearing is out of range.

    Notes
    -----
    Sky after Perez, per step [1]_; steps with light but no sun up take an even sky, ours. With the
    sun below 5° the source's formula loses part of the bright ring, 0.02 % of a year on the level.

    References
    ----------
    .. [1] Perez, R., et al., Modeling daylight availability and irradiance components from direct
       and global irradiance, Solar Energy 44 (1990) 271-289, as in pvlib.irradiance.perez.
    """
    from pvlib import atmosphere, irradiance

    _check_plane(tilt, bearing)
    zenith = 90.0 - sun.height
    cosine = np.maximum(irradiance.aoi_projection(tilt, bearing, zenith, sun.azimuth), 0.0)
    cosine[sun.height <= 0.0] = 0.0
    sky_view = 0.5 * (1.0 + np.cos(np.radians(tilt)))
    sky = sun.sun_diffuse * sky_view
    lit = np.flatnonzero((sun.height > 0.0) & (sun.sun_diffuse > 0.0))
    # Plain arrays on purpose: with pandas, indexes that differ by half an hour break the product.
    perez = irradiance.perez(
        tilt,
        bearing,
        sun.sun_diffuse[lit],
        sun.sun_beam[lit],
        sun.sun_outside[lit],
        zenith[lit],
        sun.azimuth[lit],
        atmosphere.get_relative_airmass(zenith[lit]),
    )
    sky[lit] = np.where(np.isfinite(perez), np.maximum(perez, 0.0), sky[lit])
    reflected = np.asarray(albedo, dtype=np.float64)
    if reflected.ndim:
        reflected = np.repeat(reflected, steps_in_hour(sun.step_seconds))
    return PlaneSun(
        beam=frozen_copy(sun.sun_beam * cosine),
        sky=frozen_copy(sky),
        ground=frozen_copy(sun.sun_global * reflected * (1.0 - sky_view)),
        incidence_cosine=frozen_copy(cosine),
    )


def weather_steps(weather: WeatherYear, step_seconds: int) -> WeatherSteps:
    """Weather at the middle of each step, on straight lines between the hours' ends.

    Parameters
    ----------
    weather : WeatherYear
        Hourly year; all its values but the sun stand for the end of the hour.
    step_seconds : int
        Length of a step, a whole part of an hour. [s]

    Returns
    -------
    WeatherSteps
        The first hour starts from the last hour's value; the year's mean is kept exactly.

    Raises
    ------
    InputError
        When the step is not a whole part of an hour.
    """
    steps = steps_in_hour(step_seconds)
    part = (np.arange(steps) + 0.5) / steps

    def between(values: FloatArray) -> FloatArray:
        before = np.roll(values, 1)
        return _flat(before[:, None] * (1.0 - part) + values[:, None] * part)

    return WeatherSteps(
        step_seconds=step_seconds,
        temp_air=between(weather.temp_air),
        dew_point=between(weather.dew_point),
        vapour_pressure=between(weather.vapour_pressure),
        wind_speed=between(weather.wind_speed),
        pressure=between(weather.pressure),
        longwave_sky=between(weather.longwave_sky),
    )


def _check_plane(tilt: float, bearing: float) -> None:
    faults = []
    if not 0.0 <= tilt <= 90.0:
        faults.append(Fault("tilt", f"{tilt}°", "0° to 90°", "give the slope against the level"))
    if not -360.0 <= bearing <= 360.0:
        faults.append(Fault("bearing", f"{bearing}°", "0° (north) to 360°, clockwise"))
    if faults:
        raise InputError(faults)


def _flat(values: FloatArray) -> FloatArray:
    return frozen_copy(values.ravel())
