from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from noonwater.drawing.lettering import Style
from noonwater.drawing.line_labels import NamedLine, line_labels
from noonwater.drawing.strokes import Box, hatch, number, path_through
from tests.browser.drawn_years import points_of


@pytest.mark.parametrize(
    ("value", "expected"),
    [(0.0, "0"), (-0.04, "0"), (12.0, "12"), (12.34, "12.3"), (-3.96, "-4"), (1188.0, "1188")],
)
def test_coordinates_are_short_and_stable(value, expected):
    assert number(value) == expected


@given(arrays(np.float64, (40, 2), elements=st.floats(-2000.0, 2000.0)))
def test_a_path_does_not_drift(points):
    back = points_of(path_through(points[:, 0], points[:, 1]))
    assert np.abs(back - points).max() <= 0.05 + 1e-9


def test_hatch_stays_in_its_box_and_fills_it():
    box = Box(10.0, 20.0, 40.0, 32.0)
    data = ElementTree.fromstring(str(hatch([box], "#000", 0.5, 4.0))).attrib["d"]
    strokes = [list(map(float, re.findall(r"-?[\d.]+", part))) for part in data.split("M")[1:]]
    for x1, y1, x2, y2 in strokes:
        assert min(x1, x2) >= box.left
        assert max(x1, x2) <= box.right
        assert min(y1, y2) >= box.top
        assert max(y1, y2) <= box.bottom
        assert x1 + y1 == pytest.approx(x2 + y2, abs=0.11)
    # Lines of equal x + y, 4 apart, over a box in which x + y spans 42.
    assert 9 <= len(strokes) <= 11


def test_names_stand_at_their_own_lines():
    xs = np.linspace(50.0, 450.0, 365)
    plot = Box(50.0, 0.0, 450.0, 300.0)
    style = Style(10.0, anchor="middle")
    heights = {"upper": 60.0, "lower": 200.0}
    lines = [NamedLine(n, style, np.full(365, y), np.full(365, y)) for n, y in heights.items()]
    for mark in map(str, line_labels(lines, xs, plot)):
        text = ElementTree.fromstring(mark)
        near = min(heights, key=lambda name: abs(heights[name] - float(text.attrib["y"])))
        assert text.text == near


def test_a_crowded_line_gets_a_leader_that_ends_on_it():
    xs = np.linspace(50.0, 450.0, 365)
    plot = Box(50.0, 0.0, 450.0, 300.0)
    style = Style(10.0, anchor="middle")
    lines = [NamedLine(n, style, np.full(365, y), np.full(365, y))
             for n, y in (("a", 150.0), ("b", 156.0), ("c", 162.0))]  # fmt: skip
    marks = [ElementTree.fromstring(str(mark)) for mark in line_labels(lines, xs, plot)]
    assert sorted(mark.text for mark in marks if mark.tag == "text") == ["a", "b", "c"]
    dots = [mark for mark in marks if mark.tag == "circle"]
    assert [float(dot.attrib["cy"]) for dot in dots] == [156.0]
