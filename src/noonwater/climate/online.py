"""Years of weather fetched from services: PVGIS, NASA POWER and NSRDB, through pvlib.

What comes is kept on disk, see `climate.shelf`, so that a place is fetched once. Without a network
one line says what to do instead.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from noonwater.climate import shelf
from noonwater.climate.formats import broken
from noonwater.climate.nsrdb import wind_factor
from noonwater.climate.pvgis import instants_of, samples_of_typical
from noonwater.climate.resample import clocks_of
from noonwater.climate.sampled_years import weather_of_samples
from noonwater.climate.samples import Samples
from noonwater.climate.weather_year import FloatArray, WeatherYear
from noonwater.climate.years import one_of
from noonwater.climate.zones import standard_time_at
from noonwater.core.errors import Fault, WeatherError

if TYPE_CHECKING:
    import pandas as pd

Service = Literal["pvgis", "nasa power", "nsrdb"]

PLACES = 2
"""Decimals of a degree that a place is rounded to, about 1 km; the services' cells are 4 to 60 km
wide."""

TIMEOUT = 20
"""[s] That pvlib waits for an answer where it lets itself be told."""

PATIENCE = 60.0
"""[s] After which any service is given up; some answers take half a minute."""

POWER_YEARS = (2019, 2023)
"""Whole years fetched from NASA POWER, which has no typical one; fixed, so that a job's weather
stays what it was."""

KEY, EMAIL = "NOONWATER_NSRDB_KEY", "NOONWATER_NSRDB_EMAIL"
"""Environment variables that hold the user's own key of NSRDB and the address it was given to."""

INSTEAD = (
    'fetch a weather file of the place elsewhere and take source = "file"; in the US take '
    'source = "stations"; or type source = "months"'
)

POWER_FIELDS: dict[str, str] = {
    "sun_global": "ghi",
    "sun_beam": "dni",
    "sun_diffuse": "dhi",
    "temp_air": "temp_air",
    "dew_point": "temp_dew",
    "wind_speed": "wind_speed",
    "pressure": "pressure",
    "longwave_sky": "longwave_down",
}
NSRDB_FIELDS: dict[str, tuple[str, float]] = {
    "sun_global": ("ghi", 1.0),
    "sun_beam": ("dni", 1.0),
    "sun_diffuse": ("dhi", 1.0),
    "temp_air": ("temp_air", 1.0),
    "dew_point": ("temp_dew", 1.0),
    "wind_speed": ("wind_speed", 1.0),
    "pressure": ("pressure", 100.0),
    "albedo": ("albedo", 1.0),
}
"""Our columns by pvlib's names."""


def weather_online(
    service: Service, latitude: float, longitude: float, utc_offset: float | None = None
) -> WeatherYear:
    """A year of a place from a service, or from the disk where it was kept.

    Parameters
    ----------
    service : {"pvgis", "nasa power", "nsrdb"}
        Who is asked.
    latitude, longitude : float
        [°]
    utc_offset : float, optional
        Standard time of the place; without it that of the nearest US station, elsewhere by
        longitude. [h]

    Returns
    -------
    WeatherYear
        Of real years the most ordinary one.

    Raises
    ------
    WeatherError
        When nothing is kept and the service can't be reached, refuses, or gives half an answer.
    """
    return one_of(weather_years_online(service, latitude, longitude, utc_offset))


def weather_years_online(
    service: Service, latitude: float, longitude: float, utc_offset: float | None = None
) -> tuple[WeatherYear, ...]:
    """All years that a service gives for a place.

    Parameters
    ----------
    service, latitude, longitude, utc_offset
        As for `weather_online`. [°], [h]

    Returns
    -------
    tuple of WeatherYear
        One of a typical year; several real ones from NASA POWER.

    Raises
    ------
    WeatherError
        As `weather_online`.
    """
    place = round(latitude, PLACES), round(longitude, PLACES)
    source = f"{TITLES[service]} at {place[0]:.2f}°, {place[1]:.2f}°"
    kept = shelf.taken(service, *place)
    samples = kept.samples or _fetched(service, place, source, kept.damaged)
    zone = standard_time_at(*place) if utc_offset is None else utc_offset
    samples = replace(samples, utc_offset=zone)
    years = weather_of_samples(samples, source, clocks_of(samples))
    if kept.samples is not None:
        note = f"kept on disk as {kept.path.name}"
    elif shelf.put(service, *place, samples) is None:
        note = "fetched; the disk can't be written, so it will be fetched again"
    else:
        note = f"fetched and kept as {kept.path.name}"
    if kept.damaged:
        note = f"the copy on disk was damaged; {note}"
    return tuple(_noted(year, note) for year in years)


def _noted(year: WeatherYear, note: str) -> WeatherYear:
    provenance = year.provenance
    return replace(year, provenance=replace(provenance, notes=(note, *provenance.notes)))


