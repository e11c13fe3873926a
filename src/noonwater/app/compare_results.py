"""What moved in the answers of two jobs: months, year, findings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.core.finding import Finding
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.hydraulics.flow import FlowResult
    from noonwater.year.result import Month, YearResult

KWH, HOUR = 3.6e6, 3600.0
MONTHLY = ("pool_C", "hours_at_target", "solar_heat_kWh", "pump_kWh", "pump_cost")
YEARLY = (
    "hours_at_target",
    "solar_heat_kWh",
    "solar_hours",
    "starts",
    "pump_kWh",
    "pump_cost",
    "cooling_kWh",
    "freeze_heat_kWh",
    "freeze_pump_kWh",
    "heater_energy_kWh",
    "days_to_target",
)


@dataclass(frozen=True, eq=False)
class Compared:
    """One of the jobs, with its answer.

    Attributes
    ----------
    label : str
        "A", "B" and so on.
    source : str
        The file, and the option where there is one.
    job : Job
        The job.
    flow : FlowResult
        Of its states.
    year : YearResult
        Its year.
    findings : tuple of Finding
        What is wrong with it.
    """

    label: str
    source: str
    job: Job
    flow: FlowResult
    year: YearResult
    findings: tuple[Finding, ...]


def monthly(month: Month) -> dict[str, float]:
    """A month's figures that are held against each other, by `MONTHLY`."""
    return {
        "pool_C": month.pool,
        "hours_at_target": month.hours_at_target,
        "solar_heat_kWh": month.solar_heat / KWH,
        "pump_kWh": month.pump_energy / KWH,
        "pump_cost": month.pump_cost,
    }


def yearly(year: YearResult) -> dict[str, float | None]:
    """A year's figures that are held against each other, by `YEARLY`."""

    def total(field: str) -> float:
        return float(sum(getattr(month, field) for month in year.months))

    heater_energy = sum(month.backup.energy + month.backup.spa_energy for month in year.months)
    return {
        "hours_at_target": total("hours_at_target"),
        "solar_heat_kWh": total("solar_heat") / KWH,
        "solar_hours": total("solar_time") / HOUR,
        "starts": total("starts"),
        "pump_kWh": total("pump_energy") / KWH,
        "pump_cost": total("pump_cost"),
        "cooling_kWh": total("cooling_heat") / KWH,
        "freeze_heat_kWh": total("freeze_heat") / KWH,
        "freeze_pump_kWh": total("freeze_energy") / KWH,
        "heater_energy_kWh": heater_energy / KWH,
        "days_to_target": year.days_to_target,
    }


def differences(first: Compared, other: Compared) -> list[dict[str, Any]]:
    """Hold a job's answer against the first one's, for JSON.

    Parameters
    ----------
    first, other : Compared
        The jobs.

    Returns
    -------
    list of dict
        Each with `job`, `quantity`, `month` (None for the year), `from`, `to`, `change`; always
        the same rows in the same order, those that didn't move included. The last is of findings
        and names those that are new and those that are gone.
    """
    rows = [
        _row(other.label, quantity, one.month, monthly(one)[quantity], monthly(two)[quantity])
        for quantity in MONTHLY
        for one, two in zip(first.year.months, other.year.months, strict=True)
    ]
    before, after = yearly(first.year), yearly(other.year)
    rows += [
        _row(other.label, quantity, None, before[quantity], after[quantity]) for quantity in YEARLY
    ]
    new, gone = findings_moved(first.findings, other.findings)
    row = _row(other.label, "findings", None, len(first.findings), len(other.findings))
    told = ({"rule": finding.rule, "where": finding.where, "text": finding.text} for finding in new)
    left = (
        {"rule": finding.rule, "where": finding.where, "text": finding.text} for finding in gone
    )
    return [*rows, {**row, "new": list(told), "gone": list(left)}]


def findings_moved(
    before: Sequence[Finding], after: Sequence[Finding]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """Findings that came and those that went from one answer to another.

    The same rule at the same field counts as one finding, whatever its figures.
    """
    had = {(finding.rule, finding.where) for finding in before}
    has = {(finding.rule, finding.where) for finding in after}
    new = tuple(f for f in after if (f.rule, f.where) not in had)
    gone = tuple(f for f in before if (f.rule, f.where) not in has)
    return new, gone


def _row(
    label: str, quantity: str, month: int | None, before: float | None, after: float | None
) -> dict[str, Any]:
    change = None if before is None or after is None else after - before
    return {
        "job": label,
        "quantity": quantity,
        "month": month,
        "from": before,
        "to": after,
        "change": change,
    }
