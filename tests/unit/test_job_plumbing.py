"""Options, edits and own parts as a job file writes them, and what it says to wrong ones."""

from __future__ import annotations

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_file import job_text, read_job_text
from noonwater.core.errors import InputError
from noonwater.hydraulics.flow import solve_flow

BASE = demo_text("orchard-hill")
EDITS = """
[[pad.edit]]
action = "add"
pipe = "feed"
kind = "drain"
name = "low point"
at = "20 %"

[[pad.edit]]
action = "add"
pipe = "return tee to heater"
to = "heater to pool"
kind = "bypass valve"
name = "heater bypass"
open = "50 %"

[[pad.edit]]
action = "pipe"
pipe = "feed"
length = "62 ft"
size = "1 1/2 in"
slope = "2 %"

[[pad.edit.fittings]]
kind = "elbow 45"
count = 3

[[pad.edit]]
action = "remove"
part = "roof return check valve"

[[pad.edit]]
action = "part"
part = "filter"
elevation = "1 ft"
"""
OWN = """
[[own_pump]]
name = "yard pump"
lowest_speed = "600 rpm"

[[own_pump.points]]
speed = "3450 rpm"
flow = "40 gpm"
head = "80 ft"
power = "1621 W"

[[own_pump.points]]
speed = "3450 rpm"
flow = "66 gpm"
head = "72.75 ft"
power = "1957 W"

[[own_pump.points]]
speed = "3450 rpm"
flow = "90 gpm"
head = "66.42 ft"
power = "2210 W"

[[own_panel]]
name = "tested panel"
width = "4 ft"
length = "10 ft"

[own_panel.test]
method = "inlet"
efficiency = "86.1 %"
slope = "15.45 W/m2/K"
flow = "0.31 L/s"
"""


def faults(text):
    with pytest.raises(InputError) as caught:
        read_job_text(text)
    return {fault.field: str(fault) for fault in caught.value.faults}


@pytest.mark.parametrize("extra", [EDITS, OWN, EDITS + OWN])
def test_read_written_and_solved(extra):
    job = read_job_text(BASE + extra)
    assert read_job_text(job_text(job)) == job
    assert all(state.imbalance < 1e-11 for state in solve_flow(job).states)


def test_own_parts_are_known_by_their_names():
    text = BASE.replace('pump = "variable large"', 'pump = "yard pump"')
    text = text.replace('panel = "sheet 4x10"', 'panel = "tested panel"')
    assert "yard pump" in text
    assert "tested panel" in text
    job = read_job_text(text + OWN)
    names = {part.catalog for part in solve_flow(job).circuit.of_kind("pump", "panel")}
    assert names == {"yard pump", "tested panel"}
    found = faults(text)
    assert {"pump.pump", "array.banks[0].panel", "array.banks[1].panel"} <= set(found)


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ('kind = "drain"', 'kind = "drian"', "pad.edit[0].kind", 'did you mean "drain"?'),
        ('action = "add"', 'action = "ad"', "pad.edit[0].action", "remove"),
        ('pipe = "feed"\nkind', 'pipe = "fead"\nkind', "pad.edit[0].pipe", 'mean "feed"?'),
        ('at = "20 %"', "at = 0.2", "pad.edit[0].at", "20 %"),
        ('at = "20 %"', 'at = "20 %"\nhow = 1', "pad.edit[0].how", "no such key"),
        ('length = "62 ft"', 'length = "62 gpm"', "pad.edit[2].length", "length"),
        ('kind = "elbow 45"', 'kind = "elbow 46"', "pad.edit[2].fittings[0].kind", "'elbow 45'"),
        ("count = 3", "count = 0", "pad.edit[2].fittings[0].count", "1 to 100"),
        ('part = "filter"', 'part = "pool"', "pad.edit[4].elevation", "above the pool's water"),
    ],
)
def test_a_wrong_edit_is_told_at_its_field(old, new, field, words):
    assert old in EDITS
    found = faults(BASE + EDITS.replace(old, new, 1))
    assert field in found
    assert words in found[field]


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ('name = "yard pump"', 'name = "variable large"', "own_pump[0].name", "name of its own"),
        ('flow = "66 gpm"', 'flow = "40 gpm"', "own_pump[0].points[1]", "again"),
        ('head = "66.42 ft"', 'head = "96 ft"', "own_pump[0].points[2]", "does not fall"),
        ('slope = "15.45 W/m2/K"', "slope = 15.45", "own_panel[0].test.slope", "bare number"),
        ('flow = "0.31 L/s"', 'flow = "0.31 gpm"', "own_panel[0].test", "the area and the flow"),
        ('method = "inlet"', 'method = "outlet"', "own_panel[0].test.method", "steady"),
        ('width = "4 ft"', 'width = "4 ft"\nlike = "glass"', "own_panel[0].like", "tube 4x10"),
    ],
)
def test_a_wrong_sheet_is_told_at_its_field(old, new, field, words):
    assert old in OWN
    text = OWN.replace(old, new, 1)
    if "again" in words:
        text = text.replace('head = "72.75 ft"', 'head = "80 ft"')
    found = faults(BASE + text)
    assert field in found
    assert words in found[field]


def test_names_of_options():
    text = BASE.replace("[pad]", '[pad]\ncleaner = "robot"\nbooster = "rocket"\nsanitizer = "no"')
    found = faults(text)
    assert "'suction'" in found["pad.cleaner"]
    assert "variable large" in found["pad.booster"]
    assert "salt cell" in found["pad.sanitizer"]
    split = BASE.replace("[pad]", '[pad]\ndiverter_open = "50 %"')
    assert any("diverter with stops" in words for words in faults(split).values())
