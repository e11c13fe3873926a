"""Edits field by field: what was typed stays, what is right is computed, two people are merged."""

from __future__ import annotations

import tomllib

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_edit import Change, changed_fields, field_typed, merged, read_typed
from noonwater.app.job_place import Tables, place_of, with_item, with_text, without_item


@pytest.fixture
def tables() -> Tables:
    return tomllib.loads(demo_text("lagoon-court"))


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ("pool.area", ("pool", "area")),
        ("roof[1].pitch", ("roof", 1, "pitch")),
        ("pump.program[0].from", ("pump", "program", 0, "from")),
        ("pool..area", None),
        ("[0]", None),
        ("", None),
    ],
)
def test_a_path_is_read_as_messages_write_it(path: str, place: object) -> None:
    assert place_of(path) == place


def test_what_was_typed_stays_and_the_last_right_value_is_computed(tables: Tables) -> None:
    typed = with_text(tables, ("pool", "area"), "banana")
    typed = with_text(typed, ("pool", "depth"), "2 m")
    job, right, faults = read_typed(typed, tables)
    assert field_typed(typed, "pool.area") == "banana"
    assert right["pool"]["area"] == tables["pool"]["area"]
    assert job.pool.depth == 2.0
    assert [fault.field for fault in faults] == ["pool.area"]


def test_faults_between_tables_are_put_back_too(tables: Tables) -> None:
    typed = with_text(tables, ("array", "banks", 0, "roof"), "nowhere")
    job, _right, faults = read_typed(typed, tables)
    assert job.array.banks[0].roof == "south"
    assert faults[0].field == "array.banks[0].roof"


def test_an_emptied_field_goes_back_to_what_is_usual(tables: Tables) -> None:
    assert "shade" not in with_text(tables, ("pool", "shade"), " ")["pool"]
    assert tables["pool"]["shade"] == "10 %"


def test_numbers_truths_and_lists_are_what_the_field_takes(tables: Tables) -> None:
    assert (
        with_text(tables, ("array", "banks", 0, "panels"), "7")["array"]["banks"][0]["panels"] == 7
    )
    months = with_text(tables, ("pool", "cover", "months"), "11, 12,1")["pool"]["cover"]["months"]
    assert months == [11, 12, 1]
    wrong = with_text(tables, ("array", "banks", 0, "panels"), "7.5")
    assert wrong["array"]["banks"][0]["panels"] == "7.5"


@pytest.mark.parametrize("place", [("pool",), ("pool", "colour"), ("roof", 9, "pitch"), ("x",)])
def test_a_place_that_no_job_has_is_refused(tables: Tables, place: tuple[str | int, ...]) -> None:
    with pytest.raises(LookupError):
        with_text(tables, place, "1")


def test_another_kind_of_weather_keeps_what_both_have(tables: Tables) -> None:
    changed = with_text(tables, ("weather", "source"), "rough")
    assert changed["weather"] == {"source": "rough"}
    _job, _right, faults = read_typed(changed, tables)
    assert "weather.air" in [fault.field for fault in faults]


def test_an_item_added_has_a_name_of_its_own_and_can_go_again(tables: Tables) -> None:
    more = with_item(tables, ("roof",))
    names = [roof["name"] for roof in more["roof"]]
    assert len(set(names)) == len(names) == len(tables["roof"]) + 1
    assert without_item(more, ("roof", len(names) - 1)) == tables
    with pytest.raises(LookupError):
        with_item(tables, ("pool",))
    with pytest.raises(LookupError):
        without_item(tables, ("roof", 9))


def test_changes_of_different_fields_are_merged(tables: Tables) -> None:
    head = with_text(tables, ("pool", "depth"), "2 m")
    result = merged(tables, head, [Change("pool.area", "40 m2")])
    assert result.tables["pool"]["depth"] == "2 m"
    assert result.tables["pool"]["area"] == "40 m2"
    assert result.conflicts == ()


def test_a_field_set_by_two_is_a_conflict_and_nothing_is_overwritten(tables: Tables) -> None:
    head = with_text(tables, ("pool", "area"), "50 m2")
    result = merged(tables, head, [Change("pool.area", "40 m2"), Change("pool.depth", "2 m")])
    assert result.tables["pool"]["area"] == "50 m2"
    assert result.tables["pool"]["depth"] == "2 m"
    assert [(c.field, c.yours, c.theirs) for c in result.conflicts] == [
        ("pool.area", "40 m2", "50 m2")
    ]


def test_both_setting_the_same_is_no_conflict(tables: Tables) -> None:
    head = with_text(tables, ("pool", "area"), "50 m2")
    assert merged(tables, head, [Change("pool.area", "50 m2")]).conflicts == ()


def test_an_item_of_an_array_that_changed_is_a_conflict(tables: Tables) -> None:
    head = without_item(tables, ("array", "banks", 0))
    result = merged(tables, head, [Change("array.banks[1].panels", "5")])
    assert result.tables == head
    assert result.conflicts[0].field == "array.banks[1].panels"


def test_an_item_that_another_added_moves_none_of_the_others(tables: Tables) -> None:
    head = with_item(tables, ("roof",))
    result = merged(tables, head, [Change("roof[0].pitch", "5:12")])
    assert result.conflicts == ()
    assert result.tables["roof"][0]["pitch"] == "5:12"
    assert len(result.tables["roof"]) == len(tables["roof"]) + 1


def test_what_lies_on_a_plane_follows_its_new_name(tables: Tables) -> None:
    after = merged(tables, tables, [Change("roof[0].name", "garage")]).tables
    assert [bank["roof"] for bank in after["array"]["banks"]] == ["garage", "west"]
    assert after["controls"]["sensor_roof"] == "garage"
    assert read_typed(after, tables)[2] == ()


@pytest.mark.parametrize("text", ["west", ""])
def test_a_name_that_is_taken_or_none_moves_nothing_to_another_plane(
    tables: Tables, text: str
) -> None:
    after = merged(tables, tables, [Change("roof[0].name", text)]).tables
    assert after["array"] == tables["array"]
    assert after["controls"] == tables["controls"]


def test_a_field_that_no_job_has_is_told(tables: Tables) -> None:
    result = merged(tables, tables, [Change("pool.colour", "red"), Change("..", "1")])
    assert [fault.field for fault in result.refused] == ["pool.colour", ".."]


def test_the_fields_that_differ_are_listed(tables: Tables) -> None:
    after = with_text(with_text(tables, ("pool", "area"), "1 m2"), ("roof", 0, "pitch"), "1:12")
    assert changed_fields(tables, after) == ["pool.area", "roof[0].pitch"]
    assert changed_fields(tables, with_item(tables, ("roof",))) == ["roof"]
    assert changed_fields(tables, tables) == []
