"""The table of US stations and its interpolation to a site."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib import resources
from io import BytesIO

import numpy as np

from noonwater.climate.monthly import WATT_PER_DAILY_KWH, MonthlyMeans
from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.weather_year import FloatArray, frozen_copy
from noonwater.core.errors import Fault, WeatherError

LAPSE = 0.0055
"""[K/m] Fall of air temperature and dew point with height; fitted with the station table."""

NEIGHBOURS = 6
"""Stations that a site is interpolated from, by inverse distance; 0008-station-table.md."""

FARTHEST = 200.0
"""[km] Mainland stations have their nearest neighbour within 176 km; with a little room, ours."""

FARTHEST_NEIGHBOUR = 500.0
"""[km] Islands have fewer than six stations; those across the sea are left out; ours."""

EARTH_RADIUS = 6371.0
"""[km] Mean radius, IUGG."""

UNCERTAINTY_SUN_MAINLAND = 0.046
"""[-] Leave-one-out over 925 stations without neighbours within 25 km."""

UNCERTAINTY_SUN_ELSEWHERE = 0.11
"""[-] The same over the stations of Alaska, Hawaii and the islands."""

UNCERTAINTY_TYPICAL_YEARS = 0.07
"""[-] What typical years of one place differ by; the table was computed from one of them."""

MAINLAND = (24.0, 50.0, -125.5, -66.0)
"""[°] Latitudes and longitudes round the contiguous US."""


@dataclass(frozen=True, eq=False)
class StationTable:
    """Monthly means of n stations.

    Attributes
    ----------
    place : tuple of str
        Names.
    latitude, longitude : array of n
        [°]
    elevation : array of n
        [m]
    utc_offset : array of n
        [h]
    temp_lowest : array of n
        Coldest hour of the typical year. [°C]
    sun_global : array of n x 12
        On the level, mean over day and night. [W/m²]
    temp_air, dew_point : array of n x 12
        [°C]
    wind_speed : array of n x 12
        [m/s]
    daily_range : array of n x 12
        Mean of the days' highest less lowest temperature. [K]
    source : str
        Reference of the table.
    """

    place: tuple[str, ...]
    latitude: FloatArray
    longitude: FloatArray
    elevation: FloatArray
    utc_offset: FloatArray
    temp_lowest: FloatArray
    sun_global: FloatArray
    temp_air: FloatArray
    dew_point: FloatArray
    wind_speed: FloatArray
    daily_range: FloatArray
    source: str


@cache
def station_table() -> StationTable:
    """Read the package's table.

    Returns
    -------
    StationTable
        1,020 stations. [SI]
    """
    data = resources.files("noonwater.climate").joinpath("data", "us_stations.npz").read_bytes()
    with np.load(BytesIO(data), allow_pickle=False) as stored:
        provenance = json.loads(str(stored["provenance"]))
        values = {
            name: frozen_copy(stored[name] * step) for name, step in provenance["step"].items()
        }
        place = tuple(str(name) for name in stored["place"])
    values["sun_global"] = frozen_copy(values["sun_global"] * WATT_PER_DAILY_KWH)
    return StationTable(place=place, source=provenance["source"], **values)


def monthly_means_at(latitude: float, longitude: float, elevation: float) -> MonthlyMeans:
    """Interpolate the stations' monthly means to a site.

    Parameters
    ----------
    latitude, longitude : float
        [°]
    elevation : float
        [m]

    Returns
    -------
    MonthlyMeans
        With source, uncertainty and the stations used.

    Raises
    ------
    WeatherError
        When the site is off the map, or too far from every station of the table.
    """
    _check_site(latitude, longitude, elevation)
    table = station_table()
    distance = distances(table, latitude, longitude)
    nearest = np.argsort(distance, kind="stable")[:NEIGHBOURS]
    _refuse_far_site(table, distance, int(nearest[0]))
    nearest = nearest[distance[nearest] <= FARTHEST_NEIGHBOUR]
    means = interpolated(table, nearest, distance[nearest], latitude, elevation)
    south, north, west, east = MAINLAND
    inside = south <= latitude <= north and west <= longitude <= east
    error = UNCERTAINTY_SUN_MAINLAND if inside else UNCERTAINTY_SUN_ELSEWHERE
    used = "; ".join(f"{table.place[i]} {distance[i]:.0f} km" for i in nearest)
    # A dew point above the air's can come of the lapse far below the stations.
    dew_point = np.minimum(means["dew_point"], means["temp_air"] - 0.3)
    return MonthlyMeans(
        sun_global=means["sun_global"].tolist(),
        temp_air=means["temp_air"].tolist(),
        dew_point=dew_point.tolist(),
        wind_speed=means["wind_speed"].tolist(),
        daily_range=means["daily_range"].tolist(),
        source=f"US station table ({table.source})",
        kind="station table",
        uncertainty_sun=float(np.hypot(error, UNCERTAINTY_TYPICAL_YEARS)),
        place=f"between {len(nearest)} stations near {table.place[int(nearest[0])]}",
        notes=(f"stations: {used}",),
        temp_lowest=_lowest_at(table, nearest, distance[nearest], elevation),
    )


def utc_offset_at(latitude: float, longitude: float) -> float:
    """Standard time of the nearest station.

    Parameters
    ----------
    latitude, longitude : float
        [°]

    Returns
    -------
    float
        Standard time less universal time. [h]

    Raises
    ------
    WeatherError
        When the site is off the map, or too far from every station of the table.
    """
    _check_site(latitude, longitude, 0.0)
    table = station_table()
    distance = distances(table, latitude, longitude)
    nearest = int(np.argmin(distance))
    _refuse_far_site(table, distance, nearest)
    return float(table.utc_offset[nearest])


def interpolated(
    table: StationTable,
    chosen: np.ndarray[tuple[int], np.dtype[np.intp]],
    distance: FloatArray,
    latitude: float,
    elevation: float,
) -> dict[str, FloatArray]:
    """Inverse-distance mean of chosen stations, brought to the site's sun and height.

    Parameters
    ----------
    table : StationTable
        All stations.
    chosen : array of k
        Rows of the table. [-]
    distance : array of k
        From the site. [km]
    latitude : float
        Of the site. [°]
    elevation : float
        Of the site. [m]

    Returns
    -------
    dict of arrays of 12
        sun_global [W/m²], temp_air and dew_point [°C], wind_speed [m/s], daily_range [K].

    Notes
    -----
    Sun goes by clearness, the share of the sun outside the atmosphere; in months with less than
    5 W/m² outside at a station its mean clearness is not told and the sun itself is taken.
    """
    weight = 1.0 / np.maximum(distance, 1.0)
    weight = weight / weight.sum()
    outside = sun_outside_level_of_month(np.append(table.latitude[chosen], latitude))
    there, here = outside[:-1], outside[-1]
    sun = table.sun_global[chosen]
    clearness = weight @ (sun / np.maximum(there, 5.0))
    dark = (there < 5.0).any(axis=0) | (here < 5.0)
    lift = LAPSE * (table.elevation[chosen] - elevation)[:, None]
    return {
        "sun_global": np.where(dark, np.minimum(weight @ sun, 0.6 * here), clearness * here),
        "temp_air": weight @ (table.temp_air[chosen] + lift),
        "dew_point": weight @ (table.dew_point[chosen] + lift),
        "wind_speed": weight @ table.wind_speed[chosen],
        "daily_range": weight @ table.daily_range[chosen],
    }


def _lowest_at(
    table: StationTable,
    chosen: np.ndarray[tuple[int], np.dtype[np.intp]],
    distance: FloatArray,
    elevation: float,
) -> float:
    weight = 1.0 / np.maximum(distance, 1.0)
    lift = LAPSE * (table.elevation[chosen] - elevation)
    return float(np.average(table.temp_lowest[chosen] + lift, weights=weight))


def distances(table: StationTable, latitude: float, longitude: float) -> FloatArray:
    """Great-circle distance of each station.

    Parameters
    ----------
    table : StationTable
        All stations.
    latitude, longitude : float
        Of the site. [°]

    Returns
    -------
    array of n
        [km]
    """
    here, there = np.radians(latitude), np.radians(table.latitude)
    half_north = np.sin(0.5 * (there - here)) ** 2
    half_east = np.sin(0.5 * np.radians(table.longitude - longitude)) ** 2
    chord = np.minimum(half_north + np.cos(here) * np.cos(there) * half_east, 1.0)
    return np.asarray(2.0 * EARTH_RADIUS * np.arcsin(np.sqrt(chord)), dtype=np.float64)


def _check_site(latitude: float, longitude: float, elevation: float) -> None:
    limits = (
        ("site.latitude", latitude, -90.0, 90.0, "°"),
        ("site.longitude", longitude, -180.0, 180.0, "°"),
        ("site.elevation", elevation, -450.0, 5000.0, "m"),
    )
    faults = [
        Fault(name, f"{value:g} {unit}", f"{low:g} to {high:g} {unit}")
        for name, value, low, high, unit in limits
        if not low <= value <= high
    ]
    if faults:
        raise WeatherError(faults)


def _refuse_far_site(table: StationTable, distance: FloatArray, nearest: int) -> None:
    if distance[nearest] <= FARTHEST:
        return
    fault = Fault(
        "weather",
        f"the nearest station of the US table, {table.place[nearest]}, is "
        f"{distance[nearest]:.0f} km away",
        f"up to {FARTHEST:g} km",
        "give a weather file or twelve monthly means; in the US, look at the signs of latitude and "
        "longitude (west is negative)",
    )
    raise WeatherError([fault])
