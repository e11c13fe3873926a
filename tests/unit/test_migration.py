"""The chain from older formats, with steps made up for the test."""

from __future__ import annotations

from typing import Any

from noonwater.app.migration import STEPS, migrated
from noonwater.model.job import FORMAT


def rename_water(tables: dict[str, Any]) -> dict[str, Any]:
    rest = {key: value for key, value in tables.items() if key != "water"}
    return {**rest, "pool": tables["water"]}


def add_units(tables: dict[str, Any]) -> dict[str, Any]:
    return {**tables, "units": "US"}


MADE_UP = {0: rename_water, 1: add_units}


def test_an_older_file_goes_through_every_step() -> None:
    old = {"format": 0, "water": {"depth": "5 ft"}}
    new, faults = migrated(old, MADE_UP, 2)
    assert new == {"format": 2, "pool": {"depth": "5 ft"}, "units": "US"}
    assert not faults
    assert old == {"format": 0, "water": {"depth": "5 ft"}}


def test_a_file_halfway_goes_through_the_rest() -> None:
    assert migrated({"format": 1}, MADE_UP, 2)[0] == {"format": 2, "units": "US"}


def test_a_newest_file_is_left_alone() -> None:
    assert migrated({"format": 2, "a": 1}, MADE_UP, 2) == ({"format": 2, "a": 1}, [])


def test_a_newer_or_older_number_than_known_is_told_with_what_is_allowed() -> None:
    for number in (3, -1, 10**30):
        _, faults = migrated({"format": number}, MADE_UP, 2)
        assert faults[0].given.startswith(str(number)[:20])
        assert faults[0].allowed == "0 to 2"


def test_no_number_is_told_and_taken_for_the_newest() -> None:
    tables, faults = migrated({}, MADE_UP, 2)
    assert tables == {"format": 2}
    assert faults[0].remedy == "add at the top: format = 2"


def test_a_number_that_is_none_is_told() -> None:
    for wrong in ("1", 1.0, True, None, [1]):
        _, faults = migrated({"format": wrong}, MADE_UP, 2)
        assert len(faults) == 1


def test_every_older_format_has_its_step() -> None:
    assert sorted(STEPS) == list(range(FORMAT - len(STEPS), FORMAT))
