"""Options of a job: set, held against it, taken over."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.desk_options import (
    MOST_OPTIONS,
    add_setting,
    changes_of,
    fields_of,
    optional_job,
    options_of,
    options_shown,
    suggestions,
)
from noonwater.app.store import Store
from noonwater.app.study import run_year
from noonwater.core.errors import InputError


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store(tmp_path)
    yield store
    store.close()


@pytest.fixture
def view(store: Store) -> View:
    state = store.add(tomllib.loads(demo_text("lagoon-court")))
    return View(state, shelf=store.shelf)


def test_an_option_is_kept_with_the_job_and_holds_several_fields(store: Store, view: View) -> None:
    add_setting(store.shelf, view, ("pump.solar_speed", "3000"))
    (first,) = options_of(view)
    add_setting(store.shelf, view, ("pool.cover.kind", "none"), first.id)
    add_setting(store.shelf, view, ("pump.solar_speed", "3100"), first.id)
    (again,) = options_of(view)
    assert again.settings == (("pool.cover.kind", "none"), ("pump.solar_speed", "3100 rpm"))
    other = store.add(tomllib.loads(demo_text("almond-ranch")))
    assert options_of(View(other, shelf=store.shelf)) == []


def test_an_option_shows_what_it_changes_and_what_it_moves(store: Store, view: View) -> None:
    add_setting(store.shelf, view, ("pool.cover.kind", "none"))
    first, option = options_shown(view)
    assert (first.label, option.label) == ("A", "B")
    assert [(change.field, change.after) for change in option.changes] == [
        ("pool.cover.kind", "none")
    ]
    assert first.changes == ()
    bare = replace(
        view.job, pool=replace(view.job.pool, cover=replace(view.job.pool.cover, kind="none"))
    )
    assert option.studied is not None
    assert option.studied.year is not None
    told = [month.pool for month in option.studied.year.months]
    assert told == [month.pool for month in run_year(bare).months]
    assert first.headline is not None
    assert option.headline is not None
    assert option.headline.season_water < first.headline.season_water  # type: ignore[operator]


def test_one_panel_more_costs_what_a_panel_and_its_parts_cost(store: Store, view: View) -> None:
    add_setting(store.shelf, view, ("array.banks[0].panels", "7"))
    first, option = options_shown(view)
    assert first.pays is not None
    assert option.pays is not None
    assert option.pays - first.pays > 205.0


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        (("pump.warp", "9"), "no such field"),
        (("", "9"), "no such field"),
        (("pump", "9"), "no such field"),
        (("pool.area", "wide"), "an area with its unit"),
        (("array.banks[7].panels", "3"), "no such field"),
    ],
)
def test_what_no_job_takes_is_told_and_not_kept(
    store: Store, view: View, setting: tuple[str, str], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        add_setting(store.shelf, view, setting)
    assert options_of(view) == []


def test_there_is_room_for_a_few(store: Store, view: View) -> None:
    for number in range(MOST_OPTIONS):
        add_setting(store.shelf, view, ("pump.solar_speed", str(2900 + 10 * number)))
    with pytest.raises(InputError, match="take one out"):
        add_setting(store.shelf, view, ("pump.solar_speed", "3000"))
    add_setting(store.shelf, view, ("pool.depth", "5"), options_of(view)[0].id)


def test_an_option_is_taken_over_as_an_edit(store: Store, view: View) -> None:
    add_setting(store.shelf, view, ("pump.solar_speed", "3000"))
    option = options_of(view)[0]
    outcome = store.edit(view.state.job, 1, changes_of(view, option.id))
    assert outcome.state.tables["pump"]["solar_speed"] == "3000 rpm"
    assert changes_of(view, "none") == []


def test_an_option_that_the_job_outgrew_says_so(store: Store, view: View) -> None:
    add_setting(store.shelf, view, ("array.banks[1].panels", "4"))
    fewer = {
        **view.right,
        "array": {**view.right["array"], "banks": view.right["array"]["banks"][:1]},
    }
    state = replace(view.state, tables=fewer, right=fewer)
    _, option = options_shown(View(state, shelf=store.shelf))
    assert option.job is None
    assert "no such field" in str(option.faults[0])


@pytest.mark.parametrize("name", ["lagoon-court", "almond-ranch", "orchard-hill"])
def test_every_suggestion_is_a_job(store: Store, name: str) -> None:
    view = View(store.add(tomllib.loads(demo_text(name))), shelf=store.shelf)
    found = suggestions(view)
    assert len(found) >= 3
    for _, setting in found:
        assert optional_job(view.right, [setting]) != view.job


def test_every_field_that_can_be_picked_is_one(view: View) -> None:
    fields = dict(fields_of(view))
    assert fields["pump.solar_speed"]
    assert "array.banks[1].panels" in fields
    assert "pool.cover.kind" in fields
    assert len(fields) > 80


@pytest.mark.parametrize(
    "named",
    ["pump.solar_speed", "Pump: speed while solar runs", " speed WHILE solar runs "],
)
def test_a_field_is_named_by_its_path_or_in_words(store: Store, view: View, named: str) -> None:
    add_setting(store.shelf, view, (named, "3000"))
    assert options_of(view)[0].settings == (("pump.solar_speed", "3000 rpm"),)


def test_words_that_several_fields_have_name_none(store: Store, view: View) -> None:
    with pytest.raises(InputError, match="no such field"):
        add_setting(store.shelf, view, ("kind", "none"))
    names = [name for _, name in fields_of(view)]
    assert len(names) == len(set(names))
