"""Bare numbers given the unit of the column they were typed in."""

from __future__ import annotations

import re

from noonwater.app.job_place import Tables, place_of
from noonwater.app.job_tables import slot_at, value_at
from noonwater.core.quantity import Quantity
from noonwater.core.units import System, unit_label

NUMBER_ONLY = re.compile(
    r"\s*[-+−–]?\s*([\d½¼¾⅓⅔⅛⅜⅝⅞][\d\s/⁄.½¼¾⅓⅔⅛⅜⅝⅞]*|\.\d+)(?:[eE][+-]?\d{1,3})?\s*"
)
DEGREE = re.compile(r"\s*[°º]\s*")


def with_unit(field: str, text: str, tables: Tables, system: System) -> str:
    """Give a bare number the unit that its field is shown in, in a list each; all else stays.

    Parameters
    ----------
    field : str
        Path.
    text : str
        As typed.
    tables : dict
        Of the job; they tell which of several models a table is.
    system : {"US", "SI"}
        That the job shows.
    """
    place = place_of(field)
    slot = slot_at(place, tables) if place else None
    if slot is not None and slot.item is not None and isinstance(slot.item.mark, Quantity):
        unit = typed_unit(slot.item.mark, system, currency_of(tables))
        return ", ".join(with_usual_unit(part.strip(), unit) for part in text.split(","))
    if slot is None or not isinstance(slot.mark, Quantity):
        return text
    return with_usual_unit(text, typed_unit(slot.mark, system, currency_of(tables)))


def currency_of(tables: Tables) -> str:
    """Currency of a job's prices, as typed."""
    typed = value_at(("money", "currency"), tables)
    return typed if isinstance(typed, str) and typed else "USD"


def with_usual_unit(text: str, unit: str) -> str:
    """Give a bare number a unit; what has one stays."""
    # A degree sign alone says nothing that the column's "°F" doesn't.
    bare = DEGREE.sub("", text) if unit.startswith("°") else text
    return f"{bare.strip()} {unit}".strip() if NUMBER_ONLY.fullmatch(bare) else text


def typed_unit(mark: Quantity, system: System, currency: str = "USD") -> str:
    """A quantity's unit as a keyboard writes it: ft2, deg, USD/kWh."""
    label = unit_label(mark.kind, system)
    plain = "deg" if label == "°" else label.replace("²", "2").replace("³", "3")
    return plain.replace("currency", currency)
