"""Is the weather that of the site?"""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, cos, radians, sin, sqrt

from noonwater.climate.weather_year import WeatherYear
from noonwater.core.finding import Finding
from noonwater.design.rule import OURS, Rule, shown
from noonwater.model.job import Job
from noonwater.year.result import YearResult

EARTH_RADIUS = 6_371_000.0
"""[m] Mean radius, IUGG."""
FARTHEST = 100_000.0
HIGHEST_STEP = 300.0
METRES_IN_MILE = 1609.344

WEATHER_FAR = Rule(
    "weather-far",
    "caution",
    limit=f"weather from within {FARTHEST / 1000:g} km of the site",
    source=OURS,
    remedy="weather from nearer by",
)
WEATHER_HEIGHT = Rule(
    "weather-height",
    "caution",
    limit=f"weather from within {HIGHEST_STEP:g} m of the site's height",
    source=OURS,
    remedy="weather from the same height; a wrong site.elevation mended",
)
FIELDS = {"file": "weather.file", "shipped": "weather.year"}


def weather_far(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check the distance between the site and the weather's place."""
    site = job.site
    away = great_circle(site.latitude, site.longitude, weather.latitude, weather.longitude)
    if away > FARTHEST:
        yield WEATHER_FAR.finding(
            FIELDS.get(job.weather.source, "weather.source"),
            value=_far(job, away),
            limit=_far(job, FARTHEST),
            text=f"The weather is that of {weather.place}, too far from the site to be its own.",
            remedy="Take a typical-year file of a nearer place, twelve monthly means of the site, "
            'or, in the United States, weather.source = "stations"; or mend site.latitude and '
            "site.longitude.",
        )


def weather_height(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check the step in height between the site and the weather's place."""
    step = job.site.elevation - weather.elevation
    if abs(step) > HIGHEST_STEP:
        side = "higher" if step > 0.0 else "lower"
        yield WEATHER_HEIGHT.finding(
            "site.elevation",
            value=f"{shown(job, abs(step), 'length', 0)} {side}",
            limit=shown(job, HIGHEST_STEP, "length", 0),
            text=f"The site lies much {side} than {weather.place}, whose weather is used, and has "
            "another air temperature.",
            remedy="Mend site.elevation if it is wrong; else take weather of the same height.",
        )


def great_circle(
    latitude: float, longitude: float, latitude_other: float, longitude_other: float
) -> float:
    """Distance between two places over the globe.

    Parameters
    ----------
    latitude, longitude, latitude_other, longitude_other : float
        North and east are positive. [°]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Haversine on a sphere, within 0.6 % of the ellipsoid (from memory).
    """
    north = sin(radians(latitude_other - latitude) / 2.0) ** 2
    east = sin(radians(longitude_other - longitude) / 2.0) ** 2
    half = north + cos(radians(latitude)) * cos(radians(latitude_other)) * east
    return 2.0 * EARTH_RADIUS * asin(min(1.0, sqrt(half)))


def _far(job: Job, distance: float) -> str:
    if job.units == "US":
        return f"{distance / METRES_IN_MILE:.0f} mi"
    return f"{distance / 1000.0:.0f} km"
