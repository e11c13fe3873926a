"""The states of a job: listed, held against each other."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from noonwater.app.compare_results import findings_moved, yearly
from noonwater.app.desk import Headline, View
from noonwater.app.field_words import field_name
from noonwater.app.job_edit import changed_fields, field_typed
from noonwater.app.job_place import place_of
from noonwater.app.store import Mark
from noonwater.core.finding import Finding

TOGETHER = datetime.timedelta(minutes=10)
"""Edits of one page within this time are one line of the list."""


@dataclass(frozen=True)
class Line:
    """Neighbouring states that one page made within ten minutes.

    Attributes
    ----------
    first, last : Mark
        The oldest and the newest of them.
    fields : tuple of str
        What was changed, each once, in the order of the changes.
    """

    first: Mark
    last: Mark
    fields: tuple[str, ...]


@dataclass(frozen=True)
class Differing:
    """A field that differs between two states: its name for people, its path, both texts."""

    name: str
    field: str
    before: str
    after: str


@dataclass(frozen=True)
class Moved:
    """Two states held against each other.

    Attributes
    ----------
    fields : tuple of Differing
        What was typed otherwise.
    before, after : Headline
        The figures that are always in view.
    days : (float or None, float or None)
        Hours at the target over the year, over 24. [d]
    new, gone : tuple of Finding
        Findings that the later state has and the earlier hasn't, and the other way round.
    """

    fields: tuple[Differing, ...]
    before: Headline
    after: Headline
    days: tuple[float | None, float | None]
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]


def lines_of(marks: Sequence[Mark]) -> list[Line]:
    """Gather states into lines, the newest first.

    Parameters
    ----------
    marks : sequence of Mark
        The newest first.

    Returns
    -------
    list of Line
        A line starts with its oldest state and spans ten minutes at most; a state that no page
        made (begun, copied, gone back to) stands alone.
    """
    groups: list[list[Mark]] = []
    for mark in sorted(marks, key=lambda mark: mark.number):
        if groups and _belongs(groups[-1][0], mark):
            groups[-1].append(mark)
        else:
            groups.append([mark])
    return [_line(group) for group in reversed(groups)]


def moved_between(before: View, after: View) -> Moved:
    """Hold two states against each other: what was typed, and what came of it."""
    one, other = before.state.tables, after.state.tables
    fields = changed_fields(one, other)
    new, gone = _findings(before, after)
    return Moved(
        fields=tuple(
            Differing(
                _name(field, after), field, field_typed(one, field), field_typed(other, field)
            )
            for field in fields
        ),
        before=before.headline,
        after=after.headline,
        days=(_days(before), _days(after)),
        new=new,
        gone=gone,
    )


def _belongs(first: Mark, mark: Mark) -> bool:
    if not first.tab or first.tab != mark.tab:
        return False
    since = datetime.datetime.fromisoformat(mark.made) - datetime.datetime.fromisoformat(first.made)
    return since <= TOGETHER


def _line(group: Sequence[Mark]) -> Line:
    fields = dict.fromkeys(word for mark in group for word in mark.words.split(", "))
    return Line(group[0], group[-1], tuple(fields))


def _name(field: str, view: View) -> str:
    place = place_of(field)
    return field_name(place, view.state.tables) if place else field


def _days(view: View) -> float | None:
    year = view.studied.year
    hours = yearly(year)["hours_at_target"] if year is not None else None
    return None if hours is None else hours / 24.0


def _findings(before: View, after: View) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    return findings_moved(before.studied.findings, after.studied.findings)
