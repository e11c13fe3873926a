"""The store: nothing typed is lost, sent twice is done once, old states come back."""

from __future__ import annotations

import tomllib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from noonwater.app.demos import demo_text, demos
from noonwater.app.job_edit import Change, read_typed
from noonwater.app.job_file import read_job_text
from noonwater.app.job_place import Tables
from noonwater.app.store import NoSuchJob, Store
from noonwater.app.store_files import job_file, tables_from_text
from noonwater.core.errors import InputError


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path)


@pytest.fixture
def tables() -> Tables:
    return tomllib.loads(demo_text("lagoon-court"))


def test_an_edit_makes_a_state_and_the_old_one_stays(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    outcome = store.edit(job, 1, [Change("pool.area", "40 m2")])
    assert outcome.state.number == 2
    assert outcome.state.words == "pool.area"
    assert store.state(job, 1).tables == tables
    assert [state.number for state in store.marks(job)] == [2, 1]


def test_an_edit_that_changes_nothing_makes_no_state(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    assert store.edit(job, 1, [Change("pool.area", tables["pool"]["area"])]).state.number == 1


def test_what_is_sent_twice_is_done_once(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    changes = [Change("roof", act="add"), Change("pool.area", "40 m2")]
    first = store.edit(job, 1, changes, key="a")
    again = store.edit(job, 1, changes, key="a")
    assert first.state.number == again.state.number == 2
    assert again.conflicts == ()
    assert len(again.state.tables["roof"]) == len(tables["roof"]) + 1


def test_what_another_wrote_is_never_overwritten_silently(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    store.edit(job, 1, [Change("pool.area", "50 m2")])
    outcome = store.edit(job, 1, [Change("pool.area", "40 m2")])
    assert outcome.state.tables["pool"]["area"] == "50 m2"
    assert outcome.conflicts[0].yours == "40 m2"


def test_what_is_typed_while_another_goes_back_is_merged_or_told(
    store: Store, tables: Tables
) -> None:
    job = store.add(tables).job
    store.edit(job, 1, [Change("pool.area", "50 m2")])
    store.go_back(job, 1)
    changes = [Change("pool.depth", "2 m"), Change("pool.area", "60 m2")]
    outcome = store.edit(job, 2, changes)
    assert outcome.state.tables["pool"]["depth"] == "2 m"
    assert outcome.state.tables["pool"]["area"] == tables["pool"]["area"]
    assert [(c.yours, c.theirs) for c in outcome.conflicts] == [("60 m2", tables["pool"]["area"])]


def test_a_hundred_switches_of_units_change_no_letter(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    for number in range(1, 101):
        store.edit(job, number, [Change("units", "SI" if number % 2 else "US")])
    assert store.entry(job).head == 101
    assert store.state(job).tables == store.state(job, 1).tables == tables
    assert store.state(job, 100).right == {**tables, "units": "SI"}


def test_an_archived_job_still_takes_what_an_open_page_sends(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    store.archive(job)
    assert store.edit(job, 1, [Change("pool.area", "50 m2")]).state.number == 2
    assert store.entry(job).archived


def test_many_at_once_lose_nothing(tmp_path: Path, tables: Tables) -> None:
    job = Store(tmp_path).add(tables).job
    fields = ["pool.area", "pool.depth", "site.elevation", "roof[0].width", "roof[1].width"]

    def write(number: int) -> None:
        own = Store(tmp_path)
        own.edit(job, 1, [Change(fields[number], f"{number + 3} m")])
        own.close()

    with ThreadPoolExecutor(5) as pool:
        list(pool.map(write, range(2, 5)))
    final = Store(tmp_path).state(job)
    assert final.number == 4
    assert final.tables["site"]["elevation"] == "5 m"
    assert [roof["width"] for roof in final.tables["roof"]] == ["6 m", "7 m"]


def test_a_wrong_field_keeps_the_last_right_one_over_restarts(
    tmp_path: Path, tables: Tables
) -> None:
    first = Store(tmp_path)
    job = first.add(tables).job
    first.edit(job, 1, [Change("pool.area", "40 m2")])
    first.edit(job, 2, [Change("pool.area", "forty")])
    first.close()
    state = Store(tmp_path).state(job)
    read, _right, faults = read_typed(state.tables, state.right)
    assert read.pool.area == 40.0
    assert state.tables["pool"]["area"] == "forty"
    assert len(faults) == 1


def test_an_old_state_comes_back_as_a_new_one(store: Store, tables: Tables) -> None:
    job = store.add(tables).job
    store.edit(job, 1, [Change("pool.area", "40 m2")])
    back = store.go_back(job, 1)
    assert (back.number, back.tables) == (3, tables)
    assert len(store.marks(job)) == 3


def test_jobs_are_listed_found_copied_staged_and_archived(store: Store, tables: Tables) -> None:
    one = store.add(tables).job
    store.add({**tables, "name": "100 % Hill_Top"})
    copy = store.copy(one)
    assert [entry.name for entry in store.jobs("court lagoon")] == [
        "Lagoon Court (copy)",
        "Lagoon Court",
    ]
    assert [entry.name for entry in store.jobs("1%0")] == []
    assert [entry.name for entry in store.jobs("l_t")] == ["100 % Hill_Top"]
    store.set_stage(one, "offered")
    assert store.entry(one).stage == "offered"
    store.archive(copy.job)
    assert len(store.jobs()) == 2
    assert len(store.jobs(archived=True)) == 1
    with pytest.raises(NoSuchJob, match="survey"):
        store.set_stage(one, "dreaming")


@pytest.mark.parametrize("number", [0, 9])
def test_what_is_not_there_is_told(store: Store, tables: Tables, number: int) -> None:
    job = store.add(tables).job
    with pytest.raises(NoSuchJob):
        store.state(job, number)
    with pytest.raises(NoSuchJob):
        store.edit("none", 1, [])


@pytest.mark.parametrize("name", [demo.name for demo in demos()])
def test_a_job_file_goes_in_and_out_without_loss(store: Store, name: str) -> None:
    tables = tables_from_text(demo_text(name))
    state = store.add(tables)
    file, text = job_file(state)
    assert file == f"{name}.toml"
    assert tables_from_text(text) == tables
    assert read_job_text(text) == read_job_text(demo_text(name))


@pytest.mark.parametrize("text", ["name = ", "x" * 1_000_001])
def test_a_file_that_is_no_job_file_is_told(text: str) -> None:
    with pytest.raises(InputError):
        tables_from_text(text)
