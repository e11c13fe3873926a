"""The nights of a job: how cold its roof gets, when to drain, when to reopen."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.app.night_shape import night_dict
from noonwater.app.night_words import (
    array_lines,
    date_lines,
    hour_lines,
    month_lines,
    source_line,
    trip_lines,
)
from noonwater.app.study import nights_of_job
from noonwater.app.text import WIDTH, finding_lines
from noonwater.core.finding import Finding
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.year.night import NightResult

CAUTION = (
    "A frozen panel or pipe bursts, and the leak shows at the next start: look over the whole loop "
    "before it runs again. What a panel, a valve, a pump or a heater bears, and how it is drained, "
    "its maker's instructions say and they decide. Work on a roof in frost is slippery: tie on, or "
    "wait."
)


@dataclass(frozen=True, eq=False)
class NightAnswer:
    """The nights of a job, with findings."""

    job: Job
    nights: NightResult
    stands: str
    findings: tuple[Finding, ...]

    def to_dict(self) -> dict[str, Any]:
        """Give the nights for JSON."""
        return night_dict(self.job, self.nights, self.stands)

    def lines(self, system: System) -> list[str]:
        """Tell findings, months, hours, dates, trip, what is assumed, caution and sources."""
        job, nights = self.job, self.nights
        paragraphs = [
            *hour_lines(nights, system),
            *array_lines(job, nights, self.stands, system),
            *trip_lines(nights, system),
        ]
        return [
            *finding_lines(self.findings),
            "",
            f"The nights of the year: {job.name}",
            "",
            *_folded(date_lines(nights, system)),
            "",
            *month_lines(nights, system),
            "",
            *_folded(paragraphs),
            "",
            *_folded([CAUTION]),
            "",
            source_line(nights),
        ]


def answer_night(job: Job) -> NightAnswer:
    """Reckon a job's nights and what they ask for.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    NightAnswer

    Raises
    ------
    InputError
        When the weather can't be read or made.
    """
    from noonwater.design.standing_water import standing_water

    nights, findings = nights_of_job(job)
    return NightAnswer(job, nights, standing_water(job), findings)


def _folded(paragraphs: list[str]) -> list[str]:
    lines: list[str] = []
    for text in paragraphs:
        table = "\n" in text or text.startswith("  ")
        lines += [text] if table else textwrap.wrap(text, WIDTH, break_long_words=False) or [""]
    return lines
