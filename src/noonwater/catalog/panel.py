"""Panels: generic types, and the ranges that tested panels lie in."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog.reader import named, table


@dataclass(frozen=True)
class PanelType:
    """A generic panel.

    Attributes
    ----------
    name : str
        Build and size in feet: "tube 4x10".
    build : str
        "tube" (separate tubes) or "sheet" (channels side by side).
    width, length : float
        Along the headers; up the slope. [m]
    area : float
        Gross. [m²]
    eta0 : float
        Efficiency at mean water = air temperature, no wind. [-]
    b1, b2 : float
        Loss in still air [W/(m²·K)] and per wind speed [J/(m³·K)].
    bu : float
        Loss of efficiency per wind speed. [s/m]
    iam_b0 : float
        Incidence: 1 - b0 (1/cos - 1). [-]
    emissivity_ratio : float
        Emissivity over absorptance. [-]
    heat_capacity : float
        Of the bare panel, per gross area. [J/(m²·K)]
    water_volume : float
        Held when full, headers included. [m³]
    mass : float
        Bare. [kg]
    flow_min, flow_nominal, flow_max : float
        Per panel. [m³/s]
    drop_laminar, drop_turbulent : float
        Head lost between headers = laminar (viscosity of water / `viscosity`) Q + turbulent Q².
        [m/(m³/s)], [m/(m³/s)²]
    viscosity : float
        That the laminar part is given at. [m²/s]
    header_diameter : float
        Inside. [m]
    pressure_max : float
        Gauge. [Pa]
    temp_max : float
        [°C]
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    build: str
    width: float
    length: float
    area: float
    eta0: float
    b1: float
    b2: float
    bu: float
    iam_b0: float
    emissivity_ratio: float
    heat_capacity: float
    water_volume: float
    mass: float
    flow_min: float
    flow_nominal: float
    flow_max: float
    drop_laminar: float
    drop_turbulent: float
    viscosity: float
    header_diameter: float
    pressure_max: float
    temp_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class PanelRange:
    """A quantity of tested panels, lowest and highest."""

    quantity: str
    low: float
    high: float
    unit: str
    memory: bool
    source: str


def panels() -> tuple[PanelType, ...]:
    """All generic panels."""
    return table("panel.csv", PanelType)


def panel_ranges() -> tuple[PanelRange, ...]:
    """Ranges that tested panels lie in."""
    return table("panel_range.csv", PanelRange)


def panel_named(name: str, field: str = "panel") -> PanelType:
    """Find a panel by name; a wrong one is answered with all names."""
    return named(panels(), name, field, "panel")
