"""The numbered pad: every number once, near its part, and no word in any language."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from noonwater.document.winter import part_numbers
from noonwater.drawing.pad_numbered import pad_numbered
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater, pad_waters
from noonwater.hydraulics.arrangement_ready import arranged
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.trace import trace_job
from noonwater.model.circuit import Circuit
from tests.jobs import example_job
from tests.trace_pads import NAMES

SVG = "{http://www.w3.org/2000/svg}"


def drawn(name: str) -> tuple[ET.Element, dict[str, int]]:
    job = arranged(example_job(), name)
    temp = job.pool.target
    winter = trace_job(job, temp).winter
    circuit, water = subject(name, winter.start)
    valves = Subject(circuit, water, "SI").numbers
    marks = part_numbers((*winter.steps, *winter.reopen), valves)
    # A valve has one number on all papers, and nothing else has that number.
    assert all(valves[part] == number for part, number in marks.items() if part in valves)
    assert len(set(marks.values())) == len(marks)
    assert all(n > len(valves) for part, n in marks.items() if part not in valves)
    return ET.fromstring(pad_numbered(circuit, water, marks, "Pad", "SI").svg), marks


def subject(name: str, state: str) -> tuple[Circuit, PadWater]:
    job = arranged(example_job(), name)
    flow = solve_flow(job, job.pool.target)
    waters = {water.name: water for water in pad_waters(job, flow)}
    return flow.circuit, waters[state]


@pytest.mark.parametrize("name", NAMES)
def test_every_number_is_drawn_once_and_nothing_is_written(name: str) -> None:
    root, marks = drawn(name)
    texts = [each.text for each in root.iter(f"{SVG}text")]
    assert sorted(texts, key=lambda text: int(text or 0)) == [
        str(number) for number in sorted(marks.values())
    ]


@pytest.mark.parametrize("name", NAMES)
def test_numbers_stand_apart_and_on_the_drawing(name: str) -> None:
    root, _ = drawn(name)
    _, top, width, height = (float(x) for x in root.attrib["viewBox"].split())
    circles = [
        tuple(float(each.attrib[key]) for key in ("cx", "cy", "r"))
        for group in root.iter(f"{SVG}g")
        if group.get("class") == "balloon"
        for each in group.iter(f"{SVG}circle")
    ]
    for index, (x, y, radius) in enumerate(circles):
        assert radius <= x <= width - radius
        assert top + radius <= y <= top + height - radius + 1.0
        for other_x, other_y, _ in circles[:index]:
            assert (x - other_x) ** 2 + (y - other_y) ** 2 > (2.0 * radius) ** 2
