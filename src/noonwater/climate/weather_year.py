"""The hourly year that every other room computes with, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.extremes import Extremes
from noonwater.core.finding import Finding

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
YearKind = Literal[
    "typical-year file",
    "real-year file",
    "online service",
    "station table",
    "monthly means",
    "rough estimate",
]
"""Rungs of the ladder of sources."""

HOURS_IN_YEAR = 8760
DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True)
class Provenance:
    """Where a year comes from and what it is worth.

    Attributes
    ----------
    source : str
        File name, or the table and its reference.
    kind : YearKind
        Rung of the ladder of sources.
    closure : float
        Root mean square of global less diffuse less beam on the level over the sunlit hours, the
        sun taken at the middle of each hour. [W/m²]
    uncertainty : str
        One sentence about how sure the year is.
    uncertainty_sun : float
        Likely error of the annual sun on the level, one standard deviation. [-]
    notes : tuple of str
        What was mended, assumed or left out.
    findings : tuple of Finding
        What somebody should look at before trusting the year.
    """

    source: str
    kind: YearKind
    closure: float
    uncertainty: str
    uncertainty_sun: float
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, eq=False)
class WeatherYear:
    """One year of hours in local standard time, always 365 days.

    Hour ``i`` spans ``i`` to ``i + 1`` from 1 January 00:00. The three sun arrays are means over
    the hour. All others are the value at its end, the instant ``i + 1``: in the formats read here
    the stamp of temperature, humidity and wind is the end of the hour (common reading of the
    formats, from memory). `noonwater.climate.sun.weather_steps` interpolates between them.

    Attributes
    ----------
    place : str
        Name for people.
    latitude, longitude : float
        North and east are positive. [°]
    elevation : float
        Above sea level. [m]
    utc_offset : float
        Standard time less universal time. [h]
    sun_global, sun_diffuse : array of 8760
        On the level. [W/m²]
    sun_beam : array of 8760
        Square to the sun. [W/m²]
    temp_air, dew_point : array of 8760
        [°C]
    vapour_pressure : array of 8760
        Of the air's water vapour. [Pa]
    wind_speed : array of 8760
        At 10 m over open ground. [m/s]
    pressure : array of 8760
        Of the air at the site. [Pa]
    longwave_sky : array of 8760
        Thermal radiation from the sky onto the level. [W/m²]
    cloud_cover : array of 8760
        Share of the sky hidden by opaque cloud. [-]
    albedo : array of 8760
        Share of the sun that the ground sends back. [-]
    provenance : Provenance
        Source, closure, uncertainty, notes and findings.
    extremes : Extremes or None
        What the source knows of the coldest hour in many years; None: nothing.
    calendar_year : int or None
        The year that the hours were measured in; None for typical and made years. [-]
    """

    place: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    sun_global: FloatArray
    sun_beam: FloatArray
    sun_diffuse: FloatArray
    temp_air: FloatArray
    dew_point: FloatArray
    vapour_pressure: FloatArray
    wind_speed: FloatArray
    pressure: FloatArray
    longwave_sky: FloatArray
    cloud_cover: FloatArray
    albedo: FloatArray
    provenance: Provenance
    extremes: Extremes | None = None
    calendar_year: int | None = None

    def __post_init__(self) -> None:
        for entry in fields(self):
            values = getattr(self, entry.name)
            if not isinstance(values, np.ndarray):
                continue
            if values.shape != (HOURS_IN_YEAR,) or not np.isfinite(values).all():
                raise ValueError(f"{entry.name} must hold {HOURS_IN_YEAR} finite values")
            object.__setattr__(self, entry.name, frozen_copy(values))

    @property
    def hours(self) -> int:
        """Number of hours. [-]"""
        return len(self.sun_global)


def frozen_copy(values: FloatArray) -> FloatArray:
    """Contiguous float64 copy that nobody can write to.

    Parameters
    ----------
    values : array
        Any unit.

    Returns
    -------
    array
        Same values and unit, read-only.
    """
    copy = np.array(values, dtype=np.float64, order="C")
    copy.flags.writeable = False
    return copy


def month_of_hour() -> IntArray:
    """Month of each hour of the year.

    Returns
    -------
    array of 8760
        0 for January to 11 for December. [-]
    """
    return np.repeat(np.arange(12), 24 * np.array(DAYS_IN_MONTH))


def day_of_hour() -> IntArray:
    """Day of the year of each hour.

    Returns
    -------
    array of 8760
        0 for 1 January to 364 for 31 December. [-]
    """
    return np.repeat(np.arange(365), 24)


def month_of_day() -> IntArray:
    """Month of each day of the year.

    Returns
    -------
    array of 365
        0 for January to 11 for December. [-]
    """
    return np.repeat(np.arange(12), DAYS_IN_MONTH)


def monthly_mean(hourly: FloatArray) -> FloatArray:
    """Mean of each calendar month.

    Parameters
    ----------
    hourly : array of 8760
        Any unit.

    Returns
    -------
    array of 12
        Same unit.
    """
    total = np.bincount(month_of_hour(), weights=hourly, minlength=12)
    return np.asarray(total / (24.0 * np.array(DAYS_IN_MONTH)), dtype=np.float64)
