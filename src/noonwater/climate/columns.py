"""A file's columns, checked and mended, made into a year."""

from __future__ import annotations

import numpy as np

from noonwater.climate.checks import Closures, closures, findings_of_year
from noonwater.climate.extremes import extremes_of_header
from noonwater.climate.formats import RawYear
from noonwater.climate.mend import (
    ALBEDO,
    CLOUD,
    DEW_POINT,
    HUMIDITY,
    LONGWAVE,
    NEEDED,
    PRESSURE,
    Limits,
    blanked,
    column_mended,
    fault_of,
    note_of,
)
from noonwater.climate.weather_year import (
    HOURS_IN_YEAR,
    MONTHS,
    FloatArray,
    Provenance,
    WeatherYear,
    monthly_mean,
)
from noonwater.core.errors import Fault, WeatherError

ALBEDO_USUAL = 0.2
"""[-] Grass and gravel; common practice, no source."""

UNCERTAINTY_SUN = 0.07
"""[-] Typical years of one place differ by 5 to 10 % in annual sun; Miami's three by source give
1753, 1793 and 1928 kWh/m²."""

YEAR_TO_YEAR_SUN = 0.04
"""[-] Spread of single years' annual sun about their mean, 2 to 6 % by place (from memory)."""

POLAR_NIGHT = 60.0
"""[°] Below this latitude every month has sun; ours, with room."""


def year_from_columns(
    raw: RawYear, columns: dict[str, FloatArray], notes: list[str], source: str
) -> WeatherYear:
    """Check and mend a file's columns and make the year.

    Parameters
    ----------
    raw : RawYear
        The file's site, rung, year and header.
    columns : dict of arrays of 8760
        In the order of the calendar. [SI]
    notes : list of str
        What has been said so far.
    source : str
        Name of the file.

    Returns
    -------
    WeatherYear
        With provenance.

    Raises
    ------
    WeatherError
        All columns that can't be used, at once.
    """
    from noonwater.climate.sky import cloud_cover_from_sun, vapour_pressure_of_hours

    faults: list[Fault] = []
    needed = {name: _needed(name, columns[name], notes, faults) for name in NEEDED}
    sun = {name: np.maximum(values, 0.0) for name, values in needed.items() if "sun" in name}
    dew_point = _dew_point(columns, needed["temp_air"], notes, faults)
    faults += _faults_of_sun(sun["sun_global"], raw.latitude)
    if faults:
        raise WeatherError(faults, source)
    three = (sun["sun_global"], sun["sun_beam"], sun["sun_diffuse"])
    found = closures(raw.latitude, raw.longitude, raw.utc_offset, three)
    told = cloud_cover_from_sun(sun["sun_global"], found.height)
    cloud, longwave = _sky(columns, needed["temp_air"], dew_point, told, notes)
    pressure = _pressure(columns, raw.elevation, notes)
    albedo = _albedo(columns, notes)
    return WeatherYear(
        place=raw.place or source,
        latitude=raw.latitude,
        longitude=raw.longitude,
        elevation=raw.elevation,
        utc_offset=raw.utc_offset,
        **sun,
        temp_air=needed["temp_air"],
        dew_point=dew_point,
        vapour_pressure=vapour_pressure_of_hours(dew_point),
        wind_speed=needed["wind_speed"],
        pressure=pressure,
        longwave_sky=longwave,
        cloud_cover=cloud,
        albedo=albedo,
        provenance=_provenance(raw, source, found, needed["wind_speed"], notes),
        extremes=extremes_of_header(raw.extremes_line, float(needed["temp_air"].min())),
        calendar_year=raw.calendar_year,
    )


def _provenance(
    raw: RawYear, source: str, found: Closures, wind_speed: FloatArray, notes: list[str]
) -> Provenance:
    uncertainty = (
        "a typical year, not a forecast: typical years of one place differ by 5 to 10 % in annual "
        "sun"
    )
    if raw.calendar_year is not None:
        uncertainty = (
            f"one real year, {raw.calendar_year}, not a typical one: sources of one place differ "
            "by 5 to 10 % in annual sun, and single years by some 4 % from their mean"
        )
    real = 0.0 if raw.calendar_year is None else YEAR_TO_YEAR_SUN
    return Provenance(
        source=source,
        kind=raw.kind,
        closure=found.closure,
        uncertainty=uncertainty,
        uncertainty_sun=float(np.hypot(UNCERTAINTY_SUN, real)),
        notes=tuple(notes),
        findings=findings_of_year(wind_speed, found),
    )


