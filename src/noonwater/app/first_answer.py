"""How far the survey may move a first answer: the job in many ways that it may turn out to be.

Six questions leave things open: shade, shelter, pipes, the day's program. Each of them is drawn
from what a surveyor meets, together with the doubts that no survey settles, and the year is run
for each draw. The stated range holds nine of ten.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from functools import lru_cache
from typing import Any

from noonwater.app.desk import headline, months_open, studied
from noonwater.app.first_open import open_fields, surveyed
from noonwater.app.job_file import job_text, read_job_tables
from noonwater.app.job_place import Tables
from noonwater.app.store_files import tables_from_text
from noonwater.core.errors import NoonwaterError
from noonwater.model.job import Job
from noonwater.model.pool import day_of_year

DRAWS = 64
SEED = 6
DOUBTS = 10
"""Room for the doubts that no survey settles, `noonwater.design.doubts`."""

CLEAR_DAYS = 3
"""The clearest days of a month differ in wind and air; another year's clearest is as likely any of
them. Ours."""

LOW, HIGH = 0.05, 0.95
"""[-] Ends of the stated range: nine of ten draws lie inside."""


@dataclass(frozen=True)
class FirstAnswer:
    """What an owner counts; None where there is no answer.

    Attributes
    ----------
    clear_day : float or None
        Degrees that a clear day adds in the open months, at its mildest. [K]
    season_water : float or None
        Mean water temperature while the pool is open. [°C]
    days_at_target : float or None
        Days at the target or above while it is open. [d]
    solar_heat : float or None
        Over the year. [J]
    """

    clear_day: float | None
    season_water: float | None
    days_at_target: float | None
    solar_heat: float | None


@dataclass(frozen=True)
class Span:
    """A stated range; nine of ten lie inside."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies inside."""
        return self.low <= value <= self.high


@dataclass(frozen=True)
class FirstRange:
    """What the survey may still move the first answer to.

    Attributes
    ----------
    clear_day : Span
        Degrees that a clear day adds in the open months, at its mildest. [K]
    season_water : Span
        Mean water temperature while the pool is open. [°C]
    days_at_target : Span
        Days at the target or above while it is open. [d]
    solar_heat : Span
        Over the year. [J]
    draws : int
        Ways in which the job was run.
    """

    clear_day: Span
    season_water: Span
    days_at_target: Span
    solar_heat: Span
    draws: int


def first_answer(job: Job) -> FirstAnswer:
    """Answer what an owner counts, of a job as it stands."""
    import numpy as np

    from noonwater.design.size_year import days_at_target
    from noonwater.year.parameters import POOL_TEMP

    found = studied(job)
    line = headline(job, found)
    if found.year is None:
        return FirstAnswer(None, None, None, None)
    first, last = day_of_year(job.pool.opens, "opens"), day_of_year(job.pool.closes, "closes")
    season = np.zeros(365, dtype=np.int8)
    season[[(first + day) % 365 for day in range((last - first) % 365 + 1)]] = 1
    days = days_at_target(found.year.record[:, POOL_TEMP], job.pool.target, season)
    return FirstAnswer(line.clear_day, line.season_water, float(days), line.solar_heat)


@lru_cache(maxsize=8)
def first_range(job: Job) -> FirstRange:
    """State the range of a job made of six answers.

    Parameters
    ----------
    job : Job
        As `noonwater.app.six_questions.first_job` makes it.

    Raises
    ------
    NoonwaterError
        When hardly any way of the job has an answer.
    """
    import numpy as np

    tables = tables_from_text(job_text(job))
    found = []
    chance = np.random.default_rng(SEED)
    for drawn, shares in _draws(tables, job):
        clear = chance.integers(CLEAR_DAYS, size=12)
        try:
            found.append(_run(drawn, shares, clear))
        except NoonwaterError:
            continue  # a pump that can't lift the water there: the survey will tell
    if len(found) < DRAWS // 4:
        raise NoonwaterError("hardly any way that this job may turn out has an answer")

    stands = astuple(first_answer(job))
    rise, water, days, heat = [
        _span(np.quantile(column, [LOW, HIGH]).tolist(), here)
        for column, here in zip(np.array(found).T, stands, strict=True)
    ]
    return FirstRange(rise, water, days, heat, len(found))


def _span(ends: Sequence[float], here: float | None) -> Span:
    """Nine of ten draws, and always the figure as it stands."""
    whole = [*ends] if here is None else [*ends, here]
    return Span(min(whole), max(whole))


def _draws(tables: Tables, job: Job) -> list[tuple[Job, Any]]:
    """The job in as many ways, and for each the shares at which its doubts are read."""
    import numpy as np
    from scipy.stats import qmc

    opens = open_fields(job)
    first = len(opens) + 1
    shares = qmc.Sobol(first + DOUBTS, rng=np.random.default_rng(SEED)).random(DRAWS)
    return [(read_job_tables(surveyed(tables, opens, row)), row[first:]) for row in shares]


def _run(job: Job, shares: Any, clear: Any) -> tuple[float, ...]:
    """What one way of the job gives, in the order of `FirstRange`.

    ``clear`` tells which of each month's days is taken for the clear one.
    """
    import numpy as np

    from noonwater.app.sureness import believed
    from noonwater.app.weather import weather_of
    from noonwater.design.doubts import belief_of
    from noonwater.design.size_year import days_at_target, monthly_means, season_of_day
    from noonwater.design.sure import belief_record
    from noonwater.year import parameters as at
    from noonwater.year.run import clear_day_rise
    from noonwater.year.varied import varied

    base, doubts, start = believed(job)
    values = np.array(
        [float(doubt.at(shares[number : number + 1])[0]) for number, doubt in enumerate(doubts)]
    )
    both = np.zeros(at.POOLS, dtype=np.int8)
    both[[at.POOL, at.WITHOUT]] = 1
    inputs = varied(base, belief_of(doubts, values))._replace(twins=both)
    record = belief_record(inputs, start)
    without = record[:, at.POOL_TEMP_WITHOUT]
    rise = clear_day_rise(inputs, without, weather_of(job).sun_global, clear)
    months = [month - 1 for month in months_open(job)]
    pool = record[:, at.POOL_TEMP]
    days = days_at_target(pool, job.pool.target, season_of_day(inputs))
    return (
        float(rise[months].min()),
        float(monthly_means(pool)[months].mean()),
        float(days),
        float(record[:, at.SOLAR_HEAT].sum()),
    )
