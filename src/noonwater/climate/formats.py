"""Texts of typical-year files taken apart: EPW and TMY3; TMY2 in its own room.

Every format names an hour by its end, 1 to 24. The readers of pvlib stamp the start of the hour for
EPW and the end for TMY3; only the file's own month, day and hour are used here, so both fall on the
same hour ``i``. Closure, computed on every file, would show half an hour's error.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from noonwater.climate.calendar import hours_in_order
from noonwater.climate.weather_year import FloatArray, IntArray, YearKind
from noonwater.core.errors import Fault, WeatherError

if TYPE_CHECKING:
    import pandas as pd

EPW_HEADER_LINES = 8
EPW_COLUMNS = 35
EPW_COLUMNS_NEEDED = 24
EPW_FIELDS: dict[str, tuple[str, float]] = {
    "sun_global": ("ghi", 1.0),
    "sun_beam": ("dni", 1.0),
    "sun_diffuse": ("dhi", 1.0),
    "cloud_total": ("total_sky_cover", 0.1),
    "cloud_opaque": ("opaque_sky_cover", 0.1),
    "temp_air": ("temp_air", 1.0),
    "dew_point": ("temp_dew", 1.0),
    "humidity": ("relative_humidity", 0.01),
    "pressure": ("atmospheric_pressure", 1.0),
    "wind_speed": ("wind_speed", 1.0),
    "albedo": ("albedo", 1.0),
    "longwave_sky": ("ghi_infrared", 1.0),
}
TMY3_FIELDS: dict[str, tuple[str, float]] = {
    "sun_global": ("GHI (W/m^2)", 1.0),
    "sun_beam": ("DNI (W/m^2)", 1.0),
    "sun_diffuse": ("DHI (W/m^2)", 1.0),
    "cloud_total": ("TotCld (tenths)", 0.1),
    "cloud_opaque": ("OpqCld (tenths)", 0.1),
    "temp_air": ("Dry-bulb (C)", 1.0),
    "dew_point": ("Dew-point (C)", 1.0),
    "humidity": ("RHum (%)", 0.01),
    "pressure": ("Pressure (mbar)", 100.0),
    "wind_speed": ("Wspd (m/s)", 1.0),
    "albedo": ("Alb (unitless)", 1.0),
}
TMY3_OPTIONAL = ("albedo", "cloud_total", "cloud_opaque", "pressure")


@dataclass(frozen=True)
class RawYear:
    """A file's rows as they stand, in SI units, missing codes still numbers.

    Attributes
    ----------
    form : str
        Name of the format.
    place : str
        Name of the station.
    latitude, longitude : float
        [°]
    elevation : float
        [m]
    utc_offset : float
        [h]
    order : array of 8760
        Row of each hour of an ordinary year. [-]
    columns : dict of arrays of n rows
        Sun and sky [W/m²], temperatures [°C], humidity and cloud as shares [-], pressure [Pa],
        wind_speed [m/s]; NaN where the file holds no number.
    kind : YearKind
        Rung of the ladder.
    calendar_year : int or None
        Of a real year. [-]
    extremes_line : str
        An EPW header's design conditions.
    """

    form: str
    place: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    order: IntArray
    columns: dict[str, FloatArray] = field(default_factory=dict)
    kind: YearKind = "typical-year file"
    calendar_year: int | None = None
    extremes_line: str = ""


def year_from_epw(text: str, source: str) -> RawYear:
    """Take an EPW text apart.

    Parameters
    ----------
    text : str
        Whole file.
    source : str
        Name of the file, for faults.

    Returns
    -------
    RawYear
        [SI]

    Raises
    ------
    WeatherError
        When header or rows can't be read.
    """
    from pvlib import iotools

    lines = text.splitlines()
    head = lines[0].split(",")
    if len(head) < 10:
        raise broken(source, "first line", f"{len(head)} values", "10 values after EPW")
    site = site_of(head[6], head[7], head[9], head[8], source)
    _refuse_part_hours(lines[:EPW_HEADER_LINES], source)
    rows = [line for line in lines[EPW_HEADER_LINES:] if line.strip()]
    check_row_count(len(rows), source)
    for number, row in enumerate(rows):
        commas = row.count(",")
        if commas < EPW_COLUMNS_NEEDED - 1:
            where = f"line {number + 1 + EPW_HEADER_LINES}"
            raise broken(source, where, f"{commas + 1} values", f"{EPW_COLUMNS_NEEDED} to 35")
        if commas >= EPW_COLUMNS:
            # Surplus columns would slip into pandas' index and shift all others.
            rows[number] = ",".join(row.split(",")[:EPW_COLUMNS])
    order = order_of((row.split(",", 4)[1:4] for row in rows), source)
    first = f"LOCATION,,,,,,{site[0]},{site[1]},{site[3]},{site[2]}"
    clean = "\n".join([first, *["-"] * (EPW_HEADER_LINES - 1), *rows])
    frame = _parsed(lambda: iotools.read_epw(io.StringIO(clean), coerce_year=2024)[0], source)
    columns = {
        name: numbers_of(frame[label]) * factor for name, (label, factor) in EPW_FIELDS.items()
    }
    place = ", ".join(part.strip() for part in head[1:4] if part.strip(" -"))
    design = next((line for line in lines[:EPW_HEADER_LINES] if "DESIGN COND" in line.upper()), "")
    return RawYear("EPW", place, *site, order, columns, extremes_line=design)


def year_from_tmy3(text: str, source: str) -> RawYear:
    """Take a TMY3 text apart.

    Parameters
    ----------
    text : str
        Whole file.
    source : str
        Name of the file, for faults.

    Returns
    -------
    RawYear
        [SI]

    Raises
    ------
    WeatherError
        When header or rows can't be read.
    """
    from pvlib import iotools

    lines = [line for line in text.splitlines() if line.strip()]
    head = next(csv.reader([lines[0]]))
    if len(head) < 7:
        raise broken(source, "first line", f"{len(head)} values", "7 values in TMY3")
    site = site_of(head[4], head[5], head[6], head[3], source)
    check_row_count(len(lines) - 2, source)
    titles = next(csv.reader([lines[1]]))
    for name, (title, _) in TMY3_FIELDS.items():
        if title not in titles and name not in TMY3_OPTIONAL:
            raise broken(source, "second line", f"no column '{title}'", "TMY3's column titles")
    order = order_of((_tmy3_stamp(row) for row in lines[2:]), source)
    # A comma inside the station's name, or a station number with letters, would trip the reader.
    first = f"0,place,XX,{site[3]},{site[0]},{site[1]},{site[2]}"
    clean = "\n".join([first, *lines[1:]])
    frame = _parsed(lambda: iotools.read_tmy3(io.StringIO(clean), map_variables=False)[0], source)
    columns = {
        name: numbers_of(frame[title]) * factor
        for name, (title, factor) in TMY3_FIELDS.items()
        if title in titles
    }
    place = f"{head[1].strip()}, {head[2].strip()}"
    return RawYear("TMY3", place, *site, order, columns)


def check_row_count(count: int, source: str) -> None:
    """Refuse a file that doesn't hold one year of hours.

    Parameters
    ----------
    count : int
        Rows with hours. [-]
    source : str
        Name of the file, for faults.

    Raises
    ------
    WeatherError
        Unless there are 8760 rows, or 8784 in a leap year.
    """
    if count not in (8760, 8784):
        reason = "the file is cut short" if count < 8760 else "the file holds more than a year"
        fault = Fault(
            "rows", f"{count} hours", "8760, or 8784 in a leap year", f"{reason}: fetch it again"
        )
        raise WeatherError([fault], source)


def site_of(
    latitude: str, longitude: str, elevation: str, zone: str, source: str
) -> tuple[float, float, float, float]:
    """Read what a file's first lines say about the place.

    Parameters
    ----------
    latitude, longitude, elevation, zone : str
        As written. [°], [m], [h]
    source : str
        Name of the file, for faults.

    Returns
    -------
    tuple of four floats
        In the same order and unit.

    Raises
    ------
    WeatherError
        All that can't be, at once.
    """
    limits = (
        ("latitude", latitude, -90.0, 90.0, "°"),
        ("longitude", longitude, -180.0, 180.0, "°"),
        ("elevation", elevation, -450.0, 6000.0, "m"),
        ("time zone", zone, -12.0, 14.0, "h"),
    )
    values, faults = [], []
    for name, text, low, high, unit in limits:
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        values.append(value)
        if not low <= value <= high:
            faults.append(
                Fault(
                    f"{name} in the first line",
                    f"'{text.strip()}'",
                    f"{low:g} to {high:g} {unit}",
                    "mend the file's first line",
                )
            )
    if faults:
        raise WeatherError(faults, source)
    return values[0], values[1], values[2], values[3]


def _refuse_part_hours(header: list[str], source: str) -> None:
    periods = next((line for line in header if line.upper().startswith("DATA PERIODS")), "")
    parts = periods.split(",")
    if len(parts) > 2 and parts[2].strip().isdigit() and int(parts[2]) > 1:
        given = f"{parts[2].strip()} rows an hour"
        fault = Fault("DATA PERIODS", given, "1 row an hour", "take the hourly file of the place")
        raise WeatherError([fault], source)


def _parsed(read: Callable[[], pd.DataFrame], source: str) -> pd.DataFrame:
    try:
        return read()
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError) as reason:
        first = str(reason).splitlines()[0][:120] if str(reason) else type(reason).__name__
        raise broken(source, "rows", first, "rows as the format says") from reason


def numbers_of(values: pd.Series[str]) -> FloatArray:
    """Read a column of texts.

    Parameters
    ----------
    values : pandas.Series
        As written.

    Returns
    -------
    array of n
        In the file's unit; NaN where there is no number.
    """
    import pandas as pd

    return np.asarray(pd.to_numeric(values, errors="coerce"), dtype=np.float64)


def _tmy3_stamp(row: str) -> list[str]:
    date, time, *_ = [*row.split(",", 2), ""]
    return [*date.split("/")[:2], time.split(":", maxsplit=1)[0]]


def order_of(stamps: Iterable[Sequence[str]], source: str) -> IntArray:
    """Row of each hour of an ordinary year, from dates as written.

    Parameters
    ----------
    stamps : iterable of sequences of str
        Month, day and hour of each row. [-]
    source : str
        Name of the file, for faults.

    Returns
    -------
    array of 8760
        [-]

    Raises
    ------
    WeatherError
        When they are no dates, or an hour is missing or comes twice.
    """
    table = []
    for number, stamp in enumerate(stamps):
        try:
            month, day, hour = (int(part) for part in stamp)
        except ValueError:
            given = "'" + "', '".join(stamp) + "'"
            allowed = "whole numbers for month, day and hour"
            raise broken(source, f"date of row {number + 1}", given, allowed) from None
        table.append((month, day, hour))
    month, day, hour = np.array(table).T
    return hours_in_order(month, day, hour, source)


def broken(source: str, where: str, given: str, allowed: str) -> WeatherError:
    """Error for a text that is not as its format says.

    Parameters
    ----------
    source : str
        Name of the file.
    where, given, allowed : str
        Place in it, what stands there, what should.

    Returns
    -------
    WeatherError
        To be raised.
    """
    fault = Fault(where, given, allowed, "the file is damaged or edited: fetch it again")
    return WeatherError([fault], source)
