"""Weather files read into years, told apart by what is in them and not by their names."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from noonwater.climate.columns import year_from_columns
from noonwater.climate.extremes import Extremes, extremes_of_years
from noonwater.climate.formats import (
    EPW_HEADER_LINES,
    RawYear,
    broken,
    year_from_epw,
    year_from_tmy3,
)
from noonwater.climate.nsrdb import is_nsrdb, samples_of_nsrdb
from noonwater.climate.pvgis import is_pvgis, samples_of_pvgis
from noonwater.climate.pvgis_epw import is_pvgis_epw, weather_of_pvgis_epw
from noonwater.climate.resample import clocks_of
from noonwater.climate.sampled_years import weather_of_samples
from noonwater.climate.tmy2 import TMY2_HEADER, year_from_tmy2
from noonwater.climate.weather_year import HOURS_IN_YEAR, WeatherYear
from noonwater.climate.years import one_of, texts_by_year, year_named
from noonwater.climate.zones import standard_time_at
from noonwater.core.errors import Fault, WeatherError

LARGEST_FILE = 100_000_000
"""[bytes] A year of hours has about two million, twenty years of half hours some forty; ours."""

LONGEST_YEAR = 8784

Reader = Callable[[str, str], RawYear]
READERS: dict[str, tuple[Reader, int]] = {
    "EPW": (year_from_epw, EPW_HEADER_LINES),
    "TMY3": (year_from_tmy3, 2),
    "TMY2": (year_from_tmy2, 1),
}
"""Formats that name an hour by its end: reader and lines of header."""


def read_weather_file(
    path: Path | str, *, year: int | None = None, utc_offset: float | None = None
) -> WeatherYear:
    """Read a weather file into one year.

    Parameters
    ----------
    path : Path or str
        EPW, TMY3, TMY2, PVGIS or NSRDB file under any name.
    year : int, optional
        Which of several real years. Without it the most ordinary one is taken, and a note says so
        and lists the others. [-]
    utc_offset : float, optional
        Standard time of the place, for files that tell none. [h]

    Returns
    -------
    WeatherYear
        With closure, notes on everything mended, and findings.

    Raises
    ------
    WeatherError
        When there is no such file, it isn't a whole year in one of the formats, or it lacks the
        year wanted.
    """
    years = read_weather_years(path, utc_offset=utc_offset)
    return one_of(years) if year is None else year_named(years, year, Path(path).name)


def read_weather_years(
    path: Path | str, *, utc_offset: float | None = None
) -> tuple[WeatherYear, ...]:
    """Read all years of a weather file.

    Parameters
    ----------
    path : Path or str
        As for `read_weather_file`.
    utc_offset : float, optional
        Standard time of the place, for files that tell none. [h]

    Returns
    -------
    tuple of WeatherYear
        One of a typical year; of real years one each, in order, 29 February left out.

    Raises
    ------
    WeatherError
        As `read_weather_file`.
    """
    place = Path(path)
    source = place.name or str(path)
    text = _text_of(place, source)
    if is_pvgis(text):

        def zone(latitude: float, longitude: float) -> float:
            return standard_time_at(latitude, longitude) if utc_offset is None else utc_offset

        samples = samples_of_pvgis(text, source, zone)
        return weather_of_samples(samples, source, clocks_of(samples))
    if is_nsrdb(text):
        samples = samples_of_nsrdb(text, source)
        _check_zone(samples.utc_offset, utc_offset, source)
        return weather_of_samples(samples, source, clocks_of(samples))
    form = _format_of(text, source)
    if form == "EPW" and is_pvgis_epw(text):
        weather = weather_of_pvgis_epw(text, source)
        _check_zone(weather.utc_offset, utc_offset, source)
        return (weather,)
    years = _hour_named_years(form, text, source)
    _check_zone(years[0].utc_offset, utc_offset, source)
    return years


def _hour_named_years(form: str, text: str, source: str) -> tuple[WeatherYear, ...]:
    reader, header = READERS[form]
    lines = [line for line in text.splitlines() if line.strip() or form == "EPW"]
    if len(lines) - header <= LONGEST_YEAR or form == "TMY2":
        return (_weather(reader(text, source), source, None),)
    texts = texts_by_year(lines, header, lambda row: _stamp(form, row, source), source)
    years = [_weather(reader(one, source), source, number) for number, one in texts.items()]
    lowest = [float(year.temp_air.min()) for year in years]
    told = extremes_of_years(lowest, f"{len(years)} real years of {source}")
    return tuple(replace(year, extremes=_extremes(year, told)) for year in years)


def _extremes(year: WeatherYear, told: Extremes) -> Extremes:
    """The header's where it has some, for it looked at more years; with the file's own minima."""
    if year.extremes is not None:
        return replace(year.extremes, yearly_lowest=told.yearly_lowest)
    return replace(told, temp_lowest=float(year.temp_air.min()))


def _weather(raw: RawYear, source: str, number: int | None) -> WeatherYear:
    if number is not None:
        raw = replace(raw, kind="real-year file", calendar_year=number)
    columns = {name: values[raw.order] for name, values in raw.columns.items()}
    notes = [f"{raw.form} file" + ("" if number is None else f", the year {number}")]
    if raw.order.max() >= HOURS_IN_YEAR:
        notes.append("leap year: 29 February left out")
    if not np.array_equal(raw.order, np.sort(raw.order)):
        notes.append("rows put in order of the calendar")
    return year_from_columns(raw, columns, notes, source)


def _stamp(form: str, row: str, source: str) -> tuple[int, int, int, int]:
    parts = row.split(",", 4)
    try:
        if form == "EPW":
            year, month, day, hour = (int(part) for part in parts[:4])
        else:
            month, day, year = (int(part) for part in parts[0].split("/"))
            hour = int(parts[1].partition(":")[0])
    except (ValueError, IndexError):
        raise broken(source, "date of a row", f"'{row[:24]}'", "year, month, day, hour") from None
    return year, month, day, hour


def _check_zone(told: float, wanted: float | None, source: str) -> None:
    if wanted is None or abs(told - wanted) < 1e-6:
        return
    given = f"UTC{wanted:+g}, but the file says UTC{told:+g}"
    fault = Fault("utc_offset", given, "the file's own clock", "leave utc_offset out")
    raise WeatherError([fault], source)


def _text_of(path: Path, source: str) -> str:
    allowed = "a weather file: EPW, TMY3, TMY2, PVGIS or NSRDB"
    try:
        if path.is_dir():
            raise _refusal(source, "a folder", allowed, "name the file in it")
        if path.stat().st_size > LARGEST_FILE:
            given = f"{path.stat().st_size / 1e6:.0f} MB"
            raise _refusal(source, given, "up to 100 MB", "take fewer years")
        data = path.read_bytes()
    except FileNotFoundError:
        raise _refusal(source, "no such file", allowed, f"look at the path '{path}'") from None
    except (OSError, ValueError) as reason:
        words = getattr(reason, "strerror", None) or str(reason)
        raise _refusal(source, f"can't be opened ({words})", allowed, "see its rights") from None
    if not data.strip():
        raise _refusal(source, "an empty file", allowed, "fetch it again")
    if data.startswith(b"PK"):
        raise _refusal(source, "a zip archive", allowed, "unpack it first")
    if b"\0" in data[:4096]:
        raise _refusal(source, "not a text file", allowed, "name the weather file itself")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def _format_of(text: str, source: str) -> str:
    first, _, rest = text.lstrip("\r\n").partition("\n")
    second = rest.partition("\n")[0]
    if first.upper().startswith("LOCATION,"):
        return "EPW"
    if second.startswith("Date (MM/DD/YYYY)"):
        return "TMY3"
    if TMY2_HEADER.match(first.rstrip("\r")):
        return "TMY2"
    shown = "".join(letter for letter in first[:60].strip() if letter.isprintable())
    allowed = (
        "EPW (first line LOCATION,...), TMY3 (second line Date (MM/DD/YYYY),...), TMY2, PVGIS csv "
        "or json, or NSRDB csv (first line Source,...)"
    )
    remedy = "fetch the typical year of the place in one of these formats"
    if re.match(r"\s*[,\w ]*Year,Month,Day,Hour", first):
        remedy = "the two lines about the place above the titles are gone: fetch it again"
    raise _refusal(source, f"first line '{shown}'", allowed, remedy)


def _refusal(source: str, given: str, allowed: str, remedy: str) -> WeatherError:
    return WeatherError([Fault("weather file", given, allowed, remedy)], source)
