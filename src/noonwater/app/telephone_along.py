"""What a page for the telephone holds where there is no desk: bands by state, what causes show."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from noonwater.app.desk import View, months_open
from noonwater.app.telephone import Call, CallWish, answer_call, states_to_run
from noonwater.app.telephone_table import (
    SUNNY,
    cause_words,
    readings_along,
    rules_of_weighing,
    state_table,
)
from noonwater.app.telephone_words import OFTEN, expected_words, shown, unit_of
from noonwater.app.text import MONTH_NAMES
from noonwater.core.units import System

if TYPE_CHECKING:
    from noonwater.field.cause import Cause
    from noonwater.field.expected import Case
    from noonwater.field.reading import Reading

NOON = CallWish(hour=13, sky="clear")
"""The rise is told for a clear day at this hour, standard time, month by month."""
SHOWN = ("gauge", "flow", "power", "felt", "air", "lid", "diverter")
"""Readings that each cause is told by, where the system has them."""


@dataclass(frozen=True)
class AlongRow:
    """A reading of one state.

    Attributes
    ----------
    key, words, unit, expected : str
        As on the sheet.
    choices : tuple of str
        What can be seen.
    """

    key: str
    words: str
    unit: str
    expected: str
    choices: tuple[str, ...]


@dataclass(frozen=True)
class AlongCause:
    """A cause in words, and what it shows in each column."""

    name: str
    changes: str
    check: str
    remedy: str
    caution: str
    shows: tuple[str, ...]


@dataclass(frozen=True)
class Along:
    """All that the page holds.

    Attributes
    ----------
    states : tuple
        Each state with its readings.
    skies : tuple of str
        To choose from.
    held : dict
        What the page weighs by: a table for each state, words of all causes, rules.
    month_heads, months : tuple
        What a clear day shows, month by month.
    cause_heads : tuple of str
        Readings that each cause is told by.
    causes : tuple of AlongCause
        All that this system can have.
    """

    states: tuple[tuple[str, tuple[AlongRow, ...]], ...]
    skies: tuple[str, ...]
    held: dict[str, Any]
    month_heads: tuple[str, ...]
    months: tuple[tuple[str, ...], ...]
    cause_heads: tuple[str, ...]
    causes: tuple[AlongCause, ...]


def along_of(view: View) -> Along | None:
    """Gather what the page holds; None where the job has no flow or no year."""
    if view.studied.year is None:
        return None
    from noonwater.field.moment import SKIES

    system, names = view.system, states_to_run(view.job)
    by_sky = [
        {sky: answer_call(view.job, CallWish(state=name, sky=sky)) for sky in ("", *SKIES)}
        for name in names
    ]
    calls = [each[""] for each in by_sky]
    main = answer_call(view.job, replace(NOON, state=names[0]))
    columns = [each for each in main.known.readings if each.key in SHOWN]
    sunny = [each for each in main.known.readings if each.key in SUNNY]
    return Along(
        tuple((each.state, _rows(each, system)) for each in calls),
        SKIES,
        {
            "tables": [state_table(each, system) for each in by_sky],
            "causes": cause_words([cause for call in calls for cause in call.known.causes]),
            "rules": rules_of_weighing(),
        },
        tuple(_head(each, system) for each in sunny),
        tuple(_month(view, month, sunny) for month in months_open(view.job)),
        tuple(each.words for each in columns),
        tuple(
            AlongCause(
                cause.name,
                cause.changes,
                cause.check,
                cause.remedy,
                cause.caution,
                tuple(_shows(main, cause, each, system) for each in columns),
            )
            for cause in main.known.causes
            if cause.key != "none"
        ),
    )


def _rows(call: Call, system: System) -> tuple[AlongRow, ...]:
    right = call.right.expected
    return tuple(
        AlongRow(
            each.key,
            each.words,
            unit_of(each, system),
            expected_words(each, right.get(each.key), system),
            each.choices,
        )
        for each in readings_along(call)
    )


def _head(reading: Reading, system: System) -> str:
    unit = unit_of(reading, system)
    return f"{reading.words}, {unit}" if unit else reading.words


def _month(view: View, month: int, sunny: Sequence[Reading]) -> tuple[str, ...]:
    right = answer_call(view.job, replace(NOON, month=month)).right.expected
    cells = (expected_words(each, right.get(each.key), view.system) for each in sunny)
    return (MONTH_NAMES[month - 1], *cells)


def _shows(call: Call, cause: Cause, reading: Reading, system: System) -> str:
    """What a cause makes a reading show, from its least degree to its worst."""
    from noonwater.field.expected import Normal

    cases = [case for case in call.cases if case.cause == cause.key]
    if not reading.choices:
        means = [
            found.mean
            for case in cases
            if isinstance(found := case.expected.get(reading.key), Normal)
        ]
        # A gauge, a meter or a display shows nothing below nothing.
        ends = [shown(max(each, 0.0), reading.kind, system) for each in (min(means), max(means))]
        band = ends[0] if ends[0] == ends[1] else " to ".join(ends)
        return f"{band} {unit_of(reading, system)}"
    return " or ".join(
        choice
        for n, choice in enumerate(reading.choices)
        if max(_chance(case, reading.key, n) for case in cases) >= OFTEN
    )


def _chance(case: Case, key: str, choice: int) -> float:
    found = case.expected.get(key)
    return found[choice] if isinstance(found, tuple) else 0.0
