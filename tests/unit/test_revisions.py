"""The states of a job: gathered into lines, held against each other."""

from __future__ import annotations

import tomllib
from pathlib import Path

from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.job_edit import Change
from noonwater.app.revisions import lines_of, moved_between
from noonwater.app.store import Mark, Store


def mark(number: int, minute: int, tab: str, words: str = "pool.area") -> Mark:
    return Mark(number, f"2026-03-01T10:{minute:02d}:00.000+00:00", tab, words)


def spans(marks: list[Mark]) -> list[tuple[int, int]]:
    return [(line.first.number, line.last.number) for line in lines_of(marks)]


def test_edits_of_one_page_within_ten_minutes_are_one_line() -> None:
    marks = [mark(4, 21, "a"), mark(3, 10, "a"), mark(2, 0, "a"), mark(1, 0, "", "begun")]
    assert spans(marks) == [(4, 4), (2, 3), (1, 1)]


def test_a_line_spans_ten_minutes_in_all_however_often_one_typed() -> None:
    marks = [mark(number, 4 * number, "a") for number in range(1, 6)]
    assert spans(marks) == [(4, 5), (1, 3)]


def test_another_page_begins_another_line() -> None:
    assert spans([mark(1, 0, "a"), mark(2, 1, "b"), mark(3, 2, "a")]) == [(3, 3), (2, 2), (1, 1)]


def test_states_that_no_page_made_stand_alone() -> None:
    assert spans([mark(1, 0, "", "begun"), mark(2, 0, "", "back to revision 1")]) == [
        (2, 2),
        (1, 1),
    ]


def test_a_line_names_each_field_once() -> None:
    marks = [mark(1, 0, "a", "pool.area, pool.depth"), mark(2, 1, "a", "pool.area")]
    assert lines_of(marks)[0].fields == ("pool.area", "pool.depth")


def test_two_states_differ_in_what_was_typed_and_what_came_of_it(tmp_path: Path) -> None:
    store = Store(tmp_path)
    job = store.add(tomllib.loads(demo_text("lagoon-court"))).job
    store.edit(job, 1, [Change("pool.area", "80 m2"), Change("pad.elbows", "200")])
    before, after = View(store.state(job, 1)), View(store.state(job, 2))
    moved = moved_between(before, after)
    assert [(each.field, each.name, each.before, each.after) for each in moved.fields] == [
        ("pool.area", "Water surface", "420 ft2", "80 m2"),
        ("pad.elbows", "Elbows on the way to the array and back", "18", "200"),
    ]
    assert moved.before.flow is not None
    assert moved.after.flow is not None
    assert moved.after.flow < moved.before.flow
    back = moved_between(after, before)
    assert (back.new, back.gone) == (moved.gone, moved.new)
    assert back.days == moved.days[::-1]
