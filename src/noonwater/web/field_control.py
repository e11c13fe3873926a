"""What a field is typed or chosen in: a line, a choice, a group of toggles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import MISSING
from typing import Any, Literal, get_args, get_origin

import htpy as h

from noonwater.app.job_edit import value_text
from noonwater.app.job_tables import Slot
from noonwater.app.text import MONTH_NAMES
from noonwater.core.field import Whole
from noonwater.web.field_shown import Shown

MOST_TOGGLES = 12
MONTHS = "months"
"""How the keys of lists of months end."""


def control(shown: Shown) -> h.Node:
    """Give what a field is typed or chosen in."""
    options = shown.options
    if options:
        return _select(shown, options)
    given = toggles_of(shown.slot)
    if given:
        return _toggles(shown, given)
    usual = shown.usual_text
    return h.input(
        _common(shown),
        {"data-field": shown.path},
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


def _common(shown: Shown) -> dict[str, Any]:
    return {
        "id": f"f-{shown.identity}",
        "name": shown.path,
        "aria-describedby": f"n-{shown.identity}",
        "aria-invalid": "true" if shown.faults else None,
    }


def _keys(slot: Slot) -> str | None:
    # A telephone's pad of digits has no "m", ":" or "-": any other field needs the whole keyboard.
    return "numeric" if isinstance(slot.mark, Whole) and slot.mark.low >= 0 else None


def _select(shown: Shown, options: Sequence[tuple[str, str]]) -> h.Element:
    value = shown.value
    usual = shown.usual_text
    free = shown.usual is not MISSING
    first = []
    if free or not value:
        first = [("", f"as usual: {usual}" if usual else "as usual" if free else "choose")]
    known = {name for name, _ in options}
    other = [(value, value)] if value and value not in known else []
    return h.select(_common(shown), {"data-field": shown.path})[
        [
            h.option(value=name, selected=name == value)[words]
            for name, words in (*first, *options, *other)
        ]
    ]


def _toggles(shown: Shown, given: Sequence[str]) -> h.Element:
    typed = bool(shown.value)
    usual = shown.usual
    text = shown.value or value_text(list(usual) if isinstance(usual, tuple) else None)
    chosen = {part.strip() for part in text.split(",")}
    common = _common(shown)
    common.pop("name")
    common.pop("aria-invalid")
    months = shown.key.endswith(MONTHS)
    return h.div(
        common,
        {"data-list": shown.path, "aria-labelledby": f"l-{shown.identity}"},
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
