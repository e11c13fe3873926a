"""Measurements of a pool: a bucket test typed at the command line, or a logger's file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.sureness import (
    CALIBRATION_SAMPLES,
    believed,
    calibration_dict,
    calibration_lines,
)
from noonwater.app.weather import weather_years_of
from noonwater.core.errors import Fault, InputError
from noonwater.core.quantity import Quantity
from noonwater.core.units import System, read_quantity
from noonwater.model.job import Job

if TYPE_CHECKING:
    import pandas as pd

    from noonwater.climate.weather_year import WeatherYear
    from noonwater.design.calibrate import Bucket, Calibration
    from noonwater.year.parameters import Floats

FIELDS = {
    "drop": Quantity("length", "how far the level sank in the bucket", 0.001, 0.5),
    "over": Quantity("time", "how long the test took", 6 * 3600, 30 * 86400),
    "water": Quantity("temperature", "mean water temperature", 1, 45),
    "air": Quantity("temperature", "mean air temperature", -30, 50),
    "dew_point": Quantity("temperature", "mean dew point of the air", -35, 35),
    "wind": Quantity("velocity", "mean wind at the weather station", 0, 20),
}
"""What a bucket test says."""

DEGREES = {"°c": (1.0, 0.0), "c": (1.0, 0.0), "°f": (5.0 / 9.0, 32.0), "f": (5.0 / 9.0, 32.0)}
LEAST_HOURS = 72
A_LOG = 'a CSV file with the columns "time" and "pool °F" or "pool °C"'


@dataclass(frozen=True, eq=False)
class CalibrationAnswer:
    """What a measurement left of a job's ranges."""

    job: Job
    done: Calibration
    findings: tuple[()] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give the calibration for JSON."""
        return {"job": self.job.name, **calibration_dict(self.done)}

    def lines(self, system: System) -> list[str]:
        """Tell what is narrower and what is not."""
        return calibration_lines(self.done, system)


def bucket_of(words: dict[str, str]) -> Bucket:
    """Read a bucket test's quantities, with every fault at once.

    Parameters
    ----------
    words : dict
        Text by name of `FIELDS`.

    Returns
    -------
    Bucket

    Raises
    ------
    InputError
        For each quantity that can't be read.
    """
    from noonwater.core.unit_text import QuantityError
    from noonwater.design.calibrate import Bucket

    values, faults = {}, []
    for name, quantity in FIELDS.items():
        option = f"--{name.replace('_', '-')}"
        if not words.get(name):
            faults.append(Fault(option, "missing", f"{quantity.meaning}, with its unit"))
            continue
        try:
            values[name] = read_quantity(words[name], quantity)
        except QuantityError as error:
            faults.append(Fault(option, error.given, error.allowed, error.remedy))
    if not faults and values["dew_point"] > values["air"] + 0.5:
        given = f"{words['dew_point']} with the air at {words['air']}"
        faults.append(Fault("--dew-point", given, "not above the air"))
    if faults:
        raise InputError(faults, "bucket test")
    return Bucket(
        values["drop"],
        values["over"] / 86400.0,
        values["water"],
        values["air"],
        values["dew_point"],
        values["wind"],
    )


def calibrate_by_bucket(job: Job, bucket: Bucket) -> CalibrationAnswer:
    """Weigh what is believed of a job by a bucket test."""
    from noonwater.design.calibrate import bucket_misfit, calibrate
    from noonwater.design.doubts import beliefs
    from noonwater.design.sure import SEED, run_beliefs
    from noonwater.year.exposure import wind_factor_water

    base, doubts, start = believed(job)
    drawn, values = beliefs(doubts, CALIBRATION_SAMPLES, SEED)
    wind = wind_factor_water(job.site, job.pool)
    misfit = bucket_misfit(bucket, drawn, wind, job.site.elevation)
    outcomes = run_beliefs(base, drawn, start)
    return CalibrationAnswer(job, calibrate(doubts, values, outcomes, base.inputs, misfit))


def calibrate_by_log(job: Job, file: Path) -> CalibrationAnswer:
    """Weigh what is believed of a job by a logger's pool temperatures.

    Raises
    ------
    InputError
        When the log can't be read, or the job's weather is not that of the log's year.
    """
    from noonwater.design.calibrate import calibrate, logger_misfit, readings_in
    from noonwater.design.doubts import beliefs
    from noonwater.design.sure import SEED, run_beliefs

    year, first, temps = read_log(file)
    logged = believed(job, _weather_of_log(job, year, file))[0]
    base, doubts, start = believed(job)
    drawn, values = beliefs(doubts, CALIBRATION_SAMPLES, SEED)
    misfit = logger_misfit(logged, drawn, first, temps)
    outcomes = run_beliefs(base, drawn, start)
    readings = readings_in(len(temps))
    done = calibrate(doubts, values, outcomes, base.inputs, misfit, readings=readings)
    return CalibrationAnswer(job, done)


def _weather_of_log(job: Job, year: int, file: Path) -> WeatherYear:
    """Find the log's own year among those behind the job's weather."""
    years = weather_years_of(job)
    found = [weather for weather in years if weather.calendar_year == year]
    if found:
        return found[0]
    real = ", ".join(str(each.calendar_year) for each in years if each.calendar_year is not None)
    given = f"a log of {year} on weather of {real or years[0].provenance.kind}"
    allowed = f"weather of the days that were logged, {year}"
    remedy = "name a weather file that holds that very year in [weather], or take a bucket test"
    raise InputError([Fault("weather", given, allowed, remedy)], str(file))


def read_log(file: Path) -> tuple[int, int, Floats]:
    """Read a logger's file into hours.

    Parameters
    ----------
    file : Path
        CSV; first column a time in the site's standard time, second the pool, its unit in the head.

    Returns
    -------
    tuple of (int, int, (hours,) array)
        Calendar year, first hour in it, and hourly means from there [°C]; 29 February is left out,
        as in every year of weather.

    Raises
    ------
    InputError
        When it is no such file.
    """
    import pandas as pd

    try:
        table = pd.read_csv(file, nrows=400_000)
    except (OSError, UnicodeDecodeError, ValueError) as error:
        raise InputError([Fault("the log", _first_line(error), A_LOG)], str(file)) from None
    scale, offset, column = _pool_column(table, file)
    times = pd.to_datetime(table.iloc[:, 0], errors="coerce")
    pool = (pd.to_numeric(table[column], errors="coerce") - offset) * scale
    good = times.notna() & pool.between(-2.0, 50.0)
    if good.sum() < 0.9 * len(table) or good.sum() == 0:
        given = f"{len(table) - int(good.sum())} of {len(table)} rows without a time or a pool"
        raise InputError([Fault("the log", given, "at most a tenth", A_LOG)], str(file))
    if times.dt.tz is not None:
        given, allowed = "times with a zone of their own", "the site's standard time, no zone"
        raise InputError([Fault("the log", given, allowed)], str(file))
    hourly = pool[good].set_axis(times[good]).sort_index().resample("1h").mean()
    hourly = hourly.interpolate(limit=6)
    hours = pd.DatetimeIndex(hourly.index)
    hourly = hourly[(hours.month != 2) | (hours.day != 29)]
    years = pd.DatetimeIndex(hourly.index).year.unique()
    if len(hourly) < LEAST_HOURS or hourly.isna().any() or len(years) > 1:
        held = " and ".join(str(year) for year in years)
        given = f"{len(hourly)} hours of {held}, {int(hourly.isna().sum())} of them empty"
        allowed = f"{LEAST_HOURS} hours or more, no gap over 6 hours, all in one year"
        raise InputError([Fault("the log", given, allowed)], str(file))
    begin = hourly.index[0]
    day = begin.day_of_year - 1 - (1 if begin.is_leap_year and begin.month > 2 else 0)
    return begin.year, day * 24 + begin.hour, hourly.to_numpy()


def _pool_column(table: pd.DataFrame, file: Path) -> tuple[float, float, str]:
    for name in table.columns[1:]:
        found = re.search(r"(°?\s*[CF])\b\]?\)?\s*$", str(name).strip(), re.I)
        if found and "pool" in str(name).lower():
            scale, offset = DEGREES[found.group(1).replace(" ", "").lower()]
            return scale, offset, str(name)
    heads = ", ".join(str(name) for name in table.columns[:6])
    raise InputError([Fault("the log", f"the columns {heads}"[:200], A_LOG)], str(file))


def _first_line(error: Exception) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0][:160]
