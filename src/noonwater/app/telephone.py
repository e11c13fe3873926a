"""A call: what was told held against every cause that the job's system can have."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.app.desk import studied
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.field.ask import Question
    from noonwater.field.cases import Known
    from noonwater.field.cause import Cause
    from noonwater.field.expected import Case
    from noonwater.field.moment import LikeHours, Moment, RoofYear
    from noonwater.field.weigh import Ranked
    from noonwater.model.circuit import State

SHOWN = 0.05
"""[-] Causes less likely are not held against each other."""


@dataclass(frozen=True)
class CallWish:
    """What is told in a call, in SI.

    Attributes
    ----------
    state : str
        That should run now; the fastest solar one where empty.
    month, hour : int or None
        1 for January; standard time.
    sky : str
        "clear", "thin cloud", "overcast"; empty where it isn't told.
    pool : float or None
        The pool's temperature. [°C]
    told : mapping of str to float or str
        By reading.
    """

    state: str = ""
    month: int | None = None
    hour: int | None = None
    sky: str = ""
    pool: float | None = None
    told: Mapping[str, float | str] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Call:
    """What a call comes to.

    Attributes
    ----------
    wish : CallWish
        What was told.
    state : str
        That should run.
    known : Known
        The job's causes and readings.
    causes : tuple of Cause
        All that is weighed: the job's, and two at once where they might show what was told.
    cases : tuple of Case
        What each cause shows at this hour.
    hours : LikeHours
        Those of the job's year that are like it.
    ranked : tuple of Ranked
        Causes, likeliest first.
    asked : tuple of Question
        What to ask next.
    alike : tuple of (str, str)
        Causes that nothing more that can be told tells apart.
    misfits : tuple of str
        Told readings that no cause explains.
    """

    wish: CallWish
    state: str
    known: Known
    causes: tuple[Cause, ...]
    cases: tuple[Case, ...]
    hours: LikeHours
    ranked: tuple[Ranked, ...]
    asked: tuple[Question, ...]
    alike: tuple[tuple[str, str], ...]
    misfits: tuple[str, ...]

    @property
    def called(self) -> float:
        """Share of such hours in which solar heats. [-]."""
        return self.hours.called

    def cause(self, key: str) -> Cause:
        """Find a cause by its key."""
        return next(cause for cause in self.causes if cause.key == key)

    @property
    def right(self) -> Case:
        """What all readings are where nothing is wrong."""
        return next(case for case in self.cases if case.cause == "right")


def states_to_run(job: Job) -> tuple[str, ...]:
    """Name the states that a system can be meant to be in, solar first."""
    return tuple(state.name for state in _states(job))


def answer_call(job: Job, wish: CallWish) -> Call:
    """Answer a call.

    Parameters
    ----------
    job : Job
        The job.
    wish : CallWish
        What is told.

    Returns
    -------
    Call

    Raises
    ------
    InputError
        A state that the job has not, or why it has no year.
    NotConverged
        When what should run has no answer.
    """
    from noonwater.field.alike import alike
    from noonwater.field.ask import questions
    from noonwater.field.cases import cases_at
    from noonwater.field.moment import like_hours
    from noonwater.field.pairs import pairs_at, with_pairs
    from noonwater.field.weigh import misfits, weigh

    names = states_to_run(job)
    state = wish.state or names[0]
    if state not in names:
        raise InputError([Fault("state", f"'{state[:40]}'", ", ".join(names))])
    known = _known(_as_piped(job), state)
    hours = like_hours(_roof_year(job), _moment(wish))
    alone = cases_at(known, hours)
    pairs = pairs_at(known, hours, alone, wish.told)
    cases = with_pairs(alone, pairs)
    ranked = weigh(cases, known.readings, wish.told)
    likely = [each.cause for each in ranked if each.chance >= SHOWN]
    return Call(
        wish,
        state,
        known,
        (*known.causes, *dict.fromkeys(pair.cause for pair in pairs)),
        cases,
        hours,
        ranked,
        questions(cases, known.readings, wish.told),
        alike(cases, known.readings, wish.told, likely),
        misfits(cases, known.readings, wish.told),
    )


def _moment(wish: CallWish) -> Moment:
    from noonwater.field.moment import SKIES, Moment

    sky = next((each for each in SKIES if each == wish.sky), None)
    return Moment(wish.month, wish.hour, sky, wish.pool)


def _states(job: Job) -> list[State]:
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.hydraulics.states import job_states

    found = [
        state
        for state in job_states(with_speeds(job, job.pool.target))
        if state.speed > 0.0 and not state.name.startswith(("priming", "service", "draining"))
    ]
    return sorted(found, key=lambda state: (not state.solar, -state.speed))


def _as_piped(job: Job) -> Job:
    """What an edit of weather, cover or money leaves alone is solved once."""
    from noonwater.hydraulics.plumbed import plant_only

    return replace(plant_only(job), controls=job.controls)


@lru_cache(maxsize=12)
def _known(job: Job, state: str) -> Known:
    from noonwater.field.cases import know
    from noonwater.field.situation import IN_USE, Subject
    from noonwater.hydraulics.arrangement import fill_circuit
    from noonwater.hydraulics.loop import loop_of
    from noonwater.hydraulics.resting import resting_array
    from noonwater.hydraulics.settings import Settings
    from noonwater.hydraulics.speeds import with_speeds

    temp = job.pool.target
    job = with_speeds(job, temp)
    loop = loop_of(job, fill_circuit(job), temp, Settings(filter_load=IN_USE))
    runs = next(each for each in _states(job) if each.name == state)
    without = replace(job, pad=replace(job.pad, breaker="none"))
    keeps = job.pad.breaker != "none" and not _empties(without)
    return know(Subject(job, loop, runs), temp, resting_array(job).empties, keeps)


def _empties(job: Job) -> bool:
    from noonwater.hydraulics.resting import resting_array

    try:
        return resting_array(job).empties
    except InputError:
        # An edit of parts that needs the breaker: then nothing is said of one stuck shut.
        return True


@lru_cache(maxsize=6)
def _roof_year(job: Job) -> RoofYear:
    from noonwater.field.moment import roof_year
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.year.prepare import prepare

    found = studied(job)
    if found.year is None:
        raise InputError(found.trouble)
    job = with_speeds(job, job.pool.target)
    around = surroundings_of(job)
    inputs = prepare(job, around, flows_by_period(job))
    return roof_year(job, around, inputs, found.year)
