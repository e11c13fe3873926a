"""A trace as plain values for JSON, each key with its unit."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import TYPE_CHECKING, Any

from noonwater.app.trace_words import deadhead_words, moves_words, seen_words, without_lines

if TYPE_CHECKING:
    from noonwater.hydraulics.trace import StateTrace, Trace
    from noonwater.hydraulics.trace_replay import Step
    from noonwater.hydraulics.trace_without import Without


def trace_shape(trace: Trace, states: Sequence[StateTrace]) -> dict[str, Any]:
    """Give a trace, with some of its states."""
    winter, service = trace.winter, trace.service
    return {
        "litres_full": trace.litres_full,
        "trapped_litres": trace.states[0].trapped,
        "states": [_state_dict(entry) for entry in states],
        "backflow": [
            {
                "state": flow.state,
                "part": flow.part,
                "cause": flow.cause,
                "backward": flow.backward,
                "litres": flow.litres if isfinite(flow.litres) else None,
            }
            for flow in trace.backflow
        ],
        "deadheads": [
            {
                "pump": dead.pump,
                "state": dead.state or None,
                "valves": [{"part": name, "against": against} for name, against in dead.valves],
                "reason": dead.reason,
            }
            for dead in trace.deadheads
        ],
        "heaters_and_sanitizers": [
            {"state": v.state, "part": v.part, "sees": v.sees, "litres": v.litres}
            for v in trace.seen
        ],
        "opened": [
            {"part": o.part, "floods": o.floods, "head_m": o.head, "litres": o.litres}
            for o in trace.openings
        ],
        "service": _step_dicts(service.steps),
        "service_start": service.start,
        "service_shut_off_by": service.tightness,
        "service_array_litres": service.array_litres,
        "winterize": _step_dicts(winter.steps),
        "winterize_start": winter.start,
        "winterize_litres_left": winter.litres_left,
        "winterize_left": [
            {
                "name": entry.name,
                "litres": entry.litres,
                "held_by": list(entry.held_by),
                "remedy": entry.remedy,
            }
            for entry in winter.left
        ],
        "reopen": _step_dicts(winter.reopen),
    }


def _state_dict(entry: StateTrace) -> dict[str, Any]:
    return {
        "name": entry.name,
        "litres": entry.litres,
        "trapped_litres": entry.trapped,
        "floods": list(entry.floods),
        "parts": [
            {
                "name": part.name,
                "water": part.water,
                "litres": part.litres,
                "held_by": list(part.held_by),
            }
            for part in entry.parts
        ],
    }


def _step_dicts(steps: Sequence[Step]) -> list[dict[str, Any]]:
    told = zip(steps, moves_words(steps), strict=True)
    return [_step_dict(step, move) for step, move in told]


def _step_dict(step: Step, move: str) -> dict[str, Any]:
    return {
        "action": step.move.act,
        "part": step.move.part,
        "to": step.move.toward or None,
        "position": step.move.position,
        "do": move,
        "see": seen_words(step, "SI"),
        "water_litres": step.water,
        "trapped_litres": step.trapped,
        "runs_out_litres": step.runs_out,
        "pump_rpm": step.scene.state.speed,
        "positions": dict(step.scene.setting.positions),
        "opened": sorted(step.scene.setting.opened),
        "plugged": sorted(f"{part} {port}" for part, port in step.scene.setting.plugged),
        "floods": list(step.floods),
        "deadheads": list(step.deadheads),
        "carries": list(step.carries),
    }


def without_shape(change: Without) -> dict[str, Any]:
    """Give what changes if a part is left out."""
    return {
        "part": change.part.name,
        "says": [line.strip() for line in without_lines(change, "SI")[1:]],
        "new_backflow": [_fields(flow) for flow in change.backflow],
        "backflow_gone": [_fields(flow) for flow in change.backflow_gone],
        "new_deadheads": [deadhead_words(dead) for dead in change.deadheads],
        "deadheads_gone": [deadhead_words(dead) for dead in change.deadheads_gone],
        "new_heaters_and_sanitizers": [_fields(view) for view in change.seen],
        "service_shut_off_by": list(change.tightness),
        "winterize_litres_left": list(change.litres_left),
        "new_floods": [opening.part for opening in change.floods],
        "floods_gone": [opening.part for opening in change.floods_gone],
        "held": [_fields(entry) for entry in change.held],
        "cost": [
            {
                "state": cost.state,
                "head_m": cost.head,
                "flow_m3h": cost.flow_with * 3600.0,
                "flow_without_m3h": cost.flow_without * 3600.0,
                "array_flow_m3h": cost.array_with * 3600.0,
                "array_flow_without_m3h": cost.array_without * 3600.0,
            }
            for cost in change.cost
        ],
        "trace": trace_shape(change.trace, change.trace.states),
    }


def _fields(entry: Any) -> dict[str, Any]:
    """Fields of a small frozen record, infinite figures as none."""
    shape = dict(vars(entry))
    return {
        key: None if isinstance(value, float) and not isfinite(value) else value
        for key, value in shape.items()
    }
