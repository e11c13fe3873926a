"""Fields as a ruled schedule: name, what was typed, unit, and what there is to say about it.

The rows come from the job's models, so a field that the job gains is on its sheet the same day.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, Literal, get_args, get_origin

import htpy as h

from noonwater.app.desk import View
from noonwater.app.field_words import field_name
from noonwater.app.job_edit import value_text
from noonwater.app.job_place import most_items, place_of
from noonwater.app.job_tables import (
    Place,
    Slot,
    model_of,
    path_text,
    slot_at,
    slots,
    value_at,
)
from noonwater.core.errors import Fault
from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, in_system, read_quantity, unit_label

NUMBER_ONLY = re.compile(r"\s*[-+−]?\s*(\d[\d\s/.½¼¾]*|\.\d+)\s*")
WIDE = 24
"""[characters] Longer choices get a wider field."""


def typed_with_unit(field: str, text: str, view: View) -> str:
    """Give a bare number the unit that stands in its row's column; all else stays as typed.

    Parameters
    ----------
    field : str
        Path.
    text : str
        As typed.
    view : View
        Says which units the job shows.
    """
    place = place_of(field)
    slot = slot_at(place, view.state.tables) if place else None
    if slot is None or not isinstance(slot.mark, Quantity) or not NUMBER_ONLY.fullmatch(text):
        return text
    return f"{text.strip()} {_plain_unit(slot.mark, view.system)}".strip()


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
    slot = slot_at(place, view.state.tables)
    if slot is None or not slot.models:
        raise LookupError(place)
    known = slots(model_of(slot, value_at(place, view.state.tables)))
    wanted = keys or [key for key, inner in known.items() if is_plain(inner)]
    rows = [row(view, (*place, key), known[key]) for key in wanted if key in known]
    return h.fieldset(class_="schedule", id=f"s-{_id(place)}")[
        h.legend[title] if title else None,
        rows,
        _table_faults(view, place),
    ]


def items(view: View, place: Place, name: str, keys: Sequence[str] = ()) -> h.Element:
    """Lay out an array of tables: a schedule an item, with ways to add and take out."""
    slot = slot_at(place, view.state.tables)
    found = value_at(place, view.state.tables)
    count = len(found) if isinstance(found, list) else 0
    path = path_text(place)
    more = slot is not None and count < most_items(slot)
    return h.section(class_="items", id=f"i-{_id(place)}")[
        [
            h.div(class_="item")[
                schedule(view, (*place, number), keys, f"{name} {number + 1}"),
                h.button(
                    type="button",
                    class_="quiet",
                    data_remove=f"{path}[{number}]",
                    aria_label=f"Take out {name.lower()} {number + 1}",
                )["Take out"],
            ]
            for number in range(count)
        ],
        h.button(type="button", data_add=path)[f"Add {name.lower()}"] if more else None,
        _table_faults(view, place),
    ]


def row(view: View, place: Place, slot: Slot) -> h.Element:
    """One row of a schedule."""
    field = path_text(place)
    typed = value_text(value_at(place, view.state.tables))
    faults = view.faults_by_field.get(field, [])
    unit, value = _split_unit(typed, slot, view.system)
    note = _reading(typed, slot, view.system) if not faults else ""
    name, identity = field_name(place, view.state.tables), f"f-{_id(place)}"
    described = f"n-{_id(place)}"
    return h.div(class_="row wrong" if faults else "row")[
        h.label(for_=identity)[name],
        _control(slot, field, identity, value, described, wrong=bool(faults), view=view),
        h.span(class_="unit")[unit],
        h.span(class_="note", id=described, role="status" if faults else None)[
            [_fault_words(fault) for fault in faults] if faults else note
        ],
    ]


def is_plain(slot: Slot) -> bool:
    """Whether a field holds one value, or a list of values, and no table."""
    return not slot.models and not (slot.item is not None and slot.item.models)


def _control(
    slot: Slot, field: str, identity: str, value: str, described: str, *, wrong: bool, view: View
) -> h.Node:
    common: dict[str, Any] = {
        "id": identity,
        "name": field,
        "data-field": field,
        "aria-describedby": described,
        "aria-invalid": "true" if wrong else None,
    }
    choices = _choices(slot)
    if choices:
        blank = [] if value in choices else [value]
        return h.select(common)[
            [
                h.option(value=choice, selected=choice == value)[choice or "as usual"]
                for choice in [*blank, *choices]
            ]
        ]
    default = _default(view, field, slot)
    return h.input(
        common,
        type="text",
        value=value,
        placeholder=default,
        autocomplete="off",
        spellcheck="false",
        inputmode="decimal" if isinstance(slot.mark, Quantity) else None,
    )


def _choices(slot: Slot) -> list[str]:
    if slot.type is bool:
        return ["true", "false"]
    if get_origin(slot.type) is Literal:
        return [str(choice) for choice in get_args(slot.type)]
    return []


def _default(view: View, field: str, slot: Slot) -> str:
    """What holds where nothing is typed."""
    value: Any = view.job
    for name, number in re.findall(r"([A-Za-z_]\w*)|\[(\d+)\]", field):
        if number:
            value = value[int(number)] if int(number) < len(value) else None
        else:
            value = getattr(value, name, None)
    if value is None or value in ((), ""):
        return ""
    if isinstance(slot.mark, Quantity):
        return _rounded(in_system(float(value), slot.mark.kind, view.system))
    if isinstance(value, tuple):
        return ", ".join(str(each) for each in value)
    return str(value)


def _split_unit(typed: str, slot: Slot, system: System) -> tuple[str, str]:
    """Unit for the column, and the text for the field."""
    if not isinstance(slot.mark, Quantity):
        return "", typed
    unit = _plain_unit(slot.mark, system)
    label = unit_label(slot.mark.kind, system)
    for ending in filter(None, (unit, label)):
        number = typed.removesuffix(ending).strip()
        if typed.endswith(ending) and NUMBER_ONLY.fullmatch(number):
            return label, number
    return (label if not typed else ""), typed


def _reading(typed: str, slot: Slot, system: System) -> str:
    """What a quantity typed in another unit is in the job's own."""
    if not typed or not isinstance(slot.mark, Quantity):
        return ""
    mark = slot.mark
    unit, _ = _split_unit(typed, slot, system)
    if unit or mark.kind not in KINDS:
        return ""
    try:
        value = in_system(read_quantity(typed, mark), mark.kind, system)
    except QuantityError:
        return ""
    label = unit_label(mark.kind, system)
    return f"= {_rounded(value)}{'' if label == '°' else ' '}{label}"


def _rounded(value: float) -> str:
    return f"{value:.4g}" if abs(value) < 10_000 else f"{value:,.0f}"


def _plain_unit(mark: Quantity, system: System) -> str:
    label = unit_label(mark.kind, system)
    return "deg" if label == "°" else label.replace("²", "2").replace("³", "3")


def _fault_words(fault: Fault) -> h.Element:
    remedy = f" {fault.remedy}" if fault.remedy else ""
    return h.span[f"{fault.given}. Allowed: {fault.allowed}.{remedy}"]


def _table_faults(view: View, place: Place) -> h.Element | None:
    """Faults of a table or of fields that have no row."""
    own = view.faults_by_field.get(path_text(place), [])
    if not own:
        return None
    return h.p(class_="wrong", role="status")[[_fault_words(fault) for fault in own]]


def place_id(field: str) -> str:
    """Name of a field in a page's addresses."""
    place = place_of(field)
    return _id(place) if place else ""


def _id(place: Place) -> str:
    return "-".join(str(step) for step in place)
