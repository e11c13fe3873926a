"""The winter's steps and dates of a job, for the desk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.app.desk import View
from noonwater.app.night_words import date_lines
from noonwater.app.trace_answer import CAUTION, answer_trace
from noonwater.app.trace_words import moves_words, seen_words, volume
from noonwater.core.errors import NoonwaterError
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.hydraulics.trace_replay import Step


@dataclass(frozen=True)
class ShownStep:
    """One thing to do and what must be seen."""

    do: str
    see: str


@dataclass(frozen=True)
class WinterSteps:
    """Steps under a title, and what is so when they are done."""

    title: str
    steps: tuple[ShownStep, ...]
    after: str = ""


@dataclass(frozen=True)
class WinterShown:
    """All that the winter sheet says."""

    caution: str
    dates: tuple[str, ...]
    parts: tuple[WinterSteps, ...]


def winter_of(view: View) -> WinterShown | None:
    """Tell the winter's steps and dates; None where the circuit has no answer."""
    return _winter(view.job)


@lru_cache(maxsize=8)
def _winter(job: Job) -> WinterShown | None:
    from noonwater.app.night_answer import answer_night

    system = job.units
    try:
        trace = answer_trace(job).trace
        dates = tuple(line for line in date_lines(answer_night(job).nights, system) if line.strip())
    except NoonwaterError:
        return None
    winter, service = trace.winter, trace.service
    left = f"Water left: {volume(winter.litres_left, system)}."
    panels = f"Water still in the panels: {volume(service.array_litres, system)}."
    return WinterShown(
        CAUTION,
        dates,
        (
            WinterSteps(
                f"Out of the season, from state “{winter.start}”",
                _shown(winter.steps, system),
                left,
            ),
            WinterSteps("Back into the season", _shown(winter.reopen, system)),
            WinterSteps(
                f"Shut the array off for service, from state “{service.start}”",
                _shown(service.steps, system),
                panels,
            ),
        ),
    )


def _shown(steps: Sequence[Step], system: System) -> tuple[ShownStep, ...]:
    told = zip(steps, moves_words(steps), strict=True)
    return tuple(ShownStep(move, seen_words(step, system)) for step, move in told)
