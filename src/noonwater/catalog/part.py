"""Fittings, valves, filters and heaters."""

from __future__ import annotations

from dataclasses import dataclass

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
