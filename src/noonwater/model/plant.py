"""The plant: panels on the roof, the pad beside the pool, the pump and what commands them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Literal

from noonwater.core.field import Items, Whole
from noonwater.core.quantity import Quantity
from noonwater.model.pad_option import (
    CheckPlace,
    DrainPlace,
    Edit,
    IsolationPlace,
    PanelChange,
    Spa,
)
from noonwater.model.when import ClockTime, minutes_between, minutes_of

Speed = Annotated[float, Quantity("speed", "turning speed of the pump", 200, 3600)]
Purpose = Literal["filter", "clean", "spa"]
"""What the pump runs for: the filter, a cleaner that needs its pressure, a spa on the same pad."""


@dataclass(frozen=True)
class Bank:
    """Panels side by side on one roof plane, on one pair of headers."""

    roof: str
    panels: Annotated[int, Whole("panels side by side", 1, 60)]
    panel: str
    piping: Literal["reverse return", "direct return"] = "reverse return"
    changed: tuple[PanelChange, ...] = ()
    slope: Annotated[
        float, Quantity("share", "fall of the headers toward the feed's end", -0.1, 0.2)
    ] = 0.0

    def __post_init__(self) -> None:
        """Refuse a bank without panels or of a length that no header carries, and odd changes."""
        if not 1 <= self.panels <= 60:
            raise ValueError(f"panels is {self.panels}; allowed: 1 to 60 in a bank")
        numbers = [change.number for change in self.changed]
        for number in numbers:
            if number > self.panels or numbers.count(number) > 1:
                raise ValueError(
                    f"changed has number {number}; allowed: 1 to {self.panels}, each once"
                )
        if not self.numbers:
            raise ValueError("changed leaves out every panel; allowed: one that stays, or no bank")

    @property
    def numbers(self) -> tuple[int, ...]:
        """Places of the panels that are there, from the feed on."""
        gone = {change.number for change in self.changed if change.left_out}
        return tuple(number for number in range(1, self.panels + 1) if number not in gone)

    def panel_at(self, number: int) -> str:
        """Kind of the panel at a place."""
        return next((c.panel for c in self.changed if c.number == number and c.panel), self.panel)

    def plugged_at(self, number: int) -> float:
        """Share of plugged tubes of the panel at a place. [-]."""
        return next((c.plugged for c in self.changed if c.number == number), 0.0)


@dataclass(frozen=True)
class Array:
    """All banks; they share one feed and one return."""

    banks: Annotated[tuple[Bank, ...], Items("banks that share one feed", 1, 40)]
    trapped_water: Annotated[
        float, Quantity("share", "share of the panels' water that draining leaves in them", 0, 1)
    ] = 0.0

    def __post_init__(self) -> None:
        """Refuse an array without banks."""
        if not self.banks:
            raise ValueError("banks is empty; allowed: one bank or more")

    @property
    def panels(self) -> int:
        """Number of panels that are there."""
        return sum(len(bank.numbers) for bank in self.banks)


Arrangement = Literal["diverter", "diverter with bypass", "diverter with stops", "hand diverter"]
"""Ready tie-ins: all flow through a diverter; the same with a hand-set bypass across the array; a
diverter whose actuator's stops split the flow; a diverter turned by hand, without a controller."""

BreakerPlace = Literal["high return", "feed", "none"]


