"""Typical-year files read into a year: EPW, TMY3 and TMY2, told apart by what is in them."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from noonwater.climate.columns import year_from_columns
from noonwater.climate.formats import (
    TMY2_HEADER,
    year_from_epw,
    year_from_tmy2,
    year_from_tmy3,
)
from noonwater.climate.weather_year import HOURS_IN_YEAR, WeatherYear
from noonwater.core.errors import Fault, WeatherError

LARGEST_FILE = 50_000_000
"""[bytes] A year of hours has about two million; ours."""

FORMATS = {"EPW": year_from_epw, "TMY3": year_from_tmy3, "TMY2": year_from_tmy2}


def read_weather_file(path: Path | str) -> WeatherYear:
    """Read a typical-year file.

    Parameters
    ----------
    path : Path or str
        EPW, TMY3 or TMY2 file under any name. In a leap year 29 February is left out.

    Returns
    -------
    WeatherYear
        With closure, notes on everything mended, and findings.

    Raises
    ------
    WeatherError
        When there is no such file, or it isn't a whole year in one of the formats.
    """
    place = Path(path)
    source = place.name or str(path)
    text = _text_of(place, source)
    raw = FORMATS[_format_of(text, source)](text, source)
    columns = {name: values[raw.order] for name, values in raw.columns.items()}
    notes = [f"{raw.form} file"]
    if raw.order.max() >= HOURS_IN_YEAR:
        notes.append("leap year: 29 February left out")
    if not np.array_equal(raw.order, np.sort(raw.order)):
        notes.append("rows put in order of the calendar")
    return year_from_columns(raw, columns, notes, source)


def _text_of(path: Path, source: str) -> str:
    allowed = "an EPW, TMY3 or TMY2 file"
    try:
        if path.is_dir():
            raise _refusal(source, "a folder", allowed, "name the file in it")
        if path.stat().st_size > LARGEST_FILE:
            given = f"{path.stat().st_size / 1e6:.0f} MB"
            raise _refusal(source, given, "up to 50 MB", "take the hourly file of one year")
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
    allowed = "EPW (first line LOCATION,...), TMY3 (second line Date (MM/DD/YYYY),...) or TMY2"
    remedy = "fetch the typical year of the place in one of these formats"
    raise _refusal(source, f"first line '{shown}'", allowed, remedy)


def _refusal(source: str, given: str, allowed: str, remedy: str) -> WeatherError:
    return WeatherError([Fault("weather file", given, allowed, remedy)], source)
