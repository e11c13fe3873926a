"""Files brought in: nothing of a job file is lost, a survey page is merged field by field."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from noonwater.app.bring_in import KIND, bring_in
from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.job_edit import Change
from noonwater.app.plant import plant_of, record_plant
from noonwater.app.store import State, Store
from noonwater.app.store_files import job_file
from noonwater.core.errors import InputError

LAGOON = demo_text("lagoon-court")


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


@pytest.fixture
def state(store: Store) -> State:
    return store.add(tomllib.loads(LAGOON))


def page(state: State, changes: list[dict[str, str]], **more: Any) -> bytes:
    held = {
        "kind": KIND,
        "format": 1,
        "page": "0123456789abcdef",
        "job": state.job,
        "base": state.number,
        "tables": state.tables,
        "changes": changes,
        **more,
    }
    return json.dumps(held).encode()


def test_a_job_file_comes_in_and_goes_out_as_typed(store: Store) -> None:
    brought = bring_in(store, LAGOON.encode())
    assert brought.begun
    assert tomllib.loads(job_file(brought.state)[1]) == tomllib.loads(LAGOON)


def test_faults_are_told_at_their_fields_and_nothing_is_lost(store: Store) -> None:
    text = LAGOON.replace('area = "420 ft2"', 'area = "420 of them"').replace(
        'finish = "light"', 'finish = "light"\nslide = "long"\nbuilt = 1998-05-01\nodd = nan'
    )
    brought = bring_in(store, b"\xef\xbb\xbf" + text.encode())
    view = View(store.state(brought.state.job))
    assert {"pool.area", "pool.slide", "pool.built", "pool.odd"} <= set(view.faults_by_field)
    out = tomllib.loads(job_file(view.state)[1])
    assert out["pool"]["area"] == "420 of them"
    assert (out["pool"]["slide"], out["pool"]["built"]) == ("long", "1998-05-01")
    assert view.job.pool.depth == pytest.approx(4.5 * 0.3048)


def test_a_file_that_lacks_most_of_a_job_still_comes_in(store: Store) -> None:
    brought = bring_in(store, b'name = "Only a name"\nunits = "SI"\n')
    view = View(brought.state)
    assert view.job.name == "Only a name"
    assert {"pool", "site", "roof"} <= {fault.field.partition("[")[0] for fault in view.faults}
    assert brought.state.tables.keys() <= {"name", "units", "format"}


@pytest.mark.parametrize(
    "raw",
    [
        b"\xff\xfe\x00",
        b"name = ",
        b"{",
        b'{"kind": "other"}',
        b"[[[[",
        b"{" * 20_000,
        b"",
        b"[1]",
        b"a = 1",
        b"a = " + b"[" * 5000,
    ],
)
def test_what_is_no_such_file_is_told(store: Store, raw: bytes) -> None:
    with pytest.raises(InputError, match="the file"):
        bring_in(store, raw)
    assert store.jobs() == []


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b'{"kind": "other"}', "something else than a survey page"),
        (b'{"kind": "noonwater survey page", "format": 9}', "another version"),
        (b'{"kind": "noonwater survey page"', "is it whole"),
        (b"a = " + b"[" * 5000, "nested too deeply"),
    ],
)
def test_why_it_is_no_such_file_is_told_in_words(store: Store, raw: bytes, words: str) -> None:
    with pytest.raises(InputError, match=words):
        bring_in(store, raw)


def test_a_file_whose_tables_are_something_else_can_be_mended_field_by_field(store: Store) -> None:
    raw = b'name = "Odd"\npool = [1, 2]\nroof = 5\n[array]\nbanks = [1]\n'
    state = bring_in(store, raw).state
    changes = [
        Change("pool.area", "50 m2"),
        Change("array.banks[0].panels", "4"),
        Change("roof", act="add"),
        Change("roof[0].name", "shed"),
    ]
    outcome = store.edit(state.job, 1, changes)
    assert outcome.refused == ()
    assert outcome.state.tables["pool"] == {"area": "50 m2"}
    assert outcome.state.tables["array"]["banks"] == [{"panels": 4}]
    assert outcome.state.tables["roof"][0]["name"] == "shed"


def test_half_a_sign_and_numbers_beyond_the_store_s_harm_nothing(
    store: Store, state: State
) -> None:
    odd = page(state, [{"field": "name", "text": "cut \ud83d"}], base=10**30)
    brought = bring_in(store, odd)
    assert brought.begun
    assert brought.state.tables["name"] == "cut \ufffd"


def test_a_survey_page_is_merged_and_a_conflict_told(store: Store, state: State) -> None:
    store.edit(state.job, 1, [Change("pool.depth", "5 ft"), Change("pool.area", "500 ft2")])
    changes = [
        {"field": "pool.area", "text": "480"},
        {"field": "pool.shade", "text": "25"},
        {"field": "pool.slide", "text": "long"},
    ]
    brought = bring_in(store, page(state, changes))
    assert not brought.begun
    pool = brought.state.tables["pool"]
    assert (pool["depth"], pool["area"], pool["shade"]) == ("5 ft", "500 ft2", "25 %")
    assert [(c.field, c.yours, c.theirs) for c in brought.conflicts] == [
        ("pool.area", "480 ft2", "500 ft2")
    ]
    assert [fault.field for fault in brought.refused] == ["pool.slide"]


def test_a_bare_number_has_the_unit_that_the_page_showed(store: Store, state: State) -> None:
    store.edit(state.job, 1, [Change("units", "SI")])
    brought = bring_in(store, page(state, [{"field": "pool.area", "text": "480"}]))
    assert brought.state.tables["pool"]["area"] == "480 ft2"


def test_a_roof_that_was_added_away_is_there_once(store: Store, state: State) -> None:
    changes = [
        {"field": "roof", "text": "", "act": "add"},
        {"field": "roof[2].name", "text": "shed"},
        {"field": "roof[2].pitch", "text": "10"},
    ]
    once = bring_in(store, page(state, changes)).state.tables["roof"]
    assert [roof["name"] for roof in once] == ["south", "west", "shed"]
    assert once[2]["pitch"] == "10 deg"
    again = bring_in(store, page(state, changes))
    assert again.state.tables["roof"] == once


def test_a_page_of_another_store_or_of_a_file_begins_a_job(store: Store, state: State) -> None:
    for job in ("", "elsewhere"):
        raw = page(State(job, 3, "", "", state.tables, {}), [{"field": "pool.area", "text": "480"}])
        brought = bring_in(store, raw)
        assert brought.begun
        assert brought.state.job not in ("", "elsewhere", state.job)
        assert brought.state.tables["pool"]["area"] == "480 ft2"


def test_notes_of_the_plant_are_merged_too(store: Store, state: State) -> None:
    record_plant(store, state.job, {"roof.age": "12 years"})
    notes = {"roof.age": "20 years", "pump.state": "worn"}
    brought = bring_in(store, page(state, [], seen={}, notes=notes))
    assert [other.key for other in brought.others] == ["roof.age"]
    assert plant_of(store, state.job) == {"roof.age": "12 years", "pump.state": "worn"}
