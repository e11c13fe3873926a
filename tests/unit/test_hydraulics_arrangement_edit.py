"""Edits of a filled circuit part by part, and banks whose panels are not all alike."""

from __future__ import annotations

import random
from dataclasses import replace
from math import pi

import pytest

from noonwater.catalog import bank_panel, panel_named
from noonwater.core.errors import InputError
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrangement_ready import READY, arranged
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import job_states
from noonwater.model.pad_option import (
    AddPart,
    FittedPiece,
    PanelChange,
    RemovePart,
    SetPart,
    SetPipe,
)
from noonwater.model.plant import Array, Bank
from tests.jobs import example_job


def edited(*edits, job=None):
    job = job or example_job()
    return replace(job, pad=replace(job.pad, edit=edits))


def solar(job):
    return solve_flow(job).state("solar 2400 rpm")


def check(job):
    """Every state solved; every pipe's ends are ports of parts, names unique."""
    circuit = fill_circuit(job)
    ports = {(part.name, port) for part in circuit.parts for port in part.ports}
    assert len({part.name for part in circuit.parts}) == len(circuit.parts)
    assert len({pipe.name for pipe in circuit.pipes}) == len(circuit.pipes)
    assert {end for pipe in circuit.pipes for end in (pipe.start, pipe.stop)} <= ports
    for state in solve_flow(job).states:
        assert state.imbalance <= 1e-11
        assert state.residual <= Settings().tolerance
    return circuit


def test_a_part_added_in_a_pipe_shares_its_length():
    before = fill_circuit(example_job())
    whole = next(pipe for pipe in before.pipes if pipe.name == "feed")
    job = edited(AddPart("add", "feed", "isolation valve", "shut-off", at=0.25))
    circuit = check(job)
    first, second = circuit.pipes_at("shut-off")
    assert first.name == "feed"
    assert first.length == pytest.approx(0.25 * whole.length)
    assert first.length + second.length == pytest.approx(whole.length)
    assert first.diameter == second.diameter == whole.diameter
    low, high = 0.3, 3.0
    assert circuit.part("shut-off").elevation == pytest.approx(low + 0.25 * (high - low))
    assert sum(f.count for pipe in (first, second) for f in pipe.fittings) == sum(
        f.count for f in whole.fittings
    )
    # Wide open it costs next to nothing; a third open it costs much.
    assert solar(job).flow == pytest.approx(solar(example_job()).flow, rel=0.01)
    throttled = edited(AddPart("add", "feed", "isolation valve", "shut-off", open=0.35))
    assert solar(throttled).flow < 0.95 * solar(example_job()).flow


@pytest.mark.parametrize(
    ("kind", "pipe"),
    [
        ("check valve", "feed"),
        ("isolation valve", "roof return"),
        ("heater", "roof return"),
        ("sanitizer", "heater to pool"),
        ("filter", "filter to filter check valve"),
        ("booster pump", "feed"),
        ("drain", "feed"),
        ("drain", "pump to filter"),
    ],
)
def test_added_and_removed_again_is_the_same_water(kind, pipe):
    job = edited(AddPart("add", pipe, kind, "new one"))
    assert "new one" in {part.name for part in check(job).parts}
    back = edited(AddPart("add", pipe, kind, "new one"), RemovePart("remove", "new one"))
    plain = fill_circuit(example_job())
    circuit = check(back)
    assert {part.name for part in circuit.parts} == {part.name for part in plain.parts}
    length = sum(pipe.length for pipe in plain.pipes)
    assert sum(pipe.length for pipe in circuit.pipes) == pytest.approx(length)
    # The settings' tolerance is on heads; this is what it leaves of the flow.
    assert solar(back).flow == pytest.approx(solar(example_job()).flow, rel=1e-5)


def test_a_bypass_of_the_heater():
    bypass = AddPart(
        "add",
        "return tee to heater",
        "bypass valve",
        "heater bypass",
        to="heater to pool",
        open=0.5,
    )
    state = solar(edited(bypass))
    check(edited(bypass))
    assert 0.0 < state.heater_flow < state.flow
    back = edited(bypass, RemovePart("remove", "heater bypass"))
    assert check(back).pipes_at("heater")
    assert solar(back).heater_flow == pytest.approx(solar(back).flow)


def test_removing_the_arrangements_own_parts():
    job = edited(
        RemovePart("remove", "roof return check valve"),
        RemovePart("remove", "vacuum breaker"),
        RemovePart("remove", "heater"),
    )
    circuit = check(job)
    assert not circuit.of_kind("vacuum breaker", "heater")
    assert [part.name for part in circuit.of_kind("check valve")] == ["filter check valve"]
    assert solar(job).breaker == "none"
    bypass = arranged(example_job(), "hand-set bypass", "isolation valves and drains")
    names = ("bypass valve", "feed drain", "feed isolation valve")
    without = edited(*(RemovePart("remove", name) for name in names), job=bypass)
    circuit = check(without)
    assert not circuit.of_kind("bypass valve")
    assert [part.name for part in circuit.of_kind("drain")] == ["roof return drain"]
    assert solar(without).array_flow == pytest.approx(solar(without).flow)
    valves = dict(job_states(without)[0].positions)
    assert "bypass valve" not in valves


