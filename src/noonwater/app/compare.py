"""Jobs side by side: what they say differently, and what that moves in the year."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import wrap
from typing import Any

from noonwater.app.compare_inputs import LEFT_OUT, Change, changes_between
from noonwater.app.compare_results import (
    YEARLY,
    Compared,
    differences,
    findings_moved,
    monthly,
    yearly,
)
from noonwater.app.job_file import read_job
from noonwater.app.job_option import read_option
from noonwater.app.study import study_year
from noonwater.app.text import MONTH_NAMES, WIDTH, finding_lines, number, table
from noonwater.core.digits import about
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.model.job import Job

LABELS = "ABCDEFGHIJ"
LONGEST = 30
"""Of a value in the table; longer ones are told below it."""
MANY_DIGITS = re.compile(r"-?\d+\.\d{5,}(?![\d.])")

WORDS = {
    "hours_at_target": "hours at target",
    "solar_heat_kWh": "solar heat, kWh",
    "solar_hours": "water on the roof, h",
    "starts": "starts",
    "pump_kWh": "pump, kWh",
    "pump_cost": "pump, cost",
    "cooling_kWh": "cooled at night, kWh",
    "freeze_heat_kWh": "lost against frost, kWh",
    "freeze_pump_kWh": "pump against frost, kWh",
    "heater_energy_kWh": "heater's fuel or power, kWh",
    "days_to_target": "days to target",
}


@dataclass(frozen=True, eq=False)
class CompareAnswer:
    """Two jobs or more, the later ones each against the first."""

    jobs: tuple[Compared, ...]
    findings: tuple[Finding, ...]

    @property
    def job(self) -> Job:
        """The first job, in whose units all is told."""
        return self.jobs[0].job

    def to_dict(self) -> dict[str, Any]:
        """Give jobs, changes and differences for JSON."""
        first, *others = self.jobs
        return {
            "jobs": [_job_dict(compared) for compared in self.jobs],
            "changes": [
                {
                    "job": other.label,
                    "field": change.field,
                    "from": change.before,
                    "to": change.after,
                }
                for other in others
                for change in changes_between(first.job, other.job)
            ],
            "differences": [row for other in others for row in differences(first, other)],
        }

    def lines(self, system: System) -> list[str]:
        """Tell findings, jobs, changes, and what moved."""
        first, *others = self.jobs
        lines = [*finding_lines(self.findings), ""] if self.findings else []
        lines += [f"{each.label}  {each.job.name} ({each.source})" for each in self.jobs]
        for other in others:
            lines += ["", *_change_lines(first, other), "", *_month_lines(first, other, system)]
            lines += ["", *_year_lines(first, other), *_finding_lines(first, other)]
        return lines


def compare_jobs(paths: Sequence[Path | str], options: Sequence[str] = ()) -> CompareAnswer:
    """Answer what two jobs or more, or options of one, say and give differently.

    Parameters
    ----------
    paths : sequence of path
        Job files; two or more, or one with options.
    options : sequence of str
        Each a list of fields set otherwise, see `read_option`.

    Returns
    -------
    CompareAnswer

    Raises
    ------
    NoonwaterError
        InputError with every fault of every job; NotConverged where a job has no answer.
    """
    sources = _sources(paths, options)
    jobs: list[Job] = []
    faults: list[Fault] = []
    for path, option in sources:
        try:
            jobs.append(read_option(path, option) if option else read_job(path))
        except InputError as error:
            prefix = f"{error.source}: " if error.source else ""
            faults += [
                Fault(f"{prefix}{fault.field}", fault.given, fault.allowed, fault.remedy)
                for fault in error.faults
            ]
    if faults:
        raise InputError(faults)
    compared = tuple(
        Compared(label, f"{path} with {option}" if option else str(path), job, *study_year(job))
        for label, (path, option), job in zip(LABELS, sources, jobs, strict=False)
    )
    return CompareAnswer(compared, tuple(_doubtful(compared)))


def _sources(paths: Sequence[Path | str], options: Sequence[str]) -> list[tuple[Path | str, str]]:
    sources = [(path, "") for path in paths] + [
        (path, option) for path in paths for option in options
    ]
    if len(paths) > 1 and options:
        fault = Fault("--with", f"with {len(paths)} jobs", "one job with options, or jobs alone")
        raise InputError([fault])
    if not 2 <= len(sources) <= len(LABELS):
        given = f"{len(sources)} to compare"
        allowed = f"2 to {len(LABELS)} jobs, or one job and options of it"
        remedy = 'add a job, or --with "pump.solar_speed=2600 rpm"'
        raise InputError([Fault("compare", given, allowed, remedy)])
    return sources


def _doubtful(jobs: Sequence[Compared]) -> list[Finding]:
    """What keeps the differences from being those of the design alone."""
    first = jobs[0]
    found = []
    for other in jobs[1:]:
        if first.year.weather.source != other.year.weather.source:
            found.append(
                Finding(
                    rule="compared-under-other-weather",
                    severity="caution",
                    where="weather",
                    value=f"{other.label}: {other.year.weather.source}",
                    limit=f"{first.label}: {first.year.weather.source}",
                    text=f"{other.label} has other weather than {first.label}, and not all that "
                    "moves comes from the design.",
                    source="logic",
                    remedy="Compare designs on the same weather.",
                )
            )
        if first.job.money.currency != other.job.money.currency:
            found.append(
                Finding(
                    rule="compared-in-other-currency",
                    severity="caution",
                    where="money.currency",
                    value=f"{other.label}: {other.job.money.currency}",
                    limit=f"{first.label}: {first.job.money.currency}",
                    text=f"Costs of {other.label} are in another currency than those of "
                    f"{first.label}.",
                    source="logic",
                    remedy="Write both jobs in one currency.",
                )
            )
    return found


def _job_dict(compared: Compared) -> dict[str, Any]:
    job, year = compared.job, compared.year
    return {
        "label": compared.label,
        "name": job.name,
        "source": compared.source,
        "units": job.units,
        "currency": job.money.currency,
        "target_C": job.pool.target,
        "months": [{"month": month.month, **monthly(month)} for month in year.months],
        "year": yearly(year),
        "findings": [
            {"rule": f.rule, "severity": f.severity, "where": f.where} for f in compared.findings
        ],
        "closure": year.closure,
        "inputs_hash": year.inputs_hash,
    }


def _change_lines(first: Compared, other: Compared) -> list[str]:
    changes = changes_between(first.job, other.job)
    if not changes:
        return [f"{other.label} says the same as {first.label}."]
    heads = [[f"changed in {other.label}", first.label, other.label]]
    rows = [_change_row(change) for change in changes]
    fit = [row for row in rows if max(map(len, row[1:])) <= LONGEST]
    lines = table(heads, fit) if fit else []
    for field, before, after in (row for row in rows if row not in fit):
        words = f"{field} in {other.label}: {after}; in {first.label}: {before}"
        lines += wrap(words, WIDTH, subsequent_indent="  ")
    return lines


def _change_row(change: Change) -> list[str]:
    given = [LEFT_OUT if text is None else text for text in (change.before, change.after)]
    short = [MANY_DIGITS.sub(_fewer_digits, text) for text in given]
    return [change.field, *(given if short[0] == short[1] else short)]


def _fewer_digits(found: re.Match[str]) -> str:
    """A number that comes of another unit, with the digits that somebody would type."""
    return f"{about(float(found[0]), 5):.10f}".rstrip("0").rstrip(".")


def _month_lines(first: Compared, other: Compared, system: System) -> list[str]:
    currency = first.job.money.currency
    labels = [first.label, other.label]
    heads = [
        ["", "pool", "", "at target", "", "solar", "", "pump", "", "pump", ""],
        ["", *labels * 5],
        ["", *[unit_label("temperature", system)] * 2, *["h"] * 2, *["kWh"] * 4, *[currency] * 2],
    ]
    rows = []
    for one, two in zip(first.year.months, other.year.months, strict=True):
        row = [MONTH_NAMES[one.month - 1]]
        for quantity, before in monthly(one).items():
            for value in (before, monthly(two)[quantity]):
                warm = quantity == "pool_C"
                shown = in_system(value, "temperature", system) if warm else value
                row.append(number(shown, 1 if warm else 2 if quantity == "pump_cost" else 0))
        rows.append(row)
    return table(heads, rows)


def _year_lines(first: Compared, other: Compared) -> list[str]:
    before, after = yearly(first.year), yearly(other.year)
    rows = [
        [WORDS[key], _shown(before[key]), _shown(after[key]), _moved(before[key], after[key])]
        for key in YEARLY
        if before[key] or after[key]
    ]
    return table([["in the year", first.label, other.label, "change"]], rows)


def _shown(value: float | None) -> str:
    return "never" if value is None else number(value, 1 if abs(value) < 100 else 0)


def _moved(before: float | None, after: float | None) -> str:
    if before is None or after is None:
        return "-"
    moved = after - before
    text = number(moved, 1 if abs(moved) < 100 else 0)
    return text if moved < 0.0 or not text.strip("0.") else f"+{text}"


def _finding_lines(first: Compared, other: Compared) -> list[str]:
    new, gone = findings_moved(first.findings, other.findings)
    lines = [f"new in {other.label}: {finding.text}" for finding in new]
    lines += [f"gone in {other.label}: {finding.text}" for finding in gone]
    rows = [row for line in lines for row in wrap(line, WIDTH, subsequent_indent="  ")]
    return ["", *rows] if rows else []
