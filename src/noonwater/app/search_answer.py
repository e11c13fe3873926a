"""Which whole system, as JSON, as text, as a chart and as job files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.compare_inputs import changes_between
from noonwater.app.job_file import path_from, read_job, with_files_from, write_job
from noonwater.app.priced import prices_of
from noonwater.app.search_pool import Question, judge_of, judged_side_by_side
from noonwater.app.search_words import LETTERS, search_lines
from noonwater.app.size_answer import on_every_plane
from noonwater.app.study import check_job
from noonwater.app.text import below_findings
from noonwater.app.weather import weather_of
from noonwater.core import jit
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told, untold
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.choose_list import Listed
    from noonwater.design.choose_option import Judge, Option

KWH = 3.6e6
TRIES = 1200
"""Options that are judged unless asked otherwise: some 40 s of one core."""
SEED = 1


@dataclass(frozen=True, eq=False)
class SearchAnswer:
    """A short list of whole systems for a job.

    Attributes
    ----------
    job : Job
        As it stands.
    own : Option
        The same, judged.
    bare : float
        Shortfall without solar. [K]
    listed : tuple of Listed
        The short list, the warmest first.
    trade_off : tuple of Option
        All on the trade-off, by price.
    judged, valid, refused : int
        Options judged; valid among them; on the trade-off and refused by a check in the end.
    broken, refused_by : tuple of (str, int)
        Rules that options broke, and those that refused one in the end, and how many did, the most
        frequent first.
    seed : int
        Of the search.
    stopped : bool
        Whether it was ended before its tries were used.
    borne : tuple of str
        Cautions that the job as it stands has, and that options may have too.
    sources : tuple of str
        Where weather and prices come from.
    folder : Path
        Of the job file.
    prices : Path or None
        A price list that counted instead of the job's.
    findings : tuple of Finding
        Of the price list; those of the options stand beside each.
    """

    job: Job
    own: Option
    bare: float
    listed: tuple[Listed, ...]
    trade_off: tuple[Option, ...]
    judged: int
    valid: int
    refused: int
    broken: tuple[tuple[str, int], ...]
    refused_by: tuple[tuple[str, int], ...]
    seed: int
    stopped: bool
    borne: tuple[str, ...]
    sources: tuple[str, ...]
    folder: Path
    prices: Path | None
    findings: tuple[Finding, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give the short list and the trade-off for JSON."""
        return {
            "job": self.job.name,
            "currency": self.job.money.currency,
            "seed": self.seed,
            "judged": self.judged,
            "valid": self.valid,
            "refused_in_the_end": self.refused,
            "broken": dict(self.broken),
            "refused_by": dict(self.refused_by),
            "stopped": self.stopped,
            "cautions_of_the_job": list(self.borne),
            "shortfall_without_solar_K": self.bare,
            "as_it_stands": _option_dict(self.own),
            "options": [
                {
                    "letter": letter,
                    "why": list(listed.why),
                    **_option_dict(listed.option),
                    "bounds": list(listed.bounds),
                    "cautions": [finding.rule for finding in listed.findings],
                    "changes": [
                        asdict(change) for change in changes_between(self.job, listed.option.job)
                    ],
                }
                for letter, listed in zip(LETTERS, self.listed, strict=False)
            ],
            "trade_off": [_aims_dict(option) for option in self.trade_off],
            "sources": list(self.sources),
        }

    def lines(self, system: System) -> list[str]:
        """Tell the short list: figures side by side, then each with what bounds it."""
        return below_findings(self.findings, search_lines(self, system))

    def write(self, folder: Path) -> list[Path]:
        """Write the trade-off as an SVG chart and each option as a job file.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        picture = folder / "search.svg"
        written = [picture]
        try:
            folder.mkdir(parents=True, exist_ok=True)
            picture.write_text(self.chart(), encoding="utf-8")
            for letter, listed in zip(LETTERS, self.listed, strict=False):
                written.append(folder / f"option-{letter}.toml")
                job = with_files_from(self._priced(listed.option), self.folder, folder)
                write_job(job, written[-1])
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return written

    def _priced(self, option: Option) -> Job:
        """An option's job, priced as the search priced it."""
        money = option.job.money
        if self.prices is not None:
            file = path_from(self.folder, self.prices)
            offer = replace(money.offer, installed=None, file=file)
        elif money.offer.installed:
            offer = replace(money.offer, installed=round(option.price, 2))
        else:
            return option.job
        return replace(option.job, money=replace(money, offer=offer))

    def chart(self, narrow: bool = False) -> str:
        """Draw the trade-off as SVG, for the desk or for a telephone."""
        from noonwater.drawing.search_chart import TradeOff, search_chart
        from noonwater.drawing.sheet import DESK, POCKET

        drawn = TradeOff(
            self.job.name,
            self.job.money.currency,
            tuple(_point(option) for option in self.trade_off),
            tuple(
                (letter, *_point(listed.option))
                for letter, listed in zip(LETTERS, self.listed, strict=False)
            ),
            _point(self.own),
        )
        form = POCKET if narrow else DESK
        return search_chart(drawn, units=self.job.units, version=__version__, form=form)