def _needed(name: str, values: FloatArray, notes: list[str], faults: list[Fault]) -> FloatArray:
    mended = column_mended(values, NEEDED[name])
    if not mended.whole:
        faults.append(fault_of(name, mended, NEEDED[name]))
        return np.zeros(HOURS_IN_YEAR)
    if mended.missing:
        notes.append(note_of(name, mended))
    return mended.values


def _dew_point(
    columns: dict[str, FloatArray],
    temp_air: FloatArray,
    notes: list[str],
    faults: list[Fault],
) -> FloatArray:
    """Dew point of the file, from its humidity where it has none."""
    from noonwater.climate.sky import dew_point_of_hours

    values = blanked(columns["dew_point"], DEW_POINT)
    lost = np.isnan(values)
    if lost.any():
        humidity = blanked(columns["humidity"], HUMIDITY)
        usable = lost & ~np.isnan(humidity)
        told = dew_point_of_hours(temp_air, np.clip(np.nan_to_num(humidity), 0.01, 1.0))
        values = np.where(usable, told, values)
        if usable.any():
            notes.append(f"dew_point: {int(usable.sum())} missing hours taken from humidity")
    mended = column_mended(values, DEW_POINT)
    if not mended.whole:
        faults.append(fault_of("dew_point", mended, DEW_POINT))
        return np.zeros(HOURS_IN_YEAR)
    if mended.missing:
        notes.append(note_of("dew_point", mended))
    return np.minimum(mended.values, temp_air)


def _pressure(columns: dict[str, FloatArray], elevation: float, notes: list[str]) -> FloatArray:
    from noonwater.physics.air import pressure_at_elevation

    mended = _optional("pressure", columns, PRESSURE, notes)
    if mended is not None:
        return mended
    notes.append("pressure: taken from the elevation")
    return np.full(HOURS_IN_YEAR, pressure_at_elevation(elevation))


def _albedo(columns: dict[str, FloatArray], notes: list[str]) -> FloatArray:
    mended = _optional("albedo", columns, ALBEDO, notes)
    if mended is not None:
        return mended
    notes.append(f"albedo: taken as {ALBEDO_USUAL}")
    return np.full(HOURS_IN_YEAR, ALBEDO_USUAL)


def _sky(
    columns: dict[str, FloatArray],
    temp_air: FloatArray,
    dew_point: FloatArray,
    told: FloatArray,
    notes: list[str],
) -> tuple[FloatArray, FloatArray]:
    """Cloud and sky radiation: from opaque cover, total cover, the file's infrared, the sun."""
    from noonwater.climate.sky import longwave_of_hours

    # An infrared column is usually computed from the cover, so with cover the house decides.
    for name, words in (("cloud_opaque", "opaque"), ("cloud_total", "total")):
        cover = _optional(name, columns, CLOUD, notes)
        if cover is not None and cover.any():
            notes.append(f"sky radiation computed from dew point and {words} cloud, ±25 W/m²")
            return cover, longwave_of_hours(temp_air, dew_point, cover)
    notes.append("cloud: told from the sun of each day, no cover in the file")
    infrared = _optional("longwave_sky", columns, LONGWAVE, notes)
    if infrared is not None:
        notes.append("sky radiation: the file's infrared column, as it stands")
        return told, infrared
    notes.append("sky radiation computed from dew point and that cloud, ±25 W/m²")
    return told, longwave_of_hours(temp_air, dew_point, told)


def _optional(
    name: str, columns: dict[str, FloatArray], limits: Limits, notes: list[str]
) -> FloatArray | None:
    if name not in columns:
        return None
    mended = column_mended(columns[name], limits)
    if not mended.whole:
        return None
    if mended.missing:
        notes.append(note_of(name, mended))
    return mended.values


def _faults_of_sun(sun_global: FloatArray, latitude: float) -> list[Fault]:
    dark = np.flatnonzero(monthly_mean(sun_global) <= 0.0)
    if abs(latitude) >= POLAR_NIGHT and dark.size < 12:
        return []
    return [
        Fault(
            "sun_global",
            f"no sun at all in {MONTHS[month]}",
            "sun in every month",
            "take another file of this place",
        )
        for month in dark[:1]
    ]
