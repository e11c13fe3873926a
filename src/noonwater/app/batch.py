"""Many jobs at once: a table of options or sites, worked off on all cores or on a cluster."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater import __version__
from noonwater.app.batch_answer import BatchAnswer, BatchJob
from noonwater.app.batch_plan import JobText, job_text_of
from noonwater.app.batch_run import Tell, work_off
from noonwater.app.batch_store import CHART, Store
from noonwater.app.batch_summary import Summary, summary_of
from noonwater.app.batch_table import JOB, Table, open_table
from noonwater.app.batch_workers import LocalWorkers, Workers
from noonwater.app.job_file import tables_of_text
from noonwater.core.errors import Fault, InputError
from noonwater.core.units import System

if TYPE_CHECKING:
    from noonwater.drawing.batch_chart import BatchPicture


def run_batch(
    path: Path | str,
    base: Path | str | None = None,
    out: Path | str | None = None,
    *,
    scheduler: str | None = None,
    cores: int | None = None,
    tell: Tell = lambda progress: None,
) -> BatchAnswer:
    """Run every row of a table as a job of its own.

    Parameters
    ----------
    path : Path or str
        Table in CSV or Parquet; its heads are fields of a job, or "job".
    base : Path or str, optional
        Job file of the rows that name none.
    out : Path or str, optional
        Folder of the results; beside the table where it isn't given.
    scheduler : str, optional
        Address of a Dask scheduler; without it this machine's cores work.
    cores : int, optional
        How many of them; all where it isn't given.
    tell : callable
        Is told how far it is.

    Returns
    -------
    BatchAnswer

    Raises
    ------
    NoonwaterError
        InputError for a table, job, folder or scheduler that won't do; a bad row is told with the
        others' results.
    """
    table = open_table(path)
    base_job = None if base is None else _base(Path(base))
    if base_job is None and JOB not in table.heads:
        remedy = 'or name a job file in each row, in a column "job"'
        raise InputError([Fault("--base", "missing", "a job file", remedy)])
    folder = Path(out) if out is not None else table.path.with_name(f"{table.path.stem}-results")
    store = Store(folder, table.fields, _about(table, base_job))

    def workers() -> Workers:
        if scheduler is None:
            return LocalWorkers(cores or _cores())
        from noonwater.app.batch_cluster import ClusterWorkers

        return ClusterWorkers(scheduler)

    progress = work_off(table, base_job, store, workers, tell)
    units = _units(base_job or _first_job(table))
    summary = summary_of(store.results, table.fields, units)
    name = _name(base_job)
    picture = _picture(table, name, summary, units)
    written = (store.results, _draw(folder, picture))
    return BatchAnswer(BatchJob(units), str(path), name, progress, summary, written, picture)


def _base(path: Path) -> JobText:
    job = job_text_of(path)
    if job.faults:
        raise InputError(job.faults, str(path))
    tables_of_text(job.text, job.source)
    return job


def _about(table: Table, base: JobText | None) -> dict[str, str]:
    text = "" if base is None else base.text
    digest = "" if base is None else hashlib.sha256(text.encode()).hexdigest()
    return {"version": __version__, "table": table.fingerprint(), "base": digest}


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _first_job(table: Table) -> JobText | None:
    named = next((row.job for row in table.rows() if row.job), "")
    return job_text_of(table.path.parent / named) if named else None


def _units(job: JobText | None) -> System:
    try:
        tables = {} if job is None else tables_of_text(job.text, job.source)
    except InputError:
        tables = {}
    return "SI" if tables.get("units") == "SI" else "US"


def _name(base: JobText | None) -> str:
    if base is None:
        return ""
    name = tables_of_text(base.text, base.source).get("name")
    return name if isinstance(name, str) else base.source


def _draw(folder: Path, picture: BatchPicture) -> Path:
    from noonwater.drawing.batch_chart import batch_chart

    path = folder / CHART
    try:
        path.write_text(batch_chart(picture), encoding="utf-8")
    except OSError as error:
        fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
        raise InputError([fault]) from None
    return path


def _picture(table: Table, name: str, summary: Summary, units: System) -> BatchPicture:
    from noonwater.drawing.batch_chart import BatchPicture

    drawn = summary.varied[0] if summary.varied else None
    return BatchPicture(
        job=name or "several jobs",
        table=table.path.name,
        rows=summary.rows,
        season_pool=summary.season_pool,
        solar_heat=summary.solar_heat,
        field="" if drawn is None else drawn.field,
        unit="" if drawn is None else drawn.unit,
        values=None if drawn is None else drawn.values,
        system=units,
    )
