"""Sun and weather at each step on the job's planes: made once, shared by every run of that place.

What an edit of pool, panels, pump or controls leaves alone is here, so that such an edit costs only
the loop.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from noonwater.climate.sun import (
    PlaneSun,
    SunSteps,
    WeatherSteps,
    plane_sun,
    sun_steps,
    weather_steps,
)
from noonwater.climate.weather_year import WeatherYear

STEP = 300
"""[s] Step of the year unless asked otherwise."""

GROUND_ALBEDO = {
    "grass": 0.20,
    "concrete": 0.30,
    "gravel": 0.25,
    "sand": 0.40,
    "snow": 0.65,
    "water": 0.06,
}
"""[-] Grass, concrete, sand, snow, sea as in pvlib's SURFACE_ALBEDOS (read in its source); gravel
from memory."""


@dataclass(frozen=True, eq=False)
class Surroundings:
    """A place's year in steps.

    Attributes
    ----------
    weather : WeatherYear
        The hours it was made from.
    sun : SunSteps
        On level ground.
    air : WeatherSteps
        Air, wind and sky.
    planes : dict
        Sun on each plane, by (pitch, bearing). [°]
    """

    weather: WeatherYear
    sun: SunSteps
    air: WeatherSteps
    planes: dict[tuple[float, float], PlaneSun]


def surroundings(
    weather: WeatherYear, planes: tuple[tuple[float, float], ...], ground: str, step: int = STEP
) -> Surroundings:
    """Make the steps of a place.

    Parameters
    ----------
    weather : WeatherYear
        The hours.
    planes : tuple of (float, float)
        Pitch and bearing of each plane that carries panels or the sensor. [°]
    ground : str
        Key of `GROUND_ALBEDO`.
    step : int
        [s]

    Returns
    -------
    Surroundings
    """
    sun, air = _level(weather, step)
    on_planes = {plane: _on_plane(weather, step, plane, ground) for plane in planes}
    return Surroundings(weather, sun, air, on_planes)


@lru_cache(maxsize=2)
def _level(weather: WeatherYear, step: int) -> tuple[SunSteps, WeatherSteps]:
    return sun_steps(weather, step), weather_steps(weather, step)


@lru_cache(maxsize=8)
def _on_plane(weather: WeatherYear, step: int, plane: tuple[float, float], ground: str) -> PlaneSun:
    # An edit of one roof leaves the sun on the others as it is.
    return plane_sun(_level(weather, step)[0], *plane, GROUND_ALBEDO[ground])
