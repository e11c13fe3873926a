"""What a trace says is wrong with a pad."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from noonwater.core.finding import Finding
from noonwater.hydraulics.trace import Trace

COMMON_PRACTICE = "common practice, no source"

GALLON = 3785.411784
"""[mL] US gallon, exact."""

LEAST = 1.0
"""[L] Less water is not worth a finding."""


def media_to_pool(trace: Trace) -> Iterator[Finding]:
    """Water that runs backward through the filter when the pump stops.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    iterator of Finding
        One, with the worst state.
    """
    filters = {part.name for part in trace.case.circuit.of_kind("filter")}
    flows = [
        flow
        for flow in trace.backflow
        if flow.part in filters and flow.backward and flow.litres > LEAST
    ]
    if flows:
        worst = max(flows, key=lambda flow: flow.litres)
        yield Finding(
            rule="media-to-pool",
            severity="fault",
            where=worst.part,
            value=f"up to {_amount(worst.litres)} backward, from state '{worst.state}'",
            limit="none",
            text="When the pump stops, water runs backward through the filter and carries what it "
            "holds to the pool.",
            source=COMMON_PRACTICE,
            remedy="Put a check valve behind the filter.",
        )


def runs_dead(trace: Trace) -> Iterator[Finding]:
    """Pumps that run against a shut valve in a state of the job.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    iterator of Finding
        One a pump and state.
    """
    for dead in trace.deadheads:
        if dead.state and dead.reason == "no way":
            yield Finding(
                rule="pump-without-way",
                severity="fault",
                where=dead.pump,
                value=f"no way in state '{dead.state}'",
                limit="a way from open water to open water",
                text="The pump runs against a shut valve.",
                source=COMMON_PRACTICE,
                remedy="Open a way in that state, or let the pump stand.",
            )


def feed_shut_in(trace: Trace) -> Iterator[Finding]:
    """Water in feed and panels that nothing lets out while the pump stands.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    iterator of Finding
        One, with its litres and what holds it.
    """
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
        yield Finding(
            rule="array-shut-in",
            severity="caution",
            where=holders[0],
            value=f"{_amount(litres)} held by {', '.join(holders)}",
            limit="none that nothing lets out",
            text="With the pump off, water is shut in between valves in feed and panels: it stands "
            "through hot days and cold nights.",
            source=COMMON_PRACTICE,
            remedy="Use a diverter seal with a drain-down hole, or put a drain at the feed's foot.",
        )


def array_not_shut_off(trace: Trace) -> Iterator[Finding]:
    """An array that can't be shut off while the filter runs.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    iterator of Finding
        None or one.
    """
    if trace.service.tightness == "not" and trace.case.circuit.of_kind("panel"):
        yield Finding(
            rule="array-not-shut-off",
            severity="caution",
            where="array",
            value="water reaches it in every position of the valves",
            limit="a position that shuts it off while the filter runs",
            text="The array can't be serviced without stopping filtration.",
            source=COMMON_PRACTICE,
            remedy="Put an isolation valve or a check valve into the roof return, and an isolation "
            "valve into the feed.",
        )


def drains_flood(trace: Trace) -> Iterator[Finding]:
    """Drains that a state of the job opens below open water.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    iterator of Finding
        One a drain.
    """
    for entry in trace.states:
        for name in entry.floods:
            yield Finding(
                rule="drain-below-water",
                severity="caution",
                where=name,
                value=f"open water runs out of it in state '{entry.name}'",
                limit="none",
                text="The drain lies below open water: opened, it empties the pool.",
                source=COMMON_PRACTICE,
                remedy="Put isolation valves between the pool and the drain, or plug the pool's "
                "ports first.",
            )


def _amount(litres: float) -> str:
    return f"{litres:.0f} L ({1000.0 * litres / GALLON:.0f} gal)"


RULES: tuple[Callable[[Trace], Iterator[Finding]], ...] = (
    media_to_pool,
    runs_dead,
    feed_shut_in,
    array_not_shut_off,
    drains_flood,
)


def trace_findings(trace: Trace) -> tuple[Finding, ...]:
    """All that a trace says is wrong, the faults first.

    Parameters
    ----------
    trace : Trace
        Of the circuit.

    Returns
    -------
    tuple of Finding
        None for a pad without such faults.
    """
    found = [finding for rule in RULES for finding in rule(trace)]
    return tuple(sorted(found, key=lambda finding: finding.severity != "fault"))
