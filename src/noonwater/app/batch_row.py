"""One row of a batch: from its cells to the year's figures, by the very calls of a single run."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.batch_plan import Chunk, JobText
from noonwater.app.batch_table import Row, setting_of
from noonwater.app.compare_results import YEARLY, monthly, yearly
from noonwater.app.job_file import read_job_tables, tables_of_text
from noonwater.app.job_option import NO_PLACE, set_field
from noonwater.app.study import circuits_solved, study_year
from noonwater.app.text import MONTH_NAMES
from noonwater.core.errors import Fault, InputError, NoonwaterError

if TYPE_CHECKING:
    from noonwater.core.finding import Finding
    from noonwater.model.job import Job
    from noonwater.year.result import Month, YearResult

NEEDS_A_JOB = Fault(
    "job", "missing", "a job file", "give --base JOB, or name one in the column 'job'"
)
SUMS = (
    "season_pool_C",
    "season_pool_without_solar_C",
    "season_days_at_target",
    *YEARLY,
    "opening_C",
    "closure",
    "settled_K",
)
"""Columns of the year, see `figures_of`."""
OF_MONTHS = (
    "pool_C",
    "pool_without_solar_C",
    "clear_day_rise_K",
    "hours_at_target",
    "solar_heat_kWh",
    "pump_kWh",
    "pump_cost",
)
"""Columns of each month."""


@dataclass(frozen=True, eq=False)
class ChunkResult:
    """What became of a chunk's rows.

    Attributes
    ----------
    number : int
        Of the chunk.
    rows : tuple of dict
        One for each, by the columns of the results.
    circuits : int
        Whose flow had to be solved.
    version : str
        Of Noonwater where it was worked off.
    """

    number: int
    rows: tuple[dict[str, Any], ...]
    circuits: int
    version: str


def run_chunk(chunk: Chunk) -> ChunkResult:
    """Work off a chunk; a bad row is told in its place and the next ones follow.

    Parameters
    ----------
    chunk : Chunk
        The rows and the text of their jobs.

    Returns
    -------
    ChunkResult
    """
    before = circuits_solved()
    tables: dict[str, dict[str, Any]] = {}
    rows = tuple(_outcome(row, chunk.jobs.get(row.job), tables) for row in chunk.rows)
    return ChunkResult(chunk.number, rows, circuits_solved() - before, __version__)


def month_columns() -> tuple[str, ...]:
    """Name the months' columns: "pool_C_jan" and so on."""
    return tuple(f"{name}_{month.lower()}" for name in OF_MONTHS for month in MONTH_NAMES)


def figures_of(job: Job, year: YearResult) -> dict[str, float | None]:
    """Take the figures of a row from its year.

    Parameters
    ----------
    job : Job
        The job.
    year : YearResult
        Its year.

    Returns
    -------
    dict
        By `SUMS` and `month_columns`, in the units of the names; `days_to_target` is None where
        the season ends first.
    """
    from noonwater.year.calendar import season_of_step

    season = season_of_step(job.pool.opens, job.pool.closes, 1) == 1
    warm_days = year.pool.reshape(365, 24).mean(axis=1) >= year.target
    of_year: dict[str, float | None] = {
        "season_pool_C": float(year.pool[season].mean()),
        "season_pool_without_solar_C": float(year.pool_without_solar[season].mean()),
        "season_days_at_target": float((warm_days & season[::24]).sum()),
        **yearly(year),
        "opening_C": year.opening_temp,
        "closure": year.closure,
        "settled_K": year.settled,
    }
    months = [_month(month) for month in year.months]
    return of_year | {
        f"{name}_{label.lower()}": month[name]
        for name in OF_MONTHS
        for label, month in zip(MONTH_NAMES, months, strict=True)
    }


def _month(month: Month) -> dict[str, float]:
    return monthly(month) | {
        "pool_without_solar_C": month.pool_without_solar,
        "clear_day_rise_K": month.clear_day_rise,
    }


def _outcome(row: Row, text: JobText | None, tables: dict[str, dict[str, Any]]) -> dict[str, Any]:
    given = {field: _as_written(value) for field, value in row.cells} | {"job": row.job or None}
    try:
        return given | {"row": row.number} | _answer(_job_of(row, text, tables))
    except InputError as error:
        faults = error.faults
    except NoonwaterError as error:
        faults = (Fault("the job", str(error), "a job that has an answer"),)
    except Exception as error:  # a fault of ours in one row must not cost the others
        name = " ".join(f"{type(error).__name__}: {error}".split())[:200]
        faults = (Fault("the job", f"a fault of Noonwater: {name}", "none", "please report it"),)
    told = [
        {"field": f.field, "given": f.given, "allowed": f.allowed, "remedy": f.remedy}
        for f in faults
    ]
    return given | {"row": row.number, "done": False, "refusals": told, "version": __version__}


def _job_of(row: Row, text: JobText | None, tables: dict[str, dict[str, Any]]) -> Job:
    if row.trouble:
        raise InputError([Fault("the row", row.trouble, "one cell under each head")])
    if text is None:
        raise InputError([NEEDS_A_JOB])
    if text.source not in tables:
        tables[text.source] = _tables(text)
    wanted = deepcopy(tables[text.source])
    faults = [
        Fault(field, *NO_PLACE)
        for field, value in row.cells
        if not set_field(wanted, field, setting_of(value))
    ]
    if faults:
        raise InputError(faults)
    return read_job_tables(wanted, folder=Path(text.source).parent)


def _tables(text: JobText) -> dict[str, Any]:
    """A job file's tables; what is wrong with the file is told at its name."""
    try:
        if text.faults:
            raise InputError(text.faults)
        return tables_of_text(text.text, text.source)
    except InputError as error:
        raise InputError(
            [
                replace(fault, field=f"{Path(text.source).name}, {fault.field}")
                for fault in error.faults
            ]
        ) from None


def _answer(job: Job) -> dict[str, Any]:
    _, year, findings = study_year(job)
    return {
        "name": job.name,
        "done": True,
        **figures_of(job, year),
        "currency": job.money.currency,
        **_findings(findings),
        "weather_source": year.weather.source,
        "inputs_hash": year.inputs_hash,
        "version": year.version,
    }


def _findings(findings: tuple[Finding, ...]) -> dict[str, Any]:
    faults = sum(finding.severity == "fault" for finding in findings)
    told = [{"rule": f.rule, "severity": f.severity, "where": f.where} for f in findings]
    return {"faults": faults, "cautions": len(findings) - faults, "findings": told}


def _as_written(value: Any) -> str:
    return value if isinstance(value, str) else str(value)
