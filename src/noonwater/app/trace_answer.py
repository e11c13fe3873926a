"""Where the water is and where it could run, as JSON and as text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.app.leaning import NAMED, leaning_dict, leaning_words, rows_leant_on
from noonwater.app.state_choice import chosen_states
from noonwater.app.text import WIDTH, finding_lines, folded, table
from noonwater.app.trace_shape import trace_shape, without_shape
from noonwater.app.trace_words import (
    TIGHTNESS,
    backflow_words,
    deadhead_words,
    grouped,
    moves_words,
    seen_words,
    volume,
    without_lines,
)
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.document.leftover import side_by_side
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.catalog import CatalogUse
    from noonwater.hydraulics.trace import StateTrace, Trace
    from noonwater.hydraulics.trace_replay import Step
    from noonwater.hydraulics.trace_standing import PartWater
    from noonwater.hydraulics.trace_without import Without

CAUTION = (
    "Before anything is opened: pump off at the breaker, pressure released at the filter. Water "
    "that stood in the panels in the sun scalds. A heater is emptied as its maker says, gas by a "
    "licensed fitter. On the roof: secured against a fall. The makers' instructions and local "
    "codes decide."
)

SHORT = 0.5
"""[m] A pipe between neighbours; the text leaves it out, JSON does not."""

REMEDIES = {
    "blow out": "blow it out or pump it off",
    "lower the water": "open water stands as high: lower that, or plug it and blow this out",
    "let it stand": "too little to burst anything: let it stand",
}


@dataclass(frozen=True, eq=False)
class TraceAnswer:
    """Water in every state of a job, and the steps by hand."""

    job: Job
    trace: Trace
    findings: tuple[Finding, ...]
    state: str | None = None
    without: Without | None = None

    def states(self) -> Sequence[StateTrace]:
        """Those asked for."""
        return chosen_states(self.trace.states, self.state)

    def to_dict(self) -> dict[str, Any]:
        """Give everything for JSON."""
        shape: dict[str, Any] = {"job": self.job.name, **trace_shape(self.trace, self.states())}
        shape["leans_on"] = leaning_dict(self._rows())
        if self.without is not None:
            shape["without"] = without_shape(self.without)
        return shape

    def lines(self, system: System) -> list[str]:
        """Tell findings, states, what could run where, and the steps."""
        lines = [*finding_lines(self.findings), ""]
        if self.without is not None:
            return [*lines, *_wrapped(without_lines(self.without, system))]
        lines += _state_table(self.states(), system)
        hidden = _small_names(self.trace)
        for names, entry in _alike(self.states()):
            lines += _wrapped(_state_lines(names, entry, hidden, system))
        if self.state is None:
            lines += _wrapped(_dangers(self.trace, system))
            lines += _wrapped(_step_lines(self.trace, system))
        sources = folded("Sources", (leaning_words(self._rows()), NAMED))
        return [*lines, "", *textwrap.wrap(CAUTION, WIDTH), sources]

    def _rows(self) -> tuple[CatalogUse, ...]:
        return rows_leant_on(self.trace.case.circuit, with_vessels=True)


def _wrapped(lines: Iterable[str]) -> list[str]:
    wrapped: list[str] = []
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 4)
        wrapped += textwrap.wrap(line, WIDTH, subsequent_indent=indent) or [""]
    return wrapped


def _state_table(states: Sequence[StateTrace], system: System) -> list[str]:
    words = ("carries", "full", "trapped")
    rows = []
    for entry in states:
        sums = [sum(p.litres for p in entry.parts if p.water == word) for word in words]
        rows.append([entry.name, *(volume(value, system) for value in (entry.litres, *sums))])
    heads = [["state", "water", "carried", "stands full", "trapped"]]
    return table(heads, rows)


def _small_names(trace: Trace) -> set[str]:
    """Tees and the pad's short pipes: they do as their neighbours do."""
    circuit = trace.case.circuit
    small = {pipe.name for pipe in circuit.pipes if pipe.role == "pad" or pipe.length <= SHORT}
    return small | {part.name for part in circuit.of_kind("tee", "plug")}


def _alike(states: Sequence[StateTrace]) -> list[tuple[list[str], StateTrace]]:
    """States in which every part does the same, told once."""
    found: dict[tuple[tuple[str, str], ...], tuple[list[str], StateTrace]] = {}
    for entry in states:
        key = tuple((part.name, part.water) for part in entry.parts)
        found.setdefault(key, ([], entry))[0].append(entry.name)
    return list(found.values())


