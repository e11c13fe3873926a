"""What stands around the water, who is in it, and what else runs on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from noonwater.core.field import Whole
from noonwater.core.quantity import Quantity
from noonwater.model.when import ALL_YEAR, ClockTime, Months, refuse_hours_and_months


@dataclass(frozen=True)
class Obstruction:
    """A house, a tree or a hill as the water sees it: from bearing to bearing, so high."""

    from_bearing: Annotated[
        float, Quantity("bearing", "bearing of its left edge, clockwise from north", 0, 360)
    ]
    to_bearing: Annotated[
        float, Quantity("bearing", "bearing of its right edge, clockwise from north", 0, 360)
    ]
    height: Annotated[float, Quantity("angle", "its top above the horizon", 0, 90)]
    lets_through: Annotated[float, Quantity("share", "light that passes through it", 0, 1)] = 0.0
    months: Months = ALL_YEAR

    def __post_init__(self) -> None:
        """Refuse an obstruction of no width."""
        if self.from_bearing == self.to_bearing:
            raise ValueError(
                f"from_bearing and to_bearing are both {self.from_bearing:g} deg;"
                " allowed: two different bearings, 0 deg and 360 deg for all round"
            )

    @property
    def width(self) -> float:
        """How far it reaches round the horizon. [°]."""
        turn = (self.to_bearing - self.from_bearing) % 360.0
        return turn or 360.0


@dataclass(frozen=True)
class Bathing:
    """Who is in the water, and when; a cover is off meanwhile."""

    bathers: Annotated[int, Whole("bathers in the water at once", 0, 2000)] = 0
    on_from: ClockTime = "14:00"
    on_until: ClockTime = "16:00"
    months: Months = ALL_YEAR
    splash: Annotated[
        float, Quantity("volume", "water that a bather takes out or dirties in an hour", 0, 0.2)
    ] = 0.03

    def __post_init__(self) -> None:
        """Refuse times and months that no clock or calendar has."""
        refuse_hours_and_months(self.on_from, self.on_until, self.months)


@dataclass(frozen=True)
class Feature:
    """Falling water: a waterfall, a sheet, a fountain."""

    area: Annotated[float, Quantity("area", "wet area of the falling water, both sides", 0.05, 500)]
    fall: Annotated[float, Quantity("length", "how far it falls", 0.05, 20)]
    on_from: ClockTime = "10:00"
    on_until: ClockTime = "18:00"
    months: Months = ALL_YEAR

    def __post_init__(self) -> None:
        """Refuse times and months that no clock or calendar has."""
        refuse_hours_and_months(self.on_from, self.on_until, self.months)


@dataclass(frozen=True)
class SpaWater:
    """A spa beside the pool: heated for its hours, then part of the pool or kept hot."""

    area: Annotated[float, Quantity("area", "its water surface", 0.5, 100)]
    depth: Annotated[float, Quantity("length", "its mean depth", 0.2, 2)]
    target: Annotated[float, Quantity("temperature", "its wanted temperature", 20, 40)] = 38.0
    between: Literal["spills into the pool", "kept hot"] = "spills into the pool"
    on_from: ClockTime = "19:00"
    on_until: ClockTime = "20:00"
    every: Annotated[int, Whole("used one day in so many", 1, 60)] = 1
    months: Months = ALL_YEAR

    def __post_init__(self) -> None:
        """Refuse times and months that no clock or calendar has."""
        refuse_hours_and_months(self.on_from, self.on_until, self.months)

    @property
    def spills(self) -> bool:
        """Whether its water is the pool's between two uses."""
        return self.between == "spills into the pool"
