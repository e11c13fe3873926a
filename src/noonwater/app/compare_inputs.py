"""What two jobs say differently, field by field."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, is_dataclass
from typing import Any

from noonwater.app.job_file import field_text
from noonwater.app.job_tables import Place, Slot, path_text, slots
from noonwater.core.units import System
from noonwater.model.job import Job

LEFT_OUT = "-"
"""How a table shows a field that a job doesn't have."""


@dataclass(frozen=True)
class Change:
    """A field that differs.

    Attributes
    ----------
    field : str
        Its path in a job file.
    before, after : str or None
        As a file writes it, in the first job's units and each job's currency; None where it is
        left out.
    """

    field: str
    before: str | None
    after: str | None


def changes_between(one: Job, other: Job) -> tuple[Change, ...]:
    """List the fields in which two jobs differ.

    Parameters
    ----------
    one, other : Job
        The jobs.

    Returns
    -------
    tuple of Change
        In the order of a job file; items of a list are held against each other by their place.
    """
    currencies = one.money.currency, other.money.currency
    return tuple(_differing((), Slot(Job), one, other, (one.units, currencies)))


def _differing(
    place: Place, slot: Slot, one: Any, other: Any, manner: tuple[System, tuple[str, str]]
) -> Iterator[Change]:
    if one == other:
        return
    if is_dataclass(one) or is_dataclass(other):
        known: dict[str, Slot] = {}
        for each in (one, other):
            known |= {} if each is None else slots(type(each))
        for key, inner in known.items():
            before, after = getattr(one, key, None), getattr(other, key, None)
            yield from _differing((*place, key), inner, before, after, manner)
    elif slot.item is not None and slot.item.models:
        for number in range(max(len(one or ()), len(other or ()))):
            before, after = _item(one, number), _item(other, number)
            yield from _differing((*place, number), slot.item, before, after, manner)
    else:
        mark = slot.item.mark if slot.item is not None else slot.mark
        system, (first, second) = manner
        before, after = _text(one, mark, (system, first)), _text(other, mark, (system, second))
        yield Change(path_text(place), before, after)


def _item(items: Any, number: int) -> Any:
    return items[number] if items and number < len(items) else None


def _text(value: Any, mark: Any, manner: tuple[System, str]) -> str | None:
    if isinstance(value, tuple):
        return ", ".join(str(field_text(item, mark, *manner)) for item in value) or "none"
    return field_text(value, mark, *manner)