def _state_lines(
    names: Sequence[str], entry: StateTrace, hidden: set[str], system: System
) -> list[str]:
    shown = [part for part in entry.parts if part.name not in hidden]
    lines = ["", f"In {', '.join(names)}"]
    if entry.floods:
        lines.append(f"  open water runs out of: {', '.join(entry.floods)}")
    for word, text in (
        ("carries", "carry water"),
        ("full", "stand full"),
        ("drained", "have drained"),
        ("dry", "never get water"),
    ):
        here = [part.name for part in shown if part.water == word]
        if here:
            lines.append(f"  {text}: {grouped(here)}")
    for holders, held in _by_holder(entry.parts).items():
        amount = volume(sum(part.litres for part in held), system)
        why = f"held by {', '.join(holders)}" if holders else "below their own outlet"
        which = grouped(part.name for part in held if part.name not in hidden)
        lines.append(f"  hold trapped water, {amount}, {why}: {which or 'short pipes'}")
    return lines


def _by_holder(parts: Sequence[PartWater]) -> dict[tuple[str, ...], list[PartWater]]:
    found: dict[tuple[str, ...], list[PartWater]] = {}
    for part in parts:
        if part.water == "trapped" and part.litres > 0.0:
            own = tuple(name for name in part.held_by if name != part.name)
            found.setdefault(own, []).append(part)
    return found


def _dangers(trace: Trace, system: System) -> Iterator[str]:
    """What could run, run dry, run hot or flood."""
    yield from ("", "Water that runs where it should not")
    flows = [backflow_words(flow, system) for flow in trace.backflow]
    yield from (f"  {words}" for words in flows or ["none"])
    yield from ("", "Positions in which a pump runs against a shut valve")
    dead = [deadhead_words(entry) for entry in trace.deadheads]
    yield from (f"  {words}" for words in dead or ["none, up to three valves together"])
    if trace.seen:
        yield from ("", "What heater and sanitizer see")
        for view in trace.seen:
            amount = f", {volume(view.litres, system)}" if view.litres else ""
            yield f"  {view.state}: {view.part}: {view.sees}{amount}"
    yield from ("", "Opened with the pump off")
    floods = [entry for entry in trace.openings if entry.floods]
    for entry in floods:
        head = in_system(entry.head, "head", system)
        yield f"  {entry.part} floods, {head:.1f} {unit_label('head', system)} below the water"
    if not floods:
        yield "  nothing floods"
    amounts: dict[str, list[str]] = {}
    for entry in trace.openings:
        if not entry.floods and entry.litres > 1.0:
            amounts.setdefault(volume(entry.litres, system), []).append(entry.part)
    for amount, names in amounts.items():
        yield f"  up to {amount} run out: {grouped(names)}"


def _step_lines(trace: Trace, system: System) -> Iterator[str]:
    service, winter = trace.service, trace.winter
    yield from ("", f"To shut the array off for service, from state '{service.start}'")
    yield from _numbered(service.steps, system)
    yield f"  then {TIGHTNESS[service.tightness]}"
    yield f"  water still in the panels: {volume(service.array_litres, system)}"
    yield from ("", f"To winterize, from state '{winter.start}'")
    yield from _numbered(winter.steps, system)
    yield f"  water left: {volume(winter.litres_left, system)}"
    for entry in side_by_side(winter.left):
        yield f"  {entry.name}, {volume(entry.litres, system)}: {REMEDIES[entry.remedy]}"
    yield from ("", "To reopen")
    yield from _numbered(winter.reopen, system)


def _numbered(steps: Sequence[Step], system: System) -> Iterator[str]:
    if not steps:
        yield "  nothing to do"
    told = moves_words(steps)
    for count, (step, move) in enumerate(zip(steps, told, strict=True), start=1):
        yield f"  {count:2d}. {move}; see: {seen_words(step, system)}"


def answer_trace(job: Job, state: str | None = None, without: str | None = None) -> TraceAnswer:
    """Trace a job, and again without a part if one is named.

    Raises
    ------
    InputError
        A state or a part that isn't there.
    """
    from noonwater.design.traced import trace_findings
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.hydraulics.trace import trace_job
    from noonwater.hydraulics.trace_without import trace_without

    temp = job.pool.target
    trace = trace_job(with_speeds(job, temp), temp)
    change = None if without is None else trace_without(trace, without)
    answer = TraceAnswer(job, trace, trace_findings(job, trace), state, change)
    answer.states()
    return answer
