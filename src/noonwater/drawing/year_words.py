"""The year's sheet in words, for those who hear it."""

from __future__ import annotations

from noonwater.climate.weather_year import month_of_day
from noonwater.core.digits import about
from noonwater.drawing.calendar import DAYS, MONTH_NAMES, Season, day_name
from noonwater.drawing.scales import digits
from noonwater.drawing.strokes import Floats
from noonwater.drawing.year_days import YearDays
from noonwater.year.result import YearResult


def described(result: YearResult, days: YearDays, season: Season) -> str:
    """Say what the sheet shows.

    Parameters
    ----------
    result : YearResult
        Hours at the target, source of the weather.
    days : YearDays
        Figures in the reader's units.
    season : Season
        When the pool is open.

    Returns
    -------
    str
        A few sentences.
    """
    system, energy = days.system, days.energy_unit
    hours = sum(month.hours_at_target for month in result.months)
    without = sum(month.hours_at_target_without_solar for month in result.months)
    opened = f"from {day_name(season.opens, system)} to {day_name(season.closes, system)}"
    places = 0 if energy == "kWh" else 1
    heat, pump = (
        digits(about(float(amounts.sum())), system, places)
        for amounts in (days.solar_heat, days.pump_energy)
    )
    return (
        f"The pool is open {'all year' if season.length == DAYS else opened}; "
        f"its target is {digits(days.target, system, 1)} {days.temperature_unit}. "
        f"With solar its daily mean goes {_range(days.pool, days)}; "
        f"without {days.without} {_range(days.pool_without_solar, days)}. "
        f"It is at the target or above for {digits(hours, system)} hours of the year with solar, "
        f"{digits(without, system)} without. "
        f"Solar brings {heat} {energy} in the year; the pump takes {pump} {energy}. "
        f"Weather: {result.weather.source}."
    )


def _range(daily: Floats, days: YearDays) -> str:
    low, high = (
        f"{digits(float(daily[day]), days.system, 1)} {days.temperature_unit} "
        f"({MONTH_NAMES[month_of_day()[day]]})"
        for day in (int(daily.argmin()), int(daily.argmax()))
    )
    return f"from {low} to {high}"
