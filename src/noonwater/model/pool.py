"""The pool: what is heated."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from noonwater.core.field import Items, Whole
from noonwater.core.quantity import Quantity
from noonwater.model.pool_use import Bathing, Feature, Obstruction, SpaWater
from noonwater.model.when import (
    DAYS_BEFORE_MONTH,
    CalendarDay,
    ClockTime,
    day_of_year,
    minutes_of,
    refuse_hours_and_months,
)

__all__ = [
    "DAYS_BEFORE_MONTH",
    "CalendarDay",
    "ClockTime",
    "Cover",
    "Pool",
    "day_of_year",
    "minutes_of",
]

Finish = Literal["white", "light", "medium", "dark"]
Shelter = Literal["open", "partly sheltered", "sheltered"]
CoverKind = Literal["none", "bubble", "foam", "solid", "discs", "liquid"]

Month = Annotated[int, Whole("month in which the cover is used", 1, 12)]

Enclosure = Literal["outdoor", "screened", "indoor"]
Setting = Literal["in ground", "above ground"]
Soil = Literal["sand or gravel", "clay or silt", "rock"]
Rain = Annotated[float, Quantity("depth of rain", "rain and melted snow of a month", 0.0, 2.5)]


@dataclass(frozen=True)
class Cover:
    """A cover and the hours it lies on the water."""

    kind: CoverKind = "none"
    on_from: ClockTime = "20:00"
    on_until: ClockTime = "08:00"
    months: tuple[Month, ...] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
    only_below: (
        Annotated[
            float,
            Quantity("temperature", "air at on_from above which the cover stays off", -30, 50),
        ]
        | None
    ) = None
    forgotten: (
        Annotated[int, Whole("forgotten one day in so many, 0 for never; else one in ten", 0, 365)]
        | None
    ) = None

    def __post_init__(self) -> None:
        """Refuse times and months that no clock or calendar has, and a cover never used."""
        refuse_hours_and_months(self.on_from, self.on_until, self.months)
        if self.forgotten == 1:
            raise ValueError(
                "forgotten is 1, every day; allowed: 0 for never, 2 or more for one day in so many,"
                " or kind 'none'"
            )


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
    enclosure: Enclosure = "outdoor"
    hall_temp: Annotated[float, Quantity("temperature", "air of the hall", 5, 45)] | None = None
    hall_humidity: (
        Annotated[float, Quantity("share", "relative humidity of the hall", 0.1, 1)] | None
    ) = None
    setting: Setting = "in ground"
    soil: Soil = "sand or gravel"
    wall_insulation: Annotated[float, Quantity("length", "foam behind walls and floor", 0, 0.5)] = (
        0.0
    )
    refill_temp: (
        Annotated[float, Quantity("temperature", "water that tops the pool up", 0, 40)] | None
    ) = None
    rain: Annotated[
        tuple[Rain, ...], Items("rain and melted snow: twelve months, or none", 0, 12)
    ] = ()
    bathing: Bathing = field(default_factory=Bathing)
    obstruction: Annotated[
        tuple[Obstruction, ...], Items("what hides the sky from the water", 0, 60)
    ] = ()
    feature: Annotated[tuple[Feature, ...], Items("falling water", 0, 20)] = ()
    spa: SpaWater | None = None

    def __post_init__(self) -> None:
        """Refuse days that no calendar has, a hall without air, rain of a few months."""
        day_of_year(self.opens, "opens")
        day_of_year(self.closes, "closes")
        if self.enclosure == "indoor" and (self.hall_temp is None or self.hall_humidity is None):
            raise ValueError(
                "hall_temp or hall_humidity is missing with enclosure 'indoor'; allowed: both"
            )
        if self.enclosure != "indoor" and not (self.hall_temp is self.hall_humidity is None):
            raise ValueError(
                f"hall_temp or hall_humidity is given with enclosure '{self.enclosure}';"
                " allowed: with enclosure 'indoor'"
            )
        if len(self.rain) not in (0, 12):
            raise ValueError(f"rain has {len(self.rain)} values; allowed: none or 12")

    @property
    def volume(self) -> float:
        """Water held. [m³]."""
        return self.area * self.depth
