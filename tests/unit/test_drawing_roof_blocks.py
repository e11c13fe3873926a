"""The roof's blocks: everything to one scale, every panel drawn, the arrow to the north."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from noonwater.drawing.ink import HEAT, WATER
from noonwater.drawing.lettering import text_width
from noonwater.drawing.roof_blocks import (
    NAME,
    PAPER,
    PHONE,
    SCREEN,
    BankBlock,
    PlaneBlock,
    RoofForm,
    RoofWords,
    roof_blocks,
)
from noonwater.drawing.strokes import number

WORDS = RoofWords("Roof", "eave", "N")
SVG = "{http://www.w3.org/2000/svg}"
PLACES = ("x", "y", "width", "height")
PANEL = (1.2, 3.0, True)
BANK = BankBlock("1: 6 panels", (PANEL,) * 6, "7.2 × 3.0 m")
PLANE = PlaneBlock(
    "south", ("pitch 18°", "faces south"), 12.0, 6.0, "12.0 m", "6.0 m", 180.0, (BANK,)
)


def drawn(*planes: PlaneBlock) -> ET.Element:
    return ET.fromstring(roof_blocks(planes, WORDS))


def boxes(root: ET.Element, name: str) -> list[tuple[float, float, float, float]]:
    found = [each for each in root.iter(f"{SVG}rect") if each.get("class") == name]
    x, y, width, height = ([float(each.attrib[key]) for each in found] for key in PLACES)
    return list(zip(x, y, width, height, strict=True))


def test_planes_and_panels_keep_one_scale() -> None:
    pair = replace(BANK, panels=(PANEL, PANEL))
    small = replace(PLANE, name="west", width=6.0, slope_length=4.0, banks=(pair,))
    root = drawn(PLANE, small)
    edges, panels = boxes(root, "edge"), boxes(root, "panel")
    assert len(panels) == 8
    scale = edges[0][2] / 12.0
    for (_, _, width, height), plane in zip(edges, (PLANE, small), strict=True):
        assert width == pytest.approx(scale * plane.width, abs=0.11)
        assert height == pytest.approx(scale * plane.slope_length, abs=0.11)
    for _, _, width, height in panels:
        assert width == pytest.approx(scale * 1.2, abs=0.11)
        assert height == pytest.approx(scale * 3.0, abs=0.11)


def test_panels_lie_within_their_plane_and_above_its_eave() -> None:
    root = drawn(PLANE)
    (left, top, width, height), *_ = boxes(root, "edge")
    for x, y, across, up in boxes(root, "panel"):
        assert left <= x
        assert x + across <= left + width + 0.1
        assert top <= y
        assert y + up <= top + height


def test_what_does_not_fit_is_drawn_as_it_is_and_in_the_colour_of_heat() -> None:
    wide = replace(PLANE, banks=(replace(BANK, panels=(PANEL,) * 12),))
    root = drawn(wide)
    (left, _, width, _), *_ = boxes(root, "edge")
    assert max(x + across for x, _, across, _ in boxes(root, "panel")) > left + width
    colours = {e.get("stroke") for e in root.iter(f"{SVG}rect") if e.get("class") == "panel"}
    assert colours == {HEAT}
    fitting = drawn(PLANE)
    assert {e.get("stroke") for e in fitting.iter(f"{SVG}rect") if e.get("class") == "panel"} == {
        WATER
    }


def test_a_place_left_out_is_empty() -> None:
    gap = replace(PLANE, banks=(replace(BANK, panels=(PANEL, (1.2, 3.0, False), PANEL)),))
    fills = [e.get("fill") for e in drawn(gap).iter(f"{SVG}rect") if e.get("class") == "panel"]
    assert [fill == "none" for fill in fills] == [False, True, False]


@pytest.mark.parametrize(("bearing", "turn"), [(180.0, 0), (90.0, 90), (270.0, 270), (0.0, 180)])
def test_the_arrow_points_north(bearing: float, turn: int) -> None:
    root = drawn(replace(PLANE, bearing=bearing))
    arrow = next(e for e in root.iter(f"{SVG}g") if e.get("class") == "north")
    assert arrow.attrib["transform"].startswith(f"rotate({turn} ")


@pytest.mark.parametrize("count", [1, 3, 12, 40])
def test_many_planes_stay_on_the_drawing(count: int) -> None:
    root = drawn(*(replace(PLANE, name=f"plane {i}") for i in range(count)))
    _, _, width, height = (float(x) for x in root.attrib["viewBox"].split())
    assert len(boxes(root, "edge")) == count
    assert height < 2000.0
    for x, y, across, up in boxes(root, "edge"):
        assert x >= 0.0
        assert x + across <= width
        assert y >= 0.0
        assert y + up <= height


def test_any_name_is_only_text() -> None:
    name = "<b>&\"' #roof \x00"
    root = drawn(replace(PLANE, name=name))
    assert any((each.text or "").startswith("<b>&\"' #roof") for each in root.iter(f"{SVG}text"))


@pytest.mark.parametrize("form", [PAPER, SCREEN, PHONE])
def test_a_long_name_stays_over_its_plane_in_lines(form: RoofForm) -> None:
    name = "main south over the kitchen and the big two-storey room with the stone chimney"
    planes = (replace(PLANE, name=name), replace(PLANE, name="west"))
    root = ET.fromstring(roof_blocks(planes, WORDS, form))
    bold = [each for each in root.iter(f"{SVG}text") if each.get("font-size") == number(NAME.size)]
    *lines, other = bold
    assert " ".join(each.text or "" for each in lines) == name
    tops = [y for _, y, _, _ in boxes(root, "edge")]
    beside = abs(tops[0] - tops[1]) < 1.0
    for each in lines:
        right = float(each.attrib["x"]) + text_width(each.text or "", NAME)
        assert right <= (float(other.attrib["x"]) if beside else form.width)
        assert 0.0 < float(each.attrib["y"]) < tops[0]
