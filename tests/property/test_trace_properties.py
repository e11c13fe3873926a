"""Laws that hold for the trace of any circuit: water is conserved, names and order don't matter."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrangement_ready import arranged
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import job_states
from noonwater.hydraulics.trace import StateTrace, trace_case, trace_job
from noonwater.hydraulics.trace_levels import rise, settle
from noonwater.hydraulics.trace_opening import flooding
from noonwater.hydraulics.trace_plumbing import Setting, plumbing_of
from noonwater.hydraulics.trace_reach import driven_parts, has_way
from noonwater.hydraulics.trace_replay import Case, Step
from noonwater.hydraulics.volume import circuit_volume
from noonwater.model.circuit import Circuit, Part, PartKind, Pipe, State
from noonwater.model.job import Job
from tests.jobs import example_job
from tests.trace_pads import NAMES, raised

KINDS_OF_CHAIN: tuple[PartKind, ...] = (
    "tee",
    "check valve",
    "isolation valve",
    "vacuum breaker",
    "filter",
    "panel",
    "drain",
)

heights = st.floats(-3.0, 8.0).map(lambda height: round(height, 2))


@st.composite
def chains(draw: st.DrawFn) -> tuple[Circuit, Setting]:
    """A run of parts at any heights from the pool's suction to its return, drains on tees."""
    count = draw(st.integers(1, 8))
    parts = [Part("pool", "pool", ("return", "suction"), 0.0, 0.05)]
    pipes: list[Pipe] = []
    positions = []
    after = ("pool", "suction")
    for number in range(count):
        kind = draw(st.sampled_from(KINDS_OF_CHAIN))
        height, name = draw(heights), f"part {number}"
        if draw(st.booleans()) and kind in ("isolation valve", "drain"):
            positions.append((name, draw(st.sampled_from([0.0, 1.0]))))
        ports: tuple[str, ...] = {
            "tee": ("run in", "run out", "branch"),
            "panel": ("low", "high"),
        }.get(kind, ("in", "out"))
        if kind == "drain":
            parts.append(Part(name, "drain", ("in", "air"), height, 0.05))
            name, ports, kind = f"tee {number}", ("run in", "run out", "branch"), "tee"
            pipes.append(pipe(f"stub {number}", (name, "branch"), (f"part {number}", "in"), 0.0))
        catalog = {"panel": "tube 4x10", "filter": "cartridge"}.get(kind, "")
        rise_of = draw(st.floats(0.0, 2.0)) if kind == "panel" else 0.0
        parts.append(Part(name, kind, ports, height, 0.05, catalog, rise_of))
        turned = draw(st.booleans())
        into, out = (ports[1], ports[0]) if turned else (ports[0], ports[1])
        pipes.append(pipe(f"pipe {number}", after, (name, into), draw(st.floats(0.5, 20.0))))
        after = (name, out)
    pipes.append(pipe("last pipe", after, ("pool", "return"), draw(st.floats(0.5, 20.0))))
    return Circuit(tuple(parts), tuple(pipes)), Setting(tuple(sorted(positions)))


def pipe(name: str, start: tuple[str, str], stop: tuple[str, str], length: float) -> Pipe:
    return Pipe(name, start, stop, length, 0.05, 0.05)


def litres_by_name(circuit: Circuit, setting: Setting) -> dict[str, float]:
    plumbing = plumbing_of(circuit, setting)
    found: dict[str, float] = {}
    for passage, share in zip(plumbing.passages, settle(plumbing).shares, strict=True):
        found[passage.name] = found.get(passage.name, 0.0) + passage.volume * share
    return found


@given(chains())
@settings(max_examples=70)
def test_a_part_never_holds_more_than_it_did_and_never_less_than_nothing(
    case: tuple[Circuit, Setting],
) -> None:
    circuit, setting = case
    plumbing = plumbing_of(circuit, setting)
    rest = settle(plumbing)
    assert all(0.0 <= share <= 1.0 for share in rest.shares)
    full = plumbing.litres(plumbing.full)
    assert full == pytest.approx(1000.0 * circuit_volume(circuit))
    again = settle(plumbing, rest.shares)
    # Still water stays still.
    assert again.shares == pytest.approx(rest.shares)
    refilled = rise(plumbing, rest.shares, {})
    assert all(a >= b for a, b in zip(refilled, rest.shares, strict=True))


@given(chains())
@settings(max_examples=70)
def test_nothing_below_the_open_water_that_hangs_together_with_it_runs_dry(
    case: tuple[Circuit, Setting],
) -> None:
    circuit, setting = case
    plumbing = plumbing_of(circuit, setting)
    rest = settle(plumbing)
    for place in rest.air:
        open_below = any(
            level <= plumbing.elevation[place] + 1e-6
            for level in [
                *plumbing.waters.values(),
                *(plumbing.elevation[o] for o in plumbing.openings),
            ]
        )
        assert open_below, "air where no outlet lies as low"


