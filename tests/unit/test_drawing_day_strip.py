"""The day's strip: bars to scale, ends that can be held, and how far they can be moved."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.desk_controls import day_drawing, reaches
from noonwater.app.store import State
from noonwater.drawing.day_strip import PHONE, SCREEN, DayBar, day_strip

SVG = "{http://www.w3.org/2000/svg}"
BAR = DayBar(0, 480, 1020, "1700 rpm", "filter", True, (0, 1005), (495, 1440))
NIGHT = DayBar(1, 1320, 360, "900 rpm", "clean", False, (1035, 1425), (15, 465))


def view_of(*periods: tuple[str, str]) -> View:
    tables: dict[str, Any] = tomllib.loads(demo_text("lagoon-court"))
    tables["pump"]["program"] = [
        {"start": start, "stop": stop, "speed": "1700 rpm"} for start, stop in periods
    ]
    return View(State("job", 1, "", "", tables, tables))


@pytest.mark.parametrize("form", [SCREEN, PHONE])
def test_bars_are_as_long_as_their_time_and_wrap_over_midnight(form: Any) -> None:
    root = ET.fromstring(day_strip([BAR, NIGHT], form))
    widths = [
        float(each.attrib["width"])
        for each in root.iter(f"{SVG}rect")
        if each.get("class") == "period"
    ]
    minute = (form.width - 2.0 * form.margin) / 1440.0
    assert widths == pytest.approx([540 * minute, 120 * minute, 360 * minute], abs=0.11)
    assert sum(each.get("class") == "solar" for each in root.iter(f"{SVG}rect")) == 1


def test_each_end_can_be_focused_and_says_its_time() -> None:
    root = ET.fromstring(day_strip([BAR, NIGHT], SCREEN))
    ends = [each for each in root.iter(f"{SVG}g") if each.get("role") == "slider"]
    told = {each.get("aria-label"): each.get("aria-valuetext") for each in ends}
    assert told == {
        "Start of period 1": "08:00",
        "Stop of period 1": "17:00",
        "Start of period 2": "22:00",
        "Stop of period 2": "06:00",
    }
    assert all(each.get("tabindex") == "0" for each in ends)


def test_a_purpose_is_told_by_hatch_as_well_as_colour() -> None:
    plain, hatched = (day_strip([replace(BAR, purpose=each)], SCREEN) for each in ("filter", "spa"))
    assert hatched.count("<path") > plain.count("<path")


def test_ends_reach_to_their_neighbours_and_to_midnight() -> None:
    job = view_of(("08:00", "12:00"), ("13:00", "17:00")).job
    assert reaches(job, 0) == ((0, 705), (495, 780))
    assert reaches(job, 1) == ((720, 1005), (795, 1440))


def test_a_period_over_midnight_keeps_a_part_on_both_sides() -> None:
    job = view_of(("22:00", "06:00"), ("08:00", "17:00")).job
    start, stop = reaches(job, 0)
    assert start == (1020, 1425)
    assert stop == (15, 480)


def test_every_place_within_reach_is_taken_by_the_job() -> None:
    view = view_of(("08:00", "12:00"), ("13:00", "17:00"), ("20:00", "02:00"))
    for number in range(3):
        for end, reach in zip(("start", "stop"), reaches(view.job, number), strict=True):
            for minutes in reach:
                tables: dict[str, Any] = tomllib.loads(demo_text("lagoon-court"))
                tables["pump"]["program"] = [dict(p) for p in view.state.tables["pump"]["program"]]
                text = f"{minutes // 60:02d}:{minutes % 60:02d}"
                tables["pump"]["program"][number][end] = text
                assert View(State("job", 2, "", "", tables, tables)).faults == (), (number, end)


def test_the_desk_draws_the_program_for_two_widths() -> None:
    drawn = day_drawing(view_of(("08:00", "12:00"), ("13:00", "17:00")))
    assert "08:00 to 12:00" in drawn.wide
    assert drawn.narrow.count('role="slider"') == 4
