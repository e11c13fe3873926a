"""NSRDB: typical and real years of the US national solar radiation database, as csv.

Read with pandas and not with pvlib, whose reader takes no zone of half an hour; pvlib's serves as
the check in tests/reference.
"""

from __future__ import annotations

import csv
import io

import numpy as np

from noonwater.climate.formats import broken, site_of
from noonwater.climate.samples import Instants, Samples
from noonwater.climate.weather_year import FloatArray, IntArray
from noonwater.climate.zones import standard_time_at, zone_fits

FIELDS: dict[str, tuple[str, float]] = {
    "sun_global": ("GHI", 1.0),
    "sun_beam": ("DNI", 1.0),
    "sun_diffuse": ("DHI", 1.0),
    "temp_air": ("Temperature", 1.0),
    "dew_point": ("Dew Point", 1.0),
    "humidity": ("Relative Humidity", 0.01),
    "pressure": ("Pressure", 100.0),
    "wind_speed": ("Wind Speed", 1.0),
    "albedo": ("Surface Albedo", 1.0),
}
NEEDED = ("GHI", "DNI", "DHI", "Temperature", "Wind Speed")
STAMP = ("Year", "Month", "Day", "Hour")

WIND_HEIGHT = 2.0
"""[m] Of the wind since the third version of the database (its makers' answers of October 2020,
read second-hand); the house's years hold wind at 10 m."""


def wind_factor() -> float:
    """Wind at 10 m over wind at the database's height.

    Returns
    -------
    float
        [-]; 1.38, by the logarithmic law over open country.
    """
    from noonwater.physics.wind import ROUGHNESS, wind_speed_log_law

    rough = ROUGHNESS["open country"]
    return wind_speed_log_law(1.0, WIND_HEIGHT, 10.0, rough, rough)


def is_nsrdb(text: str) -> bool:
    """Whether a text begins as the database's csv does.

    Parameters
    ----------
    text : str
        Whole file.

    Returns
    -------
    bool
        [-]
    """
    first = text.lstrip("\r\n").partition("\n")[0]
    return first.startswith("Source,") and ",Time Zone" in first and ",Latitude" in first


def samples_of_nsrdb(text: str, source: str) -> Samples:
    """Read an NSRDB text.

    Parameters
    ----------
    text : str
        Two lines about the place, the columns' titles, and rows.
    source : str
        Name of the file, for faults.

    Returns
    -------
    Samples
        [SI]

    Raises
    ------
    WeatherError
        When it is damaged or lacks columns.
    """
    import pandas as pd

    lines = text.lstrip("\r\n").split("\n", 3)
    if len(lines) < 4:
        raise broken(source, "rows", "none", "rows below three lines of titles")
    titles, values, names = (next(csv.reader([line.strip("\r")]), []) for line in lines[:3])
    meta = {title.strip(): value.strip() for title, value in zip(titles, values, strict=False)}
    names = [name.strip() for name in names if name.strip()]
    missing = [name for name in (*STAMP, *NEEDED) if name not in names]
    if not {"Dew Point", "Relative Humidity"} & set(names):
        missing.append("Dew Point")
    if missing:
        given = f"no '{missing[0]}'"
        raise broken(source, "third line", given, "the columns " + ", ".join((*STAMP, *NEEDED)))
    at = meta.get("Latitude", ""), meta.get("Longitude", ""), meta.get("Elevation", "")
    latitude, longitude, elevation, zone = site_of(*at, meta.get("Time Zone", ""), source)
    local = site_of(*at, meta.get("Local Time Zone", "") or str(zone), source)[3]
    try:
        table = pd.read_csv(
            io.StringIO(lines[3]), header=None, names=names, usecols=range(len(names))
        )
    except (ValueError, pd.errors.ParserError) as reason:
        raise broken(source, "rows", str(reason).splitlines()[0][:120], "rows of numbers") from None

    def column(title: str) -> FloatArray:
        return pd.to_numeric(table[title], errors="coerce").to_numpy(dtype=np.float64)

    stamp = np.stack([column(name) for name in STAMP])
    minute = column("Minute") if "Minute" in names else np.full(len(table), 30.0)
    if not (np.isfinite(stamp).all() and np.isfinite(minute).all()):
        row = int(np.flatnonzero(~np.isfinite(stamp).all(axis=0) | ~np.isfinite(minute))[0])
        raise broken(source, f"date of row {row + 1}", "no number", "year, month, day and hour")
    columns = {
        name: column(title) * factor for name, (title, factor) in FIELDS.items() if title in names
    }
    columns["wind_speed"] *= wind_factor()
    whole = stamp.astype(np.int64)
    typical = np.unique(whole[0]).size > 1 and _is_one_year(whole)
    words = [part for part in (meta.get(key, "") for key in ("City", "State")) if part.strip(" -")]
    return Samples(
        form=f"{meta.get('Source') or 'NSRDB'} {meta.get('Version', '')}".strip(),
        kind="typical-year file" if typical else "real-year file",
        place=", ".join(words) or f"NSRDB {latitude:.2f}°, {longitude:.2f}°",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        stamps=_instants(whole, minute.astype(np.int64), source),
        stamp_offset=zone,
        # Some of the database's servers write 0 for the local zone, wherever the place is.
        utc_offset=local if zone_fits(longitude, local) else standard_time_at(latitude, longitude),
        sun_shift=0.0,
        air_shift=0.0,
        typical=typical,
        columns=columns,
        notes=(
            f"wind at {WIND_HEIGHT:g} m brought to 10 m over open country, x {wind_factor():.2f}",
        ),
    )


def _instants(stamp: IntArray, minute: IntArray, source: str) -> Instants:
    year, month, day, hour = stamp
    sound = (month >= 1) & (month <= 12) & (day >= 1) & (day <= 31) & (hour >= 0) & (hour <= 24)
    sound &= (year >= 1900) & (year <= 2200)
    if not sound.all():
        row = int(np.flatnonzero(~sound)[0])
        given = f"year {year[row]}, month {month[row]}, day {day[row]}, hour {hour[row]}"
        raise broken(source, f"date of row {row + 1}", given, "a date and an hour")
    months = ((year - 1970) * 12 + month - 1).astype("datetime64[M]")
    days = months.astype("datetime64[D]") + (day - 1)
    return np.asarray(
        days.astype("datetime64[s]") + (hour * 3600 + minute * 60).astype("timedelta64[s]")
    )


def _is_one_year(stamp: IntArray) -> bool:
    """Whether every month is there once: months of several years put together."""
    months = np.unique(stamp[:2], axis=1)
    return bool(np.unique(months[1]).size == months.shape[1])
