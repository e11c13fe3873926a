"""Generic parts as tables with a source per row, and their readers."""

from noonwater.catalog.panel import PanelType, bank_panel, panel_named, panel_ranges, panels
from noonwater.catalog.part import (
    BreakerType,
    CheckValveType,
    CleanerType,
    DiverterType,
    FilterType,
    FittingType,
    HeaterType,
    SanitizerType,
    breaker_named,
    check_valve_named,
    cleaner_named,
    diverter_named,
    filter_named,
    fitting_named,
    heater_named,
    sanitizer_named,
)
from noonwater.catalog.pipe import PipeSize, pipe_named, pipe_pressure_max, pipes
from noonwater.catalog.provenance import CatalogUse, catalog_uses, memory_count
from noonwater.catalog.pump import PumpType, pump_named, pumps

__all__ = [
    "BreakerType",
    "CatalogUse",
    "CheckValveType",
    "CleanerType",
    "DiverterType",
    "FilterType",
    "FittingType",
    "HeaterType",
    "PanelType",
    "PipeSize",
    "PumpType",
    "SanitizerType",
    "bank_panel",
    "breaker_named",
    "catalog_uses",
    "check_valve_named",
    "cleaner_named",
    "diverter_named",
    "filter_named",
    "fitting_named",
    "heater_named",
    "memory_count",
    "panel_named",
    "panel_ranges",
    "panels",
    "pipe_named",
    "pipe_pressure_max",
    "pipes",
    "pump_named",
    "pumps",
    "sanitizer_named",
]
