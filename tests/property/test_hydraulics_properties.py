"""What any pad and array must obey, whatever its sizes."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import settings as example_settings
from hypothesis import strategies as st

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.edge import CLOSE
from noonwater.hydraulics.flow import flow_at, solve_flow
from noonwater.hydraulics.network import build_network
from noonwater.hydraulics.settings import Settings, water_at
from noonwater.hydraulics.solution import solve
from noonwater.hydraulics.states import state_at
from noonwater.model.circuit import Circuit, Part, Pipe, State
from noonwater.model.plant import Array, Bank, Period, Pump
from noonwater.model.site import Roof
from tests.jobs import example_job

PANELS = ["tube 4x8", "tube 4x10", "tube 4x12", "sheet 4x10"]
CHECKS = [(), ("after filter",), ("after filter", "roof return")]
PUMPS = ["variable large", "variable medium", "variable small", "variable mini"]


@st.composite
def jobs(draw):
    count = draw(st.integers(1, 4))
    roofs = tuple(
        Roof(
            f"roof {i}",
            pitch=draw(st.floats(0, 45)),
            bearing=180.0,
            width=20.0,
            slope_length=6.0,
            eave_height=draw(st.floats(-2, 7)),
        )
        for i in range(count)
    )
    banks = tuple(
        Bank(
            draw(st.sampled_from([roof.name for roof in roofs])),
            draw(st.integers(1, 14)),
            draw(st.sampled_from(PANELS)),
            draw(st.sampled_from(["reverse return", "direct return"])),
        )
        for _ in range(count)
    )
    base = example_job()
    pad = replace(
        base.pad,
        pipe=draw(st.sampled_from([0.0381, 0.0508, 0.0635])),
        suction_length=draw(st.floats(0, 20)),
        return_length=draw(st.floats(0, 40)),
        feed_length=draw(st.floats(0, 60)),
        roof_return_length=draw(st.floats(0, 60)),
        arrangement=draw(st.sampled_from(["diverter", "diverter with bypass"])),
        elevation=draw(st.floats(-2, 2)),
        filter=draw(st.sampled_from(["none", "cartridge", "sand", "DE"])),
        heater=draw(st.sampled_from(["none", "gas", "heat pump"])),
        breaker=draw(st.sampled_from(["high return", "feed", "none"])),
        check_valves=draw(
            st.sampled_from([(), ("after filter",), ("after filter", "roof return")])
        ),
        bypass_open=draw(st.sampled_from([0.0, 0.2, 0.6, 1.0])),
        elbows=draw(st.integers(0, 40)),
    )
    speeds = draw(st.tuples(st.floats(500, 3450), st.floats(500, 3450)))
    program = (
        Period("06:00", "09:00", speeds[0], solar=False),
        Period("09:00", "17:00", speeds[1]),
    )
    pump = Pump(draw(st.sampled_from(PUMPS)), program)
    return replace(base, roof=roofs, array=Array(banks), pad=pad, pump=pump)


@given(jobs())
def test_mass_and_energy_balance_in_every_state(job):
    for state in solve_flow(job).states:
        for answer in (state, state.alternative):
            if answer is not None:
                assert answer.imbalance <= 1e-11
                assert answer.residual <= Settings().tolerance
                assert answer.flow >= 0.0
                assert answer.array_flow <= answer.flow + 1e-9
                assert sum(sum(bank) for bank in answer.panel_flows) == pytest.approx(
                    answer.array_flow, abs=1e-12
                )


@given(jobs(), st.booleans())
def test_pump_flow_never_falls_with_speed_within_one_breaker_state(job, solar):
    before = {}
    for speed in np.linspace(500.0, 3450.0, 9):
        state = flow_at(job, float(speed), solar)
        kind = (state.breaker, state.primes, sum(flow > 0 for flow in state.bank_flows))
        assert state.flow >= before.get(kind, 0.0) - 1e-8
        before[kind] = state.flow


def renamed(circuit: Circuit, seed: int) -> Circuit:
    """The same plumbing under other names, told in another order."""
    shuffle = random.Random(seed)
    parts, pipes = list(circuit.parts), list(circuit.pipes)
    shuffle.shuffle(parts)
    shuffle.shuffle(pipes)
    return Circuit(
        tuple(replace(part, name=f"x {part.name}") for part in parts),
        tuple(
            replace(
                pipe,
                name=f"x {pipe.name}",
                start=(f"x {pipe.start[0]}", pipe.start[1]),
                stop=(f"x {pipe.stop[0]}", pipe.stop[1]),
            )
            for pipe in pipes
        ),
    )


@given(jobs(), st.integers(0, 1000))
def test_names_and_order_do_not_matter(job, seed):
    circuit, water = fill_circuit(job), water_at(25.0)
    settings = Settings(tolerance=1e-8)
    state = state_at(job, 2500.0, True)
    other_state = replace(
        state, positions=tuple((f"x {name}", opening) for name, opening in state.positions)
    )
    ours = build_network(circuit, state, water, settings)
    theirs = build_network(renamed(circuit, seed), other_state, water, settings)
    one = solve(ours, water, settings, "as filled")
    two = solve(theirs, water, settings, "renamed")
    for name in ours.link_of:
        assert two.flow_in(f"x {name}") == pytest.approx(one.flow_in(name), abs=1e-8)


@given(jobs())
def test_a_dirty_filter_and_cold_water_never_help(job):
    state = state_at(job, 2500.0, True)
    circuit = fill_circuit(job)

    def flow(temp, load):
        settings, water = Settings(filter_load=load), water_at(temp)
        network = build_network(circuit, state, water, settings)
        return solve(network, water, settings, "test").flow_in("pump")

    clean = flow(25.0, 0.0)
    assert flow(25.0, 1.0) <= clean + 1e-8
    assert flow(10.0, 0.0) <= clean * (1 + 1e-6) + 1e-8


@given(jobs())
def test_pipes_told_the_other_way_round_give_the_opposite_flow(job):
    circuit, water, settings = fill_circuit(job), water_at(25.0), Settings(tolerance=1e-8)
    # A header's pipe has a direction that counts: which side of a riser's joint gains the head.
    panels = {part.name for part in circuit.of_kind("panel")}
    turned = frozenset(
        pipe.name for pipe in circuit.pipes if not panels & {pipe.start[0], pipe.stop[0]}
    )
    other = replace(
        circuit,
        pipes=tuple(
            replace(pipe, start=pipe.stop, stop=pipe.start) if pipe.name in turned else pipe
            for pipe in circuit.pipes
        ),
    )
    state = state_at(job, 2500.0, True)
    ours = solve(build_network(circuit, state, water, settings), water, settings, "as filled")
    theirs = solve(build_network(other, state, water, settings), water, settings, "turned")
    for name in ours.network.link_of:
        sign = -1.0 if name in turned else 1.0
        assert theirs.flow_in(name) == pytest.approx(sign * ours.flow_in(name), abs=1e-8)


def symmetric(left, right):
    """Two banks on two equal legs: the feed comes in at a tee's branch and splits to both runs."""
    tee = ("run in", "run out", "branch")
    parts = [
        Part("pool", "pool", ("return", "suction"), 0.0, 0.05),
        Part("pump", "pump", ("in", "out"), 0.3, 0.05, "variable large"),
        Part("split", "tee", tee, 3.0, 0.05),
        Part("join", "tee", tee, 4.0, 0.05),
    ]
    pipes = [
        Pipe("suction", ("pool", "suction"), ("pump", "in"), 6.0, 0.052, 0.05, (), "suction"),
        Pipe("feed", ("pump", "out"), ("split", "branch"), 15.0, 0.052, 0.05, (), "feed"),
        Pipe("down", ("join", "branch"), ("pool", "return"), 20.0, 0.052, 0.05, (), "roof return"),
    ]
    for side, run, count in (("left", "run in", left), ("right", "run out", right)):
        panels = [f"{side} panel {i}" for i in range(count)]
        parts += [
            Part(name, "panel", ("low", "high"), 3.0, 0.05, "tube 4x10", 1.0) for name in panels
        ]
        ends = [
            (("split", run), (panels[0], "low"), "feed"),
            ((panels[-1], "high"), ("join", run), "roof return"),
        ]
        for near, far in itertools.pairwise(panels):
            ends += [((near, end), (far, end), "header") for end in ("low", "high")]
        pipes += [
            Pipe(f"{a[0]} {a[1]} to {b[0]}", a, b, 1.2, 0.048, 0.05, (), role)
            for a, b, role in ends
        ]
    return Circuit(tuple(parts), tuple(pipes))


