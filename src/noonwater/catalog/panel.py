"""Panels: generic types, and the ranges that tested panels lie in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi

from noonwater.catalog.reader import named, table
from noonwater.model.own_part import OwnPanel
from noonwater.model.plant import Bank


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
    net_sun : bool
        Whether eta0 is on net radiation in still air, as ISO 9806 has it for uncovered panels; else
        it is on total sun, with the loss to the test's sky inside.
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
    net_sun: bool
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


def panel_named(name: str, field: str = "panel", own: tuple[OwnPanel, ...] = ()) -> PanelType:
    """Find a panel by name, the job's own too; a wrong one is answered with all names."""
    if not own:
        return named(panels(), name, field, "panel")
    # Fitting needs numpy, converting a test the physics: both stay out of the way of plain jobs.
    from noonwater.catalog.own_panel import panel_row

    made = [panel_row(panel, f"own_panel[{number}]") for number, panel in enumerate(own)]
    return named((*panels(), *made), name, field, "panel")


def water_held(panel: PanelType, plugged: float) -> float:
    """Water that a panel holds with some of its tubes plugged.

    Parameters
    ----------
    panel : PanelType
        Its row.
    plugged : float
        Share of the tubes. [-]

    Returns
    -------
    float
        A plugged tube holds none; the headers stay full. [m³]
    """
    headers = water_in_headers(panel)
    return headers + (panel.water_volume - headers) * (1.0 - plugged)


def water_in_headers(panel: PanelType) -> float:
    """Water in both headers of a panel.

    Parameters
    ----------
    panel : PanelType
        Its row.

    Returns
    -------
    float
        Bore times width, at most all of its water. [m³]
    """
    bore = 0.25 * pi * panel.header_diameter**2
    return min(2.0 * bore * panel.width, panel.water_volume)


def bank_panel(bank: Bank, own: tuple[OwnPanel, ...] = ()) -> PanelType:
    """One panel that stands for all of a bank, where some are of another kind or plugged.

    Parameters
    ----------
    bank : Bank
        The job's bank.
    own : tuple of OwnPanel
        The job's own panels.

    Returns
    -------
    PanelType
        The bank's own row where all panels are whole and alike; else area, water and mass per
        panel that is there, and coefficients by area. Plugged tubes count as area and water lost.
    """
    plain = panel_named(bank.panel, own=own)
    if all(change.left_out for change in bank.changed):
        return plain
    rows = [
        (panel_named(bank.panel_at(number), own=own), 1.0 - bank.plugged_at(number))
        for number in bank.numbers
    ]
    area = sum(row.area * share for row, share in rows)

    def by_area(quantity: str) -> float:
        whole = sum(getattr(row, quantity) * row.area * share for row, share in rows)
        return float(whole / area)

    count = len(rows)
    return replace(
        plain,
        area=area / count,
        eta0=by_area("eta0"),
        b1=by_area("b1"),
        b2=by_area("b2"),
        bu=by_area("bu"),
        iam_b0=by_area("iam_b0"),
        emissivity_ratio=by_area("emissivity_ratio"),
        heat_capacity=by_area("heat_capacity"),
        water_volume=sum(water_held(row, 1.0 - share) for row, share in rows) / count,
        mass=sum(row.mass for row, _ in rows) / count,
        net_sun=all(row.net_sun for row, _ in rows),
        memory=any(row.memory for row, _ in rows),
    )
