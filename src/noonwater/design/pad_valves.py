"""Valves that the pad can't do without, whether its options or its edits put them in."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, Rule
from noonwater.hydraulics.air import top_pipe
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.bank import bank_places
from noonwater.model.circuit import Circuit, PartKind, Port
from noonwater.model.job import Job

CHECK_VALVE_AFTER_FILTER = Rule(
    "check-valve-after-filter",
    "fault",
    limit="a check valve between filter and diverter",
    source=COMMON_PRACTICE,
    remedy="put one in",
)
CHECK_VALVE_ROOF_RETURN = Rule(
    "check-valve-roof-return",
    "fault",
    limit="a check valve where the roof return comes back to the pad",
    source=COMMON_PRACTICE,
    remedy="put one in",
)
BREAKER_MISSING = Rule(
    "breaker-missing",
    "caution",
    limit="a vacuum breaker on an array above the pool's water",
    source=COMMON_PRACTICE,
    remedy='pad.breaker = "high return", or "feed" where the pump is weak',
)


def check_valve_after_filter(job: Job) -> Iterator[Finding]:
    """Check that water falling from the roof can't run back through the filter."""
    circuit = fill_circuit(job)
    filters = [part for part in circuit.of_kind("filter") if part.catalog != "none"]
    if any(_runs_open(circuit, (part.name, "out"), "diverter") for part in filters):
        yield CHECK_VALVE_AFTER_FILTER.finding(
            "pad.check_valves",
            value="none after the filter",
            limit="one after the filter",
            text="When the pump stops, water falls from the roof back through the filter and "
            "carries its dirt to the pool.",
            remedy='Put a check valve between filter and diverter: add "after filter" to '
            "pad.check_valves.",
        )


def check_valve_roof_return(job: Job) -> Iterator[Finding]:
    """Check that filtered water can't climb the roof return while solar is off."""
    circuit = fill_circuit(job)
    if _runs_open(circuit, top_pipe(circuit).start, "pool"):
        yield CHECK_VALVE_ROOF_RETURN.finding(
            "pad.check_valves",
            value="none on the roof return",
            limit="one on the roof return",
            text="With solar off, the pump pushes water up the roof return the wrong way and "
            "cools it on the roof.",
            remedy="Put a check valve where the roof return meets the pad: add "
            '"roof return" to pad.check_valves.',
        )


def breaker_missing(job: Job) -> Iterator[Finding]:
    """Check that an array above the water can drain when the pump stops."""
    breakers = fill_circuit(job).of_kind("vacuum breaker")
    if not breakers and max(place.top for place in bank_places(job)) > 0.0:
        yield BREAKER_MISSING.finding(
            "pad.breaker",
            value="none",
            limit="high return or feed",
            text="Without a vacuum breaker the array does not drain when the pump stops: water "
            "stands in it through hot days and cold nights, and the panels hang under vacuum.",
            remedy='Put one at the array\'s high corner: pad.breaker = "high return".',
        )


def _runs_open(circuit: Circuit, start: Port, to: PartKind) -> bool:
    """Whether the run from a port on ends at a part of a kind, or a joint, with no check valve."""
    kinds = {part.name: part for part in circuit.parts}
    onward = {pipe.start: pipe for pipe in circuit.pipes}
    port = start
    for _ in circuit.pipes:
        pipe = onward.get(port)
        if pipe is None:
            return True
        part = kinds[pipe.stop[0]]
        if part.kind == "check valve":
            return False
        if part.kind == to or (part.kind == "tee" and pipe.stop[1] == "branch"):
            return True
        port = (part.name, "run out" if part.kind == "tee" else part.ports[-1])
    return True
