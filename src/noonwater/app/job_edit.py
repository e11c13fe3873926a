"""Edits of a job field by field: applied, merged with what others did meanwhile, read where right.

What was typed is kept as typed, right or wrong. Where a field is wrong, its last right value takes
its place in what is computed, so that the rest still answers.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from noonwater.app.job_file import read_job_tables
from noonwater.app.job_place import (
    NOTHING,
    Tables,
    place_of,
    typed_value,
    with_item,
    with_text,
    without_item,
)
from noonwater.app.job_tables import Place, path_text, slot_at, value_at
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

Act = Literal["set", "add", "remove"]
KEPT = 24
"""Jobs that were read: steps back and forth are read once."""
MOST_ROUNDS = 4
"""Times that wrong fields are put back; a round can uncover faults that hid behind others."""


@dataclass(frozen=True)
class Change:
    """One change of a job.

    Attributes
    ----------
    field : str
        Path as messages write it: "roof[0].pitch"; of the array for "add", of the item for
        "remove".
    text : str
        What was typed.
    act : {"set", "add", "remove"}
        Set a field, add an item to an array of tables, or take one out.
    """

    field: str
    text: str = ""
    act: Act = "set"


@dataclass(frozen=True)
class Conflict:
    """A field that two people set differently from the same base.

    Attributes
    ----------
    field : str
        Path.
    yours, theirs : str
        What was sent now, and what stands there since.
    """

    field: str
    yours: str
    theirs: str


@dataclass(frozen=True)
class Merged:
    """Tables after changes, and what could not be merged."""

    tables: Tables
    conflicts: tuple[Conflict, ...]
    refused: tuple[Fault, ...]


def merged(base: Tables, head: Tables, changes: Sequence[Change]) -> Merged:
    """Apply changes that were made on an older state to the newest one.

    Parameters
    ----------
    base : dict
        State that the changes were made on.
    head : dict
        Newest state.
    changes : sequence of Change
        In their order.

    Returns
    -------
    Merged
        A change of a field that somebody else set otherwise since the base is not applied, and told
        as a conflict; so is one of an array from which somebody took an item.
    """
    tables, conflicts, refused = head, [], []
    for change in changes:
        place = place_of(change.field)
        try:
            if place is None:
                raise LookupError(change.field)
            conflict = _conflict(base, head, change, place)
            if conflict is not None:
                conflicts.append(conflict)
                continue
            tables = _applied(tables, change, place)
        except LookupError:
            refused.append(Fault(change.field, "no such field", "a field of the job"))
    return Merged(tables, tuple(conflicts), tuple(refused))


def read_typed(tables: Tables, right: Tables) -> tuple[Job, Tables, tuple[Fault, ...]]:
    """Read what was typed, wrong fields as they last were right.

    Parameters
    ----------
    tables : dict
        As typed.
    right : dict
        Last state without a fault.

    Returns
    -------
    (Job, dict, tuple of Fault)
        The job to compute, its tables, and all that is wrong in what was typed.
    """
    faults: tuple[Fault, ...] = ()
    tried = tables
    for _ in range(MOST_ROUNDS):
        try:
            return _read(_Typed(repr(tried), tried)), tried, faults
        except InputError as error:
            faults = faults or error.faults
            tried = _put_back(tried, right, [fault.field for fault in error.faults])
    return _read(_Typed(repr(right), right)), right, faults


@dataclass(frozen=True)
class _Typed:
    """Tables that are told apart by all that is in them, types and order too."""

    text: str
    tables: Tables = field(compare=False)


@lru_cache(maxsize=KEPT)
def _read(typed: _Typed) -> Job:
    # An edit reads the state before, the state after, and the state that is shown.
    return read_job_tables(typed.tables)


def field_typed(tables: Tables, field: str) -> str:
    """What stands in a field, as typed."""
    place = place_of(field)
    value = None if place is None else value_at(place, tables)
    return value_text(value)


def value_text(value: object) -> str:
    """Write a file's value as a person types it."""
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join(value_text(item) for item in value) or NOTHING
    return str(value)


