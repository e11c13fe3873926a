"""Fields as a ruled schedule: name, what was typed, unit, and what there is to say about it.

The rows come from the job's models, so a field that the job gains is on its sheet the same day.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import htpy as h
from markupsafe import Markup

from noonwater.app.bare_number import currency_of, with_unit
from noonwater.app.desk import View
from noonwater.app.field_names import names_for
from noonwater.app.field_words import item_name, name_of
from noonwater.app.job_edit import value_text
from noonwater.app.job_place import is_optional, most_items, place_of
from noonwater.app.job_tables import Place, Slot, model_of, path_text, slot_at, slots, value_at
from noonwater.web.fault_words import fault_words
from noonwater.web.field_control import control, is_long, toggles_of
from noonwater.web.field_shown import Shown, identity_of

MOST_IN_ONE = 26
"""Letters of a choice; a longer one takes the room of two fields."""
KEPT = 4096
"""Rows, of 1 kB each."""


def typed_with_unit(field: str, text: str, view: View) -> str:
    """Give a bare number the unit that stands in its row's column; all else stays as typed."""
    return with_unit(field, text, view.state.tables, view.system)


def schedule(view: View, place: Place, keys: Sequence[str] = (), title: str = "") -> h.Element:
    """Lay out the plain fields of one table.

    Parameters
    ----------
    view : View
        The job.
    place : Place
        Of the table.
    keys : sequence of str
        Fields, in this order; all plain ones where empty.
    title : str
        Above the rows.
    """
    holder, model = _table_at(view, place)
    known = slots(model)
    wanted = keys or [key for key, inner in known.items() if is_plain(inner)]
    rows = [row(_shown(view, (*place, key), holder, model)) for key in wanted if key in known]
    identity = identity_of((*place, keys[0])) if keys else identity_of(place)
    return h.fieldset(class_="schedule", id=f"s-{identity}")[
        h.legend[title] if title else None,
        h.div(class_="rows")[rows],
        _table_faults(view, place),
    ]


def items(view: View, place: Place, name: str = "", keys: Sequence[str] = ()) -> h.Element:
    """Lay out an array of tables: a schedule an item, with ways to add and take out.

    Parameters
    ----------
    view : View
        The job.
    place : Place
        Of the array.
    name : str
        Of one item; as its words are if left out.
    keys : sequence of str
        Fields of an item, in this order; all of them, and the lists and tables in it, where empty.
    """
    slot = slot_at(place, view.state.tables)
    found = value_at(place, view.state.tables)
    count = len(found) if isinstance(found, list) else 0
    path, word = path_text(place), (name or item_name(place)).lower()
    more = slot is not None and count < most_items(slot)
    return h.section(class_="items", id=f"i-{identity_of(place)}")[
        [
            h.div(class_="item")[
                schedule(view, (*place, number), keys, f"{word.capitalize()} {number + 1}"),
                inner(view, (*place, number)) if not keys else None,
                _take_out(f"{path}[{number}]", f"{word} {number + 1}"),
            ]
            for number in range(count)
        ],
        h.button(type="button", data_add=path)[f"Add {word}"] if more else None,
        _table_faults(view, place),
    ]


def inner(view: View, place: Place, besides: Sequence[str] = ()) -> h.Fragment:
    """Lay out the tables and lists of tables that lie in a table.

    Parameters
    ----------
    view : View
        The job.
    place : Place
        Of the table.
    besides : sequence of str
        Keys that are laid out elsewhere.
    """
    return h.fragment[
        [
            part(view, (*place, key))
            for key, slot in slots(_table_at(view, place)[1]).items()
            if not is_plain(slot) and key not in besides
        ]
    ]


def part(view: View, place: Place) -> h.Element:
    """Lay out one table or list of tables, whole."""
    slot = slot_at(place, view.state.tables)
    if slot is not None and slot.item is not None:
        return items(view, place)
    word, path = item_name(place), path_text(place)
    if is_optional(place, view.state.tables) and value_at(place, view.state.tables) is None:
        return h.section(class_="items", id=f"i-{identity_of(place)}")[
            h.button(type="button", data_add=path)[f"Add {word}"]
        ]
    return h.div(class_="item")[
        schedule(view, place, title=word.capitalize()),
        inner(view, place),
        _take_out(path, word) if is_optional(place, view.state.tables) else None,
    ]


@lru_cache(maxsize=KEPT)
def row(shown: Shown) -> Markup:
    """Write one row of a schedule."""
    # Most rows of a sheet stay as they are when one is edited.
    faults, identity = shown.faults, shown.identity
    plain = not is_long(shown.slot) and (shown.mark is None or shown.names)
    roomy = any(len(words) > MOST_IN_ONE for _, words in shown.options)
    classes = ["row", "long" if is_long(shown.slot) else "plain" if plain else ""]
    classes.append("roomy" if roomy else "")
    name = name_of(shown.key, shown.slot, shown.model)
    return Markup(
        h.div(class_=" ".join(filter(None, (*classes, "wrong" if faults else ""))))[
            h.span(class_="label", id=f"l-{identity}")[name]
            if toggles_of(shown.slot)
            else h.label(for_=f"f-{identity}")[name],
            control(shown),
            h.span(class_="unit")[shown.unit] if shown.mark else None,
            h.span(class_="note", id=f"n-{identity}", role="status" if faults else None)[
                [h.span[fault_words(fault, {})] for fault in faults] if faults else shown.reading
            ],
        ]
    )


def is_plain(slot: Slot) -> bool:
    """Whether a field holds one value, or a list of values, and no table."""
    return not slot.models and not (slot.item is not None and slot.item.models)


def has_row(field: str, view: View) -> bool:
    """Whether a field has a row of its own, where its faults are told."""
    place = place_of(field)
    slot = slot_at(place, view.state.tables) if place else None
    return slot is not None and is_plain(slot)


def anchor(field: str, view: View) -> str:
    """Id on a page of what a field or table is shown in."""
    place = place_of(field)
    if not place:
        return ""
    slot = slot_at(place, view.state.tables)
    if slot is None or is_plain(slot):
        return f"f-{identity_of(place)}"
    absent = value_at(place, view.state.tables) is None and is_optional(place, view.state.tables)
    return f"{'i' if slot.item is not None or absent else 's'}-{identity_of(place)}"


def _table_at(view: View, place: Place) -> tuple[Slot, type[Any]]:
    slot = slot_at(place, view.state.tables)
    if slot is None or not slot.models:
        raise LookupError(place)
    return slot, model_of(slot, value_at(place, view.state.tables))


def _shown(view: View, place: Place, holder: Slot, model: type[Any]) -> Shown:
    return Shown(
        place,
        holder,
        model,
        typed=value_text(value_at(place, view.state.tables)),
        system=view.system,
        currency=currency_of(view.state.tables),
        names=names_for(view, place),
        faults=tuple(view.faults_by_field.get(path_text(place), ())),
    )


def _take_out(path: str, word: str) -> h.Element:
    return h.button(type="button", class_="quiet", data_remove=path, aria_label=f"Take out {word}")[
        "Take out"
    ]


def _table_faults(view: View, place: Place) -> h.Element | None:
    """Faults of a table or of fields that have no row."""
    own = view.faults_by_field.get(path_text(place), [])
    if not own:
        return None
    return h.p(class_="wrong", role="status")[
        [h.span[fault_words(fault, view.state.tables)] for fault in own]
    ]
