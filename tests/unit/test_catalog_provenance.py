"""Which rows from memory a circuit leans on, and own parts in a whole job."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from noonwater.catalog import catalog_uses, memory_count
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrangement_ready import arranged
from noonwater.hydraulics.flow import solve_flow
from noonwater.model.own_part import OwnPanel, OwnPump, PumpPoint, SteadyTest
from noonwater.model.plant import Array, Bank, Period, Pump
from tests.jobs import example_job

OWN_PUMP = OwnPump(
    "yard pump",
    (
        PumpPoint(3000.0, 0.0, 21.0, 800.0),
        PumpPoint(3000.0, 2.5e-3, 18.5, 1300.0),
        PumpPoint(3000.0, 5.0e-3, 12.0, 1700.0),
        PumpPoint(1500.0, 1.25e-3, 4.6, 230.0),
    ),
    lowest_speed=900.0,
)
OWN_PANEL = OwnPanel(
    "roof panel", 1.2192, 3.048, SteadyTest("steady", 0.88, 0.02, 12.5, 2.6), like="sheet 4x10"
)


def test_rows_are_counted_once_and_only_those_in_use():
    circuit = fill_circuit(example_job())
    uses = catalog_uses(circuit)
    assert len({(use.table, use.name) for use in uses}) == len(uses)
    named = {(use.table, use.name): use for use in uses}
    assert named["panel", "tube 4x10"].memory
    assert not named["pipe", "2 in schedule 40"].memory
    assert not named["pump", "variable large"].memory
    assert ("heater", "gas") in named
    assert ("heater", "heat pump") not in named
    assert memory_count(circuit) == sum(use.memory for use in uses)


def test_more_parts_from_memory_count_more():
    plain = example_job()
    counts = [
        memory_count(fill_circuit(job))
        for job in (
            replace(plain, pad=replace(plain.pad, heater="none", breaker="none")),
            plain,
            arranged(plain, "sanitizer last"),
            arranged(plain, "sanitizer last", "pressure-side cleaner with booster"),
        )
    ]
    # A heater and a breaker; a sanitizer; a cleaner, its booster and its valve's fitting.
    assert [b - a for a, b in pairwise(counts)] == [2, 1, 3]


def test_metric_pipe_is_from_memory():
    plain = example_job()
    metric = replace(plain, pad=replace(plain.pad, pipe=0.063, schedule="metric"))
    assert memory_count(fill_circuit(metric)) == memory_count(fill_circuit(plain)) + 1


def own_job():
    return example_job(
        own_pump=(OWN_PUMP,),
        own_panel=(OWN_PANEL,),
        array=Array((Bank("south", 8, "roof panel"),)),
        pump=Pump("yard pump", (Period("09:00", "17:00", 2800.0),)),
    )


def test_own_parts_in_every_state():
    result = solve_flow(own_job())
    state = result.state("solar 2800 rpm")
    assert state.primes
    assert state.array_flow > 0.0
    assert all(each.imbalance < 1e-11 for each in result.states)
    uses = {(use.table, use.name): use for use in catalog_uses(result.circuit)}
    assert not uses["pump", "yard pump"].memory
    assert "4 points: head within" in uses["pump", "yard pump"].source
    assert "certificate" in uses["panel", "roof panel"].source


def test_an_own_pump_carries_its_speeds():
    with pytest.raises(Exception, match="900 to 3000 rpm for 'yard pump'"):
        solve_flow(replace(own_job(), pump=Pump("yard pump", (Period("09:00", "17:00", 3400.0),))))
