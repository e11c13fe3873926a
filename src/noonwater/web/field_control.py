"""What a field is typed or chosen in: a line, a choice, a group of toggles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import MISSING, dataclass
from typing import Any, Literal, get_args, get_origin

import htpy as h

from noonwater.app.desk import View
from noonwater.app.field_names import Name
from noonwater.app.job_edit import value_text
from noonwater.app.job_place import usual_value
from noonwater.app.job_tables import Place, Slot, path_text, slot_at, slots
from noonwater.app.text import MONTH_NAMES
from noonwater.core.field import Choice, Whole
from noonwater.core.quantity import Quantity
from noonwater.core.units import System, in_system

MOST_TOGGLES = 12
MONTHS = "months"
"""How the keys of lists of months end."""
YES_NO = {"true": "yes", "false": "no"}


@dataclass(frozen=True)
class Shown:
    """A field as its row shows it.

    Attributes
    ----------
    place : Place
        Where it lies.
    slot : Slot
        What it takes.
    identity : str
        Its id on the page.
    value : str
        As typed, without the unit of its column.
    names : tuple of Name
        That it can hold; none where it takes any text.
    wrong : bool
        Whether what was typed is refused.
    """

    place: Place
    slot: Slot
    identity: str
    value: str
    names: tuple[Name, ...] = ()
    wrong: bool = False

    @property
    def field(self) -> str:
        """Its path."""
        return path_text(self.place)


def control(view: View, shown: Shown) -> h.Node:
    """Give what a field is typed or chosen in."""
    options = _options(view, shown)
    if options:
        return _select(view, shown, options)
    given = toggles_of(shown.slot)
    if given:
        return _toggles(view, shown, given)
    usual = usual_text(view, shown.place, shown.slot)
    return h.input(
        _common(shown),
        {"data-field": shown.field},
        type="text",
        value=shown.value,
        placeholder=f"{usual} as usual" if usual else None,
        autocomplete="off",
        spellcheck="false",
        inputmode=_keys(shown.slot),
    )


def toggles_of(slot: Slot) -> tuple[str, ...]:
    """All that can be in a list of a few choices; none for other fields."""
    item = slot.item
    if item is None:
        return ()
    if get_origin(item.type) is Literal:
        return tuple(str(choice) for choice in get_args(item.type))
    mark = item.mark
    if isinstance(mark, Whole) and mark.high - mark.low < MOST_TOGGLES:
        return tuple(str(number) for number in range(mark.low, mark.high + 1))
    return ()


def is_long(slot: Slot) -> bool:
    """Whether a field needs the whole width of its row: a list."""
    return slot.item is not None


def usual_text(view: View, place: Place, slot: Slot) -> str:
    """What holds where nothing is typed, in the job's units; empty where nothing does."""
    value = usual_value(place, view.state.tables)
    if value is MISSING or value is None or value == "":
        return ""
    return _words(value, slot, view.system)


def _words(value: Any, slot: Slot, system: System) -> str:
    if isinstance(value, tuple):
        inner = slot.item or slot
        return ", ".join(_words(each, inner, system) for each in value)
    if isinstance(slot.mark, Quantity):
        return rounded(in_system(float(value), slot.mark.kind, system))
    text = str(value).lower() if isinstance(value, bool) else str(value)
    return YES_NO.get(text, text)


def rounded(value: float) -> str:
    """Print a number of a field's usual value or reading."""
    return f"{value + 0.0:.4g}" if abs(value) < 10_000 else f"{value:,.0f}"


def _common(shown: Shown) -> dict[str, Any]:
    return {
        "id": shown.identity,
        "name": shown.field,
        "aria-describedby": f"n-{shown.identity.removeprefix('f-')}",
        "aria-invalid": "true" if shown.wrong else None,
    }


def _keys(slot: Slot) -> str | None:
    # A telephone's pad of digits has no "m", ":" or "-": any other field needs the whole keyboard.
    return "numeric" if isinstance(slot.mark, Whole) and slot.mark.low >= 0 else None


def _options(view: View, shown: Shown) -> list[tuple[str, str]]:
    """Choices of a field, each with its words."""
    if shown.names:
        return [(n.name, f"{n.name} ({n.words})" if n.words else n.name) for n in shown.names]
    if shown.slot.type is bool:
        return list(YES_NO.items())
    return [(choice, choice) for choice in _literals(view, shown)]


def _literals(view: View, shown: Shown) -> list[str]:
    holder = slot_at(shown.place[:-1], view.state.tables)
    mark, key = holder.mark if holder is not None else None, shown.place[-1]
    if holder is not None and isinstance(mark, Choice) and mark.key == key:
        return [c for model in holder.models for c in get_args(slots(model)[mark.key].type)]
    if get_origin(shown.slot.type) is Literal:
        return [str(choice) for choice in get_args(shown.slot.type)]
    return []


def _select(view: View, shown: Shown, options: Sequence[tuple[str, str]]) -> h.Element:
    value = shown.value
    usual = usual_text(view, shown.place, shown.slot)
    free = usual_value(shown.place, view.state.tables) is not MISSING
    first = []
    if free or not value:
        first = [("", f"as usual: {usual}" if usual else "as usual" if free else "choose")]
    known = {name for name, _ in options}
    other = [(value, value)] if value and value not in known else []
    return h.select(_common(shown), {"data-field": shown.field})[
        [
            h.option(value=name, selected=name == value)[words]
            for name, words in (*first, *options, *other)
        ]
    ]


def _toggles(view: View, shown: Shown, given: Sequence[str]) -> h.Element:
    typed = bool(shown.value)
    usual = usual_value(shown.place, view.state.tables)
    text = shown.value or value_text(list(usual) if isinstance(usual, tuple) else None)
    chosen = {part.strip() for part in text.split(",")}
    common = _common(shown)
    common.pop("name")
    common.pop("aria-invalid")
    months = shown.field.endswith(MONTHS)
    return h.div(
        common,
        {"data-list": shown.field, "aria-labelledby": f"l-{shown.identity.removeprefix('f-')}"},
        role="group",
        tabindex="-1",
        class_="toggles" if typed else "toggles usual",
    )[
        [
            h.label[
                h.input(type="checkbox", value=name, checked=name in chosen),
                h.span[MONTH_NAMES[int(name) - 1] if months else name],
            ]
            for name in given
        ],
        h.label(class_="usual")[
            h.input(type="checkbox", value="", checked=not typed), h.span["as usual"]
        ],
    ]
