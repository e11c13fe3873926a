"""Operating states: lift, breaker, both stable answers, and errors instead of wrong numbers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.catalog import pump_named
from noonwater.core.errors import InputError, NotConverged
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.band import band_order, solve_band
from noonwater.hydraulics.flow import flow_at, solve_flow
from noonwater.hydraulics.network import build_network
from noonwater.hydraulics.settings import Settings, water_at
from noonwater.hydraulics.solution import solve
from noonwater.hydraulics.states import job_states, state_at
from noonwater.model.plant import Array, Bank, Period, Pump
from noonwater.model.site import Roof
from tests.jobs import example_job


def with_pad(job=None, **pad):
    job = job or example_job()
    return replace(job, pad=replace(job.pad, **pad))


def with_pump(job, **pump):
    return replace(job, pump=replace(job.pump, **pump))


def test_off_moves_nothing():
    off = solve_flow(example_job()).state("off")
    assert (off.flow, off.array_flow, off.head, off.power) == (0.0, 0.0, 0.0, 0.0)
    assert off.breaker == "dry"
    assert off.pressure_array_high is None


def test_filtering_keeps_the_array_dry():
    state = solve_flow(example_job()).state("filter 1700 rpm")
    assert state.flow > 1e-3
    assert state.array_flow == 0.0
    assert state.heater_flow == pytest.approx(state.flow)
    assert state.breaker == "dry"
    assert state.primes


def test_running_fast_shuts_the_breaker():
    state = flow_at(example_job(), 2800.0, True)
    assert state.breaker == "shut"
    assert state.pressure_breaker > 0.0
    assert state.alternative is None
    assert state.array_flow == pytest.approx(state.flow)
    assert [len(bank) for bank in state.panel_flows] == [6, 6]


def test_running_slowly_draws_air_and_tells_both_answers():
    job = with_pump(example_job(), priming_speed=None)
    state = flow_at(job, 1500.0, True)
    assert state.breaker == "open"
    assert state.primes
    assert state.pressure_breaker == pytest.approx(0.0, abs=1e-6)
    siphon = state.alternative
    assert siphon.breaker == "shut"
    assert siphon.pressure_breaker < 0.0
    assert siphon.flow > state.flow


def test_too_slow_to_lift():
    job = with_pump(example_job(), priming_speed=None)
    pump = pump_named("variable large")
    lift = flow_at(job, 1000.0, True).lift
    slowest = 3450.0 * (lift / (pump.head_shutoff * pump.head_margin)) ** 0.5
    below, above = flow_at(job, slowest - 1, True), flow_at(job, slowest + 1, True)
    assert not below.primes
    assert (below.flow, below.array_flow, below.breaker) == (0.0, 0.0, "dry")
    # Against a column that does not move the pump stands at its shut-off head.
    assert below.head == pytest.approx(pump.head_shutoff * ((slowest - 1) / 3450) ** 2)
    assert below.power > 0.0
    assert below.alternative.flow > 0.0
    assert above.primes
    assert above.array_flow > 0.0


def test_a_bypass_takes_what_would_have_lifted():
    job = with_pump(example_job(), priming_speed=None)
    with_bypass = with_pad(job, arrangement="diverter with bypass", bypass_open=1.0)
    speed = 1400.0
    assert flow_at(job, speed, True).primes
    state = flow_at(with_bypass, speed, True)
    assert not state.primes
    assert state.array_flow == 0.0
    assert state.flow > 1e-3
    shut = flow_at(with_pad(with_bypass, bypass_open=0.0), 2600.0, True)
    assert shut.array_flow == pytest.approx(shut.flow)
    part = flow_at(with_pad(with_bypass, bypass_open=0.3), 2600.0, True)
    assert 0.0 < part.array_flow < part.flow


def test_no_breaker_keeps_the_siphon_of_a_fast_start():
    job = with_pad(breaker="none")
    state = flow_at(job, 1000.0, True)
    assert state.breaker == "none"
    assert state.primes
    assert state.array_flow > 0.0
    assert not flow_at(with_pump(job, priming_speed=None), 1000.0, True).primes


def test_a_breaker_at_the_feed_stays_shut_at_lower_speed():
    job = with_pump(example_job(), priming_speed=None)
    high, feed = with_pad(job, breaker="high return"), with_pad(job, breaker="feed")
    speeds = np.arange(1300.0, 3000.0, 50.0)
    shut_high = [s for s in speeds if flow_at(high, float(s), True).breaker == "shut"]
    shut_feed = [s for s in speeds if flow_at(feed, float(s), True).breaker == "shut"]
    assert min(shut_feed) < min(shut_high)


def test_no_siphon_beyond_what_the_air_holds_up():
    tall = Roof("tower", 18.0, 180.0, 16.0, 5.0, eave_height=18.0)
    job = example_job(roof=(tall,), array=Array((Bank("tower", 12, "tube 4x10"),)))
    job = with_pump(with_pad(job, breaker="none", pipe=0.0635), priming_speed=None)
    state = flow_at(job, 3300.0, True)
    assert state.primes
    # A column of 19 m cannot hang: the top stands at atmospheric pressure, and only so.
    assert state.pressure_array_low == pytest.approx(0.0, abs=2500.0)
    assert state.alternative is None


def test_a_high_bank_may_stand_dry_while_a_low_one_runs():
    roofs = (
        Roof("low", 10.0, 180.0, 20.0, 6.0, eave_height=1.0),
        Roof("high", 10.0, 180.0, 20.0, 6.0, eave_height=7.0),
    )
    job = example_job(
        roof=roofs, array=Array((Bank("high", 4, "tube 4x10"), Bank("low", 8, "tube 4x10")))
    )
    job = with_pump(job, priming_speed=None)
    state = flow_at(job, 2000.0, True)
    assert not state.primes
    assert state.bank_flows[0] == 0.0
    assert state.bank_flows[1] > 0.0
    assert flow_at(job, 3300.0, True).bank_flows[0] > 0.0


def test_single_speed():
    program = (Period("09:00", "17:00", 3450.0),)
    result = solve_flow(example_job(pump=Pump("single medium", program)))
    names = [state.name for state in result.states]
    assert names == ["off", "filter 3450 rpm", "solar 3450 rpm", "priming 3450 rpm"]


def test_same_question_is_solved_once():
    job = example_job()
    assert flow_at(job, 2222.0, True) is flow_at(replace(job, name="other"), 2222.0, True)
    with pytest.raises(InputError, match="450 to 3450 rpm"):
        flow_at(job, 3600.0, True)


def test_no_answer_is_an_error_with_residual_and_state():
    job = example_job()
    settings, water = Settings(iterations=2), water_at(25.0)
    network = build_network(fill_circuit(job), state_at(job, 2400.0, True), water, settings)
    with pytest.raises(NotConverged, match="solar 2400 rpm") as caught:
        solve(network, water, settings, "solar 2400 rpm")
    assert caught.value.residual > settings.tolerance


def test_velocities_and_pressures_are_those_of_the_pipes():
    state = flow_at(example_job(), 2600.0, True)
    by_role = {velocity.role: velocity for velocity in state.velocities}
    assert set(by_role) == {"suction", "pad", "feed", "roof return", "return"}
    area = 0.25 * np.pi * (2.049 * 0.0254) ** 2
    assert by_role["suction"].velocity == pytest.approx(state.flow / area)
    assert state.pressure_filter > state.pressure_array_high > state.pressure_array_low


def test_band_solver_against_a_dense_one():
    rng = np.random.default_rng(3)
    n = 12
    pairs = [(i, i + 1) for i in range(n - 1)] + [(0, 5), (3, 8), (6, 11)]
    place, width = band_order(n, pairs)
    dense = np.zeros((n, n))
    for a, b in pairs:
        weight = rng.uniform(0.5, 2.0)
        i, j = place[a], place[b]
        dense[[i, j], [i, j]] += weight
        dense[[i, j], [j, i]] -= weight
    dense[0, 0] += 1.0
    right = rng.normal(size=n)
    band = np.zeros((n, 2 * width + 1))
    for i in range(n):
        for j in range(max(0, i - width), min(n, i + width + 1)):
            band[i, j - i + width] = dense[i, j]
    answer = right.copy()
    solve_band(band, answer, width)
    assert np.allclose(answer, np.linalg.solve(dense, right))


def test_two_hundred_nodes_still_work():
    job = example_job(array=Array(tuple(Bank("south", 24, "tube 4x10") for _ in range(5))))
    circuit, water, settings = fill_circuit(job), water_at(25.0), Settings()
    network = build_network(circuit, state_at(job, 3000.0, True), water, settings)
    assert len(network.elevation) > 240
    assert solve(network, water, settings, "large").residual <= settings.tolerance


def test_momentum_factors_beyond_what_was_tried_are_refused():
    assert Settings(theta_dividing=0.8, theta_combining=2.2).tees
    with pytest.raises(ValueError, match=r"theta_combining is 3; allowed: 0, or 2 to 2\.2"):
        Settings(theta_combining=3.0)


def test_a_dry_breaker_has_no_pressure():
    job = example_job()
    drained = replace(job, pad=replace(job.pad, drains=("feed", "roof return")))
    for state in solve_flow(drained).states:
        assert (state.pressure_breaker is None) == (state.breaker == "dry"), state.name


def test_what_nothing_feeds_is_no_part_of_the_network():
    """An array behind shut valves with its drains open lets water out and gets none."""
    job = example_job()
    pad = replace(
        job.pad,
        isolation_valves=("feed", "roof return"),
        drains=("feed", "roof return", "array"),
        diverter_seal="seals tight",
    )
    drained = replace(job, pad=pad)
    circuit = fill_circuit(drained)
    states = {state.name: state for state in job_states(drained)}
    panels = {part.name for part in circuit.of_kind("panel")}
    for name, fed in (("draining", False), ("solar 2400 rpm", True)):
        network = build_network(circuit, states[name], water_at(25.0), Settings())
        assert bool(panels & set(network.link_of)) is fed, name
    # Below the water the pool feeds an open drain through whatever stands open.
    low = replace(drained, pad=replace(pad, isolation_valves=(), drains=("roof return",)))
    low = replace(low, pad=replace(low.pad, elevation=-1.0, check_valves=("after filter",)))
    state = next(state for state in job_states(low) if state.name == "draining")
    flooding = build_network(fill_circuit(low), state, water_at(25.0), Settings())
    assert "roof return drain" in flooding.link_of
