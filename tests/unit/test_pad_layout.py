"""Where a pad's parts and pipes lie: in order, level, clear of each other."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from noonwater.drawing.pad_layout import Layout, laid_out, plan_height
from noonwater.drawing.pad_ports import End
from noonwater.drawing.pad_route import Router, passes
from noonwater.drawing.pad_sketch import PadForm, covers
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater, pad_waters
from noonwater.drawing.sheet import DESK
from noonwater.drawing.strokes import Box
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.circuit import Circuit
from tests.drawn_pads import PADS

REGION = Box(20.0, 20.0, 860.0, 1600.0)
FORMS = {
    "across": PadForm(DESK, REGION, 185.0, 695.0, 1.0, stacked=False),
    "stacked": PadForm(DESK, REGION, 185.0, 695.0, 1.0, stacked=True, most_lines=3),
}


@cache
def state_of(name: str) -> tuple[Circuit, PadWater]:
    job = with_speeds(PADS[name]())
    flow = solve_flow(job)
    return flow.circuit, list(pad_waters(job, flow))[-1]


@cache
def layout(name: str, form: str = "across") -> tuple[Subject, Layout]:
    subject, pad = Subject(*state_of(name), "US"), FORMS[form]
    foot = max(REGION.bottom, REGION.top + 1.1 * plan_height(subject, pad))
    return subject, laid_out(subject, replace(pad, region=replace(REGION, bottom=foot)))


def every_pad(function):  # type: ignore[no-untyped-def]
    function = pytest.mark.parametrize("form", FORMS)(function)
    return pytest.mark.parametrize("name", PADS)(function)


@every_pad
def test_every_part_has_a_place_and_every_pipe_a_way(name: str, form: str) -> None:
    subject, laid = layout(name, form)
    assert set(laid.middles) == set(subject.graph.nodes)
    assert set(laid.tracks) == {edge.pipe.name for edge in subject.graph.edges}
    for x, y in laid.middles.values():
        assert REGION.left <= x <= REGION.right
        assert REGION.top <= y <= laid.sketch.pad.region.bottom


@every_pad
def test_parts_and_their_names_are_clear_of_each_other(name: str, form: str) -> None:
    _, laid = layout(name, form)
    places = list(laid.sketch.places.values())
    boxes = {place.node: covers(place, laid.sketch.pad) for place in places}
    boxes |= {bank: [place.box, place.label] for bank, place in laid.roof.banks.items()}
    names = list(boxes)
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            assert not any(a.meets(b, -1.5) for a in boxes[one] for b in boxes[other]), (one, other)


@every_pad
def test_the_array_is_over_the_border_and_the_pad_below(name: str, form: str) -> None:
    subject, laid = layout(name, form)
    assert all(bank.box.bottom < laid.border for bank in laid.roof.banks.values())
    for node in (*subject.rails.up_pad, *subject.rails.down_pad):
        assert laid.border < laid.sketch.places[node].y < laid.pool.top


@every_pad
def test_each_rail_keeps_its_order(name: str, form: str) -> None:
    subject, laid = layout(name, form)
    up = [laid.sketch.places[node] for node in subject.rails.up_pad]
    down = [laid.sketch.places[node] for node in subject.rails.down_pad]
    assert all(low.y > high.y for low, high in pairwise(up))
    assert all(high.y < low.y for high, low in pairwise(down))
    assert {place.x for place in up} <= {185.0}
    assert {place.x for place in down} <= {695.0}


@every_pad
def test_pipes_are_right_angled_and_end_at_their_parts(name: str, form: str) -> None:
    subject, laid = layout(name, form)
    for edge in subject.graph.edges:
        track = laid.tracks[edge.pipe.name]
        for (x1, y1), (x2, y2) in pairwise(track):
            assert min(abs(x1 - x2), abs(y1 - y2)) < 0.5, edge.pipe.name
        for node, corner in ((edge.start, track[0]), (edge.stop, track[-1])):
            end = laid.ends[edge.pipe.name, node]
            assert corner == pytest.approx((end.x, end.y))


@every_pad
def test_pipes_pass_round_what_they_do_not_join(name: str, form: str) -> None:
    subject, laid = layout(name, form)
    for edge in subject.graph.edges:
        for node, place in laid.sketch.places.items():
            if node in (edge.start, edge.stop):
                continue
            inner = Box(*(f(v, 1.5) for f, v in zip(_IN, _sides(place.box), strict=True)))
            track = laid.tracks[edge.pipe.name]
            assert not any(passes(piece, inner) for piece in pairwise(track)), (edge.pipe, node)


_IN = (float.__add__, float.__add__, float.__sub__, float.__sub__)


def _sides(box: Box) -> tuple[float, float, float, float]:
    return box.left, box.top, box.right, box.bottom


@every_pad
def test_few_pipes_cross(name: str, form: str) -> None:
    _, laid = layout(name, form)
    pieces = [piece for track in laid.tracks.values() for piece in pairwise(track)]
    crossings = sum(_cross(one, two) for i, one in enumerate(pieces) for two in pieces[i + 1 :])
    # A cleaner's line to the pool crosses the spa's: no way round.
    assert crossings <= (name == "everything")


def _cross(one: tuple, two: tuple) -> bool:  # type: ignore[type-arg]
    level, upright = (one, two) if abs(one[0][1] - one[1][1]) < 0.1 else (two, one)
    (x1, y), (x2, y_too) = level
    (x, y1), (x_too, y2) = upright
    if abs(y - y_too) > 0.1 or abs(x - x_too) > 0.1:
        return False
    return min(x1, x2) + 1 < x < max(x1, x2) - 1 and min(y1, y2) + 1 < y < max(y1, y2) - 1


@pytest.mark.parametrize("form", FORMS)
def test_more_parts_need_more_height(form: str) -> None:
    heights = [
        plan_height(Subject(*state_of(name), "US"), FORMS[form]) for name in ("plain", "everything")
    ]
    assert heights[0] < heights[1]


def test_what_lies_in_line_is_joined_straight() -> None:
    router = Router(Box(0, 0, 200, 200), [])
    assert router.lay(End(50, 180, "up"), End(50, 20, "down")) == ((50, 180), (50, 20))


def test_a_pipe_goes_round_what_is_in_its_way() -> None:
    block = Box(80, 40, 120, 160)
    router = Router(Box(0, 0, 200, 200), [block])
    track = router.lay(End(20, 100, "right"), End(180, 100, "left"))
    assert not any(passes(piece, block) for piece in pairwise(track))
    assert track[0] == (20, 100)
    assert track[-1] == (180, 100)


def test_a_pipe_leaves_a_pocket_only_a_search_finds_the_way_out_of() -> None:
    walls = [
        Box(40, 40, 160, 50),
        Box(150, 40, 160, 160),
        Box(40, 150, 120, 160),
        Box(40, 90, 50, 160),
    ]
    router = Router(Box(0, 0, 240, 240), walls)
    track = router.lay(End(100, 100, "right"), End(220, 20, "up"))
    assert not any(passes(piece, wall) for piece in pairwise(track) for wall in walls)


def test_a_pipe_would_rather_go_round_than_lie_on_another() -> None:
    router = Router(Box(0, 0, 300, 300), [])
    first = router.lay(End(50, 100, "right"), End(250, 100, "left"))
    second = router.lay(End(20, 100, "right"), End(280, 100, "left"))
    assert first == ((50, 100), (250, 100))
    assert any(abs(y - 100) > 4 for _, y in second)
