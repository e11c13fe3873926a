"""The pool: what is heated."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from noonwater.core.field import Text, Whole
from noonwater.core.quantity import Quantity

Finish = Literal["white", "light", "medium", "dark"]
Shelter = Literal["open", "partly sheltered", "sheltered"]
CoverKind = Literal["none", "bubble", "foam", "solid", "discs", "liquid"]

DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)


def minutes_of(time: str, name: str) -> int:
    """Minutes after midnight of 'HH:MM'; '24:00' is the day's end."""
    hours, _, minutes = time.partition(":")
    right = hours.isdecimal() and minutes.isdecimal() and len(minutes) == 2
    total = int(hours) * 60 + int(minutes) if right else -1
    if not right or int(minutes) > 59 or not 0 <= total <= 24 * 60:
        raise ValueError(f"{name} is '{time}'; allowed: a time of day such as '08:00' or '17:30'")
    return total


def day_of_year(day: str, name: str) -> int:
    """Days from 1 January to 'MM-DD' in a year of 365."""
    month, _, date = day.partition("-")
    if month.isdecimal() and date.isdecimal() and 1 <= int(month) <= 12:
        length = DAYS_BEFORE_MONTH[int(month)] - DAYS_BEFORE_MONTH[int(month) - 1]
        if 1 <= int(date) <= length:
            return DAYS_BEFORE_MONTH[int(month) - 1] + int(date) - 1
    raise ValueError(f"{name} is '{day}'; allowed: month and day such as '04-15'")


ClockTime = Annotated[
    str, Text("a time of day", minutes_of, r"^([01]?\d|2[0-4]):[0-5]\d$", ("08:00", "17:30"))
]
"""A time of day as 'HH:MM'."""
CalendarDay = Annotated[
    str, Text("a day of the year", day_of_year, r"^(0?[1-9]|1[0-2])-[0-3]?\d$", ("04-15",))
]
"""A day of any year as 'MM-DD'."""
Month = Annotated[int, Whole("month in which the cover is used", 1, 12)]


@dataclass(frozen=True)
class Cover:
    """A cover and the hours it lies on the water."""

    kind: CoverKind = "none"
    on_from: ClockTime = "20:00"
    on_until: ClockTime = "08:00"
    months: tuple[Month, ...] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)

    def __post_init__(self) -> None:
        """Refuse times and months that no clock or calendar has."""
        minutes_of(self.on_from, "on_from")
        minutes_of(self.on_until, "on_until")
        wrong = [month for month in self.months if not 1 <= month <= 12]
        if wrong:
            raise ValueError(f"months has {wrong}; allowed: whole numbers from 1 to 12")


@dataclass(frozen=True)
class Pool:
    """The body of water, its walls, its owner's wishes."""

    area: Annotated[float, Quantity("area", "water surface", 1, 5000)]
    depth: Annotated[float, Quantity("length", "mean depth", 0.2, 6)]
    target: Annotated[float, Quantity("temperature", "wanted water temperature", 10, 40)]
    opens: CalendarDay = "04-01"
    closes: CalendarDay = "10-31"
    finish: Finish = "light"
    shelter: Shelter = "partly sheltered"
    shade: Annotated[float, Quantity("share", "share of the day's direct sun kept off", 0, 1)] = 0.0
    cover: Cover = field(default_factory=Cover)

    def __post_init__(self) -> None:
        """Refuse days that no calendar has."""
        day_of_year(self.opens, "opens")
        day_of_year(self.closes, "closes")

    @property
    def volume(self) -> float:
        """Water held. [m³]."""
        return self.area * self.depth
