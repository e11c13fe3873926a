"""What the papers are made from: one job and its results, each computed once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.core.finding import Finding
    from noonwater.hydraulics.flow import FlowResult
    from noonwater.hydraulics.trace import Trace
    from noonwater.year.night import NightResult
    from noonwater.year.result import YearResult


@dataclass(frozen=True, eq=False)
class Material:
    """A job with its results.

    Attributes
    ----------
    job : Job
        With its pump speeds found.
    flow : FlowResult
        Every operating state.
    trace : Trace
        Where the water is, and the steps by hand.
    year : YearResult
        The pool's year.
    nights : NightResult
        The roof's nights.
    findings : tuple of Finding
        All that is wrong, the faults first.
    """

    job: Job
    flow: FlowResult
    trace: Trace
    year: YearResult
    nights: NightResult
    findings: tuple[Finding, ...]
