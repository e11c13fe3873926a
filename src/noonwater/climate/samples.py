"""Rows that carry the instant they hold for, brought into hours of an ordinary year.

PVGIS, NSRDB and NASA POWER give no hours named by their end but stamps: in universal time or in
local time, at the full hour, at its half or ten minutes past, once or several times an hour. Each
value is put where it belongs on the clock of the place; where that is not the middle of an hour
(sun) or its end (the rest), it is interpolated: sun by its clearness, the rest on straight lines.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.weather_year import DAYS_IN_MONTH, MONTHS, FloatArray, IntArray, YearKind
from noonwater.core.errors import Fault, WeatherError

Instants = NDArray[np.datetime64]

DAY = 86400
ORDINARY_YEAR = 365 * DAY
LONGEST_STEP = 3600
"""[s] Rows further apart than an hour are no hourly year."""

FRAGMENT = 2 * DAY
"""[s] Less than this at a row's end is what another clock pushed over New Year."""

LEAP_NOTE = "leap year: 29 February left out"
MOVED_NOTE = "the hours that the place's clock pushes over New Year come from the file's other end"


@dataclass(frozen=True, eq=False)
class Samples:
    """Rows as a service or its file gives them, in SI units.

    Attributes
    ----------
    form : str
        Name of the format.
    kind : YearKind
        Rung of the ladder.
    place : str
        Name for people.
    latitude, longitude : float
        [°]
    elevation : float
        [m]
    stamps : array of n instants
        As written, in the file's own clock. [UTC + stamp_offset]
    stamp_offset : float
        The file's clock less universal time. [h]
    utc_offset : float
        Standard time of the place less universal time. [h]
    sun_shift, air_shift : float
        Added to a stamp, the instant that its sun and its other values stand for. [s]
    typical : bool
        Months of different years, put together.
    columns : dict of arrays of n
        As in `climate.formats.RawYear`. [SI]
    notes : tuple of str
        What was assumed.
    """

    form: str
    kind: YearKind
    place: str
    latitude: float
    longitude: float
    elevation: float
    stamps: Instants
    stamp_offset: float
    utc_offset: float
    sun_shift: float
    air_shift: float
    typical: bool
    columns: dict[str, FloatArray]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class YearOfSamples:
    """The rows of one year, in the order of its calendar.

    Attributes
    ----------
    year : int or None
        None for a typical year. [-]
    step : int
        From row to row. [s]
    first : float
        The first stamp after New Year of the place's clock, at least 0 and below a step. [s]
    columns : dict of arrays of 365 x 86400 / step
        [SI]
    notes : tuple of str
        What was left out or moved.
    """

    year: int | None
    step: int
    first: float
    columns: dict[str, FloatArray]
    notes: tuple[str, ...] = field(default=())


def years_of_samples(samples: Samples, source: str) -> tuple[YearOfSamples, ...]:
    """Put rows in order, a year of the place's clock at a time, 29 February left out.

    Parameters
    ----------
    samples : Samples
        All rows.
    source : str
        Name of the file, for faults.

    Returns
    -------
    tuple of YearOfSamples
        In order; one for a typical year.

    Raises
    ------
    WeatherError
        When rows are missing or come twice, or are further apart than an hour.
    """
    step = _step_of(samples, source)
    shift = round((samples.utc_offset - samples.stamp_offset) * 3600.0)
    if samples.typical:
        position, leap = _positions(samples.stamps)
        kept = np.flatnonzero(~leap)
        place = (position[kept] + shift) % ORDINARY_YEAR
        return (_year(samples, None, kept, place, step, source),)
    local = samples.stamps + np.timedelta64(shift, "s")
    position, leap = _positions(local)
    year = local.astype("datetime64[Y]").astype(np.int64) + 1970
    whole, moved = _fragments_moved(year, step)
    numbers, counts = np.unique(whole[~leap], return_counts=True)
    full = counts * step >= ORDINARY_YEAR
    cut = ", ".join(str(number) for number in numbers[~full]) if full.any() else ""
    result = []
    for number in numbers[full] if full.any() else numbers:
        kept = np.flatnonzero((whole == number) & ~leap)
        one = _year(samples, int(number), kept, position[kept], step, source)
        notes = []
        if cut:
            notes.append(f"not whole and left out: {cut}")
        if leap[whole == number].any():
            notes.append(LEAP_NOTE)
        if moved[kept].any():
            notes.append(MOVED_NOTE)
        result.append(replace(one, notes=tuple(notes)))
    return tuple(result)


