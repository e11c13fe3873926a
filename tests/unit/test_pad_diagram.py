"""The pad's sheet as text: whole, the same each time, told apart without colour."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

import pytest

from noonwater.drawing.pad_diagram import PadTitle, pad_diagram, pad_diagram_narrow
from noonwater.drawing.pad_lines import STROKES, sort_of
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater, pad_waters
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.circuit import KINDS, Circuit, Part
from tests.drawn_pads import PADS

TITLE = PadTitle("Willow Lane 12", "2 in schedule 40", "0.1.0", "3fa9c1d2e4b5")
DRAW = {"wide": pad_diagram, "narrow": pad_diagram_narrow}
SVG = "{http://www.w3.org/2000/svg}"


@cache
def pad(name: str) -> tuple[Circuit, tuple[PadWater, ...]]:
    job = with_speeds(PADS[name]())
    flow = solve_flow(job)
    return flow.circuit, tuple(pad_waters(job, flow))


def drawn(name: str, form: str, index: int = -1, title: PadTitle = TITLE) -> ElementTree.Element:
    circuit, waters = pad(name)
    return ElementTree.fromstring(DRAW[form](circuit, waters[index], title, units="US").svg)


@pytest.mark.parametrize("form", DRAW)
@pytest.mark.parametrize("name", PADS)
def test_every_pipe_of_every_state_is_drawn_as_what_it_holds(name: str, form: str) -> None:
    circuit, waters = pad(name)
    for water in waters:
        root = ElementTree.fromstring(DRAW[form](circuit, water, TITLE, units="SI").svg)
        runs = {
            run.get("data-part"): run.get("class", "").split()[1]
            for run in root.iter(f"{SVG}g")
            if run.get("class", "").startswith("run ") and run.get("data-part")
        }
        graph = Subject(circuit, water, "SI").graph
        assert runs == {edge.pipe.name: sort_of(edge.pipe, water) for edge in graph.edges}
        moving = [edge for edge in graph.edges if water.moves(edge.pipe.name)]
        heads = [mark for mark in root.iter(f"{SVG}polygon") if mark.get("class") == "arrow"]
        assert bool(heads) == bool(moving)


@pytest.mark.parametrize("form", DRAW)
def test_the_same_state_gives_the_same_bytes(form: str) -> None:
    circuit, waters = pad("everything")
    pair = {DRAW[form](circuit, waters[-1], TITLE, units="US").svg for _ in range(2)}
    assert len(pair) == 1


@pytest.mark.parametrize("form", DRAW)
def test_a_sheet_stands_alone(form: str) -> None:
    root = drawn("everything", form)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert not tags & {"style", "script", "image", "use", "pattern", "a", "foreignObject"}
    assert not [element for element in root.iter() if element.get("id")]
    assert root.find(f"{SVG}desc") is not None


def test_each_kind_of_line_is_told_apart_without_colour() -> None:
    looks = {
        (stroke.weight, stroke.dash, sort == "warmed", sort in ("water", "warmed"))
        for sort, stroke in STROKES.items()
    }
    assert len(looks) == len(STROKES)


def test_whatever_a_job_is_called_is_text() -> None:
    title = replace(TITLE, job="<b>&\x07\u202eWillow ‘Lane’ 💧" * 9)
    root = drawn("plain", "narrow", title=title)
    assert not [element for element in root.iter() if element.tag.endswith("}b")]


@pytest.mark.parametrize("form", DRAW)
def test_a_part_of_any_name_and_kind_is_drawn(form: str) -> None:
    circuit, waters = pad("plain")
    odd = tuple(
        Part(f"<{kind}> & \x01{'long ' * 12}", kind, KINDS[kind].ports[:2], 0.3, 0.05)
        for kind in KINDS
        if kind not in ("pool", "panel", "tee")
    )
    more = replace(circuit, parts=(*circuit.parts, *odd))
    flows = waters[-1].flows | {part.name: 0.0 for part in odd}
    text = DRAW[form](more, replace(waters[-1], flows=flows), TITLE, units="US").svg
    root = ElementTree.fromstring(text)
    parts = {group.get("data-part") for group in root.iter(f"{SVG}g")}
    assert len([name for name in parts if name and name.startswith("<")]) == len(odd)


def test_more_parts_have_a_larger_sheet_not_smaller_letters() -> None:
    circuit, waters = pad("everything")
    plain = pad("plain")
    sheets = [
        pad_diagram(*pair, TITLE, units="US")
        for pair in ((circuit, waters[-1]), (plain[0], plain[1][-1]))
    ]
    assert sheets[0].width >= sheets[1].width == 1188.0
    assert sheets[0].width / sheets[0].height == pytest.approx(1188.0 / 840.0)
