"""The telephone for the desk: what a call comes to, and the calls that were kept."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass

from noonwater.app.desk import View
from noonwater.app.shelf import Shelf
from noonwater.app.telephone import Call, answer_call
from noonwater.app.telephone_kept import keep_call
from noonwater.app.telephone_typed import (
    HOUR,
    HOURS,
    MONTH,
    SKY,
    STATE,
    Typed,
    read_call,
)
from noonwater.app.telephone_words import (
    CauseTold,
    QuestionTold,
    RowTold,
    alike_told,
    causes_told,
    questions_told,
    rows_told,
    told_words,
)
from noonwater.app.text import MONTH_NAMES
from noonwater.core.errors import NoonwaterError

NOW = "now"
"""Field of the page's address that asks for month and hour of this machine's clock."""
SELDOM, OFTEN = 0.2, 0.8
"""[-] Shares of hours that are told as hardly ever and nearly always."""


@dataclass(frozen=True, eq=False)
class CallShown:
    """A call as the sheet shows it.

    Attributes
    ----------
    typed : Typed
        What was typed and what is wrong with it.
    state : str
        That should run.
    states, skies : tuple of str
        To choose from.
    rows : tuple of RowTold
        Readings.
    causes : tuple of CauseTold
        Likeliest first.
    alike : tuple of str
        What can't be told apart.
    questions : tuple of QuestionTold
        What to ask next.
    called : str
        Whether solar runs at such an hour.
    """

    typed: Typed
    state: str
    states: tuple[str, ...]
    skies: tuple[str, ...]
    rows: tuple[RowTold, ...]
    causes: tuple[CauseTold, ...]
    alike: tuple[str, ...]
    questions: tuple[QuestionTold, ...]
    called: str

    @property
    def told(self) -> bool:
        """Whether any reading was told."""
        return bool(self.typed.wish.told)


def call_shown(view: View, texts: Mapping[str, str] | None = None) -> CallShown | None:
    """Answer a call as it is typed; None where the job has no flow or no year.

    Parameters
    ----------
    view : View
        The job.
    texts : mapping of str to str, optional
        By field; what the page's address says where left out.
    """
    found = call_of(view, texts)
    if found is None:
        return None
    from noonwater.app.telephone import states_to_run
    from noonwater.field.moment import SKIES

    typed, call = found
    return CallShown(
        typed,
        call.state,
        states_to_run(view.job),
        SKIES,
        rows_told(call, view.system),
        causes_told(call),
        alike_told(call),
        questions_told(call, view.system),
        _called(call.called),
    )


def at_this_hour(texts: Mapping[str, str], clock: time.struct_time) -> dict[str, str]:
    """What was typed, with month and hour of a clock; summer time is taken off.

    Parameters
    ----------
    texts : mapping of str to str
        By field.
    clock : time.struct_time
        Of the place.
    """
    hour = (clock.tm_hour - (clock.tm_isdst > 0)) % 24
    return {**texts, MONTH: MONTH_NAMES[clock.tm_mon - 1], HOUR: HOURS[hour]}


def _asked(view: View) -> Mapping[str, str]:
    return at_this_hour(view.asked, time.localtime()) if view.asked.get(NOW) else view.asked


def call_of(view: View, texts: Mapping[str, str] | None = None) -> tuple[Typed, Call] | None:
    """Read and answer a call; None where the job has no flow or no year."""
    if view.studied.year is None:
        return None
    try:
        typed = read_call(view.job, _asked(view) if texts is None else texts)
        return typed, answer_call(view.job, typed.wish)
    except NoonwaterError:
        return None


def keep_shown(shelf: Shelf, view: View, texts: Mapping[str, str]) -> Mapping[str, str]:
    """Keep a call with the job; gives what was typed.

    Raises
    ------
    InputError
        For a call of which nothing was told, or one too many.
    """
    found = call_of(view, texts)
    if found is None:
        return {}
    typed, call = found
    best = causes_told(call)[0]
    right = tuple((key, text) for key, text in typed.texts.items() if key not in typed.faults)
    told = told_words(call, right, view.system)
    keep_call(shelf, view.state.job, typed.texts, told, f"{best.name} ({best.word})")
    return typed.texts


def choices_of(shown: CallShown) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    """Fields beside the readings that are chosen: key, words, choices."""
    return (
        (STATE, "should run now", shown.states),
        (MONTH, "month", MONTH_NAMES),
        (HOUR, "hour, standard time", HOURS),
        (SKY, "sun now", shown.skies),
    )


def _called(share: float) -> str:
    if share >= OFTEN:
        return "At such an hour solar nearly always runs in this job's year."
    if share <= SELDOM:
        return (
            "At such an hour solar hardly ever runs in this job's year: the sun is too weak, or "
            "the pool is as warm as wanted."
        )
    return f"At such an hour solar runs in about {round(10 * share)} of 10 of this job's year."