@given(st.integers(1, 12), st.integers(1, 12), st.floats(1200.0, 3450.0))
def test_a_mirrored_circuit_has_the_mirrored_flow(left, right, speed):
    water, settings = water_at(25.0), Settings(tolerance=1e-8)
    state = State("run", speed, True)

    def flows(circuit):
        return solve(build_network(circuit, state, water, settings), water, settings, "run").flow_in

    ours, mirrored = flows(symmetric(left, right)), flows(symmetric(right, left))
    assert mirrored("pump") == pytest.approx(ours("pump"), abs=1e-8)
    for side, other, count in (("left", "right", left), ("right", "left", right)):
        for i in range(count):
            assert mirrored(f"{other} panel {i}") == pytest.approx(
                ours(f"{side} panel {i}"), abs=1e-8
            )


@given(jobs())
@example_settings(max_examples=25)
def test_targets_keep_their_order(job):
    targets = solve_flow(job).targets
    clean, dirty = targets.priming
    for entry in (clean, dirty):
        if entry.speed_to_prime is not None:
            assert entry.speed_to_prime >= entry.speed_flow_begins - CLOSE
    assert_not_later(clean.speed_flow_begins, dirty.speed_flow_begins)
    assert_not_later(clean.speed_to_prime, dirty.speed_to_prime)
    for with_clean, with_dirty in zip(targets.breakers[::2], targets.breakers[1::2], strict=True):
        assert_not_later(with_clean.speed_static, with_dirty.speed_static)
        assert_not_later(with_clean.speed_total, with_clean.speed_static)


def assert_not_later(earlier, later):
    """A speed is reached no later than another; None is never."""
    if later is not None:
        assert earlier is not None
        assert earlier <= later + 2 * CLOSE
