"""Words and numbers on the plan: set where nothing else is, or not at all."""

from __future__ import annotations

from noonwater.drawing.lettering import Style
from noonwater.drawing.pad_labels import Free, along, balloon
from noonwater.drawing.pad_sketch import Place
from noonwater.drawing.sheet import DESK
from noonwater.drawing.strokes import Box

REGION = Box(0.0, 0.0, 300.0, 300.0)
VALVE = Place("valve", "isolation valve", 150.0, 150.0, 7.0, 11.0)
LINES = [("2 in, 24 ft", Style(DESK.note))]


def test_a_number_stands_beside_its_valve() -> None:
    free = Free(REGION, [VALVE.box])
    assert balloon(free, VALVE, 3, DESK) is not None
    taken = free.boxes[-1]
    assert not taken.meets(VALVE.box)
    assert abs(taken.middle - VALVE.y) < 40.0


def test_a_second_number_takes_another_place() -> None:
    free = Free(REGION, [VALVE.box])
    balloon(free, VALVE, 1, DESK)
    balloon(free, VALVE, 2, DESK)
    one, two = free.boxes[-2:]
    assert not one.meets(two)


def test_no_number_is_set_over_something() -> None:
    free = Free(REGION, [REGION])
    assert balloon(free, VALVE, 1, DESK) is None
    assert free.boxes == [REGION]


def test_figures_stand_beside_their_pipe_and_clear_of_all_pipes() -> None:
    upright, other = ((150.0, 20.0), (150.0, 280.0)), ((170.0, 20.0), (170.0, 280.0))
    free = Free(REGION, [], (upright, other))
    assert len(along(free, upright, LINES, DESK)) == 1
    box = free.boxes[-1]
    assert box.right < 150.0


def test_figures_without_a_free_place_are_left_out() -> None:
    level = ((20.0, 10.0), (280.0, 10.0))
    free = Free(Box(0.0, 0.0, 300.0, 20.0), [], (level,))
    assert along(free, level, LINES, DESK) == []
    assert free.boxes == []


def test_nothing_stands_outside_its_region() -> None:
    free = Free(REGION, [])
    assert free.holds(Box(10, 10, 50, 50))
    assert not free.holds(Box(-10, 10, 50, 50))
    assert not free.holds(Box(10, 10, 50, 310))
