"""What the job's models say about a field: its type, its mark, its place in a TOML file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from noonwater.core.field import Choice, Items, Text, Whole
from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_text import allowed_quantity
from noonwater.model.job import Job

Mark = Quantity | Whole | Text | Items | Choice | None
Place = tuple[str | int, ...]
"""Where a value lies in a file: keys of tables and numbers of items."""


PLAIN_WORDS = {str: "text in quotes", int: "a whole number", bool: "true or false"}


@dataclass(frozen=True)
class Slot:
    """The declared type of a field or item, without its mark, and the mark."""

    type: Any
    mark: Mark = None

    @property
    def models(self) -> tuple[type[Any], ...]:
        """Models that a table here can be; none where a plain value is wanted."""
        return tuple(type_ for type_ in _members(self.type) if is_dataclass(type_))

    @property
    def item(self) -> Slot | None:
        """What each item is, where this is an array."""
        return slot_of(get_args(self.type)[0]) if get_origin(self.type) is tuple else None


_SLOTS: dict[type[Any], dict[str, Slot]] = {}


def slot_of(annotation: Any) -> Slot:
    """Split an annotation into its type and its mark."""
    members = [part for part in _members(annotation) if part is not type(None)]
    if len(members) == 1:
        annotation = members[0]
    if hasattr(annotation, "__metadata__"):
        marks = [mark for mark in annotation.__metadata__ if isinstance(mark, Mark)]
        return Slot(annotation.__origin__, marks[0] if marks else None)
    return Slot(annotation)


def slots(model: type[Any]) -> dict[str, Slot]:
    """Fields of a model, by key, in their order."""
    if model not in _SLOTS:
        hints = get_type_hints(model, include_extras=True)
        _SLOTS[model] = {field.name: slot_of(hints[field.name]) for field in fields(model)}
    return _SLOTS[model]


def slot_at(place: Sequence[str | int], tables: object) -> Slot | None:
    """Find the declared type of a place; `tables` tells which of several models is meant."""
    slot: Slot | None = Slot(Job)
    value = tables
    for step in place:
        if slot is None:
            return None
        if isinstance(step, int):
            slot = slot.item
        else:
            slot = slots(model_of(slot, value)).get(step) if slot.models else None
        value = _inside(value, step)
    return slot


def model_of(slot: Slot, table: object) -> type[Any]:
    """Which of a slot's models a table is: the one whose key says so, else the first."""
    models: tuple[type[Any], ...] = slot.models
    if isinstance(slot.mark, Choice) and isinstance(table, dict):
        for model in models:
            if table.get(slot.mark.key) in get_args(slots(model)[slot.mark.key].type):
                return model
    return models[0]


def value_at(place: Sequence[str | int], tables: object) -> object:
    """Value at a place of a file; None where nothing lies there."""
    for step in place:
        tables = _inside(tables, step)
    return tables


def path_text(place: Sequence[str | int]) -> str:
    """Write a place as a person finds it: roof[0].pitch."""
    text = ""
    for step in place:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            bare = re.fullmatch(r"[A-Za-z0-9_-]{1,60}", step)
            shown = step if bare else repr(step[:60])
            text += f".{shown}" if text else shown
    return text or "the file"


def allowed_words(slot: Slot) -> str:
    """Say in words what a slot takes."""
    mark = slot.mark
    if isinstance(mark, Quantity | Whole | Text):
        return _mark_words(mark)
    if slot.models:
        keys = {key: None for model in slot.models for key in slots(model)}
        return f"a table with {', '.join(keys)}"
    if slot.item is not None:
        return "tables" if slot.item.models else f"an array, each {allowed_words(slot.item)}"
    if get_origin(slot.type) is Literal:
        return ", ".join(f'"{choice}"' for choice in get_args(slot.type))
    return PLAIN_WORDS.get(slot.type, "another value")


def meaning_of(slot: Slot) -> str:
    """What a field is for, where its mark says so."""
    return slot.mark.meaning if isinstance(slot.mark, Quantity | Whole | Items) else ""


def example_of(slot: Slot) -> str:
    """Give a value for a field as a file writes it; "" where there is no telling."""
    mark = slot.mark
    if isinstance(mark, Quantity):
        return f'"{KINDS[mark.kind].accepted[0]}"'
    if isinstance(mark, Whole):
        return str(max(mark.low, 1))
    if isinstance(mark, Text):
        return f'"{mark.examples[0]}"'
    if get_origin(slot.type) is Literal:
        return f'"{get_args(slot.type)[0]}"'
    return '"..."' if slot.type is str else ""


def _mark_words(mark: Quantity | Whole | Text) -> str:
    if isinstance(mark, Quantity):
        return allowed_quantity(mark)
    if isinstance(mark, Whole):
        return f"a whole number, {mark.low} to {mark.high}"
    return f"{mark.meaning}, such as " + " or ".join(f'"{text}"' for text in mark.examples)


def _members(type_: Any) -> tuple[Any, ...]:
    return get_args(type_) if get_origin(type_) in (Union, UnionType) else (type_,)


def _inside(value: object, step: str | int) -> object:
    if isinstance(value, dict):
        return value.get(step)
    if isinstance(value, list | tuple) and isinstance(step, int) and 0 <= step < len(value):
        return value[step]
    return None
