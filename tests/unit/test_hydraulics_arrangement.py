"""The circuit that a job fills."""

from __future__ import annotations

from dataclasses import replace
from math import radians, sin

import pytest

from noonwater.core.errors import InputError
from noonwater.hydraulics.arrangement import fill_circuit, share_elbows
from noonwater.hydraulics.live import carrying_links
from noonwater.hydraulics.network import build_network
from noonwater.hydraulics.settings import Settings, water_at
from noonwater.hydraulics.states import job_states, state_at
from noonwater.model.plant import Array, Bank, Period, Pump
from tests.jobs import example_job


def changed(**pad):
    job = example_job()
    return replace(job, pad=replace(job.pad, **pad))


def one_bank(roof, panel):
    return example_job(array=Array((Bank(roof, 3, panel),)))


@pytest.mark.parametrize("arrangement", ["diverter", "diverter with bypass"])
@pytest.mark.parametrize("breaker", ["high return", "feed", "none"])
@pytest.mark.parametrize("banks", [1, 2, 3])
def test_every_name_once_and_every_pipe_ends_at_a_port(arrangement, breaker, banks):
    job = changed(arrangement=arrangement, breaker=breaker)
    job = replace(job, array=Array(tuple(Bank("south", 4, "tube 4x10") for _ in range(banks))))
    circuit = fill_circuit(job)
    names = [part.name for part in circuit.parts]
    assert len(set(names)) == len(names)
    assert len({pipe.name for pipe in circuit.pipes}) == len(circuit.pipes)
    ports = {(part.name, port) for part in circuit.parts for port in part.ports}
    for pipe in circuit.pipes:
        assert pipe.start in ports
        assert pipe.stop in ports
    assert ("vacuum breaker" in names) == (breaker != "none")


def test_elbows_are_all_there():
    for count in range(60):
        assert sum(share_elbows(count).values()) == count
    circuit = fill_circuit(changed(elbows=23))
    fitted = sum(f.count for p in circuit.pipes for f in p.fittings if f.kind == "elbow 90")
    assert fitted == 23


def test_heights():
    circuit = fill_circuit(example_job())
    panel = circuit.part("bank 1 panel 1")
    assert panel.elevation == 3.0
    assert panel.rise == pytest.approx(3.048 * sin(radians(18)))
    assert circuit.part("vacuum breaker").elevation == pytest.approx(3.0 + panel.rise)
    assert circuit.part("pump").elevation == 0.3


def test_breaker_sits_at_the_highest_bank():
    job = example_job(array=Array((Bank("west", 3, "tube 4x12"), Bank("south", 3, "tube 4x8"))))
    circuit = fill_circuit(job)
    first = circuit.part("bank 1 panel 1")
    assert circuit.part("vacuum breaker").elevation == first.elevation + first.rise
    network = build_network(circuit, state_at(job, 2400.0, True), water_at(25.0), Settings())
    top = network.elevation.max()
    assert network.elevation[network.node_of[("vacuum breaker", "in")]] == top


def test_direct_return_leaves_where_it_entered():
    direct = example_job(array=Array((Bank("south", 5, "tube 4x10", "direct return"),)))
    ends = {pipe.start for pipe in fill_circuit(direct).pipes}
    assert ("bank 1 panel 1", "high") in ends
    reverse = example_job(array=Array((Bank("south", 5, "tube 4x10"),)))
    pipes = fill_circuit(reverse).pipes
    out = next(pipe for pipe in pipes if pipe.stop == ("vacuum breaker", "in"))
    assert out.start == ("bank 1 panel 5", "high")


def test_unknown_names_are_answered_with_the_known_ones():
    for job, field, known in (
        (changed(filter="paper"), "pad.filter", "cartridge"),
        (changed(heater="wood"), "pad.heater", "heat pump"),
        (changed(pipe=0.047), "pad.pipe", "2 in schedule 40"),
        (
            example_job(array=Array((Bank("attic", 3, "tube 4x10"),))),
            "array.banks[0].roof",
            "south",
        ),
        (
            example_job(array=Array((Bank("south", 3, "glass"),))),
            "array.banks[0].panel",
            "tube 4x8",
        ),
        (
            example_job(pump=Pump("bicycle", (Period("08:00", "09:00", 2000.0),))),
            "pump.pump",
            "variable large",
        ),
    ):
        with pytest.raises(InputError) as caught:
            fill_circuit(job)
        assert caught.value.faults[0].field == field
        assert known in caught.value.faults[0].allowed


def test_states_of_a_program():
    names = [state.name for state in job_states(example_job())]
    assert names == [
        "off",
        "filter 1700 rpm",
        "filter 2400 rpm",
        "solar 2400 rpm",
        "priming 3000 rpm",
    ]
    pump = replace(example_job().pump, solar_speed=2900.0, priming_speed=None)
    names = [state.name for state in job_states(example_job(pump=pump))]
    assert names[-2:] == ["solar 2900 rpm", "priming 2900 rpm"]


def test_positions_of_valves():
    states = job_states(changed(arrangement="diverter with bypass", bypass_open=0.3))
    assert dict(states[1].positions) == {"diverter": 0.0, "bypass valve": 0.3}
    assert dict(states[3].positions) == {"diverter": 1.0, "bypass valve": 0.3}


def test_speeds_that_the_pump_lacks_all_at_once():
    program = (Period("08:00", "09:00", 300.0), Period("09:00", "10:00", 3500.0))
    job = example_job(pump=Pump("variable large", program, priming_speed=3550.0))
    with pytest.raises(InputError) as caught:
        job_states(job)
    fields = [fault.field for fault in caught.value.faults]
    assert fields == ["pump.program[0].speed", "pump.program[1].speed", "pump.priming_speed"]
    single = example_job(pump=Pump("single small", (Period("08:00", "09:00", 1700.0),)))
    with pytest.raises(InputError, match="only 3450 rpm"):
        job_states(single)


def test_dead_ends_carry_nothing():
    # A loop 0-1-2-0, a tail 2-3, and a loop 4-5 that hangs on nothing.
    ends = [(0, 1), (1, 2), (2, 0), (2, 3), (4, 5), (5, 4)]
    assert carrying_links(ends, 0) == [0, 1, 2]
    # Two pipes side by side are a loop; a bridge between two loops is not on one.
    assert carrying_links([(0, 1), (0, 1), (1, 2), (2, 3), (2, 3)], 0) == [0, 1]


def test_filtering_leaves_the_array_out():
    job = example_job()
    network = build_network(
        fill_circuit(job), state_at(job, 1700.0, False), water_at(25.0), Settings()
    )
    assert "bank 1 panel 1" not in network.link_of
    assert "filter" in network.link_of
