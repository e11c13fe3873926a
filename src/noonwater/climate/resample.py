"""Sun and weather of rows with any phase brought into the house's hours.

Sun in the middle of an hour is taken as the hour's mean, as it stands. At any other phase (minutes
past the hour, half-hour zones, several rows an hour) it goes by clearness, the share of the sun
outside the atmosphere that comes through: clearness is interpolated between rows, the sun's height
is not. Everything else is interpolated on straight lines to the hours' ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.checks import sun_closure
from noonwater.climate.outside import sun_outside_of_day
from noonwater.climate.samples import ORDINARY_YEAR, Samples, YearOfSamples
from noonwater.climate.sun_path import SECONDS_IN_HOUR, sun_position
from noonwater.climate.weather_year import HOURS_IN_YEAR, FloatArray

STEP = 300
"""[s] The sun is followed in such steps within an hour, the year's default."""

SINE_LEAST = 0.035
"""[-] Sun lower than 2° tells no clearness: both parts of the ratio are noise; ours."""

SUN = ("sun_global", "sun_beam", "sun_diffuse")


@dataclass(frozen=True)
class Clock:
    """What a row's stamp means for the sun.

    Attributes
    ----------
    stamp_offset : float
        The file's clock less universal time. [h]
    sun_shift, air_shift : float
        Added to a stamp, the instant that its sun and its other values stand for. [s]
    """

    stamp_offset: float
    sun_shift: float
    air_shift: float = 0.0


def hours_of_year(samples: Samples, year: YearOfSamples) -> dict[str, FloatArray]:
    """Columns of one year at the house's hours.

    Parameters
    ----------
    samples : Samples
        Site and what its stamps mean.
    year : YearOfSamples
        Rows in the order of the calendar, without gaps in the sun.

    Returns
    -------
    dict of arrays of 8760
        Sun as means over the hours, the rest at their ends. [SI]
    """
    ends = np.arange(1.0, HOURS_IN_YEAR + 1.0) * SECONDS_IN_HOUR
    at = np.arange(ORDINARY_YEAR // year.step) * float(year.step) + year.first + samples.air_shift
    hourly = {
        name: np.interp(ends, at, values, period=float(ORDINARY_YEAR))
        for name, values in year.columns.items()
        if name not in SUN
    }
    return hourly | _sun_of_hours(samples, year)


def best_clock(samples: Samples, year: YearOfSamples, clocks: tuple[Clock, ...]) -> Clock:
    """The clock by which global, beam and diffuse agree best with the sun's height.

    Parameters
    ----------
    samples : Samples
        Site and what its stamps are taken to mean.
    year : YearOfSamples
        Rows of a whole year without gaps; without beam or diffuse the first clock is taken.
    clocks : tuple of Clock
        What the stamps may mean, likeliest first.

    Returns
    -------
    Clock
        [h], [s]
    """
    if len(clocks) == 1 or any(name not in year.columns for name in SUN):
        return clocks[0]
    sun = (year.columns[SUN[0]], year.columns[SUN[1]], year.columns[SUN[2]])
    tried = []
    for clock in clocks:
        moved = 3600.0 * (samples.stamp_offset - clock.stamp_offset) + clock.sun_shift
        tried.append(sun_closure(sun, _sines(samples, year, moved)))
    return clocks[int(np.argmin(tried))]


def clocks_of(samples: Samples) -> tuple[Clock, ...]:
    """What the stamps of a file or answer may mean.

    Parameters
    ----------
    samples : Samples
        As read; a sun_shift of NaN is told by nothing but the sun itself.

    Returns
    -------
    tuple of Clock
        The file's own word first. [h], [s]

    Notes
    -----
    A local clock that is written as UTC, or the other way round, is a known slip of some servers.
    PVGIS files before 2025 don't say how late in the hour their satellite looked.
    """
    if np.isnan(samples.sun_shift):
        minutes = (30, *(m for m in range(0, 60, 5) if m != 30))
        return tuple(Clock(samples.stamp_offset, 60.0 * m, samples.air_shift) for m in minutes)
    offsets = dict.fromkeys((samples.stamp_offset, samples.utc_offset, 0.0))
    return tuple(Clock(offset, samples.sun_shift, samples.air_shift) for offset in offsets)


def _sines(samples: Samples, year: YearOfSamples, shift: float) -> FloatArray:
    """Sine of the sun's height at each row's instant, zero when down."""
    place = samples.latitude, samples.longitude, samples.utc_offset
    height, _ = sun_position(*place, year.step, year.first + shift - 0.5 * year.step)
    return np.sin(np.radians(np.maximum(height, 0.0)))


def _sun_of_hours(samples: Samples, year: YearOfSamples) -> dict[str, FloatArray]:
    columns = {name: year.columns[name] for name in SUN if name in year.columns}
    phase = year.first + samples.sun_shift
    if year.step == SECONDS_IN_HOUR and (phase - 0.5 * SECONDS_IN_HOUR) % SECONDS_IN_HOUR < 1.0:
        turn = int((phase - 0.5 * SECONDS_IN_HOUR) // SECONDS_IN_HOUR)
        return {name: np.roll(values, turn) for name, values in columns.items()}
    at = np.arange(ORDINARY_YEAR // year.step) * float(year.step) + phase
    sine = _sines(samples, year, samples.sun_shift)
    seen = np.flatnonzero(sine > SINE_LEAST)
    days = (at[seen] % ORDINARY_YEAR // 86400.0).astype(np.int64)
    outside = sun_outside_of_day()[days]
    height, _ = sun_position(samples.latitude, samples.longitude, samples.utc_offset, STEP)
    step_sine = np.sin(np.radians(np.maximum(height, 0.0)))
    steps = SECONDS_IN_HOUR // STEP
    step_outside = np.repeat(sun_outside_of_day(), 24 * steps)
    middles = (np.arange(step_sine.size) + 0.5) * STEP

    def share(values: FloatArray, most: FloatArray) -> FloatArray:
        told = np.clip(values[seen] / most, 0.0, 1.2)
        return np.asarray(np.interp(middles, at[seen], told, period=float(ORDINARY_YEAR)))

    def means(values: FloatArray) -> FloatArray:
        return np.asarray(values.reshape(-1, steps).mean(axis=1), dtype=np.float64)

    level = step_outside * step_sine
    sun_global = share(columns["sun_global"], outside * sine[seen]) * level
    hours = {"sun_global": means(sun_global)}
    if "sun_beam" in columns:
        beam = share(columns["sun_beam"], outside) * step_outside * (step_sine > 0.0)
        on_level = np.minimum(beam * step_sine, sun_global)
        sines = means(step_sine)
        lit = means((step_sine > 0.0).astype(np.float64))
        up = sines / np.maximum(lit, 1e-9)
        # Beam is what closes the hour, as in made years.
        hours["sun_diffuse"] = hours["sun_global"] - means(on_level)
        hours["sun_beam"] = np.where(lit > 0.0, means(on_level) / np.maximum(up, 1e-9), 0.0)
    return hours
