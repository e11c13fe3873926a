"""Years of weather from rows with stamps: gaps mended, clock checked by the sun, hours made."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from noonwater.climate.checks import no_humidity
from noonwater.climate.columns import year_from_columns
from noonwater.climate.extremes import Extremes, extremes_of_years
from noonwater.climate.formats import RawYear
from noonwater.climate.made_sun import sun_geometry, sun_split
from noonwater.climate.mend import (
    ALBEDO,
    DEW_POINT,
    HUMIDITY,
    LONGWAVE,
    NEEDED,
    PRESSURE,
    Limits,
    column_mended,
    fault_of,
    note_of,
)
from noonwater.climate.resample import SUN, Clock, best_clock, hours_of_year
from noonwater.climate.samples import Samples, YearOfSamples, years_of_samples
from noonwater.climate.weather_year import HOURS_IN_YEAR, FloatArray, WeatherYear
from noonwater.core.errors import Fault, WeatherError

OPTIONAL: dict[str, Limits] = {
    "dew_point": DEW_POINT,
    "humidity": HUMIDITY,
    "pressure": PRESSURE,
    "longwave_sky": LONGWAVE,
    "albedo": ALBEDO,
}


def weather_of_samples(
    samples: Samples, source: str, clocks: tuple[Clock, ...]
) -> tuple[WeatherYear, ...]:
    """Make years of rows with stamps.

    Parameters
    ----------
    samples : Samples
        Rows of one typical year, or of one or more real years.
    source : str
        Name of the file or service.
    clocks : tuple of Clock
        What the stamps may mean, likeliest first; the closure of the sun chooses.

    Returns
    -------
    tuple of WeatherYear
        In order.

    Raises
    ------
    WeatherError
        When rows or values are missing, named by year.
    """
    first = _mended(samples, years_of_samples(samples, source)[0], source)
    clock = best_clock(samples, first, clocks)
    if clock != clocks[0]:
        told = (
            f"as the sun's height tells, stamps are UTC{clock.stamp_offset:+g} and sun is of "
            f"{clock.sun_shift / 60.0:.0f} minutes later"
        )
        samples = replace(samples, notes=(*samples.notes, told))
    samples = replace(
        samples,
        stamp_offset=clock.stamp_offset,
        sun_shift=clock.sun_shift,
        air_shift=clock.air_shift,
    )
    years = tuple(
        _weather(samples, _mended(samples, year, source), source)
        for year in years_of_samples(samples, source)
    )
    if samples.typical:
        return years
    lowest = [float(year.temp_air.min()) for year in years]
    return tuple(replace(year, extremes=_extremes(year, lowest, source)) for year in years)


def _extremes(year: WeatherYear, lowest: list[float], source: str) -> Extremes:
    told = extremes_of_years(lowest, f"{len(lowest)} real years of {source}")
    return replace(told, temp_lowest=float(year.temp_air.min()))


def _mended(samples: Samples, year: YearOfSamples, source: str) -> YearOfSamples:
    """Fill short gaps of the rows; a column that may be absent goes where it has long ones."""
    columns, notes, faults = {}, list(year.notes), []
    in_hour = 3600 // year.step
    for name, values in year.columns.items():
        limits = NEEDED.get(name) or OPTIONAL[name]
        scaled = replace(limits, gap=limits.gap * in_hour)
        mended = column_mended(values, scaled)
        if mended.whole:
            columns[name] = np.maximum(mended.values, 0.0) if name in SUN else mended.values
        elif name in NEEDED:
            faults.append(_fault(fault_of(name, mended, limits), year, in_hour))
        else:
            continue
        if mended.missing and mended.whole:
            notes.append(note_of(name, mended).replace("hours", "rows"))
    if faults:
        raise WeatherError(faults, source)
    return replace(year, columns=columns, notes=tuple(notes))


def _fault(fault: Fault, year: YearOfSamples, in_hour: int) -> Fault:
    where = fault.field if year.year is None else f"{fault.field} in {year.year}"
    given = fault.given if in_hour == 1 else fault.given.replace("hours", "rows").replace(" h", "")
    return replace(fault, field=where, given=given)


def _weather(samples: Samples, year: YearOfSamples, source: str) -> WeatherYear:
    hourly = hours_of_year(samples, year)
    named = "" if year.year is None else f" of {year.year}"
    notes = [f"{samples.form}{named}", *samples.notes, *year.notes]
    if "sun_beam" not in hourly:
        notes.append("beam and diffuse told from global after Erbs")
        sky = sun_geometry(samples.latitude, samples.longitude, samples.utc_offset)
        hourly["sun_beam"], hourly["sun_diffuse"] = sun_split(hourly["sun_global"], sky)
    told = "dew_point" in hourly or "humidity" in hourly
    if not told:
        hourly["dew_point"] = dew_point_from_nights(hourly["temp_air"])
        notes.append("no humidity in the file: dew point taken as each day's lowest temperature")
    absent = np.full(HOURS_IN_YEAR, np.nan)
    for name in ("dew_point", "humidity"):
        hourly.setdefault(name, absent)
    raw = RawYear(
        form=samples.form,
        place=samples.place,
        latitude=samples.latitude,
        longitude=samples.longitude,
        elevation=samples.elevation,
        utc_offset=samples.utc_offset,
        order=np.arange(HOURS_IN_YEAR),
        kind=samples.kind,
        calendar_year=year.year,
    )
    weather = year_from_columns(raw, hourly, notes, source)
    if told:
        return weather
    found = (*weather.provenance.findings, no_humidity())
    return replace(weather, provenance=replace(weather.provenance, findings=found))


def dew_point_from_nights(temp_air: FloatArray) -> FloatArray:
    """Dew point of places whose source tells no humidity.

    Parameters
    ----------
    temp_air : array of 8760
        [°C]

    Returns
    -------
    array of 8760
        Each day's lowest temperature, on straight lines between the days. [°C]

    References
    ----------
    .. [1] Allen, R. G., et al., Crop evapotranspiration, FAO Irrigation and Drainage Paper 56,
       1998, eq. 48 (from memory): right where nights bring dew, 2 to 3 K too damp in dry lands.
    """
    lowest = temp_air.reshape(365, 24).min(axis=1)
    middles = np.arange(365) * 24.0 + 12.0
    line = np.interp(np.arange(1.0, HOURS_IN_YEAR + 1.0), middles, lowest, period=HOURS_IN_YEAR)
    return np.asarray(np.minimum(line, temp_air), dtype=np.float64)
