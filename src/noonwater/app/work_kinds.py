"""Kinds of long work: what each computes from a job file, as plain values for the page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from noonwater.app.job_file import read_job
from noonwater.core.progress import Told

if TYPE_CHECKING:
    from noonwater.app.batch_run import Progress

JOB_FILE = "job.toml"
TABLE = "table.csv"
"""Of a batch, beside the job file."""
RESULTS = "results"
KWH = 3.6e6

Compute = Callable[[Path, Told], dict[str, Any]]
"""From the folder in which the job file lies."""


@dataclass(frozen=True)
class Kind:
    """A kind of long work.

    Attributes
    ----------
    name : str
        In addresses.
    ask : str
        On the button.
    doing : str
        While it runs.
    compute : callable
        Does it.
    """

    name: str
    ask: str
    doing: str
    compute: Compute


def ranges(folder: Path, told: Told) -> dict[str, Any]:
    """Tell how sure the year is."""
    from noonwater.app.sureness import ranges_dict, sureness_of

    job = read_job(folder / JOB_FILE)
    return ranges_dict(sureness_of(job, told), job.money.electricity * KWH)


def size(folder: Path, told: Told) -> dict[str, Any]:
    """Tell what each number of panels gives."""
    from noonwater.app.size_answer import answer_size

    answer = answer_size(folder / JOB_FILE, told=told)
    answer.write(folder / RESULTS)
    return {**answer.to_dict(), **_charts(answer)}


def tune(folder: Path, told: Told) -> dict[str, Any]:
    """Tell which speed or valve setting pays best."""
    from noonwater.app.tune_answer import answer_tune

    answer = answer_tune(folder / JOB_FILE, told=told)
    answer.write(folder / RESULTS)
    return {**answer.to_dict(), **_charts(answer)}


def search(folder: Path, told: Told) -> dict[str, Any]:
    """Tell which whole systems are worth a look."""
    from noonwater.app.search_answer import answer_search

    answer = answer_search(folder / JOB_FILE, told)
    written = answer.write(folder / RESULTS)
    files = [path.name for path in written[1:]]
    return {**answer.to_dict(), **_charts(answer), "files": files}


class _Drawn(Protocol):
    def chart(self, narrow: bool = False) -> str: ...


def _charts(answer: _Drawn) -> dict[str, str]:
    """One drawing for the desk and paper, one for a telephone."""
    return {"chart": answer.chart(), "chart_narrow": answer.chart(narrow=True)}


def money(folder: Path, told: Told) -> dict[str, Any]:
    """Tell what a job costs and saves, with ranges."""
    from noonwater.app.money_answer import answer_money

    return answer_money(read_job(folder / JOB_FILE), folder, told=told).to_dict()


def batch(folder: Path, told: Told) -> dict[str, Any]:
    """Run a table of options of the job."""
    from noonwater.app.batch import run_batch

    def tell(progress: Progress) -> None:
        told(progress.kept + progress.done, progress.total, "rows")

    answer = run_batch(folder / TABLE, folder / JOB_FILE, folder / RESULTS, tell=tell)
    return {**answer.to_dict(), **_charts(answer)}


KINDS = {
    kind.name: kind
    for kind in (
        Kind("ranges", "How sure?", "Running the year many times", ranges),
        Kind("size", "What does each panel buy?", "Running the year with other panels", size),
        Kind("tune", "Which speed pays best?", "Trying each setting", tune),
        Kind("search", "Which whole system?", "Judging whole systems", search),
        Kind("money", "How sure is the money?", "Running the year many times", money),
        Kind("batch", "Run the table", "Running the table’s rows", batch),
    )
}
