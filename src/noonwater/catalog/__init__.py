"""Generic parts as tables with a source per row, and their readers."""

from noonwater.catalog.panel import PanelType, panel_named, panel_ranges, panels
from noonwater.catalog.part import (
    BreakerType,
    CheckValveType,
    FilterType,
    FittingType,
    HeaterType,
    breaker_named,
    check_valve_named,
    filter_named,
    fitting_named,
    heater_named,
)
from noonwater.catalog.pipe import PipeSize, pipe_named, pipe_pressure_max, pipes
from noonwater.catalog.pump import PumpType, pump_named, pumps

__all__ = [
    "BreakerType",
    "CheckValveType",
    "FilterType",
    "FittingType",
    "HeaterType",
    "PanelType",
    "PipeSize",
    "PumpType",
    "breaker_named",
    "check_valve_named",
    "filter_named",
    "fitting_named",
    "heater_named",
    "panel_named",
    "panel_ranges",
    "panels",
    "pipe_named",
    "pipe_pressure_max",
    "pipes",
    "pump_named",
    "pumps",
]