def changed_fields(before: Tables, after: Tables, path: Place = ()) -> list[str]:
    """List the fields that differ between two states."""
    one, other = value_at(path, before), value_at(path, after)
    if one == other:
        return []
    if isinstance(one, dict) and isinstance(other, dict):
        keys = [*one, *(key for key in other if key not in one)]
        return [field for key in keys for field in changed_fields(before, after, (*path, key))]
    tables = isinstance(one, list) and isinstance(other, list) and len(one) == len(other)
    if tables and isinstance(one, list) and all(isinstance(item, dict) for item in one):
        numbers = range(len(one))
        return [field for n in numbers for field in changed_fields(before, after, (*path, n))]
    return [path_text(path)]


def _conflict(base: Tables, head: Tables, change: Change, place: Place) -> Conflict | None:
    arrays = [place[:n] for n, step in enumerate(place) if isinstance(step, int)]
    for array in arrays:
        # An item that was added came last: the others keep their numbers.
        if _count(base, array) > _count(head, array):
            return Conflict(change.field, change.text, f"{path_text(array)} has changed")
    if change.act != "set":
        return None
    before, now = value_at(place, base), value_at(place, head)
    wanted = typed_value(change.text, slot_at(place, head))
    if now in (before, wanted):
        return None
    return Conflict(change.field, change.text, value_text(now))


def _count(tables: Tables, place: Place) -> int:
    items = value_at(place, tables)
    return len(items) if isinstance(items, list) else 0


def _applied(tables: Tables, change: Change, place: Place) -> Tables:
    if change.act == "add":
        return with_item(tables, place)
    if change.act == "remove":
        return without_item(tables, place)
    return _followed(tables, with_text(tables, place, change.text), place)


def _followed(before: Tables, after: Tables, place: Place) -> Tables:
    """Let what lies on a roof plane follow the plane's new name, where no other plane has one."""
    old, new = value_at(place, before), value_at(place, after)
    roof = before.get("roof")
    planes = [
        plane.get("name")
        for plane in (roof if isinstance(roof, list) else [])
        if isinstance(plane, dict)
    ]
    named = len(place) == 3 and (place[0], place[2]) == ("roof", "name")
    if not named or not isinstance(old, str) or not isinstance(new, str):
        return after
    if planes.count(old) != 1 or new in planes:
        return after
    for where in _names_of_planes(after):
        if value_at(where, after) == old:
            after = with_text(after, where, new)
    return after


def _names_of_planes(tables: Tables) -> list[Place]:
    banks = value_at(("array", "banks"), tables)
    count = len(banks) if isinstance(banks, list) else 0
    fields: list[Place] = [("array", "banks", number, "roof") for number in range(count)]
    return [*fields, ("controls", "sensor_roof")]


def _put_back(tables: Tables, right: Tables, fields: Sequence[str]) -> Tables:
    """Set wrong fields to what they last were; a field that is nowhere in the right state goes.

    A table in which something is missing that never was there goes whole.
    """
    tables = deepcopy(tables)
    # Items go from the last on, so that those before them keep their numbers.
    for place in sorted(_put_back_at(tables, right, fields), key=_last_number, reverse=True):
        *way, key = place
        holder, old = value_at(way, tables), value_at(place, right)
        if isinstance(holder, dict) and isinstance(key, str):
            if old is None:
                holder.pop(key, None)
            else:
                holder[key] = deepcopy(old)
        elif isinstance(holder, list) and isinstance(key, int) and key < len(holder):
            if old is not None:
                holder[key] = deepcopy(old)
            else:
                del holder[key]
    return tables


def _put_back_at(tables: Tables, right: Tables, fields: Sequence[str]) -> set[Place]:
    places = set()
    for name in fields:
        place = place_of(name)
        while place and len(place) > 1 and _missing(place, tables) and _missing(place, right):
            place = place[:-1]
        if place:
            places.add(place)
    return places


def _last_number(place: Place) -> int:
    return place[-1] if isinstance(place[-1], int) else -1


def _missing(place: Place, tables: Tables) -> bool:
    return value_at(place, tables) is None