def _step_of(samples: Samples, source: str) -> int:
    if samples.stamps.size < 2:
        raise _wrong_rows(f"{samples.stamps.size} rows", source)
    gaps = np.diff(samples.stamps).astype("timedelta64[s]").astype(np.int64)
    step = int(np.median(gaps))
    if not 0 < step <= LONGEST_STEP or LONGEST_STEP % step:
        raise _wrong_rows(f"{step / 60:g} minutes from row to row", source)
    return step


def _positions(stamps: Instants) -> tuple[IntArray, NDArray[np.bool_]]:
    """Seconds since New Year in an ordinary year, and which stamps are on 29 February."""
    month = stamps.astype("datetime64[M]")
    day = stamps.astype("datetime64[D]")
    number = month.astype(np.int64) % 12
    within = (day - month.astype("datetime64[D]")).astype(np.int64)
    seconds = (stamps - day.astype("datetime64[s]")).astype(np.int64)
    before = np.concatenate(([0], np.cumsum(DAYS_IN_MONTH)[:-1]))
    return (before[number] + within) * DAY + seconds, (number == 1) & (within == 28)


def _fragments_moved(year: IntArray, step: int) -> tuple[IntArray, NDArray[np.bool_]]:
    """Years with what hangs over at either end put where the other end lacks it."""
    numbers, counts = np.unique(year, return_counts=True)
    small = counts * step < FRAGMENT
    if numbers.size < 2 or not (small[0] or small[-1]):
        return year, np.zeros(year.size, dtype=np.bool_)
    moved = np.zeros(year.size, dtype=np.bool_)
    whole = year.copy()
    kept = numbers[~small]
    if kept.size == 0:
        return year, moved
    for number, goal in ((numbers[0], kept[-1]), (numbers[-1], kept[0])):
        if number not in kept:
            hanging = year == number
            whole[hanging] = goal
            moved |= hanging
    return whole, moved


def _year(
    samples: Samples,
    year: int | None,
    kept: IntArray,
    position: IntArray,
    step: int,
    source: str,
) -> YearOfSamples:
    rows = ORDINARY_YEAR // step
    first = int(position[0]) % step if position.size else 0
    slot = (position - first) // step
    off = (position - first) % step
    seen = np.bincount(np.clip(slot, 0, rows - 1), minlength=rows)
    if off.any() or (seen != 1).any():
        raise _uneven(year, position, seen, step, source)
    order = kept[np.argsort(slot, kind="stable")]
    columns = {name: values[order] for name, values in samples.columns.items()}
    return YearOfSamples(year, step, float(first), columns)


def _uneven(
    year: int | None, position: IntArray, seen: IntArray, step: int, source: str
) -> WeatherError:
    wrong = np.flatnonzero(seen != 1)
    at = int(wrong[0]) * step if wrong.size else int(position[0])
    day = at // DAY
    ends = np.cumsum(DAYS_IN_MONTH)
    month = int(np.searchsorted(ends, day, side="right"))
    date = f"{day - ends[month] + DAYS_IN_MONTH[month] + 1} {MONTHS[month]}"
    named = f" {year}" if year is not None else ""
    times = seen[wrong[0]] if wrong.size else 0
    given = (
        f"{position.size} rows{f' of {year}' if year is not None else ''}; the one about "
        f"{at % DAY // 3600:02d}:{at % 3600 // 60:02d} on {date}{named} comes {times} times"
    )
    allowed = f"each of {ORDINARY_YEAR // step} rows of a year once"
    return WeatherError([Fault("dates", given, allowed, "fetch whole years again")], source)


def _wrong_rows(given: str, source: str) -> WeatherError:
    allowed = "rows every 60, 30, 15, 10 or 5 minutes"
    return WeatherError([Fault("rows", given, allowed, "fetch the hourly data again")], source)
