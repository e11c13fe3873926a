"""What flows, as JSON and as text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.app.flow_targets import target_lines, targets_dict
from noonwater.app.leaning import NAMED, leaning_dict, leaning_words, rows_leant_on
from noonwater.app.text import finding_lines, folded, number, table
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.hydraulics.flow import FlowResult, StateFlow

PER_HOUR = 3600.0


@dataclass(frozen=True, eq=False)
class FlowAnswer:
    """Flow in every operating state of a job."""

    job: Job
    flow: FlowResult
    findings: tuple[Finding, ...]

    def to_dict(self) -> dict[str, Any]:
        """Give the states for JSON."""
        return {
            "job": self.job.name,
            "temp_water_C": self.flow.temp_water,
            "states": [_state(state) for state in self.flow.states],
            "targets": None if self.flow.targets is None else targets_dict(self.flow.targets),
            "leans_on": leaning_dict(rows_leant_on(self.flow.circuit)),
        }

    def lines(self, system: System) -> list[str]:
        """Tell findings and states."""
        lines = [*finding_lines(self.findings), "", *state_lines(self.flow, system)]
        if self.flow.targets is not None:
            lines += ["", *target_lines(self.flow.targets, system)]
        sources = (leaning_words(rows_leant_on(self.flow.circuit)), NAMED)
        return [*lines, "", folded("Sources", sources)]


def state_lines(flow: FlowResult, system: System) -> list[str]:
    """Tell every state in a table."""
    units = [unit_label(kind, system) for kind in ("flow", "flow", "head", "pressure", "pressure")]
    heads = [
        ["", "pump", "on the", "pump", "pressure at", "at the", "", "vacuum"],
        ["state", "flow", "roof", "head", "filter", "breaker", "power", "breaker"],
        ["", *units, "W", ""],
    ]
    rows = [_row(state, system) for state in flow.states]
    lines = table(heads, rows)
    lines += [
        f"  {state.name}: {words}" for state in flow.states if (words := _also(state, system))
    ]
    return lines


def _row(state: StateFlow, system: System) -> list[str]:
    def shown(value: float | None, kind: str, digits: int) -> str:
        return "-" if value is None else number(in_system(value, kind, system), digits)

    return [
        state.name,
        shown(state.flow, "flow", 1),
        shown(state.array_flow, "flow", 1),
        shown(state.head, "head", 1),
        shown(state.pressure_filter, "pressure", 1),
        shown(state.pressure_breaker, "pressure", 1),
        number(state.power),
        state.breaker,
    ]


def _also(state: StateFlow, system: System) -> str:
    if not state.primes:
        lift = number(in_system(state.lift, "head", system), 1)
        return f"does not lift water over the top, {lift} {unit_label('head', system)} up"
    if state.leak > 0.0:
        leak = number(in_system(state.leak, "flow", system), 2)
        return (
            f"{leak} {unit_label('flow', system)} leak through the diverter's drain-down hole"
            " toward the roof"
        )
    if state.alternative is None:
        return ""
    flow = number(in_system(state.alternative.array_flow, "flow", system), 1)
    how = "with a siphon formed" if state.alternative.breaker == "shut" else "with air at the top"
    return f"two stable answers; {how} {flow} {unit_label('flow', system)} on the roof"


def _state(state: StateFlow) -> dict[str, Any]:
    return {
        "name": state.name,
        "rpm": state.rpm,
        "flow_m3h": state.flow * PER_HOUR,
        "array_flow_m3h": state.array_flow * PER_HOUR,
        "head_m": state.head,
        "power_W": state.power,
        "breaker": state.breaker,
        "primes": state.primes,
        "lift_m": state.lift,
        "leak_m3h": state.leak * PER_HOUR,
        "heater_flow_m3h": state.heater_flow * PER_HOUR,
        "pressure_filter_Pa": state.pressure_filter,
        "pressure_breaker_Pa": state.pressure_breaker,
        "pressure_array_high_Pa": state.pressure_array_high,
        "pressure_array_low_Pa": state.pressure_array_low,
        "bank_flows_m3h": [flow * PER_HOUR for flow in state.bank_flows],
        "panel_flows_m3h": [[flow * PER_HOUR for flow in bank] for bank in state.panel_flows],
        "velocities_m_s": {entry.role: entry.velocity for entry in state.velocities},
        "check_valves": {valve.name: valve.state for valve in state.check_valves},
        "residual_m": state.residual,
        "imbalance_m3h": state.imbalance * PER_HOUR,
        "alternative": None if state.alternative is None else _state(state.alternative),
    }
