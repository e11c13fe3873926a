"""The verbs: one per task, from a job file to an answer, for command line, web and batch."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.compare import CompareAnswer, compare_jobs
from noonwater.app.flow_answer import FlowAnswer
from noonwater.app.job_file import read_job
from noonwater.app.money_answer import MoneyAnswer, answer_money
from noonwater.app.night_answer import NightAnswer, answer_night
from noonwater.app.offering_study import offer_source
from noonwater.app.pack_answer import PackAnswer, PackWish, make_pack, refuse_wish
from noonwater.app.pad_answer import PadAnswer, answer_pad
from noonwater.app.parts_answer import PartsAnswer, answer_parts
from noonwater.app.search_answer import SEED, TRIES, SearchAnswer, answer_search
from noonwater.app.size_answer import SizeAnswer, SizeWish, answer_size
from noonwater.app.study import check_job, study_flow, study_year
from noonwater.app.sureness import sureness_of
from noonwater.app.text import finding_lines
from noonwater.app.trace_answer import TraceAnswer, answer_trace
from noonwater.app.tune_answer import TuneAnswer, answer_tune
from noonwater.app.year_answer import YearAnswer
from noonwater.core.errors import Fault, Gathered, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told, untold
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.app.batch_answer import BatchAnswer
    from noonwater.app.batch_run import Tell
    from noonwater.app.measurement import CalibrationAnswer


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
        return finding_lines(self.findings, whole=True)


def year(path: Path | str) -> YearAnswer:
    """Answer how warm the pool is through the year, with solar and without.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file or its weather.
    """
    job = read_job(path)
    return YearAnswer(job, *study_year(job), sureness_of(job))


def night(path: Path | str) -> NightAnswer:
    """Answer how cold the roof gets at night, when to drain it and when to reopen.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file or its weather.
    """
    return answer_night(read_job(path))


def flow(path: Path | str) -> FlowAnswer:
    """Answer what flows in every operating state.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file; NotConverged where a state has no answer.
    """
    job = read_job(path)
    return FlowAnswer(job, *study_flow(job))


def trace(path: Path | str, state: str | None = None, without: str | None = None) -> TraceAnswer:
    """Answer where the water is, where it could run, and the steps by hand.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file, or for a state or part that isn't there;
        NotConverged where a state has no answer.
    """
    return answer_trace(read_job(path), state, without)


def pad(path: Path | str, state: str | None = None) -> PadAnswer:
    """Answer how the pad stands in each state, drawn.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file, or for a state that isn't there; NotConverged
        where a state has no answer.
    """
    return answer_pad(read_job(path), state)


def money(path: Path | str, prices: Path | str | None = None) -> MoneyAnswer:
    """Answer what a job costs and what it saves against other heat.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file, its weather or its price list.
    """
    return answer_money(read_job(path), Path(path).parent, prices)


def parts(path: Path | str) -> PartsAnswer:
    """Answer what the pad and the array are made of, counted from the circuit.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file.
    """
    return answer_parts(read_job(path))


def check(path: Path | str) -> CheckAnswer:
    """Answer what is wrong with the design, over flow and year.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file or its weather.
    """
    job = read_job(path)
    return CheckAnswer(job, check_job(job))


def size(path: Path | str, wish: SizeWish) -> SizeAnswer:
    """Answer how many panels give what, what the next one buys and what bounds them.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job or the wish; NotConverged where a year has no answer.
    """
    return answer_size(path, wish)


def tune(path: Path | str, heat_price: str = "", prices: Path | str | None = None) -> TuneAnswer:
    """Answer at which speed, or with which valve setting, solar pays best, and why.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job or the price; NotConverged where there is no answer.
    """
    return answer_tune(path, heat_price, prices)


def search(
    path: Path | str,
    told: Told = untold,
    going: Callable[[], bool] = lambda: True,
    *,
    seed: int = SEED,
    tries: int = TRIES,
    prices: Path | str | None = None,
) -> SearchAnswer:
    """Answer which whole systems are on the trade-off of price, warmth and running cost.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job, the price list or the numbers; NotConverged where
        the job as it stands has no answer.
    """
    return answer_search(path, told, going, seed=seed, tries=tries, prices=prices)


def compare(paths: Sequence[Path | str], options: Sequence[str] = ()) -> CompareAnswer:
    """Answer what two jobs or more, or options of one, say and give differently.

    Raises
    ------
    NoonwaterError
        InputError with every fault of every job; NotConverged where a job has no answer.
    """
    return compare_jobs(paths, options)


def batch(
    path: Path | str,
    base: Path | str | None,
    out: Path | str | None,
    *,
    scheduler: str | None,
    cores: int | None,
    tell: Tell,
) -> BatchAnswer:
    """Answer what becomes of each row of a table, see `noonwater.app.batch.run_batch`.

    Raises
    ------
    NoonwaterError
        InputError for a table, job, folder or scheduler that won't do.
    """
    from noonwater.app.batch import run_batch

    return run_batch(path, base, out, scheduler=scheduler, cores=cores, tell=tell)


def calibrate(
    path: Path | str, bucket: dict[str, str], log: Path | str | None
) -> CalibrationAnswer:
    """Answer what a bucket test or a logger's file leaves of a job's ranges.

    Raises
    ------
    NoonwaterError
        InputError for a fault of the job, the test or the log, or a measurement that no belief
        explains.
    """
    from noonwater.app.measurement import bucket_of, calibrate_by_bucket, calibrate_by_log

    job = read_job(path)
    given = any(bucket.values())
    if given == (log is not None):
        fault = Fault(
            "measurement",
            "both a bucket test and a log" if given else "none",
            "one of the two",
            "give --drop, --over, --water, --air, --dew-point and --wind, or --log FILE",
        )
        raise InputError([fault])
    if log is not None:
        return calibrate_by_log(job, Path(log))
    return calibrate_by_bucket(job, bucket_of(bucket))


def pack(
    path: Path | str,
    out: Path,
    wish: PackWish,
    options: Sequence[str] = (),
    told: Told | None = None,
    prices: Path | str | None = None,
) -> PackAnswer:
    """Write a job's papers into a folder; its price list is looked for beside the job.

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job file, its options, the wish, the price list or the
        profile; NotConverged where a state has no answer.
    """
    gathered = Gathered()
    job = gathered.read(lambda: read_job(path))
    source = gathered.read(lambda: offer_source(path, options, prices))
    gathered.read(lambda: refuse_wish(wish))
    if job is None or source is None or gathered.errors:
        raise gathered.error()
    return make_pack(job, out, wish, source, told)
