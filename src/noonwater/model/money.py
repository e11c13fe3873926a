"""Money: what energy costs, what the system costs, what it is held against."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from noonwater.core.field import Items, Whole
from noonwater.core.quantity import Quantity
from noonwater.model.pool import ClockTime, minutes_of

Currency = Literal["USD", "EUR", "GBP", "AUD", "CAD", "MXN", "NZD", "CHF", "ZAR", "BRL"]
Days = Literal["all days", "weekdays", "weekends"]
Fuel = Literal["gas", "propane", "electric", "heat pump"]

EnergyPrice = Annotated[float, Quantity("energy price", "a unit of energy", 0, 1e-5)]
Price = Annotated[float, Quantity("price", "in the job's currency", 0, 1e8)]
Yearly = Annotated[float, Quantity("yearly cost", "upkeep in today's money", 0, 1e7)]
Growth = Annotated[float, Quantity("share", "yearly rise of its price", -0.2, 0.3)]
Carbon = Annotated[
    float, Quantity("amount of carbon dioxide", "carbon dioxide of a unit of energy", 0, 1e-6)
]
PriceMonth = Annotated[int, Whole("month in which the price holds", 1, 12)]
PriceMonths = Annotated[tuple[PriceMonth, ...], Items("months in which the price holds", 1, 12)]
MonthlyUse = Annotated[float, Quantity("energy", "used by the house in a month", 0, 1e13)]

ALL_MONTHS = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)


@dataclass(frozen=True)
class Window:
    """Hours in which electricity has a price of its own."""

    price: EnergyPrice
    start: ClockTime = "00:00"
    stop: ClockTime = "24:00"
    months: PriceMonths = ALL_MONTHS
    days: Days = "all days"

    def __post_init__(self) -> None:
        """Refuse times that no clock has, and a window of no length."""
        if minutes_of(self.start, "start") == minutes_of(self.stop, "stop"):
            raise ValueError(
                f"start and stop are both '{self.start}'; allowed: two different times"
            )
        _refuse_doubled_months(self.months)


@dataclass(frozen=True)
class Tier:
    """What a kWh costs more (or less) once the month's use is above a limit."""

    above: Annotated[float, Quantity("energy", "use of the whole house in a month", 0, 1e13)]
    adds: Annotated[
        float, Quantity("energy price", "on top of the price below the first tier", -1e-5, 1e-5)
    ]
    months: PriceMonths = ALL_MONTHS

    def __post_init__(self) -> None:
        """Refuse a month named twice."""
        _refuse_doubled_months(self.months)


EFFICIENCIES: dict[Fuel, float] = {"gas": 0.82, "propane": 0.82, "electric": 1.0, "heat pump": 5.0}
"""[-] Heat to the water for what is burnt (higher heating value) or drawn. Gas and propane: the
least that the United States allow for pool heaters, 10 CFR 430.32(k) (from memory); heat pump: a
COP of 5, common practice for warm air, no source."""

CARBON: dict[Fuel, float] = {"gas": 53.06 / 1.05505585262e9, "propane": 62.87 / 1.05505585262e9}
"""[kg/J] On the higher heating value: 53.06 and 62.87 kg per million Btu, 40 CFR 98, table NN-1."""

PROPANE_HEAT = 3.84 / 42.0 * 1.05505585262e9 / 0.003785411784
"""[J/m³] Higher heating value: 3.84 million Btu a barrel of 42 gallons, 40 CFR 98, table NN-1."""


@dataclass(frozen=True)
class Alternative:
    """Another way to the same warm water, that the sun is held against."""

    kind: Fuel
    price: EnergyPrice | None = None
    price_by_volume: (
        Annotated[float, Quantity("volume price", "propane by the gallon or litre", 0, 1e5)] | None
    ) = None
    efficiency: (
        Annotated[
            float,
            Quantity(
                "share",
                "heat to the water for what is burnt or drawn; 500 % is a COP of 5",
                0.3,
                12,
            ),
        ]
        | None
    ) = None
    escalation: Growth | None = None
    carbon: Carbon | None = None
    installed: Price = 0.0
    life: Annotated[int, Whole("years that this heater serves", 1, 50)] = 10
    maintenance: Yearly = 0.0

    def __post_init__(self) -> None:
        """Refuse a fuel without a price, and one with two."""
        given = [self.price, self.price_by_volume]
        if self.price_by_volume is not None and self.kind != "propane":
            raise ValueError(
                f"price_by_volume is given with kind '{self.kind}'; allowed: with kind 'propane'"
            )
        if None not in given:
            raise ValueError("price and price_by_volume both are given; allowed: one of the two")
        if self.burns and given == [None, None]:
            raise ValueError(
                f"price is missing with kind '{self.kind}'; allowed: what a unit of it costs"
            )

    @property
    def burns(self) -> bool:
        """Whether it burns a fuel; else it pays the job's electricity, or its own price."""
        return self.kind in ("gas", "propane")

    @property
    def energy_price(self) -> float | None:
        """Price of a unit of its energy [currency/J]; None where the job's tariff holds."""
        if self.price_by_volume is not None:
            return self.price_by_volume / PROPANE_HEAT
        return self.price

    @property
    def heat_yield(self) -> float:
        """Heat to the water for what is burnt or drawn. [-]."""
        return EFFICIENCIES[self.kind] if self.efficiency is None else self.efficiency


