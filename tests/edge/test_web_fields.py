"""Every field of the job stands on one sheet, in what fits it, and a finding finds it there."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any, get_args

import pytest

from noonwater.app.bare_number import with_unit
from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.field_words import field_name
from noonwater.app.job_edit import Change, merged
from noonwater.app.job_place import most_items
from noonwater.app.job_tables import Place, Slot, model_of, path_text, slot_at, slots
from noonwater.app.store import State
from noonwater.core.field import Choice
from noonwater.model.job import Job
from noonwater.web.fields import anchor, is_plain
from noonwater.web.page import desk
from noonwater.web.sheets import SHEETS, home_of

DEMO = tomllib.loads(demo_text("lagoon-court"))
MADE = "2003-01-01T00:00:00+00:00"
UNSHOWN = {"format"}
"""The file's own number of its form: no field of the work."""


class Fields(HTMLParser):
    """Gathers the ids of a page and the fields that can be changed on it."""

    def __init__(self) -> None:
        super().__init__()
        self.fields: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = dict(attrs)
        self.fields += [str(held[key]) for key in ("data-field", "data-list") if held.get(key)]
        if held.get("id"):
            self.ids.append(str(held["id"]))


def full_table(slot: Slot, turn: int) -> dict[str, Any]:
    """A table with everything that can lie in it, once; `turn` goes through its kinds."""
    kinds = slot.models
    model = kinds[turn % len(kinds)]
    table: dict[str, Any] = {}
    for key, inside in slots(model).items():
        if isinstance(slot.mark, Choice) and slot.mark.key == key:
            table[key] = get_args(inside.type)[0]
        elif inside.item is not None and inside.item.models:
            count = min(len(inside.item.models), most_items(inside))
            table[key] = [full_table(inside.item, n) for n in range(count)]
        elif inside.models:
            table[key] = full_table(inside, turn)
    return table


def full_view(turn: int) -> View:
    return View(State("full", 1, MADE, "", full_table(Slot(Job), turn), DEMO))


def plain_fields(tables: dict[str, Any], place: Place = ()) -> Iterator[Place]:
    slot = slot_at(place, tables)
    assert slot is not None
    value: Any = tables
    for step in place:
        value = value[step]
    for key, inside in slots(model_of(slot, value)).items():
        if is_plain(inside):
            yield (*place, key)
        elif inside.item is not None:
            for number in range(len(value[key])):
                yield from plain_fields(tables, (*place, key, number))
        else:
            yield from plain_fields(tables, (*place, key))


def shown_on(view: View) -> dict[str, Fields]:
    pages = {}
    for sheet in SHEETS:
        pages[sheet.key] = Fields()
        pages[sheet.key].feed(str(desk(view, sheet)))
    return pages


@pytest.mark.parametrize("turn", range(6))
def test_every_field_stands_on_its_own_sheet_and_on_no_other(turn: int) -> None:
    view = full_view(turn)
    wanted = {path_text(place) for place in plain_fields(view.state.tables)} - UNSHOWN
    pages = shown_on(view)
    shown = [field for page in pages.values() for field in page.fields]
    assert sorted(shown) == sorted(wanted)
    for field in wanted:
        home = pages[home_of(field)]
        assert field in home.fields
        assert home.ids.count(anchor(field, view)) == 1


def test_a_finding_at_a_table_or_list_leads_to_it() -> None:
    view = View(State("demo", 1, MADE, "", DEMO, DEMO))
    pages = shown_on(view)
    for field in ("array.banks", "roof[0]", "pool.cover", "pump.program[1]", "pool.spa", "array"):
        assert pages[home_of(field)].ids.count(anchor(field, view)) == 1


@pytest.mark.parametrize("demo", ["lagoon-court", "orchard-hill", "almond-ranch"])
def test_every_finding_of_the_demos_has_a_place(demo: str) -> None:
    tables = tomllib.loads(demo_text(demo))
    view = View(State("demo", 1, MADE, "", tables, tables))
    pages = shown_on(view)
    for finding in view.studied.findings:
        assert pages[home_of(finding.where)].ids.count(anchor(finding.where, view)) == 1, finding


@pytest.mark.parametrize("turn", range(6))
def test_no_two_fields_of_a_table_have_the_same_name(turn: int) -> None:
    view = full_view(turn)
    names: dict[tuple[Place, str], Place] = {}
    for place in plain_fields(view.state.tables):
        key = (place[:-1], field_name(place, view.state.tables))
        assert key not in names, (place, names.get(key))
        names[key] = place


