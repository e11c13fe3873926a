"""The backup heater: what it burns or draws, how much it gives, when it may."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from noonwater.core.quantity import Quantity
from noonwater.model.when import ALL_YEAR, ClockTime, Months, refuse_hours_and_months

HeaterKind = Literal["none", "gas", "heat pump", "electric"]

Heat = Annotated[float, Quantity("heat output", "heat to the water", 500, 5e6)]
Draw = Annotated[float, Quantity("power", "electricity that the heat pump draws", 100, 1e6)]

BEST_COP = 12.0


@dataclass(frozen=True)
class Heater:
    """A heater that helps where the sun doesn't do.

    ``capacity`` and ``power`` are a heat pump's at 27 °C (80 °F) air and water, ``capacity_cool``
    and ``power_cool`` at 10 °C (50 °F) air: the two ratings that its sheet prints. What isn't
    given is taken from them by `noonwater.physics.heat_pump`; a heater without capacity is never
    too small.
    """

    kind: HeaterKind = "none"
    target: (
        Annotated[
            float,
            Quantity("temperature", "its set point; else 1 K below the pool's target", 10, 40),
        ]
        | None
    ) = None
    capacity: Heat | None = None
    efficiency: Annotated[
        float, Quantity("share", "heat to the water of what a gas heater burns", 0.3, 1)
    ] = 0.8
    power: Draw | None = None
    capacity_cool: Heat | None = None
    power_cool: Draw | None = None
    cut_off: Annotated[
        float, Quantity("temperature", "air below which a heat pump rests", -30, 25)
    ] = 7.0
    months: Months = ALL_YEAR
    on_from: ClockTime = "00:00"
    on_until: ClockTime = "24:00"
    solar_lead: Annotated[
        float,
        Quantity(
            "temperature difference",
            "how far below its set point the pool sinks before it joins running solar",
            0,
            20,
        ),
    ] = 1.0
    calls_pump: bool = True

    def __post_init__(self) -> None:
        """Refuse hours that no clock has, and ratings that no heat pump reaches."""
        refuse_hours_and_months(self.on_from, self.on_until, self.months)
        if self.kind != "heat pump" and (self.power or self.power_cool or self.capacity_cool):
            raise ValueError(
                f"power, power_cool or capacity_cool is given with kind '{self.kind}';"
                " allowed: with kind 'heat pump'"
            )
        if self.power_cool and not self.capacity_cool:
            raise ValueError("power_cool is given alone; allowed: with capacity_cool")
        for heat, draw, name in (
            (self.capacity, self.power, "power"),
            (self.capacity_cool, self.power_cool, "power_cool"),
        ):
            if draw is not None and (heat is None or not 1.0 <= heat / draw <= BEST_COP):
                given = "without its heat" if heat is None else f"a COP of {heat / draw:.1f}"
                raise ValueError(
                    f"{name} makes {given}; allowed: heat of 1 to {BEST_COP:g} times the power"
                )
        if self.cop is not None and self.cop_cool is not None and self.cop_cool >= self.cop:
            raise ValueError(
                f"power_cool makes a COP of {self.cop_cool:.1f}; allowed: less than at 27 °C,"
                f" {self.cop:.1f}"
            )

    @property
    def cop(self) -> float | None:
        """Coefficient of performance at 27 °C air and water. [-]."""
        return self.capacity / self.power if self.capacity and self.power else None

    @property
    def cop_cool(self) -> float | None:
        """Coefficient of performance at 10 °C air and 27 °C water. [-]."""
        given = self.capacity_cool and self.power_cool
        return self.capacity_cool / self.power_cool if given else None  # type: ignore[operator]
