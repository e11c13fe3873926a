"""What a drawing knows of a state: warmth, standing water, and the words for both."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from noonwater.catalog import pipes
from noonwater.core.units import show
from noonwater.drawing.pad_graph import pad_graph
from noonwater.drawing.pad_side import figures, pipe_note, state_sentence
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater, pad_waters, warmed_shares
from noonwater.drawing.pad_words import (
    bank_holds,
    bank_words,
    height_words,
    heights_words,
    least_fed,
    panel_flows,
    position_words,
    size_words,
)
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.speeds import with_speeds
from noonwater.hydraulics.trace import trace_job, trace_states
from noonwater.model.circuit import Circuit, Part, Pipe
from noonwater.model.pad_option import SetPipe
from tests.drawn_pads import PADS, with_pad


@cache
def waters_of(name: str) -> tuple[Circuit, dict[str, PadWater]]:
    job = with_speeds(PADS[name]())
    flow = solve_flow(job)
    return flow.circuit, {water.name: water for water in pad_waters(job, flow)}


def solar(name: str) -> tuple[Circuit, PadWater]:
    circuit, waters = waters_of(name)
    return circuit, waters["solar 2400 rpm"]


def loop_of_five() -> Circuit:
    """Pool, tee, panel and bypass, tee, back to the pool."""
    kinds = {"pool": "pool", "first": "tee", "panel": "panel", "last": "tee"}
    ports = {
        "pool": ("return", "suction"),
        "panel": ("low", "high"),
        "first": ("run in", "run out", "branch"),
        "last": ("run in", "run out", "branch"),
    }
    parts = tuple(Part(name, kind, ports[name], 0.0, 0.05) for name, kind in kinds.items())  # type: ignore[arg-type]
    joints = {
        "suction": (("pool", "suction"), ("first", "run in")),
        "feed": (("first", "run out"), ("panel", "low")),
        "back": (("panel", "high"), ("last", "run in")),
        "bypass": (("first", "branch"), ("last", "branch")),
        "return": (("last", "run out"), ("pool", "return")),
    }
    return Circuit(parts, tuple(Pipe(n, *ends, 1.0, 0.05, 0.05) for n, ends in joints.items()))


def test_water_that_mixes_is_warmed_by_its_share() -> None:
    flows = {"suction": 4e-3, "feed": 3e-3, "back": 3e-3, "bypass": 1e-3, "return": 4e-3}
    shares = warmed_shares(loop_of_five(), flows)
    assert shares == pytest.approx(
        {"suction": 0.0, "feed": 0.0, "back": 1.0, "bypass": 0.0, "return": 0.75}
    )


def test_a_bypass_that_runs_back_warms_the_feed() -> None:
    # Of 5 L/s on the roof 1 L/s comes round again: 1/5 of the feed has been there before.
    flows = {"suction": 4e-3, "feed": 5e-3, "back": 5e-3, "bypass": -1e-3, "return": 4e-3}
    shares = warmed_shares(loop_of_five(), flows)
    assert shares["feed"] == pytest.approx(0.2)
    assert shares["bypass"] == shares["return"] == pytest.approx(1.0)


def test_still_water_is_warmed_by_nothing() -> None:
    assert set(warmed_shares(loop_of_five(), {}).values()) == {0.0}


@pytest.mark.parametrize("name", PADS)
def test_what_comes_to_a_part_leaves_it(name: str) -> None:
    circuit, waters = waters_of(name)
    for water in waters.values():
        for part in circuit.parts:
            if part.facts.air or part.facts.body or part.kind in ("panel", "plug"):
                continue
            net = sum(
                water.flows[pipe.name] * (1 if pipe.stop[0] == part.name else -1)
                for pipe in circuit.pipes_at(part.name)
            )
            assert net == pytest.approx(0.0, abs=1e-6), (water.name, part.name)


@pytest.mark.parametrize(
    "name", ["everything", "isolation valves and drains", "pad below the water"]
)
def test_what_stands_is_what_the_trace_says(name: str) -> None:
    job = with_speeds(PADS[name]())
    trace = trace_job(job)
    _, waters = waters_of(name)
    words = {
        "full": {"full"},
        "trapped": {"trapped"},
        "drained": {"empty"},
        "dry": {"empty"},
        "carries": {"carries", "full"},
    }
    for entry in trace.states:
        for part in entry.parts:
            assert waters[entry.name].holds(part.name) in words[part.water], (entry.name, part.name)


def test_a_trickle_through_the_drain_down_hole_stands_and_is_told() -> None:
    circuit, waters = waters_of("isolation valves and drains")
    water = waters["filter 2400 rpm"]
    assert water.figures.leak > 0.0
    assert {water.holds(panel.name) for panel in circuit.of_kind("panel")} == {"full"}
    trickle = show(water.figures.leak, "flow", "US", 2)
    assert f"a trickle of {trickle} through the diverter" in state_sentence(water, "US")


def test_states_traced_alone_are_those_of_the_whole_trace() -> None:
    job = with_speeds(PADS["everything"]())
    assert trace_states(job) == trace_job(job).states


def test_a_shut_valve_and_a_tight_diverter_hold_the_array_full() -> None:
    _, waters = waters_of("isolation valves and drains")
    circuit, _ = waters_of("isolation valves and drains")
    panels = circuit.of_kind("panel")
    assert {waters["service 1700 rpm"].holds(p.name) for p in panels} == {"trapped"}
    assert {waters["draining"].holds(p.name) for p in panels} == {"empty"}
    assert {waters["solar 2400 rpm"].holds(p.name) for p in panels} == {"carries"}


def test_a_bank_holds_what_most_of_its_panels_hold() -> None:
    circuit, water = solar("plain")
    bank = pad_graph(circuit).banks["bank 1"]
    names = [panel.name for panel in bank.panels]
    assert bank_holds(bank, water) == "carries"
    still = replace(water, flows={}, standing=dict.fromkeys(names, "empty") | {names[0]: "full"})
    assert bank_holds(bank, still) == "empty"
    texts = [word.text for word in bank_words(bank, still, "US", brief=False)]
    assert "empty" in texts
    assert not any("least" in text for text in texts)


def test_the_least_fed_panel_is_the_one_with_least_flow() -> None:
    circuit, water = solar("plain")
    for bank in pad_graph(circuit).banks.values():
        flows = panel_flows(bank, water)
        index = least_fed(bank, water)
        assert index is not None
        assert flows[index] == min(flows)
    (one,) = pad_graph(solar("one panel")[0]).banks.values()
    assert least_fed(one, solar("one panel")[1]) is None


@pytest.mark.parametrize(
    ("name", "part", "words"),
    [
        ("plain", "diverter", "to roof"),
        ("diverter with stops", "diverter", "60 % to roof"),
        ("hand-set bypass", "bypass valve", "40 % open"),
        ("plain", "filter check valve", "open"),
        ("isolation and drains", "feed drain", "shut"),
        ("plain", "vacuum breaker", "shut"),
        ("plain", "pump", ""),
        ("pool with spa", "spa suction valve", "from pool"),
    ],
)
def test_how_a_valve_stands(name: str, part: str, words: str) -> None:
    circuit, water = solar(name)
    assert position_words(circuit.part(part), water) == words


@pytest.mark.parametrize("name", [size.name for size in pipes()])
def test_sizes_are_told_as_pipe_is_bought(name: str) -> None:
    size = next(each for each in pipes() if each.name == name)
    assert name.startswith(size_words(size.nominal) + " ")


def test_the_sheet_says_which_pipe_is_of_another_size() -> None:
    job = with_speeds(with_pad(edit=(SetPipe("pipe", "feed", size=0.0381),)))
    flow = solve_flow(job)
    water = next(iter(pad_waters(job, flow)))
    subject = Subject(flow.circuit, water, "US")
    assert pipe_note(subject, "2 in schedule 40") == "All pipe 2 in schedule 40, but 1.5 in feed."
    plain = Subject(*solar("plain"), "US")
    assert pipe_note(plain, "2 in schedule 40") == "All pipe 2 in schedule 40."


def test_what_a_state_does_is_said_in_a_sentence() -> None:
    _, waters = waters_of("plain")
    said = {name: state_sentence(water, "US") for name, water in waters.items()}
    assert said["off"].startswith("The pump stands")
    assert said["filter 1700 rpm"] == "Water goes round without the roof."
    assert said["solar 2400 rpm"].startswith("Water goes over the roof")
    low = waters["solar 2400 rpm"]
    dry = replace(low, figures=replace(low.figures, primes=False, lift=9.0))
    lift = show(9.0, "head", "US")
    assert state_sentence(dry, "US") == f"Water does not get over the top, {lift} up."


def test_figures_of_a_pump_that_stands_are_few() -> None:
    circuit, waters = waters_of("plain")
    names = {
        state: {label for label, _ in figures(Subject(circuit, waters[state], "SI"))}
        for state in ("off", "solar 2400 rpm")
    }
    assert "flow through the pump" not in names["off"]
    assert {"flow through the pump", "power at the wire"} <= names["solar 2400 rpm"]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (3.0, 3.9, "3.0 to 3.9 m above"),
        (-2.0, -1.1, "1.1 to 2.0 m below"),
        (-0.5, 0.4, "0.5 m below to 0.4 m above"),
        (0.0, 0.9, "0.0 to 0.9 m above"),
        (-0.9, 0.0, "0.0 to 0.9 m below"),
    ],
)
def test_heights_are_told_against_the_water(low: float, high: float, words: str) -> None:
    assert heights_words(low, high, "SI").replace("\u00a0", " ") == words


def test_a_height_below_the_water_is_told_as_such() -> None:
    assert height_words(-1.5, "SI").replace("\u00a0", " ") == "1.5 m below"
    assert height_words(0.3, "SI").replace("\u00a0", " ") == "0.3 m above"