def html_of(tables: dict[str, Any], key: str) -> str:
    view = View(State("demo", 1, MADE, "", tables, DEMO))
    return str(desk(view, next(sheet for sheet in SHEETS if sheet.key == key)))


def after(*changes: tuple[str, str]) -> dict[str, Any]:
    result = merged(DEMO, DEMO, [Change(field, text) for field, text in changes])
    assert not result.conflicts
    assert not result.refused
    return result.tables


def test_a_list_of_choices_is_a_group_of_toggles() -> None:
    html = html_of(after(("pad.drains", "feed, array")), "pad")
    group = re.search(r'data-list="pad\.drains".*?</div>', html, re.DOTALL)
    assert group is not None
    assert re.findall(r'value="([^"]*)" checked', group[0]) == ["feed", "array"]
    assert after(("pad.check_valves", "none"))["pad"]["check_valves"] == []
    assert 'value="after filter" checked' in html
    assert 'value="after filter" checked' not in html_of(after(("pad.check_valves", "none")), "pad")


def test_the_catalog_s_names_are_offered_and_what_is_usual_is_said() -> None:
    html = html_of(DEMO, "pad")
    pump = re.search(r'<select[^>]*data-field="pump\.pump".*?</select>', html, re.DOTALL)
    assert pump is not None
    assert 'value="variable large"' in pump[0]
    assert ">as usual: none<" in html
    assert 'placeholder="100 as usual"' in html
    assert ">as usual: light<" in html_of(after(("pool.finish", "")), "survey")


def test_the_weather_can_be_chosen_from_every_source() -> None:
    html = html_of(DEMO, "survey")
    for source in ("file", "shipped", "stations", "months", "online", "rough"):
        assert f'<option value="{source}"' in html


def test_twelve_bare_numbers_get_their_unit_each(tmp_path: Any) -> None:
    text = with_unit("pool.rain", "1, 2.5, 30 mm", DEMO, "US")
    assert text == "1 in, 2.5 in, 30 mm"
    assert with_unit("money.electricity", "0.2", DEMO, "US") == "0.2 USD/kWh"
    assert with_unit("pool.target", "84°", DEMO, "US") == "84 °F"
    assert with_unit("pad.pipe", "1⅜", DEMO, "US") == "1⅜ in"
    assert with_unit("pool.area", "84°", DEMO, "US") == "84°"


def test_a_table_that_a_job_may_do_without_is_added_empty_and_the_rest_computes() -> None:
    added = merged(DEMO, DEMO, [Change("pool.spa", act="add")]).tables
    assert added["pool"]["spa"] == {}
    view = View(State("demo", 2, MADE, "", added, DEMO))
    assert view.job.pool.spa is None
    assert {fault.field for fault in view.faults} == {"pool.spa.area", "pool.spa.depth"}
    edited = merged(added, added, [Change("pool.area", "50 m2")]).tables
    assert View(State("demo", 3, "", "", edited, DEMO)).job.pool.area == 50.0
    assert merged(added, added, [Change("pool.spa", act="remove")]).tables == DEMO


def test_an_empty_item_of_a_list_is_left_out_until_it_is_right() -> None:
    changes = [Change("money.windows", act="add"), Change("money.windows", act="add")]
    added = merged(DEMO, DEMO, changes).tables
    view = View(State("demo", 2, MADE, "", added, DEMO))
    assert view.job.money.windows == ()
    assert view.job.pool.area == pytest.approx(420 * 0.3048**2)


def test_a_telephone_s_keyboard_has_what_the_field_takes() -> None:
    html = html_of(DEMO, "survey") + html_of(DEMO, "pad")
    area = re.search(r'<input[^>]*data-field="pool\.area"[^>]*>', html)
    elbows = re.search(r'<input[^>]*data-field="pad\.elbows"[^>]*>', html)
    opens = re.search(r'<input[^>]*data-field="pool\.opens"[^>]*>', html)
    assert area is not None
    assert elbows is not None
    assert opens is not None
    assert "inputmode" not in area[0] + opens[0]
    assert 'inputmode="numeric"' in elbows[0]


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        ("money.offer.extra_hours", "8", "8 h"),
        ("pump.priming_time", "4", "4 min"),
        ("controls.least_run", "10", "10 min"),
        ("controls.valve_travel", "35", "35 s"),
        ("pump.priming_time", "90 s", "90 s"),
    ],
)
def test_a_bare_time_is_what_a_person_means_there(field: str, typed: str, kept: str) -> None:
    assert with_unit(field, typed, DEMO, "US") == kept