def test_length_size_and_fittings_of_a_pipe():
    larger = edited(SetPipe("pipe", "feed", size=0.0762))
    assert solar(larger).flow > solar(example_job()).flow
    pipe = next(pipe for pipe in check(larger).pipes if pipe.name == "feed")
    # Published table of PVC pipe, read: 3 in schedule 40 has 3.042 in inside.
    assert pipe.diameter == pytest.approx(3.042 * 0.0254)
    longer = edited(
        SetPipe("pipe", "feed", length=60.0, slope=-0.01, fittings=(FittedPiece("elbow 45", 6),))
    )
    pipe = next(pipe for pipe in check(longer).pipes if pipe.name == "feed")
    assert (pipe.length, pipe.slope) == (60.0, -0.01)
    assert [f.count for f in pipe.fittings if f.kind == "elbow 45"] == [6]
    assert solar(longer).flow < solar(example_job()).flow


def test_height_and_row_of_a_part():
    raised = edited(
        SetPart("part", "filter", elevation=1.0),
        SetPart("part", "filter check valve", catalog="two pound spring"),
        SetPart("part", "diverter", catalog="drain-down hole"),
    )
    circuit = check(raised)
    assert circuit.part("filter").elevation == 1.0
    assert circuit.part("diverter").catalog == "drain-down hole"
    assert solar(raised).flow < solar(example_job()).flow


FAULTS = [
    (AddPart("add", "fed", "drain", "x"), "pad.edit[0].pipe", "did you mean \"feed\"?"),
    (AddPart("add", "feed", "drain", "pump"), "pad.edit[0].name", "'pump' is taken"),
    (AddPart("add", "feed", "drain", " "), "pad.edit[0].name", "empty"),
    (AddPart("add", "feed", "drain", "x", to="roof return"), "pad.edit[0].to", "opens to the air"),
    (AddPart("add", "feed", "bypass valve", "x"), "pad.edit[0].to", "missing"),
    (AddPart("add", "feed", "bypass valve", "x", to="feed"), "pad.edit[0].to", "another pipe"),
    (AddPart("add", "feed", "bypass valve", "x", to="sea"), "pad.edit[0].to", "no pipe of this"),
    (AddPart("add", "feed", "vacuum breaker", "x"), "pad.edit[0].kind", "remove 'vacuum breaker'"),
    (AddPart("add", "feed", "heater", "x", "wood"), "pad.edit[0].catalog", "'heat pump'"),
    (AddPart("add", "feed", "drain", "x", "brass"), "pad.edit[0].catalog", "no row"),
    (
        AddPart("add", "lower header bank 1 panel 1 to panel 2", "filter", "x"),
        "pad.edit[0].pipe",
        "a header takes an isolation valve or a drain",
    ),
    (RemovePart("remove", "bank 1 panel 2"), "pad.edit[0].part", "left_out = true"),
    (RemovePart("remove", "pool"), "pad.edit[0].part", "no circuit without it"),
    (RemovePart("remove", "return tee"), "pad.edit[0].part", "what is on its branch"),
    (RemovePart("remove", "heatr"), "pad.edit[0].part", 'did you mean "heater"?'),
    (SetPipe("pipe", "feed"), "pad.edit[0]", "nothing to set"),
    (SetPipe("pipe", "feed", size=0.0555), "pad.edit[0].size", "2 in schedule 40"),
    (
        SetPipe("pipe", "feed", fittings=(FittedPiece("bend"),)),
        "pad.edit[0].fittings[0].kind",
        "'elbow 90'",
    ),
    (SetPart("part", "filter"), "pad.edit[0]", "elevation or catalog"),
    (SetPart("part", "pump", catalog="variable mini"), "pad.edit[0].catalog", "pump.pump says"),
    (SetPart("part", "pool", elevation=2.0), "pad.edit[0].elevation", "roof.eave_height"),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "field", "words"), FAULTS)
def test_an_edit_that_cannot_be_made_says_why(edit, field, words):
    with pytest.raises(InputError) as caught:
        fill_circuit(edited(edit))
    assert caught.value.faults[0].field == field
    assert words in str(caught.value)


def bank_job(*changed, panels=6, **bank):
    return example_job(array=Array((Bank("south", panels, "tube 4x10", changed=changed, **bank),)))


