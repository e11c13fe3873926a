"""What a drawing makes of a circuit: banks, rails, rungs and spurs, for any pad."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest

from noonwater.drawing.pad_graph import pad_graph
from noonwater.drawing.pad_rails import find_rails
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.model.circuit import KINDS, Circuit, Part, PartKind, Pipe
from noonwater.model.pad_option import AddPart, RemovePart
from tests.drawn_pads import PADS, with_pad


def circuit_of(name: str) -> Circuit:
    return fill_circuit(PADS[name]())


def hand_made(kinds: dict[str, PartKind], *runs: tuple[str, str]) -> Circuit:
    """Parts by name, joined as said; each pipe takes the first port that is still free."""
    taken: Counter[str] = Counter()
    ports = {name: KINDS[kind].ports for name, kind in kinds.items()}
    parts = tuple(Part(name, kind, ports[name], 0.0, 0.05) for name, kind in kinds.items())
    pipes = []
    for start, stop in runs:
        first = ports[start][-1 if kinds[start] != "pool" else 1]
        last = ports[stop][min(taken[stop], len(ports[stop]) - 1)]
        taken[stop] += 1
        pipes.append(Pipe(f"{start} to {stop}", (start, first), (stop, last), 1.0, 0.05, 0.05))
    return Circuit(parts, tuple(pipes))


@pytest.mark.parametrize("name", PADS)
def test_every_part_is_drawn_once(name: str) -> None:
    circuit = circuit_of(name)
    graph = pad_graph(circuit)
    rails = find_rails(graph)
    found = Counter([*rails.up, *rails.down])
    found += Counter(n for branch in (*rails.banks, *rails.branches) for n in branch.nodes)
    assert set(found) == set(graph.nodes) - {graph.pool}
    assert set(found.values()) == {1}
    panels = [panel.name for bank in graph.banks.values() for panel in bank.panels]
    assert sorted(panels) == sorted(part.name for part in circuit.of_kind("panel"))


@pytest.mark.parametrize("name", PADS)
def test_each_rail_follows_the_water(name: str) -> None:
    graph = pad_graph(circuit_of(name))
    rails = find_rails(graph)
    for rail in (rails.up, rails.down):
        for one, two in pairwise(rail):
            assert any(edge.start == one for edge in graph.between(one, two)), (one, two)
    kinds = [graph.kind(node) for node in rails.up]
    assert kinds.index("pump") < kinds.index("filter")
    assert "diverter" in kinds[kinds.index("filter") :]
    assert "filter" not in [graph.kind(node) for node in rails.down]


@pytest.mark.parametrize("name", PADS)
def test_the_order_of_parts_and_pipes_changes_no_rail(name: str) -> None:
    circuit = circuit_of(name)
    turned = replace(circuit, parts=circuit.parts[::-1], pipes=circuit.pipes[::-1])
    one, other = (find_rails(pad_graph(each)) for each in (circuit, turned))
    assert (one.up, one.down) == (other.up, other.down)


def test_a_bank_is_cut_where_a_valve_stands_in_its_header() -> None:
    circuit = circuit_of("one bank")
    header = next(
        pipe
        for pipe in circuit.pipes
        if pipe.role == "header" and {pipe.start[0], pipe.stop[0]} <= set(_panels(circuit))
    )
    edit = (AddPart("add", header.name, "isolation valve", "header valve"),)
    cut = pad_graph(fill_circuit(replace(PADS["one bank"](), pad=_edited("one bank", edit))))
    # The other header still joins them: one bank, and the valve hangs on it.
    assert len(cut.banks) == 1
    assert "header valve" in cut.parts
    assert {edge.other("header valve") for edge in cut.at("header valve")} == set(cut.banks)


def _panels(circuit: Circuit) -> list[str]:
    return [part.name for part in circuit.of_kind("panel")]


def _edited(name: str, edit: tuple[AddPart | RemovePart, ...]):  # type: ignore[no-untyped-def]
    return replace(PADS[name]().pad, edit=edit)


def test_what_closes_a_header_is_no_part_of_the_drawing() -> None:
    panels = {f"south panel {i}": ("panel", ("low", "high")) for i in (1, 2)}
    kinds = {**panels, "cap": ("plug", ("in",)), "other cap": ("plug", ("in",))}
    parts = tuple(Part(n, kind, ports, 3.0, 0.05) for n, (kind, ports) in kinds.items())
    joints = {
        "header": (("south panel 1", "low"), ("south panel 2", "low")),
        "closed": (("south panel 2", "low"), ("cap", "in")),
    }
    pipes = tuple(Pipe(n, *ends, 0.1, 0.05, 0.05, (), "header") for n, ends in joints.items())
    graph = pad_graph(Circuit(parts, pipes))
    # A plug that closes nothing of a bank is drawn: somebody put it there.
    assert graph.nodes == ("other cap", "south")
    assert graph.edges == ()


def test_a_pad_without_an_array_goes_up_to_the_filter_and_down_again() -> None:
    circuit = hand_made(
        {"pool": "pool", "pump": "pump", "filter": "filter", "heater": "heater"},
        ("pool", "pump"),
        ("pump", "filter"),
        ("filter", "heater"),
        ("heater", "pool"),
    )
    rails = find_rails(pad_graph(circuit))
    assert (rails.up, rails.down) == (("pump", "filter"), ("heater",))
    assert rails.banks == rails.branches == ()


def test_what_hangs_on_nothing_is_still_drawn() -> None:
    circuit = hand_made(
        {"pool": "pool", "pump": "pump", "filter": "filter", "one": "drain", "two": "plug"},
        ("pool", "pump"),
        ("pump", "filter"),
        ("filter", "pool"),
        ("one", "two"),
    )
    (branch,) = find_rails(pad_graph(circuit)).branches
    assert set(branch.nodes) == {"one", "two"}
    assert branch.start == branch.stop == ""


def test_no_circuit_at_all() -> None:
    graph = pad_graph(Circuit((), ()))
    assert graph.nodes == ()
    assert graph.pool == ""
    assert find_rails(graph).up == ()


def test_a_part_taken_out_leaves_the_rails_whole() -> None:
    job = with_pad(edit=(RemovePart("remove", "filter check valve"),))
    whole = find_rails(pad_graph(circuit_of("plain")))
    without = find_rails(pad_graph(fill_circuit(job)))
    assert [node for node in whole.up if node != "filter check valve"] == list(without.up)
    assert whole.down == without.down
