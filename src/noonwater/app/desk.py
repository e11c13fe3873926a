"""A job as the desk shows it: what was typed, what is wrong with it, and what comes of the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from noonwater.app.job_edit import read_typed
from noonwater.app.store import State
from noonwater.app.study import study_flow, study_year
from noonwater.core.errors import Fault, InputError, NoonwaterError
from noonwater.core.finding import Finding
from noonwater.core.units import System
from noonwater.model.job import Job
from noonwater.model.pool import day_of_year

if TYPE_CHECKING:
    from noonwater.app.shelf import Shelf
    from noonwater.hydraulics.flow import FlowResult, StateFlow
    from noonwater.year.result import YearResult

KEPT = 24
"""Jobs whose year is kept: steps back and forth between a few variants answer at once."""


@dataclass(frozen=True, eq=False)
class Studied:
    """A job's results, or why there are none.

    Attributes
    ----------
    flow : FlowResult or None
        Every operating state.
    year : YearResult or None
        The pool's year.
    findings : tuple of Finding
        What is wrong with the design, the faults first.
    trouble : tuple of Fault
        Why a result is missing.
    """

    flow: FlowResult | None
    year: YearResult | None
    findings: tuple[Finding, ...]
    trouble: tuple[Fault, ...] = ()


@dataclass(frozen=True)
class Headline:
    """The few figures that are always in view; None where there is no answer.

    Attributes
    ----------
    clear_day : float or None
        What a clear day adds in the months that the pool is open, at its mildest. [K]
    season_water : float or None
        Mean water temperature while the pool is open. [°C]
    season_without : float or None
        The same without solar. [°C]
    flow : float or None
        On the roof while solar runs. [m³/s]
    power : float or None
        Of the pump then. [W]
    pump_cost : float or None
        Of the year's pump electricity. [currency]
    solar_heat : float or None
        Over the year. [J]
    findings, faults : int
        Their number, and how many of them are faults.
    """

    clear_day: float | None
    season_water: float | None
    season_without: float | None
    flow: float | None
    power: float | None
    pump_cost: float | None
    solar_heat: float | None
    findings: int
    faults: int


class View:
    """One state of a job, read and studied when it is asked for.

    Parameters
    ----------
    state : State
        From the store.
    asked : mapping of str to str, optional
        What of it to show, such as the pad's state; as the page's address says.
    shelf : Shelf, optional
        What is kept with the job beside its states.
    """

    def __init__(
        self, state: State, asked: Mapping[str, str] | None = None, shelf: Shelf | None = None
    ) -> None:
        self.state = state
        self.asked = asked or {}
        self.shelf = shelf
        self.job, self.right, self.faults = read_typed(state.tables, state.right)

    @property
    def system(self) -> System:
        """Units to show results in."""
        return self.job.units

    @cached_property
    def faults_by_field(self) -> dict[str, list[Fault]]:
        """What is wrong with what was typed, by field."""
        found: dict[str, list[Fault]] = {}
        for fault in self.faults:
            found.setdefault(fault.field, []).append(fault)
        return found

    @property
    def studied(self) -> Studied:
        """Flow, year and findings."""
        return studied(self.job)

    @cached_property
    def headline(self) -> Headline:
        """The figures that are always in view."""
        return headline(self.job, self.studied)


@lru_cache(maxsize=KEPT)
def studied(job: Job) -> Studied:
    """Study a job, and tell what hinders where something does."""
    try:
        return Studied(*study_year(job))
    except NoonwaterError as error:
        trouble = _trouble(error)
    try:
        flow, findings = study_flow(job)
    except NoonwaterError as error:
        return Studied(None, None, (), trouble or _trouble(error))
    return Studied(flow, None, findings, trouble)


def headline(job: Job, found: Studied) -> Headline:
    """Choose the figures that are always in view."""
    year, solar = found.year, solar_state(found.flow)
    open_months = months_open(job)
    months = [month for month in year.months if month.month in open_months] if year else []
    faults = sum(finding.severity == "fault" for finding in found.findings)
    return Headline(
        clear_day=min((month.clear_day_rise for month in months), default=None),
        season_water=_mean([month.pool for month in months]),
        season_without=_mean([month.pool_without_solar for month in months]),
        flow=solar.array_flow if solar else None,
        power=solar.power if solar else None,
        pump_cost=sum(month.pump_cost for month in year.months) if year else None,
        solar_heat=sum(month.solar_heat for month in year.months) if year else None,
        findings=len(found.findings),
        faults=faults,
    )


def solar_state(flow: FlowResult | None) -> StateFlow | None:
    """The state in which solar runs; of several the one with most water on the roof."""
    states = [state for state in flow.states if state.array_flow > 0.0] if flow else []
    running = [state for state in states if not state.name.startswith("priming")]
    return max(running or states, key=lambda state: state.array_flow, default=None)


def months_open(job: Job) -> tuple[int, ...]:
    """Months in which the pool is open for at least a half, 1 to 12; all where none is."""
    first, last = day_of_year(job.pool.opens, "opens"), day_of_year(job.pool.closes, "closes")
    count = (last - first) % 365 + 1
    middles = [day_of_year(f"{month:02d}-15", "month") for month in range(1, 13)]
    found = tuple(
        month for month, day in enumerate(middles, start=1) if (day - first) % 365 < count
    )
    return found or tuple(range(1, 13))


def without_words(job: Job) -> str:
    """What the water that solar is held against goes without."""
    return "without solar" if job.heater.kind == "none" else "without solar or heater"


def _mean(values: Sequence[float]) -> float | None:
    return sum(values) / len(values) if values else None


def _trouble(error: NoonwaterError) -> tuple[Fault, ...]:
    if isinstance(error, InputError):
        return error.faults
    return (Fault("the job", str(error), "a job that can be computed"),)
