"""What pydantic found wrong, told in the words of a job file: one line a fault, none twice."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import MISSING, fields
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any, get_args

from noonwater.app.job_tables import (
    Place,
    Slot,
    allowed_words,
    example_of,
    meaning_of,
    model_of,
    path_text,
    slot_at,
    slots,
    value_at,
)
from noonwater.core.errors import Fault
from noonwater.core.field import Choice, Items
from noonwater.core.unit_text import QuantityError, quoted

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

KEYS_SHOWN = 30


def faults_of(error: ValidationError, tables: dict[str, Any]) -> list[Fault]:
    """Turn a failed validation of `tables` into faults, in the order of the file."""
    details = [
        (_place(detail["loc"], tables), detail) for detail in error.errors(include_url=False)
    ]
    misspelt = _misspelt(details, tables)
    faults = []
    for place, detail in details:
        if detail["type"] == "missing" and place in misspelt.values():
            continue
        if detail["type"] in ("too_short", "too_long") and _length_is_right(place, tables):
            continue
        tell = TELLERS.get(detail["type"], _wrong_type)
        faults.append(tell(place, detail, tables))
    return faults


def nearest(word: object, words: Iterable[str]) -> str:
    """Remedy for a misspelt word: the nearest of those that are known, or nothing."""
    near = get_close_matches(str(word)[:60], list(words), 1, 0.6)
    return f'did you mean "{near[0]}"?' if near else ""


def _place(location: Sequence[str | int], tables: dict[str, Any]) -> Place:
    # pydantic puts the number of the one job in front, and behind a table that may be one of
    # several models the key that chose its model.
    place: Place = ()
    skipped = False
    for step in location[1:]:
        slot, table = slot_at(place, tables), value_at(place, tables)
        mark = slot.mark if slot is not None else None
        if isinstance(mark, Choice) and isinstance(table, dict) and not skipped:
            skipped = table.get(mark.key) == step
            if skipped:
                continue
        place, skipped = (*place, step), False
    return place


def _misspelt(
    details: Sequence[tuple[Place, ErrorDetails]], tables: dict[str, Any]
) -> dict[Place, Place]:
    """Unknown keys that must be meant for a missing one beside them."""
    meant: dict[Place, Place] = {}
    missing = [place for place, detail in details if detail["type"] == "missing"]
    for place, detail in details:
        if detail["type"] == "unexpected_keyword_argument":
            beside = {str(lost[-1]): lost for lost in missing if lost[:-1] == place[:-1]}
            for near in get_close_matches(str(place[-1])[:60], _keys(place[:-1], tables), 1, 0.6):
                if near in beside:
                    meant[place] = beside[near]
    return meant


def _keys(place: Place, tables: dict[str, Any]) -> list[str]:
    slot = slot_at(place, tables)
    if slot is None or not slot.models:
        return []
    return list(slots(model_of(slot, value_at(place, tables))))


def _length_is_right(place: Place, tables: dict[str, Any]) -> bool:
    slot, value = slot_at(place, tables), value_at(place, tables)
    mark = slot.mark if slot else None
    return (
        isinstance(mark, Items)
        and isinstance(value, list)
        and (mark.low <= len(value) <= mark.high)
    )


def _missing(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot, path = slot_at(place, tables) or Slot(str), path_text(place)
    if slot.models:
        key = [slot.mark.key] if isinstance(slot.mark, Choice) else _required(slot.models[0])
        return Fault(path, "missing", f"a table [{path}]", f"add it with {', '.join(key)}")
    if slot.item is not None and slot.item.models:
        needed = ", ".join(_required(slot.item.models[0]))
        return Fault(path, "missing", f"tables [[{path}]]", f"add one with {needed}")
    meaning, example = meaning_of(slot), example_of(slot)
    allowed = allowed_words(slot) + (f" ({meaning})" if meaning else "")
    return Fault(path, "missing", allowed, f"add: {place[-1]} = {example}" if example else "")


def _required(model: type) -> list[str]:
    return [
        field.name
        for field in fields(model)
        if field.default is MISSING and field.default_factory is MISSING
    ]


def _unknown_key(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    keys = _keys(place[:-1], tables)
    remedy = nearest(place[-1], keys)
    return Fault(path_text(place), "no such key", ", ".join(keys[:KEYS_SHOWN]), remedy)


def _choice(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot = slot_at(place, tables) or Slot(str)
    given = detail["input"]
    remedy = nearest(given, get_args(slot.type)) if isinstance(given, str) else ""
    return Fault(path_text(place), quoted(given), allowed_words(slot), remedy)


def _which_model(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot = slot_at(place, tables)
    if slot is None or not isinstance(slot.mark, Choice):
        return _wrong_type(place, detail, tables)
    key = slot.mark.key
    words = [word for model in slot.models for word in get_args(slots(model)[key].type)]
    allowed = ", ".join(f'"{word}"' for word in words)
    path = path_text((*place, key))
    given = value_at((*place, key), tables)
    if given is None:
        return Fault(path, "missing", allowed, f'add: {key} = "{words[0]}"')
    return Fault(path, quoted(given), allowed, nearest(given, words))


def _refused(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    error = detail.get("ctx", {}).get("error")
    if isinstance(error, QuantityError):
        return Fault(path_text(place), error.given, error.allowed, error.remedy)
    what, _, allowed = str(error).partition("; allowed: ")
    if what.startswith("it is "):
        return Fault(path_text(place), quoted(detail["input"]), allowed)
    named = re.fullmatch(r"(\w+) (?:is|has) (.*)", what, re.DOTALL)
    table = detail["input"]
    if named and isinstance(table, dict) and named[1] in _keys(place, tables):
        # The model speaks SI; the file's own words are better.
        own = table.get(named[1])
        given = quoted(own) if isinstance(own, str) else named[2]
        for key in (key for key in table if f" {key}, " in allowed):
            allowed = f"{allowed.partition(f' {key}, ')[0]} {key}, {quoted(table[key])}"
        return Fault(path_text((*place, named[1])), given, allowed)
    return Fault(path_text(place), what, allowed)


def _bounds(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot = slot_at(place, tables) or Slot(int)
    return Fault(path_text(place), quoted(detail["input"]).strip('"'), allowed_words(slot))


def _length(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot, value = slot_at(place, tables), value_at(place, tables)
    mark = slot.mark if slot else None
    if not isinstance(mark, Items):
        return _wrong_type(place, detail, tables)
    count = len(value) if isinstance(value, list) else 0
    allowed = f"{mark.low}" if mark.low == mark.high else f"{mark.low} to {mark.high}"
    given = f"{count} item{'s' if count != 1 else ''}"
    return Fault(path_text(place), given, f"{allowed} ({mark.meaning})")


def _wrong_type(place: Place, detail: ErrorDetails, tables: dict[str, Any]) -> Fault:
    slot, given = slot_at(place, tables) or Slot(str), detail["input"]
    remedy = ""
    if isinstance(given, dict):
        what = "a table"
    elif isinstance(given, list):
        what = "an array"
    elif isinstance(given, bool):
        what = str(given).lower()
    else:
        what = quoted(given) if isinstance(given, str) else quoted(given).strip('"')
    if slot.item is not None and slot.item.models and isinstance(given, dict):
        remedy = f"write [[{path_text(place)}]] with two brackets"
    elif slot.models and isinstance(given, list):
        remedy = f"write [{path_text(place)}] with one bracket, once"
    elif slot.type is int and isinstance(given, str) and given.strip().isdecimal():
        remedy = f"write {given.strip()[:20]} without quotes"
    elif slot.type is str and isinstance(given, int | float) and not isinstance(given, bool):
        remedy = f'write "{given}" in quotes'[:60]
    return Fault(path_text(place), what, allowed_words(slot), remedy)


TELLERS: dict[str, Callable[[Place, ErrorDetails, dict[str, Any]], Fault]] = {
    "missing": _missing,
    "unexpected_keyword_argument": _unknown_key,
    "literal_error": _choice,
    "union_tag_invalid": _which_model,
    "union_tag_not_found": _which_model,
    "value_error": _refused,
    "greater_than_equal": _bounds,
    "less_than_equal": _bounds,
    "too_short": _length,
    "too_long": _length,
}
"""One function for each kind of error that pydantic tells apart here."""