@given(chains(), st.randoms(use_true_random=False))
@settings(max_examples=50)
def test_names_and_order_do_not_matter(case: tuple[Circuit, Setting], random: Any) -> None:
    circuit, setting = case
    names = [part.name for part in circuit.parts] + [each.name for each in circuit.pipes]
    fresh = [f"thing {number}" for number in range(len(names))]
    random.shuffle(fresh)
    renamed = dict(zip(names, fresh, strict=True))
    parts = [replace(part, name=renamed[part.name]) for part in circuit.parts]
    pipes = [
        replace(
            each,
            name=renamed[each.name],
            start=(renamed[each.start[0]], each.start[1]),
            stop=(renamed[each.stop[0]], each.stop[1]),
        )
        for each in circuit.pipes
    ]
    random.shuffle(parts)
    random.shuffle(pipes)
    positions = tuple(sorted((renamed[name], at) for name, at in setting.positions))
    before = litres_by_name(circuit, setting)
    after = litres_by_name(Circuit(tuple(parts), tuple(pipes)), Setting(positions))
    assert {renamed[name]: litres for name, litres in before.items()} == pytest.approx(after)


@given(chains())
@settings(max_examples=50)
def test_a_mirrored_circuit_holds_the_mirrored_water(case: tuple[Circuit, Setting]) -> None:
    """Every pipe turned round: the pool's two ports change places, check valves keep theirs."""
    circuit, setting = case
    turned = {"return": "suction", "suction": "return"}

    def end(port: tuple[str, str]) -> tuple[str, str]:
        return (port[0], turned[port[1]]) if port[0] == "pool" else port

    pipes = tuple(replace(p, start=end(p.stop), stop=end(p.start)) for p in circuit.pipes)
    mirrored = replace(circuit, pipes=pipes)
    assert litres_by_name(mirrored, setting) == pytest.approx(litres_by_name(circuit, setting))


@given(chains())
@settings(max_examples=50)
def test_a_flood_lies_below_the_water(case: tuple[Circuit, Setting]) -> None:
    circuit, setting = case
    plumbing = plumbing_of(circuit, setting)
    for name, head in flooding(plumbing, settle(plumbing)).items():
        assert circuit.part(name).elevation == pytest.approx(-head)


@st.composite
def pads(draw: st.DrawFn) -> Job:
    """Ready arrangements one over the other, at any heights, with valves left out at random."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=4, unique=True))
    job = arranged(example_job(), *names)
    checks = tuple(v for v in ("after filter", "roof return") if draw(st.booleans()))
    pad = replace(
        job.pad,
        check_valves=checks,
        breaker=draw(st.sampled_from(["high return", "feed", "none"])),
        elevation=draw(st.sampled_from([-1.2, -0.2, 0.0, 0.3, 1.5])),
    )
    return raised(replace(job, pad=pad), draw(st.sampled_from([-2.0, -0.3, 0.5, 2.5, 6.0])))


@given(pads())
@settings(max_examples=12)
def test_any_pad_traces_with_safe_steps_and_sums_that_add_up(job: Job) -> None:
    trace = trace_job(job)
    for entry in trace.states:
        words: dict[str, float] = {}
        for part in entry.parts:
            words[part.water] = words.get(part.water, 0.0) + part.litres
        assert sum(words.values()) == pytest.approx(entry.litres)
        assert entry.litres <= trace.litres_full + 1e-6
        assert words.get("dry", 0.0) == 0.0
    for steps in (trace.winter.steps, trace.winter.reopen, trace.service.steps):
        for step in steps:
            check_safe(trace.case, step)
    water = [step.water for step in trace.winter.steps]
    assert water == sorted(water, reverse=True)
    if water:
        assert trace.winter.litres_left == pytest.approx(water[-1], abs=0.1)


def check_safe(case: Case, step: Step) -> None:
    assert not step.floods, step.move
    assert all(
        has_way(case.circuit, step.scene.setting, pump)
        for pump in driven_parts(case.circuit, step.scene.state)
    ), step.move


@given(pads(), st.randoms(use_true_random=False))
@settings(max_examples=4)
def test_a_pads_trace_does_not_know_the_order_of_its_parts(job: Job, random: Any) -> None:
    circuit, states = fill_circuit(job), job_states(job)
    parts, pipes = list(circuit.parts), list(circuit.pipes)
    random.shuffle(parts)
    random.shuffle(pipes)
    mixed = replace(circuit, parts=tuple(parts), pipes=tuple(pipes))
    before, after = (traced(job, each, states) for each in (circuit, mixed))
    for one, other in zip(before, after, strict=True):
        assert {p.name: p.water for p in one.parts} == {p.name: p.water for p in other.parts}
        litres = {p.name: p.litres for p in one.parts}
        assert litres == pytest.approx({p.name: p.litres for p in other.parts}, abs=0.01)


def traced(job: Job, circuit: Circuit, states: tuple[State, ...]) -> tuple[StateTrace, ...]:
    return trace_case(Case(loop_of(job, circuit, 25.0, Settings())), states).states