def test_a_panel_left_out_is_bridged():
    job = bank_job(PanelChange(3, left_out=True))
    circuit = check(job)
    names = [part.name for part in circuit.of_kind("panel")]
    assert names == [f"bank 1 panel {n}" for n in (1, 2, 4, 5, 6)]
    bridge = next(p for p in circuit.pipes if p.name == "lower header bank 1 panel 2 to panel 4")
    assert bridge.length == pytest.approx(2 * panel_named("tube 4x10").width)
    assert len(solar(job).panel_flows[0]) == job.array.panels == 5
    # At the feed's end the bank begins at the next one.
    ends = {pipe.stop for pipe in fill_circuit(bank_job(PanelChange(1, left_out=True))).pipes}
    assert ("bank 1 panel 2", "low") in ends


def test_plugged_tubes_pass_less_and_the_rest_more():
    plain, plugged = solar(bank_job()), solar(bank_job(PanelChange(2, plugged=0.3)))
    whole, less = plain.panel_flows[0], plugged.panel_flows[0]
    assert less[1] < 0.9 * whole[1]
    assert less[0] > whole[0]
    # The same head over fewer tubes: each of them keeps its flow, give or take the neighbours'.
    assert less[1] / 0.7 == pytest.approx(whole[1], rel=0.12)


def test_a_panel_of_another_kind_takes_its_own_share():
    mixed = solar(bank_job(PanelChange(4, panel="sheet 4x10")))
    flows = mixed.panel_flows[0]
    assert flows[3] == min(flows)
    circuit = check(bank_job(PanelChange(4, panel="tube 4x12")))
    assert circuit.part("bank 1 panel 4").rise > circuit.part("bank 1 panel 3").rise


def test_a_bank_as_one_panel():
    plain = Bank("south", 4, "tube 4x10")
    assert bank_panel(plain) is panel_named("tube 4x10")
    other = panel_named("sheet 4x12")
    bank = replace(plain, changed=(PanelChange(1, panel="sheet 4x12"), PanelChange(2, plugged=0.5)))
    one, row = bank_panel(bank), panel_named("tube 4x10")
    area = other.area + 2.5 * row.area
    assert one.area * 4 == pytest.approx(area)
    assert one.eta0 * area == pytest.approx(other.eta0 * other.area + row.eta0 * 2.5 * row.area)
    # A plugged tube holds no water, its share of the headers does: 2 pi/4 d² w for both.
    headers = pi / 2 * row.header_diameter**2 * row.width
    held = other.water_volume + 3 * row.water_volume - 0.5 * (row.water_volume - headers)
    assert one.water_volume * 4 == pytest.approx(held)


def test_changes_that_make_no_sense():
    for changed, words in (
        ((7, {}), "1 to 6"),
        ((2, {"panel": "tube 4x8", "left_out": True}), "left_out alone"),
    ):
        number, more = changed
        with pytest.raises(ValueError, match=words):
            bank_job(PanelChange(number, **(more or {"left_out": True})))
    with pytest.raises(ValueError, match="nothing is changed"):
        PanelChange(2)
    with pytest.raises(ValueError, match="each once"):
        bank_job(PanelChange(2, left_out=True), PanelChange(2, plugged=0.1))
    with pytest.raises(ValueError, match="every panel"):
        bank_job(PanelChange(1, left_out=True), panels=1)
    with pytest.raises(InputError, match=r"array.banks\[0\].changed\[0\].panel"):
        fill_circuit(bank_job(PanelChange(2, panel="glass")))


def random_edit(rng, circuit, number):
    pipe, kind = (
        rng.choice(circuit.pipes).name,
        rng.choice(
            ["check valve", "isolation valve", "bypass valve", "drain", "heater", "booster pump"]
        ),
    )
    if rng.random() < 0.6:
        to = rng.choice(circuit.pipes).name if kind == "bypass valve" else ""
        return AddPart("add", pipe, kind, f"new {number}", at=rng.random(), to=to)
    if rng.random() < 0.6:
        return RemovePart("remove", rng.choice(circuit.parts).name)
    return SetPipe("pipe", pipe, length=60.0 * rng.random())


def test_any_edits_leave_a_whole_circuit_or_say_why_not():
    rng = random.Random(5)
    made = 0
    for _ in range(60):
        job = arranged(example_job(), *rng.sample([ready.name for ready in READY], 4))
        edits = []
        for number in range(5):
            circuit = fill_circuit(edited(*edits, job=job))
            edit = random_edit(rng, circuit, number)
            try:
                circuit = fill_circuit(edited(*edits, edit, job=job))
            except InputError as error:
                assert error.faults[0].field.startswith(f"pad.edit[{len(edits)}]")
                continue
            edits.append(edit)
            made += 1
            used = [end for pipe in circuit.pipes for end in (pipe.start, pipe.stop)]
            assert len({part.name for part in circuit.parts}) == len(circuit.parts)
            assert len({pipe.name for pipe in circuit.pipes}) == len(circuit.pipes)
            for part in circuit.parts:
                if part.kind not in ("panel", "pool"):
                    ports = [(part.name, port) for port in part.ports if port != "air"]
                    assert [used.count(port) for port in ports] == [1] * len(ports), part.name
    assert made > 100