@dataclass(frozen=True)
class Incentive:
    """Money from the state, the utility or the like; what it asks for is not checked here."""

    name: str
    amount: Price | None = None
    share: Annotated[float, Quantity("share", "of the price with tax", 0, 1)] | None = None
    cap: Price | None = None
    year: Annotated[int, Whole("years after the price is paid; 0: at once", 0, 20)] = 0

    def __post_init__(self) -> None:
        """Refuse an incentive that says neither how much nor what share, or both."""
        if (self.amount is None) == (self.share is None):
            given = "neither amount nor share is" if self.amount is None else "amount and share are"
            raise ValueError(f"{given} given; allowed: one of the two")
        if self.cap is not None and self.share is None:
            raise ValueError("cap is given without share; allowed: with share")

    def received(self, price: float) -> float:
        """What is received for a price with tax. [currency]."""
        if self.amount is not None:
            return min(self.amount, price)
        asked = (self.share or 0.0) * price
        return asked if self.cap is None else min(asked, self.cap)


@dataclass(frozen=True)
class Offer:
    """What the owner pays: a price told whole, or parts from a price list with labour."""

    installed: Price | None = None
    file: str = ""
    labour_rate: (
        Annotated[float, Quantity("labour rate", "an hour of one worker", 0, 1.0)] | None
    ) = None
    extra_hours: Annotated[
        float,
        Quantity("number of hours", "work besides what the price list gives by part", 0, 3.6e7),
    ] = 0.0
    overhead: Annotated[
        float, Quantity("share", "overhead and profit on parts and labour", 0, 3)
    ] = 0.0
    sales_tax: Annotated[float, Quantity("share", "sales tax", 0, 0.5)] = 0.0
    tax_on: Literal["parts", "everything"] = "parts"

    def __post_init__(self) -> None:
        """Refuse two ways to one price."""
        if self.installed is not None and self.file:
            raise ValueError("installed and file both are given; allowed: one of the two")


@dataclass(frozen=True)
class Terms:
    """How the years ahead are counted.

    The default rate is 3 % real, the floor of 10 CFR 436 (from memory), over 2 % of inflation.
    Life, and that energy rises like everything else: common practice, no source. Carbon of
    electricity: the mean of the United States about 2022, 0.37 kg/kWh (eGRID, from memory).
    """

    life: Annotated[int, Whole("years that the panels serve", 1, 50)] = 15
    discount_rate: Annotated[
        float, Quantity("share", "yearly, inflation in it: what money earns elsewhere", 0, 0.5)
    ] = 0.05
    inflation: Annotated[float, Quantity("share", "yearly rise of all prices", -0.05, 0.3)] = 0.02
    electricity_escalation: Growth | None = None
    electricity_carbon: Carbon = 0.37 / 3.6e6
    maintenance: Yearly = 0.0


@dataclass(frozen=True)
class Money:
    """Prices that costs and savings are told in.

    In an hour the first window that holds has the price; in all others it is ``electricity``.
    """

    electricity: EnergyPrice = 0.0
    currency: Currency = "USD"
    house_use: Annotated[
        tuple[MonthlyUse, ...], Items("the house's other use by month: twelve, or none", 0, 12)
    ] = ()
    windows: Annotated[tuple[Window, ...], Items("hours with a price of their own", 0, 40)] = ()
    tiers: Annotated[tuple[Tier, ...], Items("limits of monthly use", 0, 40)] = ()
    alternatives: Annotated[tuple[Alternative, ...], Items("ways to the same warmth", 0, 12)] = ()
    incentives: Annotated[tuple[Incentive, ...], Items("money from others", 0, 12)] = ()
    offer: Offer = field(default_factory=Offer)
    terms: Terms = field(default_factory=Terms)

    def __post_init__(self) -> None:
        """Refuse a tier without the house's use, and two at one limit."""
        if len(self.house_use) not in (0, 12):
            raise ValueError(f"house_use has {len(self.house_use)} values; allowed: 12, or none")
        if self.tiers and not self.house_use:
            raise ValueError(
                "house_use is missing; allowed: twelve monthly values, since tiers count the"
                " whole house's use"
            )
        for month in ALL_MONTHS:
            limits = [tier.above for tier in self.tiers if month in tier.months]
            if len(set(limits)) < len(limits):
                raise ValueError(
                    "tiers has one limit twice in a month; allowed: limits that differ"
                )


def _refuse_doubled_months(months: tuple[int, ...]) -> None:
    if len(set(months)) < len(months):
        raise ValueError("months has a month twice; allowed: each once")
