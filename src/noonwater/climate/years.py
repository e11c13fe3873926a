"""Several real years of one place: told apart, the ordinary one found, their spread."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from noonwater.climate.weather_year import FloatArray, WeatherYear, frozen_copy, monthly_mean
from noonwater.core.errors import Fault, WeatherError

YEARS_FOR_SPREAD = 3
"""[a] Two years tell a difference, not a spread; ours."""

SMALLEST_SPREAD_SUN, SMALLEST_SPREAD_AIR = 1.0, 0.1
"""[W/m²], [K] Spreads below these are noise and shan't decide which year is ordinary; ours."""


@dataclass(frozen=True, eq=False)
class YearlySpread:
    """How real years of one place differ.

    Attributes
    ----------
    years : tuple of int
        Which. [-]
    source : str
        Where they come from.
    sun_global : array of 12
        Standard deviation of each month's mean sun on the level, as a share of it. [-]
    temp_air : array of 12
        Standard deviation of each month's mean temperature. [K]
    sun_of_year : float
        Standard deviation of the annual sun, as a share of it. [-]
    temp_of_year : float
        Standard deviation of the annual mean temperature. [K]
    """

    years: tuple[int, ...]
    source: str
    sun_global: FloatArray
    temp_air: FloatArray
    sun_of_year: float
    temp_of_year: float


def yearly_spread(years: Sequence[WeatherYear]) -> YearlySpread | None:
    """Tell the spread from year to year, where there is one to tell.

    Parameters
    ----------
    years : sequence of WeatherYear
        Years of one place.

    Returns
    -------
    YearlySpread or None
        None for typical and made years, and for fewer than three real ones. [-], [K]
    """
    real = [year for year in years if year.calendar_year is not None]
    if len(real) < YEARS_FOR_SPREAD or len(real) < len(years):
        return None
    sun = np.stack([monthly_mean(year.sun_global) for year in real])
    air = np.stack([monthly_mean(year.temp_air) for year in real])
    annual = np.array([year.sun_global.mean() for year in real])
    warm = np.array([year.temp_air.mean() for year in real])
    return YearlySpread(
        years=tuple(year.calendar_year for year in real if year.calendar_year is not None),
        source=f"{len(real)} real years of {real[0].provenance.source}",
        sun_global=frozen_copy(sun.std(axis=0, ddof=1) / np.maximum(sun.mean(axis=0), 1e-9)),
        temp_air=frozen_copy(air.std(axis=0, ddof=1)),
        sun_of_year=float(annual.std(ddof=1) / annual.mean()),
        temp_of_year=float(warm.std(ddof=1)),
    )


def ordinary_year(years: Sequence[WeatherYear]) -> WeatherYear:
    """The real year that stands best for all: nearest to their median, month by month.

    Parameters
    ----------
    years : sequence of WeatherYear
        Real years of one place.

    Returns
    -------
    WeatherYear
        The one whose twelve means of sun and of temperature lie nearest to the medians, each
        counted in its own spread.
    """
    sun = np.stack([monthly_mean(year.sun_global) for year in years])
    air = np.stack([monthly_mean(year.temp_air) for year in years])
    away = np.zeros(len(years))
    for values, least in ((sun, SMALLEST_SPREAD_SUN), (air, SMALLEST_SPREAD_AIR)):
        spread = np.maximum(values.std(axis=0), least)
        away += (((values - np.median(values, axis=0)) / spread) ** 2).sum(axis=1)
    return years[int(np.argmin(away))]


def one_of(years: Sequence[WeatherYear]) -> WeatherYear:
    """The year that a source's years come down to where none is named.

    Parameters
    ----------
    years : sequence of WeatherYear
        One typical year, or real ones.

    Returns
    -------
    WeatherYear
        The ordinary one, with a note that says which and lists the others.
    """
    if len(years) == 1:
        return years[0]
    chosen = ordinary_year(years)
    listed = ", ".join(str(year.calendar_year) for year in years)
    note = (
        f"{len(years)} real years ({listed}); {chosen.calendar_year}, the most ordinary by its "
        "months' sun and temperature, stands for them; give year to take another"
    )
    provenance = chosen.provenance
    return replace(chosen, provenance=replace(provenance, notes=(note, *provenance.notes)))


def year_named(years: Sequence[WeatherYear], wanted: int, source: str) -> WeatherYear:
    """The year of a number.

    Parameters
    ----------
    years : sequence of WeatherYear
        Of one file.
    wanted : int
        Calendar year. [-]
    source : str
        Name of the file, for faults.

    Returns
    -------
    WeatherYear

    Raises
    ------
    WeatherError
        When the file has no such year, or is a typical one.
    """
    for year in years:
        if year.calendar_year == wanted:
            return year
    real = [str(year.calendar_year) for year in years if year.calendar_year is not None]
    if not real:
        fault = Fault("year", str(wanted), "none: the file is a typical year", "leave year out")
    else:
        fault = Fault("year", str(wanted), ", ".join(real), "take one of the file's years")
    raise WeatherError([fault], source)


def texts_by_year(
    lines: Sequence[str],
    header: int,
    stamp: Callable[[str], tuple[int, int, int, int]],
    source: str,
) -> dict[int, str]:
    """Cut a text that holds several real years into texts of one.

    Parameters
    ----------
    lines : sequence of str
        Of the whole file.
    header : int
        Lines before the first hour, repeated in each text. [-]
    stamp : callable
        Year, month, day and hour of a row; hour 0 is the end of the day before. [-]
    source : str
        Name of the file, for faults.

    Returns
    -------
    dict of str by int
        Years that are whole; others are left out unless there is none.

    Raises
    ------
    WeatherError
        When no year is whole.
    """
    rows: dict[int, list[str]] = {}
    for line in lines[header:]:
        if line.strip():
            year, month, day, hour = stamp(line)
            rows.setdefault(year - ((month, day, hour) == (1, 1, 0)), []).append(line)
    whole = {year: kept for year, kept in rows.items() if len(kept) in (8760, 8784)}
    if not whole:
        total = sum(len(kept) for kept in rows.values())
        given = f"{total} hours in {len(rows)} years, none of them whole"
        allowed = "8760 hours of a year, or 8784 in a leap year"
        remedy = "the file is cut short or holds more than hours: fetch it again"
        raise WeatherError([Fault("rows", given, allowed, remedy)], source)
    return {year: "\n".join([*lines[:header], *kept]) for year, kept in sorted(whole.items())}
