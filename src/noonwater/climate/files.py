"""Typical-year files read into a year: EPW, TMY3 and TMY2, told apart by what is in them."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from noonwater.climate.columns import year_from_columns
from noonwater.climate.formats import (
    TMY2_HEADER,
    RawYear,
    year_from_epw,
    year_from_tmy2,
    year_from_tmy3,
)
from noonwater.climate.weather_year import (
    DAYS_IN_MONTH,
    HOURS_IN_YEAR,
    MONTHS,
    IntArray,
    WeatherYear,
)
from noonwater.core.errors import Fault, WeatherError

LARGEST_FILE = 50_000_000
"""[bytes] A year of hours has about two million; ours."""

LEAP_DAY = slice(59 * 24, 60 * 24)
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
    order, leap = _hours_in_order(raw, source)
    columns = {name: values[order] for name, values in raw.columns.items()}
    notes = [f"{raw.form} file"]
    if leap:
        notes.append("leap year: 29 February left out")
    if not np.array_equal(order, np.sort(order)):
        notes.append("rows put in order of the calendar")
    return year_from_columns(raw, columns, notes, source)


def _text_of(path: Path, source: str) -> str:
    allowed = "an EPW, TMY3 or TMY2 file"
    if path.is_dir():
        raise _refusal(source, "a folder", allowed, "name the file in it")
    try:
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


def _hours_in_order(raw: RawYear, source: str) -> tuple[IntArray, bool]:
    """Row of each hour of an ordinary year, and whether the file holds a leap day."""
    rows = len(raw.month)
    leap = rows != HOURS_IN_YEAR
    days = np.array(DAYS_IN_MONTH)
    days[1] += leap
    month = np.clip(raw.month, 1, 12) - 1
    sound = (raw.month == month + 1) & (raw.day >= 1) & (raw.day <= days[month])
    sound &= (raw.hour >= 0) & (raw.hour <= 24)
    before = np.concatenate(([0], np.cumsum(days)[:-1]))
    hour = ((before[month] + raw.day - 1) * 24 + raw.hour - 1) % rows
    seen = np.bincount(hour[sound], minlength=rows)
    if not sound.all() or (seen != 1).any():
        if sound.all():
            wrong = int(np.flatnonzero(seen != 1)[0])
            day = int(np.searchsorted(np.cumsum(days) * 24, wrong, side="right"))
            date = f"{(wrong // 24) - before[day] + 1} {MONTHS[day]}"
            given = f"hour {wrong % 24 + 1} of {date} comes {seen[wrong]} times"
        else:
            row = int(np.flatnonzero(~sound)[0])
            given = (
                f"row {row + 1} is month {raw.month[row]}, day {raw.day[row]}, hour {raw.hour[row]}"
            )
        fault = Fault("dates", given, "each hour of one year once", "fetch the file again")
        raise WeatherError([fault], source)
    order = np.argsort(hour)
    return (np.delete(order, LEAP_DAY) if leap else order), leap


def _refusal(source: str, given: str, allowed: str, remedy: str) -> WeatherError:
    return WeatherError([Fault("weather file", given, allowed, remedy)], source)
