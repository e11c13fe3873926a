"""Times of day, days of the year and months, as a job file writes them."""

from __future__ import annotations

from typing import Annotated

from noonwater.core.field import Items, Text, Whole

DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)


def minutes_of(time: str, name: str) -> int:
    """Minutes after midnight of 'HH:MM'; '24:00' is the day's end."""
    hours, _, minutes = time.partition(":")
    right = hours.isdecimal() and minutes.isdecimal() and len(minutes) == 2
    total = int(hours) * 60 + int(minutes) if right else -1
    if not right or int(minutes) > 59 or not 0 <= total <= 24 * 60:
        raise ValueError(f"{name} is '{time}'; allowed: a time of day such as '08:00' or '17:30'")
    return total


def minutes_between(start: str, stop: str) -> list[int]:
    """Minutes of the day from start up to stop, over midnight where stop is the earlier."""
    first, last = minutes_of(start, "start"), minutes_of(stop, "stop")
    if last <= first:
        last += 24 * 60
    return [minute % (24 * 60) for minute in range(first, last)]


def day_of_year(day: str, name: str) -> int:
    """Days from 1 January to 'MM-DD' in a year of 365."""
    month, _, date = day.partition("-")
    if month.isdecimal() and date.isdecimal() and 1 <= int(month) <= 12:
        length = DAYS_BEFORE_MONTH[int(month)] - DAYS_BEFORE_MONTH[int(month) - 1]
        if 1 <= int(date) <= length:
            return DAYS_BEFORE_MONTH[int(month) - 1] + int(date) - 1
    raise ValueError(f"{name} is '{day}'; allowed: month and day such as '04-15'")


def refuse_hours_and_months(on_from: str, on_until: str, months: tuple[int, ...]) -> None:
    """Raise ValueError for times and months that no clock or calendar has."""
    minutes_of(on_from, "on_from")
    minutes_of(on_until, "on_until")
    wrong = [month for month in months if not 1 <= month <= 12]
    if wrong:
        raise ValueError(f"months has {wrong}; allowed: whole numbers from 1 to 12")


ClockTime = Annotated[
    str, Text("a time of day", minutes_of, r"^([01]?\d|2[0-4]):[0-5]\d$", ("08:00", "17:30"))
]
"""A time of day as 'HH:MM'."""
CalendarDay = Annotated[
    str, Text("a day of the year", day_of_year, r"^(0?[1-9]|1[0-2])-[0-3]?\d$", ("04-15",))
]
"""A day of any year as 'MM-DD'."""
MonthNumber = Annotated[int, Whole("month, 1 for January", 1, 12)]
Months = Annotated[tuple[MonthNumber, ...], Items("months, 1 for January", 0, 12)]
"""Months of the year by number."""

ALL_YEAR = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