def answer_search(
    path: Path | str,
    told: Told = untold,
    going: Callable[[], bool] = lambda: True,
    *,
    seed: int = SEED,
    tries: int = TRIES,
    prices: Path | str | None = None,
) -> SearchAnswer:
    """Answer which whole systems are on the trade-off of price, warmth and running cost.

    Parameters
    ----------
    path : Path or str
        A job file.
    told : callable, optional
        Is told how many options are judged.
    going : callable, optional
        Asked whether to go on; where not, the short list is of what was found so far.
    seed : int
        The same seed finds the same.
    tries : int
        Options that are judged.
    prices : Path or str, optional
        A price list that counts instead of the job's.

    Returns
    -------
    SearchAnswer

    Raises
    ------
    NoonwaterError
        InputError with every fault of the job, the price list or the numbers; NotConverged where
        the job as it stands has no answer.
    """
    from noonwater.design.choose_judge import counts
    from noonwater.design.choose_list import short_list
    from noonwater.design.choose_option import AS_IT_STANDS
    from noonwater.design.choose_search import front, search_options
    from noonwater.hydraulics.speeds import with_speeds

    _refuse_numbers(seed, tries)
    job = read_job(path)
    job = with_speeds(job, job.pool.target)
    priced = prices_of(job, Path(path).parent, prices)
    found = check_job(job)
    jit.note_engine_compiled()
    borne = frozenset(finding.rule for finding in found if finding.severity != "fault")
    question = Question(job, on_every_plane(job), priced.rows, priced.factor, borne)
    judge = judge_of(question)
    if not judge.space.rooms:
        raise InputError([Fault("roof", "no plane holds a panel", "a plane that holds one")])
    with judged_side_by_side(question, judge) as side_by_side:
        valid = search_options(judge, seed, tries, told, going, side_by_side=side_by_side)
    judged = len(judge.known)
    own = judge.judged_job(AS_IT_STANDS, job)
    bare = judge.bare_shortfall(job)
    late: Counter[str] = Counter()

    def checked(option: Option) -> tuple[Finding, ...]:
        findings = tuple(check_job(option.job))
        late.update({finding.rule for finding in findings if counts(finding, borne)})
        return findings

    listed, refused = short_list(judge, valid, bare, checked)
    return SearchAnswer(
        job=job,
        own=own,
        bare=bare,
        listed=listed,
        trade_off=tuple(front(valid)),
        judged=judged,
        valid=len(valid),
        refused=refused,
        broken=_frequent(_broken(judge)),
        refused_by=_frequent(late),
        seed=seed,
        stopped=not going(),
        borne=tuple(sorted(borne)),
        sources=_sources(job, own),
        folder=Path(path).parent,
        prices=None if prices is None else Path(prices),
        findings=priced.findings,
    )


def _broken(judge: Judge) -> Counter[str]:
    """Count what options broke first."""
    return Counter(option.broken[0] for option in judge.known.values() if option.broken)


def _frequent(counted: Counter[str]) -> tuple[tuple[str, int], ...]:
    """The most frequent first; of equals by their names."""
    return tuple(sorted(counted.items(), key=lambda pair: (-pair[1], pair[0])))


def _refuse_numbers(seed: int, tries: int) -> None:
    faults = []
    if not 0 <= seed < 2**31:
        faults.append(Fault("--seed", str(seed), "a whole number from 0 to 2147483647"))
    if not 50 <= tries <= 100_000:
        faults.append(Fault("--tries", str(tries), "a whole number from 50 to 100000"))
    if faults:
        raise InputError(faults)


def _sources(job: Job, own: Option) -> tuple[str, ...]:
    weather = weather_of(job).provenance
    share = 100.0 * (own.parts.from_memory if own.parts else 1.0)
    prices = (
        f"{share:.0f} % of the parts' price as it stands from memory (United States retail about"
        " 2024, not converted)"
        if share
        else "prices of the price list; what it lacks from memory"
    )
    return (f"weather {weather.source}", weather.uncertainty, prices)


def _aims_dict(option: Option) -> dict[str, Any]:
    return {
        "price": option.price,
        "shortfall_K": option.shortfall,
        "running_cost": option.running,
        "days_at_target": option.year.days_at_target if option.year else None,
    }


def _option_dict(option: Option) -> dict[str, Any]:
    year, job = option.year, option.job
    split: dict[str, int] = {}
    for bank in job.array.banks:
        split[bank.roof] = split.get(bank.roof, 0) + len(bank.numbers)
    return {
        **_aims_dict(option),
        "panels": split,
        "banks": [len(bank.numbers) for bank in job.array.banks],
        "solar_speed_rpm": job.pump.solar_speed,
        "bypass_open": job.pad.bypass_open,
        "breaker": job.pad.breaker,
        "on_difference_K": job.controls.on_difference,
        "off_difference_K": job.controls.off_difference,
        "cover": job.pool.cover.kind,
        "program": [
            {"start": p.start, "stop": p.stop, "speed_rpm": p.speed, "solar": p.solar}
            for p in job.pump.program
        ],
        "season_pool_C": year.season_pool if year else None,
        "solar_heat_kWh": year.solar_heat / KWH if year else None,
        "pump_kWh": year.pump_energy / KWH if year else None,
    }


def _point(option: Option) -> tuple[float, float, float]:
    return option.price, option.shortfall, option.running
