"""Every ready arrangement, alone and composed, solved in each of its states."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from noonwater.core.errors import InputError
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrangement_ready import READY, arranged
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.network import build_network
from noonwater.hydraulics.settings import Settings, water_at
from noonwater.hydraulics.solution import solve
from noonwater.hydraulics.states import job_states
from noonwater.model.circuit import KINDS
from noonwater.model.pad_option import Spa
from noonwater.model.plant import Array, Bank, Period, Pump
from noonwater.model.site import Roof
from tests.jobs import example_job

NAMES = [ready.name for ready in READY]
PROGRAM = (
    Period("06:00", "08:00", 2600.0, solar=False, purpose="clean"),
    Period("08:00", "09:30", 1700.0, solar=False),
    Period("09:30", "15:00", 2800.0),
    Period("15:00", "16:00", 2800.0, purpose="clean"),
    Period("18:00", "20:00", 2200.0, solar=False, purpose="spa"),
)
PLACES = {
    "one roof": lambda job: job,
    "two planes": lambda job: replace(
        job,
        array=Array(
            (
                Bank("west", 5, "tube 4x12"),
                Bank("south", 6, "sheet 4x10", "direct return"),
                Bank("south", 3, "tube 4x10"),
            )
        ),
    ),
    "ground rack below the water": lambda job: replace(
        job,
        roof=(Roof("rack", 30.0, 180.0, 20.0, 5.0, eave_height=-3.0),),
        array=Array((Bank("rack", 8, "tube 4x10"),)),
    ),
}


def plain_job(place="one roof"):
    pump = Pump("variable large", PROGRAM, priming_speed=3200.0)
    return PLACES[place](example_job(pump=pump))


def sums_at_nodes(solution):
    """Net inflow of each node, told apart from `Solution.imbalance` on purpose."""
    network = solution.network
    net = np.zeros(len(network.elevation))
    for link in range(len(solution.flow)):
        net[network.links.start[link]] -= solution.flow[link]
        net[network.links.stop[link]] += solution.flow[link]
    return net


def check_job(job):
    circuit = fill_circuit(job)
    names = [part.name for part in circuit.parts]
    assert len(set(names)) == len(names)
    assert len({pipe.name for pipe in circuit.pipes}) == len(circuit.pipes)
    known = {(part.name, port) for part in circuit.parts for port in part.ports}
    used = [end for pipe in circuit.pipes for end in (pipe.start, pipe.stop)]
    assert set(used) <= known
    for part in circuit.parts:
        assert set(part.ports) <= set(KINDS[part.kind].ports)
        assert set(part.features) <= set(KINDS[part.kind].features)
        if part.kind not in ("panel", "pool"):
            # A port joins one pipe, and none is left open but a drain's mouth.
            ports = [port for port in part.ports if port != "air"]
            if part.name == "feed corner" and len(job.array.banks) == 1:
                ports.remove("branch")
            ends = [used.count((part.name, port)) for port in ports]
            assert ends == [1] * len(ends), part.name
    result = solve_flow(job)
    for state in result.states:
        for answer in (state, state.alternative):
            if answer is not None:
                assert answer.imbalance <= 1e-11
                assert answer.residual <= Settings().tolerance
    return result


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", NAMES)
def test_each_arrangement_solves_in_each_state(name, place):
    result = check_job(arranged(plain_job(place), name))
    solar = [state for state in result.states if state.name.startswith("solar")]
    assert all(state.primes and state.array_flow > 0.0 for state in solar)


def test_options_compose():
    rng = random.Random(11)
    for _ in range(15):
        job = plain_job(rng.choice(list(PLACES)))
        check_job(arranged(job, *rng.sample(NAMES, 6)))


def test_mass_at_every_node_of_everything_at_once():
    job = arranged(plain_job("two planes"), *NAMES[3:])
    circuit, water, settings = fill_circuit(job), water_at(25.0), Settings()
    states = job_states(job)
    assert {state.name.split()[0] for state in states} == {
        "off", "filter", "clean", "spa", "solar", "priming", "draining",
    }  # fmt: skip
    for state in states:
        network = build_network(circuit, state, water, settings)
        solution = solve(network, water, settings, state.name)
        inside = [node for node in range(1, len(network.elevation)) if node not in network.levels]
        assert np.abs(sums_at_nodes(solution)[inside]).max(initial=0.0) < 1e-11


def flows(job, name, *links):
    """Flows of links by name in a state, without air in the top."""
    circuit, water, settings = fill_circuit(job), water_at(25.0), Settings()
    state = next(state for state in job_states(job) if state.name == name)
    network = build_network(circuit, state, water, settings)
    solution = solve(network, water, settings, name)
    return [solution.flow_in(link) for link in links]


def test_stops_split_the_flow():
    whole = solve_flow(plain_job()).state("solar 2800 rpm")
    split = solve_flow(arranged(plain_job(), "diverter with stops")).state("solar 2800 rpm")
    assert whole.array_flow == pytest.approx(whole.flow)
    assert 0.0 < split.array_flow < split.flow
    with pytest.raises(ValueError, match="diverter with stops"):
        replace(plain_job().pad, diverter_open=0.5)


def test_a_booster_lifts_what_the_filter_pump_does_not():
    high = Roof("high", 18.0, 180.0, 20.0, 5.0, eave_height=14.0)
    program = (Period("09:00", "17:00", 2600.0),)
    job = replace(
        plain_job(),
        roof=(high,),
        array=Array((Bank("high", 8, "tube 4x10"),)),
        pump=Pump("variable medium", program),
    )
    alone = solve_flow(job).state("solar 2600 rpm")
    boosted = solve_flow(arranged(job, "booster pump for a high roof")).state("solar 2600 rpm")
    assert not alone.primes
    assert boosted.primes
    assert boosted.array_flow > 0.0
    assert boosted.power > alone.power
    # With solar off the booster stands and no water passes it.
    boosted_job = arranged(job, "booster pump for a high roof")
    assert flows(boosted_job, "filter 2600 rpm", "booster pump") == [0.0]


def test_the_spa_gets_all_the_water_in_its_time_and_none_in_the_pools():
    job = arranged(plain_job(), "pool with spa")
    ways = ("spa return valve to spa", "spa return valve to pool", "spa suction valve to spa")
    to_spa, to_pool, from_spa = flows(job, "spa 2200 rpm", *ways)
    assert to_spa == pytest.approx(from_spa)
    assert to_spa > 1e-3
    assert to_pool == 0.0
    to_spa, to_pool, from_spa = flows(job, "filter 1700 rpm", *ways)
    assert (to_spa, from_spa) == (0.0, 0.0)
    assert to_pool > 1e-3


def test_a_raised_spa_spills_what_it_gets():
    level = plain_job()
    level = replace(level, pad=replace(level.pad, spa=Spa(8.0, 8.0, spillover=0.4)))
    raised = arranged(plain_job(), "pool with raised spa")
    ways = ("spa return valve to spa", "spa return valve to pool")
    low = flows(level, "filter 1700 rpm", *ways)
    high = flows(raised, "filter 1700 rpm", *ways)
    assert min(low) > 0.0
    # Half a metre more to lift takes from the spa and gives to the pool.
    assert high[0] < low[0]
    assert high[1] > low[1]
    # In its own time the level is the same on both sides of the pump: it does not count.
    assert flows(raised, "spa 2200 rpm", "spa return valve to spa")[0] > 1e-3


def test_cleaners_run_in_their_time_only():
    suction = arranged(plain_job(), "suction-side cleaner")
    running, rest = flows(suction, "clean 2600 rpm", "suction cleaner", "cleaner valve to pool")
    assert running > 0.0
    assert rest > 0.0
    assert flows(suction, "filter 1700 rpm", "suction cleaner") == [0.0]
    own = arranged(plain_job(), "pressure-side cleaner")
    boosted = arranged(plain_job(), "pressure-side cleaner with booster")
    for job in (own, boosted):
        assert flows(job, "clean 2600 rpm", "pressure cleaner")[0] > 0.0
        assert flows(job, "filter 1700 rpm", "pressure cleaner") == [0.0]
        assert flows(job, "solar clean 2800 rpm", "pressure cleaner")[0] > 0.0
    # Figures of cleaner.csv and pump.csv, both from memory: the booster is what makes it work.
    speed = flows(boosted, "clean 2600 rpm", "pressure cleaner")[0]
    assert 0.0006 < speed < 0.0013
    with pytest.raises(InputError, match="cleaner_booster"):
        fill_circuit(replace(own, pad=replace(own.pad, cleaner="pressure with booster")))


def test_service_isolates_the_roof_and_filtering_goes_on():
    job = arranged(plain_job(), "isolation valves and drains")
    result = solve_flow(job)
    service = result.state("service 1700 rpm")
    assert service.flow == pytest.approx(result.state("filter 1700 rpm").flow)
    state = next(state for state in job_states(job) if state.name == "service 1700 rpm")
    valves = dict(state.positions)
    assert valves["feed isolation valve"] == valves["roof return isolation valve"] == 0.0
    assert valves["feed drain"] == 0.0
    state = next(state for state in job_states(job) if state.name == "draining")
    assert dict(state.positions)["feed drain"] == 1.0
    names = [state.name for state in job_states(plain_job())]
    assert not any(name.startswith(("service", "drain")) for name in names)


def test_an_open_drain_below_the_water_floods():
    job = replace(plain_job(), pad=replace(plain_job().pad, drains=("feed",), elevation=-1.0))
    circuit, water, settings = fill_circuit(job), water_at(25.0), Settings()
    state = next(state for state in job_states(job) if state.name == "draining")
    # With the diverter on solar the pool hangs on the drain, a metre below its water.
    toward = replace(
        state, positions=tuple((n, 1.0 if n == "diverter" else v) for n, v in state.positions)
    )
    for wanted, low, high in ((state, -1e-6, 1e-6), (toward, 1e-3, 1e-2)):
        solution = solve(build_network(circuit, wanted, water, settings), water, settings, "open")
        assert low < solution.flow_in("feed drain") < high
    above = replace(job, pad=replace(job.pad, elevation=0.5))
    network = build_network(fill_circuit(above), toward, water, settings)
    dry = solve(network, water, settings, "open")
    # What a shut check valve leaks in the solver: 1e-8 m³/s for a metre.
    assert abs(dry.flow_in("feed drain")) < 1e-7


def test_a_wrong_name_is_answered_with_all():
    with pytest.raises(InputError, match="hand-set bypass"):
        arranged(plain_job(), "two pumps in a row")
