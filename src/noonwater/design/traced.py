"""What a trace of the water says is wrong with a pad."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, Rule, shown
from noonwater.hydraulics.trace import Trace
from noonwater.model.job import Job

LEAST = 1.0
"""[L] Less water is not worth a finding."""

MEDIA_TO_POOL = Rule(
    "media-to-pool",
    "fault",
    limit="no water backward through the filter when the pump stops",
    source=COMMON_PRACTICE,
    remedy="a check valve behind the filter",
)
PUMP_WITHOUT_WAY = Rule(
    "pump-without-way",
    "fault",
    limit="a way from open water to open water for each pump that turns",
    source=COMMON_PRACTICE,
    remedy="open a way in that state, or let the pump stand",
)
ARRAY_SHUT_IN = Rule(
    "array-shut-in",
    "caution",
    limit="no water shut in between valves in feed and panels while the pump stands",
    source=COMMON_PRACTICE,
    remedy="a diverter seal with a drain-down hole, or a drain at the feed's foot",
)
ARRAY_NOT_SHUT_OFF = Rule(
    "array-not-shut-off",
    "caution",
    limit="a position of the valves that shuts the array off while the filter runs",
    source=COMMON_PRACTICE,
    remedy="a check or isolation valve in the roof return, an isolation valve in the feed",
)
DRAIN_BELOW_WATER = Rule(
    "drain-below-water",
    "caution",
    limit="no drain opened below open water that reaches it",
    source="hydrostatics",
    remedy="isolation valves between pool and drain, or plugs in the pool's ports first",
)


def media_to_pool(job: Job, trace: Trace) -> Iterator[Finding]:
    """Check that no stop sends water backward through the filter."""
    filters = {part.name for part in trace.case.circuit.of_kind("filter")}
    flows = [
        flow
        for flow in trace.backflow
        if flow.part in filters and flow.backward and flow.litres > LEAST
    ]
    if flows:
        worst = max(flows, key=lambda flow: flow.litres)
        yield MEDIA_TO_POOL.finding(
            "pad.check_valves",
            value=f"up to {_amount(job, worst.litres)} backward through {worst.part}, from state "
            f"'{worst.state}'",
            limit="none",
            text="When the pump stops, water runs backward through the filter and carries what it "
            "holds to the pool.",
            remedy="Put a check valve behind the filter.",
        )


def pump_without_way(_: Job, trace: Trace) -> Iterator[Finding]:
    """Check that no state of the job runs a pump against a shut valve."""
    stuck: dict[str, list[str]] = {}
    for dead in trace.deadheads:
        if dead.state and dead.reason == "no way":
            stuck.setdefault(dead.pump, []).append(f"'{dead.state}'")
    for pump, states in stuck.items():
        yield PUMP_WITHOUT_WAY.finding(
            "pad.edit",
            value=f"{pump} has no way in {', '.join(states)}",
            limit="a way from open water to open water",
            text="The pump runs against a shut valve: it heats its water and its seal.",
            remedy="Open a way in that state, or let the pump stand.",
        )


def array_shut_in(job: Job, trace: Trace) -> Iterator[Finding]:
    """Check that nothing shuts water into feed and panels while the pump stands."""
    circuit = trace.case.circuit
    array = {part.name for part in circuit.of_kind("panel")}
    array |= {pipe.name for pipe in circuit.pipes if pipe.role in ("feed", "roof return")}
    held = [
        entry
        for entry in trace.states[0].parts
        if entry.name in array and entry.water == "trapped" and entry.held_by
    ]
    litres = sum(entry.litres for entry in held)
    if litres > LEAST:
        holders = sorted({name for entry in held for name in entry.held_by})
        seal = "diverter" in holders and job.pad.diverter_seal == "seals tight"
        yield ARRAY_SHUT_IN.finding(
            "pad.diverter_seal" if seal else "pad.edit",
            value=f"{_amount(job, litres)} held by {', '.join(holders)}",
            limit="none that nothing lets out",
            text="With the pump off, water is shut in between valves in feed and panels: it stands "
            "through hot days and cold nights.",
            remedy='Use a diverter seal with a drain-down hole, pad.diverter_seal = "drain-down '
            "hole\", or put a drain at the feed's foot."
            if seal
            else "Open or move what holds it, or put a drain at its lowest place.",
        )


def array_not_shut_off(_: Job, trace: Trace) -> Iterator[Finding]:
    """Check that the array can be serviced without stopping the filter."""
    if trace.service.tightness == "not" and trace.case.circuit.of_kind("panel"):
        yield ARRAY_NOT_SHUT_OFF.finding(
            "pad.isolation_valves",
            value="water reaches it in every position of the valves",
            limit="a position that shuts it off while the filter runs",
            text="The array can't be serviced without stopping filtration.",
            remedy="Put an isolation valve or a check valve into the roof return, and an isolation "
            "valve into the feed.",
        )


def drain_below_water(_: Job, trace: Trace) -> Iterator[Finding]:
    """Check that draining by the job's own drains does not empty the pool."""
    names = dict.fromkeys(name for entry in trace.states for name in entry.floods)
    if names:
        yield DRAIN_BELOW_WATER.finding(
            "pad.drains",
            value=f"open water runs out of {', '.join(names)}",
            limit="none",
            text="A drain lies below open water: opened, it empties the pool.",
            remedy="Put isolation valves between the pool and the drain, or plug the pool's "
            "ports first.",
        )


def _amount(job: Job, litres: float) -> str:
    return shown(job, litres / 1000.0, "volume", 0)


TraceCheck = Callable[[Job, Trace], Iterator[Finding]]
TRACE_CHECKS: dict[Rule, TraceCheck] = {
    MEDIA_TO_POOL: media_to_pool,
    PUMP_WITHOUT_WAY: pump_without_way,
    ARRAY_SHUT_IN: array_shut_in,
    ARRAY_NOT_SHUT_OFF: array_not_shut_off,
    DRAIN_BELOW_WATER: drain_below_water,
}


def trace_findings(job: Job, trace: Trace) -> tuple[Finding, ...]:
    """List what a trace of a job's water shows.

    Parameters
    ----------
    job : Job
        The job.
    trace : Trace
        Of its circuit.

    Returns
    -------
    tuple of Finding
        The faults first, then in the order of `TRACE_CHECKS`.
    """
    found = [finding for check in TRACE_CHECKS.values() for finding in check(job, trace)]
    return tuple(sorted(found, key=lambda finding: finding.severity != "fault"))