@dataclass(frozen=True)
class Pad:
    """The pad and the pipes between it, the pool and the roof."""

    pipe: Annotated[float, Quantity("diameter", "nominal size of the pipe", 0.015, 0.2)]
    suction_length: Annotated[float, Quantity("length", "pool to pump", 0, 300)]
    return_length: Annotated[float, Quantity("length", "pad to pool", 0, 300)]
    feed_length: Annotated[float, Quantity("length", "pad to the array's low corner", 0, 300)]
    roof_return_length: Annotated[
        float, Quantity("length", "array's high corner back to the pad", 0, 300)
    ]
    arrangement: Arrangement = "diverter"
    schedule: Literal["40", "80", "metric"] = "40"
    elevation: Annotated[float, Quantity("length", "pad above the pool's water", -10, 20)] = 0.3
    filter: str = "cartridge"
    heater: str = "none"
    breaker: BreakerPlace = "high return"
    check_valves: tuple[CheckPlace, ...] = ("after filter", "roof return")
    bypass_open: Annotated[
        float, Quantity("share", "how far the hand-set bypass stands open", 0, 1)
    ] = 0.0
    elbows: Annotated[int, Whole("elbows on the way to the array and back", 0, 200)] = 16
    diverter_open: Annotated[
        float, Quantity("share", "how far the diverter opens to the roof while solar runs", 0.05, 1)
    ] = 1.0
    diverter_seal: Literal["seals tight", "drain-down hole"] = "drain-down hole"
    check_valve: str = "swing"
    sight_windows: bool = False
    isolation_valves: tuple[IsolationPlace, ...] = ()
    drains: tuple[DrainPlace, ...] = ()
    heater_place: Literal["after solar", "before solar"] = "after solar"
    sanitizer: str = "none"
    sanitizer_place: Literal["last", "before heater"] = "last"
    cleaner: str = "none"
    cleaner_booster: str = "none"
    booster: str = "none"
    slope: Annotated[
        float, Quantity("share", "fall of the roof pipes toward their drain", -0.2, 1)
    ] = 0.021
    filter_area: (
        Annotated[float, Quantity("area", "of the filter's bed or cloth", 0.05, 200)] | None
    ) = None
    straight_before_pump: (
        Annotated[float, Quantity("length", "straight pipe right before the pump", 0, 10)] | None
    ) = None
    suction_rating: (
        Annotated[
            float,
            Quantity("flow", "that the suction covers are rated for", 1e-4, 0.1),
        ]
        | None
    ) = None
    filter_to_heater: (
        Annotated[float, Quantity("length", "pipe between filter and heater", 0, 50)] | None
    ) = None
    spa: Spa | None = None
    edit: tuple[Edit, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a split where nothing holds the diverter there."""
        if self.diverter_open < 1.0 and self.arrangement not in (
            "diverter with stops",
            "hand diverter",
        ):
            raise ValueError(
                f"diverter_open is {100 * self.diverter_open:g} % with arrangement"
                f" '{self.arrangement}'; allowed: 100 %, or arrangement 'diverter with stops'"
                " or 'hand diverter'"
            )


@dataclass(frozen=True)
class Period:
    """One stretch of the pump's day, at a speed or at the speed that gives a flow."""

    start: ClockTime
    stop: ClockTime
    speed: Speed | None = None
    solar: bool = True
    purpose: Purpose = "filter"
    flow: (
        Annotated[float, Quantity("flow", "through the pump while it filters", 1e-5, 0.1)] | None
    ) = None

    def __post_init__(self) -> None:
        """Refuse times that no clock has, a period of no length, and one that runs at nothing."""
        if minutes_of(self.start, "start") == minutes_of(self.stop, "stop"):
            raise ValueError(
                f"start and stop are both '{self.start}'; allowed: two different times"
            )
        if (self.speed is None) == (self.flow is None):
            given = "neither speed nor flow is" if self.speed is None else "speed and flow both are"
            raise ValueError(f"{given} given; allowed: one of the two")

    @property
    def rpm(self) -> float:
        """Speed of the period, once `hydraulics.speeds` has found that of its flow. [rpm]."""
        if self.speed is None:
            raise ValueError(
                "the period's flow has no speed yet; ask hydraulics.speeds.with_speeds"
            )
        return self.speed

    @property
    def heats(self) -> bool:
        """Whether solar may serve the pool: in a spa's time the water is the spa's."""
        return self.solar and self.purpose != "spa"


@dataclass(frozen=True)
class Pump:
    """The filter pump and its program of the day."""

    pump: str
    program: Annotated[tuple[Period, ...], Items("stretches of the pump's day", 1, 48)]
    solar_speed: Speed | None = None
    priming_speed: Speed | None = None
    priming_time: Annotated[
        float, Quantity("number of minutes", "priming at each start", 0, 1800)
    ] = 180.0
    solar_flow: Annotated[float, Quantity("flow", "through the panels", 1e-5, 0.1)] | None = None
    freeze_speed: Speed | None = None

    def __post_init__(self) -> None:
        """Refuse two periods at the same minute, and two ways to say how fast solar runs."""
        if self.solar_speed is not None and self.solar_flow is not None:
            raise ValueError("solar_speed and solar_flow both are given; allowed: one of the two")
        taken = [0] * (24 * 60)
        for period in self.program:
            for minute in minutes_between(period.start, period.stop):
                taken[minute] += 1
        if max(taken, default=0) > 1:
            first = taken.index(max(taken))
            raise ValueError(
                f"program has two periods at {first // 60:02d}:{first % 60:02d};"
                " allowed: periods that do not overlap"
            )


SensorKind = Literal["panel piece", "return well", "free air", "loose in pipe"]
"""Where the roof's temperature is felt: on a piece of panel beside the array, in a well in the
return, in free air near the roof, or loose in the return's pipe."""

CoolingMonth = Annotated[int, Whole("month in which solar may cool", 1, 12)]


@dataclass(frozen=True)
class SensorPoint:
    """What a sensor's own sheet says of one temperature."""

    temperature: Annotated[float, Quantity("temperature", "of the sensor", -60, 200)]
    resistance: Annotated[float, Quantity("resistance", "at that temperature", 1, 1e8)]


@dataclass(frozen=True)
class Controls:
    """What decides that water goes to the roof."""

    kind: Literal["differential", "timer"] = "differential"
    on_difference: Annotated[
        float, Quantity("temperature difference", "sensor above pool to start", 0.5, 30)
    ] = 5.0
    off_difference: Annotated[
        float, Quantity("temperature difference", "sensor above pool to stop", 0, 25)
    ] = 2.0
    deadband: Annotated[
        float, Quantity("temperature difference", "rise above target at which solar stops", 0.05, 5)
    ] = 0.3
    sensor_roof: str = ""
    valve_travel: Annotated[float, Quantity("time", "diverter from stop to stop", 0, 240)] = 35.0
    least_run: Annotated[float, Quantity("number of minutes", "shortest run of solar", 0, 3600)] = (
        0.0
    )
    least_rest: Annotated[
        float, Quantity("number of minutes", "shortest rest between two runs", 0, 3600)
    ] = 0.0
    sensor: SensorKind = "panel piece"
    sensor_shade: Annotated[
        float, Quantity("share", "share of the sensor's direct sun kept off", 0, 1)
    ] = 0.0
    sensor_contact: Annotated[
        float, Quantity("share", "how much of a loose sensor's contact is with the pipe", 0, 1)
    ] = 0.5
    cooling_target: (
        Annotated[
            float, Quantity("temperature", "pool's temperature above which solar cools", 15, 45)
        ]
        | None
    ) = None
    cooling_months: Annotated[
        tuple[CoolingMonth, ...], Items("months in which solar may cool", 0, 12)
    ] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
    freeze: Literal["none", "circulate", "drain"] = "none"
    freeze_trip: Annotated[
        float, Quantity("temperature", "temperature below which the freeze action starts", -10, 15)
    ] = 5.6
    freeze_watch: Literal["air", "sensor"] = "air"
    sensor_ohms: Annotated[
        tuple[SensorPoint, ...], Items("temperatures of the sensor's own sheet", 0, 60)
    ] = ()

    def __post_init__(self) -> None:
        """Refuse a differential that would hunt, and wishes that a timer can't fulfil."""
        if self.kind == "timer" and self.cooling_target is not None:
            raise ValueError(
                "cooling_target is given with kind 'timer'; allowed: kind 'differential',"
                " a timer knows no temperature"
            )
        if self.kind == "timer" and self.freeze != "none":
            raise ValueError(
                f"freeze is '{self.freeze}' with kind 'timer'; allowed: 'none',"
                " a timer knows no temperature"
            )
        if self.off_difference >= self.on_difference:
            raise ValueError(
                f"off_difference is {self.off_difference:g} K;"
                f" allowed: less than on_difference, {self.on_difference:g} K"
            )
        _refuse_uneven(self.sensor_ohms)


def _refuse_uneven(points: tuple[SensorPoint, ...]) -> None:
    """Refuse a table of a sensor that does not rise in temperature, or bends back."""
    temps = [point.temperature for point in points]
    if any(later <= earlier for earlier, later in pairwise(temps)):
        raise ValueError("sensor_ohms is out of order; allowed: temperatures that rise")
    steps = [second.resistance - first.resistance for first, second in pairwise(points)]
    if steps and not (all(step < 0.0 for step in steps) or all(step > 0.0 for step in steps)):
        raise ValueError(
            "sensor_ohms has a resistance that rises and falls; allowed: one that only falls, or"
            " only rises"
        )
