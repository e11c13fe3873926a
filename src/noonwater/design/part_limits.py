"""What parts bear and need: the panels' pressure, the heater's least flow."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.catalog import heater_named, panel_named
from noonwater.core.finding import Finding
from noonwater.design.rule import SUCTION_CAUTION, Rule, rpm, shown
from noonwater.design.search import (
    greatest_speed,
    least_speed,
    narrowest_bypass,
    runs_without_air,
    speed_field,
)
from noonwater.hydraulics.flow import FlowResult, StateFlow
from noonwater.model.job import Job

PANEL_PRESSURE_HIGH = Rule(
    "panel-pressure-high",
    "fault",
    limit="at most pressure_max of the panel's catalog row, while solar runs and at the start",
    source="the panel's row in the catalog",
    remedy="run or prime slower, open the bypass",
)
HEATER_FLOW_LOW = Rule(
    "heater-flow-low",
    "caution",
    limit="at least flow_min of the heater's catalog row, whenever the pump runs",
    source="the heater's row in the catalog, from memory: the maker's value decides",
    remedy="run faster in the periods in which the heater may fire",
)


def panel_pressure_high(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the pressure at the headers; one finding, for the worst state."""
    most = min(
        panel_named(bank.panel_at(number), own=job.own_panel).pressure_max
        for bank in job.array.banks
        for number in bank.numbers
    )

    def bearable(state: StateFlow) -> bool:
        return (state.pressure_array_high or 0.0) <= most

    over = [state for state in flow.states if (state.pressure_array_high or 0.0) > most]
    state = max(over, key=lambda state: state.pressure_array_high or 0.0, default=None)
    if state is None:
        return
    start = state.name.startswith("priming")
    speed = greatest_speed(job, state.solar, bearable, runs_without_air, flow.temp_water)
    opening = narrowest_bypass(job, state.rpm, bearable, runs_without_air, flow.temp_water)
    remedy = "Take panels that bear more, a weaker pump, or panels that lie higher."
    if speed is not None:
        what = "Prime" if start else "Run solar" if state.solar else "Run the filter"
        remedy = f"{what} at {rpm(speed)} or less."
    elif opening is not None:
        remedy = f"Open the bypass to {shown(job, opening, 'share', 0)}."
    yield PANEL_PRESSURE_HIGH.finding(
        speed_field(job, state),
        value=f"{shown(job, state.pressure_array_high or 0.0, 'pressure')} at {rpm(state.rpm)}",
        limit=shown(job, most, "pressure"),
        text=f"The panels get more pressure {'at a start' if start else 'while the pump runs'} "
        "than they bear, and bear less still when they are hot.",
        remedy=remedy,
    )


def heater_flow_low(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the heater's flow whenever the pump runs; one finding, for the slowest state."""
    heaters = [heater_named(part.catalog) for part in flow.circuit.of_kind("heater")]
    if not heaters:
        return
    heater = max(heaters, key=lambda row: row.flow_min)
    starved = [
        state
        for state in flow.states
        if state.rpm > 0.0 and state.primes and state.heater_flow < heater.flow_min
    ]
    state = min(starved, key=lambda state: state.heater_flow, default=None)
    if state is None:
        return

    def enough(found: StateFlow) -> bool:
        return found.heater_flow >= heater.flow_min

    speed = least_speed(job, state.solar, enough, flow.temp_water)
    remedy = f"Take a stronger pump or a heater that needs less. {SUCTION_CAUTION}"
    if speed is not None:
        remedy = (
            f"Run at {rpm(speed)} or more where the heater may fire, or lock it out at lower "
            f"speeds. {SUCTION_CAUTION}"
        )
    yield HEATER_FLOW_LOW.finding(
        speed_field(job, state),
        value=f"{shown(job, state.heater_flow, 'flow')} at {rpm(state.rpm)}",
        limit=f"{shown(job, heater.flow_min, 'flow')} or more",
        text="The heater gets less water than it needs to fire safely.",
        remedy=remedy,
    )