def _fetched(service: Service, place: tuple[float, float], source: str, damaged: bool) -> Samples:
    ask = ASKED[service]
    try:
        return _patiently(lambda: ask(*place, source))
    except WeatherError:
        raise
    except (OSError, TimeoutError) as reason:
        # requests' errors are OSErrors: no network, no such name, a refusal told by the server.
        given = _reason(reason) + ("; the copy on disk is damaged" if damaged else "")
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as reason:
        given = f"an answer that can't be read ({type(reason).__name__}: {str(reason)[:80]})"
    allowed = "an answer, or a copy on disk of an earlier one"
    raise WeatherError([Fault("weather.service", given, allowed, INSTEAD)], source) from None


def _reason(reason: Exception) -> str:
    import requests

    if isinstance(reason, TimeoutError | requests.Timeout):
        return f"no answer within {PATIENCE:.0f} s"
    if isinstance(reason, requests.ConnectionError):
        return "not reached: no network here, or the service is down"
    said = " ".join(str(reason).split())
    for secret in filter(None, (os.environ.get(KEY), os.environ.get(EMAIL))):
        said = said.replace(secret, "...")
    said = said[:160]
    return f"refused: {said}" if said else f"refused ({type(reason).__name__})"


def _patiently(ask: Callable[[], Samples]) -> Samples:
    """Give up on a service that keeps silent; one of pvlib's functions has no limit of its own."""
    answer: list[Samples] = []
    failure: list[BaseException] = []

    def run() -> None:
        try:
            answer.append(ask())
        except BaseException as reason:  # handed over to the caller's thread
            failure.append(reason)

    thread = threading.Thread(target=run, daemon=True, name="weather service")
    thread.start()
    thread.join(PATIENCE)
    if failure:
        raise failure[0]
    if not answer:
        raise TimeoutError
    return answer[0]


def _ask_pvgis(latitude: float, longitude: float, source: str) -> Samples:
    from pvlib import iotools

    data, meta = iotools.get_pvgis_tmy(latitude, longitude, timeout=TIMEOUT)
    samples = samples_of_typical(data, meta, source, standard_time_at)
    return replace(samples, kind="online service")


def _ask_power(latitude: float, longitude: float, source: str) -> Samples:
    from pvlib import iotools

    first, last = POWER_YEARS
    data, meta = iotools.get_nasa_power(
        latitude,
        longitude,
        f"{first}-01-01",
        f"{last}-12-31",
        parameters=list(POWER_FIELDS.values()),
    )
    columns = _columns(data, {name: (title, 1.0) for name, title in POWER_FIELDS.items()}, source)
    return Samples(
        form="NASA POWER",
        kind="online service",
        place=f"NASA POWER {latitude:.2f}°, {longitude:.2f}°",
        latitude=latitude,
        longitude=longitude,
        elevation=float(meta["altitude"]),
        stamps=instants_of(data),
        stamp_offset=0.0,
        utc_offset=standard_time_at(latitude, longitude),
        # Means over the hour that begins with the stamp.
        sun_shift=1800.0,
        air_shift=1800.0,
        typical=False,
        columns=columns,
        notes=("a cell of some 50 km; its height is the cell's",),
    )


def _ask_nsrdb(latitude: float, longitude: float, source: str) -> Samples:
    from pvlib import iotools

    key, email = (os.environ.get(name, "").strip() for name in (KEY, EMAIL))
    missing = [name for name, value in ((KEY, key), (EMAIL, email)) if not value]
    if missing:
        allowed = f"your own key of the service in {KEY} and its e-mail address in {EMAIL}"
        remedy = 'ask its makers for a key (free), or take service = "pvgis", which needs none'
        fault = Fault("weather.service", f"{' and '.join(missing)} not set", allowed, remedy)
        raise WeatherError([fault], source)
    data, meta = iotools.get_nsrdb_psm4_tmy(latitude, longitude, key, email, timeout=TIMEOUT)
    columns = _columns(data, NSRDB_FIELDS, source)
    columns["wind_speed"] *= wind_factor()
    zone = float(meta["Time Zone"])
    stamps = instants_of(data) + np.timedelta64(round(3600.0 * zone), "s")
    return Samples(
        form="NSRDB PSM4 typical year",
        kind="online service",
        place=f"NSRDB {latitude:.2f}°, {longitude:.2f}°",
        latitude=latitude,
        longitude=longitude,
        elevation=float(meta["altitude"]),
        stamps=stamps,
        stamp_offset=zone,
        utc_offset=zone,
        sun_shift=0.0,
        air_shift=0.0,
        typical=True,
        columns=columns,
        notes=(f"wind at 2 m brought to 10 m over open country, x {wind_factor():.2f}",),
    )


def _columns(
    data: pd.DataFrame, wanted: dict[str, tuple[str, float]], source: str
) -> dict[str, FloatArray]:
    missing = [title for title, _ in wanted.values() if title not in data]
    if missing:
        raise broken(source, "answer", f"no '{missing[0]}'", "all that was asked for")
    return {
        name: np.asarray(data[title], dtype=np.float64) * factor
        for name, (title, factor) in wanted.items()
    }


TITLES: dict[Service, str] = {"pvgis": "PVGIS", "nasa power": "NASA POWER", "nsrdb": "NSRDB"}
ASKED: dict[Service, Callable[[float, float, str], Any]] = {
    "pvgis": _ask_pvgis,
    "nasa power": _ask_power,
    "nsrdb": _ask_nsrdb,
}
"""One function for each service."""
