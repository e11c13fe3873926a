"""Fittings, valves, filters, heaters, sanitizers and cleaners."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from noonwater.catalog.reader import named, table


@dataclass(frozen=True)
class FittingType:
    """A fitting or an open valve, by several methods.

    Attributes
    ----------
    name : str
        Word of the trade.
    crane : float or None
        Multiple of the fully turbulent friction factor.
    fixed : float or None
        Loss coefficient as it is, where no method is needed.
    darby_k1, darby_ki, darby_kd : float or None
        Three constants; Kd in inch^0.3.
    hooper_k1, hooper_kinf : float or None
        Two constants.
    memory : bool
        Whether the default method's figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    crane: float | None
    fixed: float | None
    darby_k1: float | None
    darby_ki: float | None
    darby_kd: float | None
    hooper_k1: float | None
    hooper_kinf: float | None
    memory: bool
    source: str


@dataclass(frozen=True)
class CheckValveType:
    """A check valve; `opening_pressure` is its spring's [Pa]."""

    name: str
    fitting: str
    opening_pressure: float
    memory: bool
    source: str


@dataclass(frozen=True)
class BreakerType:
    """A vacuum breaker; `opening_pressure` is the gauge pressure that it opens below [Pa]."""

    name: str
    opening_pressure: float
    memory: bool
    source: str


@dataclass(frozen=True)
class FilterType:
    """A filter, clean and dirty: pressure drop = linear Q + quadratic Q².

    Attributes
    ----------
    name : str
        Kind of filter.
    clean_linear, dirty_linear : float
        At `viscosity`. [Pa/(m³/s)]
    clean_quadratic, dirty_quadratic : float
        [Pa/(m³/s)²]
    viscosity : float
        Kinematic. [m²/s]
    rate_max : float
        Flow per filter area. [m/s]
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    clean_linear: float
    clean_quadratic: float
    dirty_linear: float
    dirty_quadratic: float
    viscosity: float
    rate_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class HeaterType:
    """A heater: pressure drop = quadratic Q² [Pa]; flow_min, flow_max [m³/s]."""

    name: str
    quadratic: float
    flow_min: float
    flow_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class SanitizerType:
    """A sanitizer in the return: pressure drop = quadratic Q² [Pa]; flow_min, flow_max [m³/s]."""

    name: str
    quadratic: float
    flow_min: float
    flow_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class CleanerType:
    """A cleaner: pressure drop from its line to the pool = quadratic Q² [Pa].

    Attributes
    ----------
    name : str
        "suction", "pressure" and the like.
    kind : str
        "suction cleaner", "pressure cleaner" or "none".
    boosted : bool
        Whether it needs a booster pump of its own.
    quadratic : float
        [Pa/(m³/s)²]
    flow_min, flow_max : float
        That it works at. [m³/s]
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    kind: str
    boosted: bool
    quadratic: float
    flow_min: float
    flow_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class DiverterType:
    """How a diverter seals.

    Attributes
    ----------
    name : str
        "seals tight" or "drain-down hole".
    fitting : str
        Row of the fittings for its loss when open.
    hole : float
        Bore through the seal of the way to the roof, which empties the feed to the pool's side. [m]
    discharge : float
        Discharge coefficient of that hole. [-]
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    fitting: str
    hole: float
    discharge: float
    memory: bool
    source: str


@dataclass(frozen=True)
class VesselType:
    """A part that keeps water below its ports until its own plug is out.

    Attributes
    ----------
    name : str
        "cartridge filter", "pump" and the like.
    kind, row : str
        Kind of the part, and its row of that kind's table; "" for any of the kind.
    water_volume : float
        Water it holds when full. [m³]
    plug_depth : float
        Of its plug below its ports. [m]
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    kind: str
    row: str
    water_volume: float
    plug_depth: float
    memory: bool
    source: str


def vessel_like(kind: str, row: str) -> VesselType | None:
    """Find what a part keeps below its ports.

    Parameters
    ----------
    kind : str
        Of the part.
    row : str
        Of its kind's table.

    Returns
    -------
    VesselType or None
        The kind's own where the row has none; None where the kind keeps nothing.
    """
    known = _vessels()
    return known.get((kind, row)) or known.get((kind, ""))


@cache
def _vessels() -> dict[tuple[str, str], VesselType]:
    return {(each.kind, each.row): each for each in table("vessel.csv", VesselType)}


def part_names(kind: str) -> tuple[str, ...]:
    """List the names of a kind of part, such as "filter" or "check valve", in the table's order."""
    file, row_type = _TABLES[kind]
    return tuple(row.name for row in table(file, row_type))


def fitting_named(name: str, field: str = "fitting") -> FittingType:
    """Find a fitting by name; a wrong one is answered with all names."""
    return named(table("fitting.csv", FittingType), name, field, "fitting")


def check_valve_named(name: str, field: str = "check valve") -> CheckValveType:
    """Find a check valve by name; a wrong one is answered with all names."""
    return named(table("check_valve.csv", CheckValveType), name, field, "check valve")


def breaker_named(name: str, field: str = "breaker") -> BreakerType:
    """Find a vacuum breaker by name; a wrong one is answered with all names."""
    return named(table("breaker.csv", BreakerType), name, field, "vacuum breaker")


def filter_named(name: str, field: str = "pad.filter") -> FilterType:
    """Find a filter by name; a wrong one is answered with all names."""
    return named(table("filter.csv", FilterType), name, field, "filter")


def heater_named(name: str, field: str = "pad.heater") -> HeaterType:
    """Find a heater by name; a wrong one is answered with all names."""
    return named(table("heater.csv", HeaterType), name, field, "heater")


def sanitizer_named(name: str, field: str = "pad.sanitizer") -> SanitizerType:
    """Find a sanitizer by name; a wrong one is answered with all names."""
    return named(table("sanitizer.csv", SanitizerType), name, field, "sanitizer")


def cleaner_named(name: str, field: str = "pad.cleaner") -> CleanerType:
    """Find a cleaner by name; a wrong one is answered with all names."""
    return named(table("cleaner.csv", CleanerType), name, field, "cleaner")


def diverter_named(name: str, field: str = "pad.diverter_seal") -> DiverterType:
    """Find a diverter by how it seals; a wrong one is answered with all names."""
    return named(table("diverter.csv", DiverterType), name, field, "diverter")


_TABLES: dict[str, tuple[str, type[Any]]] = {
    "check valve": ("check_valve.csv", CheckValveType),
    "cleaner": ("cleaner.csv", CleanerType),
    "filter": ("filter.csv", FilterType),
    "fitting": ("fitting.csv", FittingType),
    "heater": ("heater.csv", HeaterType),
    "sanitizer": ("sanitizer.csv", SanitizerType),
}
