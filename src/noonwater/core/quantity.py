"""What kind of number a field of the job holds: its dimension, its bounds, what it means.

A field is declared as ``Annotated[float, Quantity("length", "depth of the water", low=0.3)]``.
The number itself is a plain float in SI. The border reads "32 ft" into it and prints it back;
nothing here needs pint or pydantic until a job file is read.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Any


@dataclass(frozen=True)
class Kind:
    """A physical dimension as the trade meets it.

    Attributes
    ----------
    name : str
        Word that a message uses.
    unit : str
        SI unit that the number is held in.
    metric, us : str
        Units that results are shown in.
    accepted : tuple of str
        Examples for the message that refuses something else.
    """

    name: str
    unit: str
    metric: str
    us: str
    accepted: tuple[str, ...]


KINDS = {
    kind.name: kind
    for kind in (
        Kind("angle", "degree", "degree", "degree", ("18 deg", "0.3 rad")),
        Kind("bearing", "degree", "degree", "degree", ("205 deg", "SSW")),
        Kind("pitch", "degree", "degree", "degree", ("18 deg", "4:12")),
        Kind("length", "m", "m", "ft", ("32 ft", "9.8 m")),
        Kind("diameter", "m", "mm", "inch", ("2 in", "63 mm")),
        Kind("area", "m**2", "m**2", "ft**2", ("450 ft2", "42 m2")),
        Kind("volume", "m**3", "m**3", "gallon", ("15000 gal", "57 m3")),
        Kind("flow", "m**3/s", "m**3/hour", "gpm", ("45 gpm", "10 m3/h")),
        Kind("head", "m", "m", "ft", ("40 ft", "12 m")),
        Kind("pressure", "Pa", "kPa", "psi", ("15 psi", "100 kPa")),
        Kind("speed", "rpm", "rpm", "rpm", ("2400 rpm",)),
        Kind("velocity", "m/s", "m/s", "ft/s", ("2 m/s", "4.5 mph")),
        Kind("power", "W", "W", "W", ("1.2 kW", "1.5 hp")),
        Kind("heat output", "W", "kW", "Btu/hour", ("250000 Btu/h", "14 kW")),
        Kind("temperature", "degC", "degC", "degF", ("84 °F", "29 °C")),
        Kind("temperature difference", "kelvin", "kelvin", "delta_degF", ("8 °F", "4 K")),
        Kind("time", "s", "s", "s", ("35 s", "4 min")),
        Kind("number of minutes", "s", "minute", "minute", ("4 min", "90 s")),
        Kind("number of hours", "s", "hour", "hour", ("6 h", "45 min")),
        Kind("share", "", "percent", "percent", ("40 %",)),
        Kind("depth of rain", "m", "mm", "inch", ("85 mm", "3.4 in")),
        Kind("heat loss", "W/m**2/kelvin", "W/m**2/kelvin", "W/m**2/kelvin", ("13.5 W/m2/K",)),
        Kind(
            "heat loss per speed",
            "J/m**3/kelvin",
            "J/m**3/kelvin",
            "J/m**3/kelvin",
            ("2.8 J/m3/K",),
        ),
        Kind("share per speed", "s/m", "s/m", "s/m", ("0.02 s/m",)),
        Kind("daily sun", "J/m**2/day", "kWh/m**2/day", "kWh/m**2/day", ("3.1 kWh/m2/day",)),
        Kind("energy price", "currency/J", "currency/kWh", "currency/kWh", ("0.14 USD/kWh",)),
        Kind("energy", "J", "kWh", "kWh", ("600 kWh", "40 therm")),
        Kind("price", "currency", "currency", "currency", ("950 USD",)),
        Kind("labour rate", "currency/s", "currency/hour", "currency/hour", ("95 USD/h",)),
        Kind("yearly cost", "currency/year", "currency/year", "currency/year", ("120 USD/year",)),
        Kind(
            "volume price",
            "currency/m**3",
            "currency/litre",
            "currency/gallon",
            ("3.10 USD/gal", "0.85 EUR/L"),
        ),
        Kind("mass", "kg", "kg", "pound", ("40 kg", "90 lb")),
        Kind("mass per area", "kg/m**2", "kg/m**2", "pound/ft**2", ("8 kg/m2", "1.6 lb/ft2")),
        Kind("resistance", "ohm", "ohm", "ohm", ("10000 ohm", "10 kohm")),
        Kind(
            "amount of carbon dioxide",
            "kg/J",
            "kg/kWh",
            "kg/kWh",
            ("0.37 kg/kWh", "53 kg/MMBtu"),
        ),
    )
}


@dataclass(frozen=True)
class Quantity:
    """Marks a float field as a quantity written with its unit.

    Attributes
    ----------
    kind : str
        Key of `KINDS`.
    meaning : str
        What the field is, for the schema and the messages.
    low, high : float
        Bounds, in the kind's SI unit, both allowed.
    """

    kind: str
    meaning: str
    low: float = -inf
    high: float = inf

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Hand the field to the reader of quantities when a job file is checked."""
        from noonwater.core.units import quantity_core_schema

        return quantity_core_schema(self)

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> Any:
        """Describe the field in the published schema."""
        from noonwater.core.units import quantity_json_schema

        return quantity_json_schema(self)
