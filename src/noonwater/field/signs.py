"""What is seen and heard under a cause, as chances: tables with a stated rate of error.

The chances are ours: no count of calls stands behind them. Where water runs, which flap is open
and what the breaker does comes from the solved circuit.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from noonwater.field.expected import Choices
from noonwater.field.situation import Situation
from noonwater.field.solved import Solved
from noonwater.hydraulics.flow import StateFlow
from noonwater.model.circuit import Circuit

SUCKS = 10e3
"""[Pa] A stuck breaker under less pressure draws air in surges, under more it spouts: ours."""

AIR_LEAK, AIR_DRAWN = (0.05, 0.10, 0.85), (0.05, 0.15, 0.80)
AIR_WET, AIR_DRY, AIR_AWAY, AIR_STILL = (
    (0.35, 0.58, 0.07), (0.60, 0.20, 0.20), (0.90, 0.07, 0.03), (0.97, 0.02, 0.01),
)  # fmt: skip
AIR_STUCK, AIR_STUCK_UNDER_PRESSURE = (0.10, 0.20, 0.70), (0.50, 0.40, 0.10)
"""None, at the start, all the time."""

LID_WATER, LID_FOAM, LID_AIR = (0.95, 0.05), (0.75, 0.25), (0.12, 0.88)
"""Full of water, bubbles."""

YES, NO = (0.95, 0.05), (0.05, 0.95)
"""Of two choices the first, and the second."""

TO_POOL, TO_ROOF, HALF_WAY = (0.95, 0.03, 0.02), (0.02, 0.03, 0.95), (0.10, 0.80, 0.10)
END = 0.1
"""[-] A diverter that stands this near its end looks as if it stood there."""

QUIET, HISSES, SPOUTS = (0.93, 0.05, 0.02), (0.25, 0.72, 0.03), (0.25, 0.10, 0.65)
RUNS_DOWN, STAYS, DIRT = (0.70, 0.28, 0.02), (0.05, 0.93, 0.02), (0.30, 0.20, 0.50)
SHOWN, DEAD = (0.99, 0.01), (0.05, 0.95)
IDLE_RUNS = (0.20, 0.80)


def signs_of(solved: Solved, circuit: Circuit, empties: bool) -> dict[str, Choices]:
    """Tell what is seen and heard.

    Parameters
    ----------
    solved : Solved
        A situation with its answer.
    circuit : Circuit
        The job's own, with all its parts.
    empties : bool
        Whether the array drains when its pump stops.

    Returns
    -------
    dict of str to tuple of float
        Chance of each choice, by reading; means over the ends of the doubts.
    """
    situation = solved.situation
    found: dict[str, Choices] = {
        "lid": _lid(situation),
        "calls": YES if situation.calls else NO,
        "diverter": _diverter(situation),
        "display": DEAD if "dead" in situation.marks else SHOWN,
        "stop": _stop(solved, empties),
        "idle": IDLE_RUNS if _idle_runs(situation) else YES,
        "air": _mean(solved, partial(_air, situation)),
        "breaker": _mean(solved, partial(_breaker, situation)),
    }
    for part in circuit.of_kind("check valve"):
        if "sight window" in part.features:
            found[f"flap {part.name}"] = _mean(solved, partial(_flap, part.name))
    return found


def _mean(solved: Solved, table: Callable[[StateFlow], Choices]) -> Choices:
    rows = [table(flow) for flow in (solved.flow, *solved.ends)]
    return tuple(sum(column) / len(rows) for column in zip(*rows, strict=True))


def _air(situation: Situation, flow: StateFlow) -> Choices:
    if flow.flow <= 0.0:
        return AIR_STILL
    if "air" in situation.marks:
        return AIR_LEAK
    if flow.array_flow <= 0.0:
        return AIR_DRY if situation.state.solar else AIR_AWAY
    if "breaker open" in situation.marks:
        return AIR_STUCK if _pressure(flow) < SUCKS else AIR_STUCK_UNDER_PRESSURE
    return AIR_DRAWN if flow.breaker == "open" else AIR_WET


def _breaker(situation: Situation, flow: StateFlow) -> Choices:
    if "breaker open" in situation.marks:
        return HISSES if _pressure(flow) < 0.0 else SPOUTS
    if "breaker shut" in situation.marks:
        return QUIET
    return HISSES if flow.breaker == "open" else QUIET


def _pressure(flow: StateFlow) -> float:
    return flow.pressure_breaker if flow.pressure_breaker is not None else 0.0


def _lid(situation: Situation) -> Choices:
    if "air" in situation.marks:
        return LID_AIR
    return LID_FOAM if "foam" in situation.marks else LID_WATER


def _opening(situation: Situation) -> float | None:
    positions = dict(situation.state.positions)
    parts = situation.loop.circuit.of_kind("diverter")
    return next((positions.get(part.name, 0.0) for part in parts if "solar" in part.ports), None)


def _diverter(situation: Situation) -> Choices:
    opening = _opening(situation) or 0.0
    return TO_POOL if opening < END else TO_ROOF if opening > 1.0 - END else HALF_WAY


def _flap(name: str, flow: StateFlow) -> Choices:
    known = {valve.name: valve.state for valve in flow.check_valves}
    return YES if known.get(name) == "open" else NO


def _stop(solved: Solved, empties: bool) -> Choices:
    if "dirt" in solved.situation.marks:
        return DIRT
    return RUNS_DOWN if empties and solved.flow.array_flow > 0.0 else STAYS


def _idle_runs(situation: Situation) -> bool:
    """Whether water runs over the roof, or up its return, though solar is off."""
    opening = _opening(situation)
    stuck = situation.cause.key.partition(":")[0] in ("to roof", "between")
    return "pushed" in situation.marks or (stuck and opening is not None and opening > 0.0)
