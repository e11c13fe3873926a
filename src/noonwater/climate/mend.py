"""Missing values of a weather file: found by physical limits, mended where the gap is short.

The formats write a missing value as a number out of all range: 99.9, 999, 9999, 999999, -999.9,
-9900. One test by limits finds them all, whichever code a file's maker took, and impossible
measurements too.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.weather_year import FloatArray
from noonwater.core.errors import Fault

SHARE_MISSING = 0.05
"""[-] Of a column's hours, at most this much is mended; ours."""

NIGHT_OFFSET = -20.0
"""[W/m²] Sensors read a little below nothing at night; taken as nothing down to here; ours."""


@dataclass(frozen=True)
class Limits:
    """What a column may hold.

    Attributes
    ----------
    low, high : float
        Values outside are missing; in the column's SI unit.
    gap : int
        Longest gap that is mended. [h]
    words : str
        Name and range for people.
    """

    low: float
    high: float
    gap: int
    words: str


# Widest readings on Earth with some room, but inside every missing code of the formats.
NEEDED = {
    "sun_global": Limits(NIGHT_OFFSET, 1500.0, 3, "0 to 1500 W/m²"),
    "sun_beam": Limits(NIGHT_OFFSET, 1500.0, 3, "0 to 1500 W/m²"),
    "sun_diffuse": Limits(NIGHT_OFFSET, 1500.0, 3, "0 to 1500 W/m²"),
    "temp_air": Limits(-75.0, 60.0, 6, "-75 to 60 °C"),
    "wind_speed": Limits(0.0, 60.0, 6, "0 to 60 m/s"),
}
DEW_POINT = Limits(-80.0, 40.0, 6, "-80 to 40 °C")
HUMIDITY = Limits(0.01, 1.1, 6, "1 to 110 %")
PRESSURE = Limits(45000.0, 112000.0, 24, "45 to 112 kPa")
CLOUD = Limits(0.0, 1.0, 24, "0 to 10 tenths")
LONGWAVE = Limits(50.0, 700.0, 24, "50 to 700 W/m²")
ALBEDO = Limits(0.001, 1.0, 24 * 31, "above 0, to 1")


@dataclass(frozen=True)
class Mended:
    """A column after mending.

    Attributes
    ----------
    values : array of n
        Mended where it could be, NaN elsewhere.
    missing : int
        Values that the file lacks. [-]
    longest : int
        Longest gap. [h]
    whole : bool
        Whether nothing is missing any more.
    """

    values: FloatArray
    missing: int
    longest: int
    whole: bool


def column_mended(values: FloatArray, limits: Limits) -> Mended:
    """Fill short gaps on straight lines, round the year's end too.

    Parameters
    ----------
    values : array of n
        Column in SI, missing codes still numbers.
    limits : Limits
        What counts as missing, and the longest gap to mend.

    Returns
    -------
    Mended
        `whole` is False when a gap or their sum is too long.
    """
    filled = blanked(values, limits)
    good = ~np.isnan(filled)
    missing = int(values.size - good.sum())
    longest = longest_gap(good)
    if longest > limits.gap or missing > SHARE_MISSING * values.size:
        return Mended(filled, missing, longest, whole=False)
    if missing:
        known = np.flatnonzero(good)
        gaps = np.flatnonzero(~good)
        filled[gaps] = np.interp(gaps, known, values[known], period=values.size)
    return Mended(filled, missing, longest, whole=True)


def blanked(values: FloatArray, limits: Limits) -> FloatArray:
    """Blank out what is missing or impossible.

    Parameters
    ----------
    values : array of n
        Column in SI, missing codes still numbers.
    limits : Limits
        What counts as missing.

    Returns
    -------
    array of n
        Same unit; NaN where there is no value.
    """
    with np.errstate(invalid="ignore"):
        good = (values >= limits.low) & (values <= limits.high)
    return np.where(good, values, np.nan)


def longest_gap(good: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> int:
    """Longest run of missing values, the year taken as a ring.

    Parameters
    ----------
    good : array of n
        Whether each value is there. [-]

    Returns
    -------
    int
        [h]
    """
    known = np.flatnonzero(good)
    if known.size == 0:
        return int(good.size)
    ring = np.append(known, known[0] + good.size)
    return int(np.diff(ring).max()) - 1


def note_of(name: str, mended: Mended) -> str:
    """Say what was mended.

    Parameters
    ----------
    name : str
        Column.
    mended : Mended
        What became of it.

    Returns
    -------
    str
        One sentence.
    """
    return (
        f"{name}: {mended.missing} missing hours filled on straight lines "
        f"(longest gap {mended.longest} h)"
    )


def fault_of(name: str, mended: Mended, limits: Limits) -> Fault:
    """Say why a column can't be used.

    Parameters
    ----------
    name : str
        Column.
    mended : Mended
        What became of it.
    limits : Limits
        What it may hold.

    Returns
    -------
    Fault
        With the count and the longest gap. [h]
    """
    return Fault(
        name,
        f"{mended.missing} of {mended.values.size} hours missing or impossible, "
        f"longest gap {mended.longest} h",
        f"{limits.words}, gaps up to {limits.gap} h and {100 * SHARE_MISSING:g} % of the hours",
        "take another file of this place",
    )
