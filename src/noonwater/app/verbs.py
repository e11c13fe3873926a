"""The verbs: one per task, from a job file to an answer, for command line, web and batch."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from noonwater.app.flow_answer import FlowAnswer
from noonwater.app.job_file import read_job
from noonwater.app.study import check_job, study_flow, study_year
from noonwater.app.text import finding_lines
from noonwater.app.year_answer import YearAnswer
from noonwater.core.finding import Finding
from noonwater.core.units import System
from noonwater.model.job import Job


@dataclass(frozen=True, eq=False)
class CheckAnswer:
    """What is wrong with a design."""

    job: Job
    findings: tuple[Finding, ...]

    def to_dict(self) -> dict[str, Any]:
        """Count the findings for JSON; they stand beside the result."""
        faults = sum(finding.severity == "fault" for finding in self.findings)
        return {"job": self.job.name, "faults": faults, "cautions": len(self.findings) - faults}

    def lines(self, system: System) -> list[str]:
        """Tell the findings."""
        return finding_lines(self.findings)


def year(path: Path | str) -> YearAnswer:
    """Answer how warm the pool is through the year, with solar and without.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file or its weather.
    """
    job = read_job(path)
    return YearAnswer(job, *study_year(job))


def flow(path: Path | str) -> FlowAnswer:
    """Answer what flows in every operating state.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file; NotConverged where a state has no answer.
    """
    job = read_job(path)
    return FlowAnswer(job, *study_flow(job))


def check(path: Path | str) -> CheckAnswer:
    """Answer what is wrong with the design, over flow and year.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file or its weather.
    """
    job = read_job(path)
    return CheckAnswer(job, check_job(job))
