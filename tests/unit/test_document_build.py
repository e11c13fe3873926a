"""The build set says what circuit, parts list, price list and controls say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from noonwater.app.offering_study import OfferSource
from noonwater.app.pack_answer import material_of
from noonwater.app.price_list import read_price_list
from noonwater.design.money_parts import bought
from noonwater.document import block
from noonwater.document.build import build_paper, unlike
from noonwater.document.build_parts import labour_table, panel_schedule, pipe_schedule, truck_list
from noonwater.document.build_wiring import ohms_words, sensor_table, wiring_blocks
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.part_words import part_words, quantity_words
from noonwater.model.plant import SensorPoint
from tests.papers import CODES, DEMOS, PROFILE, material, text_of

FOOT, GPM = 0.3048, 6.30902e-5


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_every_part_is_on_the_truck_list(demo: str, code: str) -> None:
    found, language = material(demo), language_of(code, "US")
    text = text_of("build", demo, code, "US").lower()
    for row in bought(found.parts):
        assert part_words(row, language).lower() in text
    tables = [each for each in truck_list(found, language) if isinstance(each, block.Schedule)]
    pieces = sum(int(row[2].replace(",", "")) for t in tables for row in t.rows if row[2].isdigit())
    assert pieces == sum(row.quantity for row in bought(found.parts) if row.unit == "each")


@pytest.mark.parametrize("demo", DEMOS)
def test_lengths_are_the_circuit_s(demo: str) -> None:
    found = material(demo)
    text = text_of("build", demo, "en", "US")
    for pipe in found.flow.circuit.pipes:
        if pipe.role in ("feed", "roof return") and pipe.length > 0.0:
            assert f" {pipe.length / FOOT:.1f} ft " in text
    rows = pipe_schedule(found, language_of("en", "US")).rows
    there = {name for row in found.parts if row.group == "already there" for name in row.where}
    laid = [p for p in found.flow.circuit.pipes if p.role != "header" and p.length > 0.0]
    assert 0 < len(rows) <= len([p for p in laid if p.name not in there])


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_each_state_s_figures_are_on_it(demo: str, code: str) -> None:
    found = material(demo)
    text = text_of("build", demo, code, "US")
    for state in found.flow.states:
        if state.rpm > 0.0:
            assert f" {state.rpm:,.0f} rpm " in text
            assert f" {state.flow / GPM:.0f} gpm " in text
    solar = found.solar_state
    assert solar is not None
    for row, flow in zip(
        panel_schedule(found, language_of(code, "US")).rows, solar.bank_flows, strict=True
    ):
        assert row[-1] == f"{flow / GPM:.0f} gpm"


@pytest.mark.parametrize("demo", DEMOS)
def test_states_that_look_alike_are_drawn_once(demo: str) -> None:
    found = material(demo)
    drawn = unlike(found)
    assert drawn[0].figures.solar
    assert len({water.name for water in drawn}) == len(drawn) <= len(found.flow.states)
    assert {water.figures.solar for water in drawn} == {s.solar for s in found.flow.states}


def test_hours_are_the_price_list_s() -> None:
    found = material("orchard-hill")
    pricing = found.pricing
    assert pricing is not None
    table, _ = labour_table(found, language_of("en", "US"))
    assert isinstance(table, block.Schedule)
    hours = [float(row[1]) for row in table.rows]
    extra = found.job.money.offer.extra_hours
    assert hours[-1] == pytest.approx((pricing.hours + extra) / 3600.0, abs=0.05)
    assert sum(hours[:-1]) == pytest.approx(hours[-1], abs=0.3)


def test_without_a_price_list_hours_are_left_to_write() -> None:
    table, _ = labour_table(material("almond-ranch"), language_of("en", "SI"))
    assert isinstance(table, block.Schedule)
    assert {row[1] for row in table.rows} == {""}


def short_list(tmp_path: Path) -> Material:
    """A demo whose price list has the panels and pipe, and a row that prices nothing here."""
    path = tmp_path / "short.csv"
    path.write_text(
        "Part,Size,Sold by,Price,Hours\n"
        '"panel, sheet 4x10",,each,100,1\n'
        '"pipe, schedule 40",2 in,20 ft,20,0.5\n'
        '"primer, 1 pint can",,each,13,0\n'
        "permit,,job,100,2\n"
    )
    listed = read_price_list(path, "USD")
    job = material("orchard-hill").job
    return replace(material_of(job, OfferSource(listed=listed)), profile=PROFILE)


def test_hours_that_the_price_list_lacks_are_never_told_as_none(tmp_path: Path) -> None:
    table, note = labour_table(short_list(tmp_path), language_of("en", "US"))
    assert isinstance(table, block.Schedule)
    hours = {row[0]: row[1] for row in table.rows}
    assert hours["At the pad"] == hours["Supports, cement and primer"] == ""
    assert hours["On the roof and on the way up"] == "from 12.0"
    assert hours["hours of one worker in all"].startswith("from ")
    assert isinstance(note, block.Paragraph)
    assert "on top" in note.text


def test_a_cable_is_as_long_on_the_diagram_as_on_the_truck_list() -> None:
    for demo in DEMOS:
        found = material(demo)
        language = language_of("es", found.job.units)
        row = next(row for row in found.parts if row.name == "sensor cable")
        drawn = next(each for each in wiring_blocks(found, language) if hasattr(each, "svg"))
        assert f"todo el cable: {quantity_words(row, language)}" in drawn.svg.replace("\u00a0", " ")


def test_a_design_with_faults_is_not_built_by_its_papers() -> None:
    found = material("orchard-hill")
    fault = replace(found.findings[0], severity="fault")
    sound = replace(found, findings=tuple(f for f in found.findings if f.severity != "fault"))
    for findings, told in (((fault,), "finds a fault"), ((fault, fault), "finds 2 faults")):
        paper = build_paper(replace(sound, findings=findings), language_of("en", "US"))
        assert any(told in getattr(each, "text", "") for each in paper.blocks)
    plain = build_paper(sound, language_of("en", "US"))
    assert not any("Not to be built" in getattr(each, "text", "") for each in plain.blocks)


def test_a_sensor_without_its_sheet_has_room_to_write() -> None:
    tables = sensor_table(material("orchard-hill"), language_of("en", "US"))
    beside = next(each for each in tables if isinstance(each, block.Beside))
    rows = [row for half in (beside.left, beside.right) for row in half[0].rows]  # type: ignore[union-attr]
    assert len(rows) == 17
    assert {row[1] for row in rows} == {""}


@pytest.mark.parametrize("system", ["US", "SI"])
def test_the_sensor_s_own_sheet_fills_its_table(system: str) -> None:
    found = material("orchard-hill")
    points = (SensorPoint(0.0, 32650.0), SensorPoint(25.0, 10000.0), SensorPoint(50.0, 3603.0))
    controls = replace(found.job.controls, sensor_ohms=points)
    found = replace(found, job=replace(found.job, controls=controls))
    tables = sensor_table(found, language_of("en", system))  # type: ignore[arg-type]
    beside = next(each for each in tables if isinstance(each, block.Beside))
    rows = {row[0]: row[1] for half in (beside.left, beside.right) for row in half[0].rows}  # type: ignore[union-attr]
    if system == "SI":
        assert (rows["0"], rows["25"], rows["50"]) == ("32,650", "10,000", "3,603")
        assert (rows["-5"], rows["55"]) == ("", "")
    else:
        assert (rows["50"], rows["20"], rows["130"]) == ("19,840", "", "")


def test_ohms_have_four_digits_that_count() -> None:
    language = language_of("en", "US")
    assert [ohms_words(x, language) for x in (12344.0, 999.4, 96.0)] == ["12,340", "999", "96"]


def test_quantities_are_bought_whole() -> None:
    pipe = next(row for row in material("orchard-hill").parts if row.name.startswith("pipe, "))
    assert quantity_words(pipe, language_of("en", "US")) == f"{-int(-pipe.quantity // FOOT)} ft"
