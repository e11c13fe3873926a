"""Places in a job's tables: found by their path, read, set otherwise without touching the rest."""

from __future__ import annotations

import re
from copy import deepcopy
from dataclasses import MISSING, fields
from itertools import pairwise
from typing import Any, get_args

from noonwater.app.job_tables import Place, Slot, model_of, slot_at, slots, value_at
from noonwater.core.field import Choice, Items

Tables = dict[str, Any]
_STEP = re.compile(r"([A-Za-z_][\w-]*)|\[(\d{1,3})\]")
_PATH = re.compile(r"[A-Za-z_][\w-]*(\[\d{1,3}\])?(\.[A-Za-z_][\w-]*(\[\d{1,3}\])?)*")
NOTHING = "none"
"""Typed for a list that holds nothing; an empty text leaves the list to what is usual."""
_TRUE = ("true", "yes", "on")
_FALSE = ("false", "no", "off")


def place_of(path: str) -> Place | None:
    """Read a path as messages write it, "pump.program[0].speed"; None where it is none."""
    if not _PATH.fullmatch(path):
        return None
    steps = (match.groups() for match in _STEP.finditer(path))
    return tuple(name or int(number) for name, number in steps)


def typed_value(text: str, slot: Slot | None) -> Any:
    """What a file would hold for a text that was typed into a field.

    Parameters
    ----------
    text : str
        As typed.
    slot : Slot or None
        What the field takes.

    Returns
    -------
    Any
        A number, truth or list where the field takes one and the text is one; else the text, so
        that the job's checker can say what is wrong with it.
    """
    if slot is None:
        return text
    plain = text.strip()
    if slot.type is bool:
        return True if plain in _TRUE else False if plain in _FALSE else text
    if slot.type is int:
        return int(plain) if re.fullmatch(r"[-+]?\d{1,9}", plain) else text
    if slot.item is not None and not slot.item.models:
        if plain == NOTHING:
            return []
        return [typed_value(part.strip(), slot.item) for part in plain.split(",") if part.strip()]
    return text


def with_text(tables: Tables, place: Place, text: str) -> Tables:
    """Set a field to what was typed; an empty text takes the field out.

    Parameters
    ----------
    tables : dict
        Left as they are.
    place : Place
        Of the field. Tables on the way to it are made.
    text : str
        As typed.

    Returns
    -------
    dict

    Raises
    ------
    LookupError
        When an item on the way isn't there, or no job has such a field.
    """
    slot = slot_at(place, tables)
    if slot is None or slot.models:
        raise LookupError(place)
    tables = deepcopy(tables)
    holder = _holder(tables, place)
    key = place[-1]
    if _chooses(tables, place):
        _change_model(tables, place, text)
    elif text.strip() == "" and isinstance(holder, dict):
        holder.pop(key, None)
    else:
        holder[key] = typed_value(text, slot)
    return tables


def with_item(tables: Tables, place: Place) -> Tables:
    """Add an item to an array of tables, a copy of its last one or an empty one.

    A table that a job may do without is added empty.
    """
    tables = deepcopy(tables)
    if is_optional(place, tables):
        _holder(tables, place).setdefault(place[-1], {})
        return tables
    _known_array(tables, place)
    holder = _holder(tables, place)
    items = holder.get(place[-1])
    if not isinstance(items, list):
        items = holder[place[-1]] = []
    item = deepcopy(items[-1]) if items and isinstance(items[-1], dict) else {}
    if "name" in item:
        item["name"] = _free_name(str(item["name"]), [_name_of(each) for each in items])
    items.append(item)
    return tables


def without_item(tables: Tables, place: Place) -> Tables:
    """Take an item out of an array of tables, or a table that a job may do without."""
    tables = deepcopy(tables)
    if is_optional(place, tables):
        _holder(tables, place).pop(place[-1], None)
        return tables
    _known_array(tables, place[:-1])
    items = value_at(place[:-1], tables)
    number = place[-1]
    if not isinstance(items, list) or not isinstance(number, int) or number >= len(items):
        raise LookupError(place)
    del items[number]
    return tables


def usual_value(place: Place, tables: Tables) -> Any:
    """What a field is where a file says nothing; `dataclasses.MISSING` where it must say."""
    holder, key = slot_at(place[:-1], tables), place[-1]
    if holder is None or not holder.models:
        return MISSING
    return usual_of(model_of(holder, value_at(place[:-1], tables)), str(key))


def usual_of(model: type[Any], key: str) -> Any:
    """What a field of a model is where a file says nothing, as `usual_value`."""
    for field in fields(model):
        if field.name == key:
            made = field.default_factory
            return field.default if made is MISSING else made()
    return MISSING


def is_optional(place: Place, tables: Tables) -> bool:
    """Whether a place is of a table that a job may do without, such as a spa."""
    slot = slot_at(place, tables)
    return slot is not None and bool(slot.models) and usual_value(place, tables) is None


def _name_of(item: object) -> str:
    return str(item.get("name")) if isinstance(item, dict) else ""


def _known_array(tables: Tables, place: Place) -> None:
    slot = slot_at(place, tables)
    if slot is None or slot.item is None or not slot.item.models:
        raise LookupError(place)


def most_items(slot: Slot) -> int:
    """How many items an array takes."""
    return slot.mark.high if isinstance(slot.mark, Items) else 100


def _holder(tables: Tables, place: Place) -> Any:
    """The table or array that a place lies in; tables on the way are made.

    Where a file holds something else on the way, a table takes its place.
    """
    holder: Any = tables
    for step, after in pairwise(place):
        made = list if isinstance(after, int) else dict
        if isinstance(step, int):
            if step >= len(holder):
                raise LookupError(place)
            inside = holder[step]
        else:
            inside = holder.get(step)
        if not isinstance(inside, made):
            inside = holder[step] = made()
        holder = inside
    return holder


def _chooses(tables: Tables, place: Place) -> bool:
    """Whether a field says which of several models its table is."""
    slot = slot_at(place[:-1], tables)
    mark = slot.mark if slot is not None else None
    return isinstance(mark, Choice) and mark.key == place[-1]


def _change_model(tables: Tables, place: Place, text: str) -> None:
    """Choose another model for a table: what both have stays, the rest goes."""
    slot = slot_at(place[:-1], tables)
    table = _holder(tables, place)
    if slot is None:
        raise LookupError(place)
    model = model_of(slot, {place[-1]: text})
    if text not in get_args(slots(model)[str(place[-1])].type):
        table[place[-1]] = text
        return
    kept = {key: value for key, value in table.items() if key in slots(model)}
    table.clear()
    table.update({**kept, place[-1]: text})


def _free_name(name: str, taken: list[str]) -> str:
    stem = re.sub(r"\s+\d+$", "", name)
    numbers = range(2, len(taken) + 3)
    return next(f"{stem} {n}" for n in numbers if f"{stem} {n}" not in taken)
