"""How far the survey may move a first answer: the job in many ways that it may turn out to be.

Six questions leave things open: shade, shelter, pipes, the day's program. Each of them is drawn
from what a surveyor meets, together with the doubts that no survey settles, and the year is run
for each draw. The stated range holds nine of ten.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from noonwater.app.desk import headline, months_open, studied
from noonwater.app.job_file import job_text, read_job_tables
from noonwater.app.job_place import Tables, place_of
from noonwater.app.store_files import tables_from_text
from noonwater.core.errors import NoonwaterError
from noonwater.model.job import Job
from noonwater.model.pool import day_of_year

if TYPE_CHECKING:
    from noonwater.design.sure import Outcomes

DRAWS = 64
SEED = 6
LOW, HIGH = 0.05, 0.95
"""[-] Ends of the stated range: nine of ten draws lie inside."""


@dataclass(frozen=True)
class Open:
    """A field that the six questions leave open, and what a surveyor may find there.

    Attributes
    ----------
    field : str
        Of the job.
    found : tuple of str
        Each as likely as the others; a likelier one stands there more than once. Common practice,
        no source.
    """

    field: str
    found: tuple[str, ...]


PLACE_AND_POOL = (
    Open("site.terrain", ("open field", "suburb", "suburb", "town or woods")),
    Open("pool.shelter", ("open", "partly sheltered", "partly sheltered", "sheltered")),
    Open("pool.shade", ("0 %", "5 %", "10 %", "20 %", "30 %")),
    Open("pool.finish", ("white", "light", "light", "medium", "dark")),
    Open("roof[0].exposure", ("open", "partly sheltered", "sheltered")),
)
PLUMBING = (
    Open("roof[0].eave_height", ("2.4 m", "2.8 m", "3.2 m", "5.5 m")),
    Open("pad.pipe", ("1.5 in", "2 in", "2 in", "2.5 in")),
    Open("pad.feed_length", ("8 m", "14 m", "20 m", "30 m")),
    Open("pad.filter", ("cartridge", "sand", "DE")),
    Open("pad.elbows", ("12", "18", "24")),
)
COVERED = (
    Open("pool.cover.on_from", ("18:00", "20:00", "22:00")),
    Open("pool.cover.on_until", ("07:00", "09:00", "10:00")),
    Open("pool.cover.months", ("all", "all", "cool", "open's ends")),
)
VARIABLE = (Open("pump.solar_speed", ("2200 rpm", "2500 rpm", "2700 rpm", "3000 rpm")),)
DAY = (
    Open("pump.program[0].start", ("07:00", "08:00", "08:30", "09:00", "10:00")),
    Open("pump.program[0].stop", ("15:00", "16:00", "17:00", "17:30", "18:00")),
    Open("controls.on_difference", ("3 K", "4 K", "5 K", "6 K")),
    Open("weather.seed", ("1", "2", "3")),
)
SECOND_PLANE = ("0", "0", "0", "-90", "90")
"""[°] Turn of a second plane that a third of the panels lies on; 0 for none."""


@dataclass(frozen=True)
class FirstAnswer:
    """What an owner counts; None where there is no answer.

    Attributes
    ----------
    season_water : float or None
        Mean water temperature while the pool is open. [°C]
    days_at_target : float or None
        Days at the target or above while it is open. [d]
    solar_heat : float or None
        Over the year. [J]
    """

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
    season_water : Span
        Mean water temperature while the pool is open. [°C]
    days_at_target : Span
        Days at the target or above while it is open. [d]
    solar_heat : Span
        Over the year. [J]
    draws : int
        Ways in which the job was run.
    """

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
        return FirstAnswer(None, None, None)
    first, last = day_of_year(job.pool.opens, "opens"), day_of_year(job.pool.closes, "closes")
    season = np.zeros(365, dtype=np.int8)
    season[[(first + day) % 365 for day in range((last - first) % 365 + 1)]] = 1
    days = days_at_target(found.year.record[:, POOL_TEMP], job.pool.target, season)
    return FirstAnswer(line.season_water, float(days), line.solar_heat)


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
    season, days, heat = [], [], []
    for drawn, shares in _draws(tables, job):
        try:
            outcomes = _run(drawn, shares)
        except NoonwaterError:
            continue  # a pump that can't lift the water there: the survey will tell
        months = [month - 1 for month in months_open(job)]
        season.append(float(outcomes.pool[0, months].mean()))
        days.append(float(outcomes.days_at_target[0]))
        heat.append(float(outcomes.solar_heat[0]))
    if len(season) < DRAWS // 4:
        raise NoonwaterError("hardly any way that this job may turn out has an answer")

    def span(values: Sequence[float]) -> Span:
        return Span(*(float(end) for end in np.quantile(values, [LOW, HIGH])))

    return FirstRange(span(season), span(days), span(heat), len(season))


def _draws(tables: Tables, job: Job) -> list[tuple[Job, Any]]:
    """The job in as many ways, and for each the shares at which its doubts are read."""
    import numpy as np
    from scipy.stats import qmc

    opens = open_fields(job)
    width = len(opens) + 1 + DOUBTS
    shares = qmc.Sobol(width, rng=np.random.default_rng(SEED)).random(DRAWS)
    found = []
    for row in shares:
        drawn = deepcopy(tables)
        for each, share in zip(opens, row, strict=False):
            _put(drawn, each.field, each.found[int(share * len(each.found))])
        _turn(drawn, SECOND_PLANE[int(row[len(opens)] * len(SECOND_PLANE))])
        found.append((read_job_tables(drawn), row[len(opens) + 1 :]))
    return found


DOUBTS = 10
"""Room for the doubts that no survey settles, `noonwater.design.doubts`."""


def open_fields(job: Job) -> tuple[Open, ...]:
    """What the six questions leave open about a job."""
    covered = COVERED if job.pool.cover.kind != "none" else ()
    variable = VARIABLE if job.pump.solar_speed is not None else ()
    return (*PLACE_AND_POOL, *PLUMBING, *covered, *variable, *DAY)


def _run(job: Job, shares: Any) -> Outcomes:
    import numpy as np

    from noonwater.app.sureness import believed
    from noonwater.design.doubts import belief_of
    from noonwater.design.sure import run_beliefs

    base, doubts, start = believed(job)
    values = np.array(
        [float(doubt.at(shares[number : number + 1])[0]) for number, doubt in enumerate(doubts)]
    )
    return run_beliefs(base, [belief_of(doubts, values)], start)


def _put(tables: Tables, field: str, text: str) -> None:
    place = place_of(field) or ()
    holder: Any = tables
    for step in place[:-1]:
        holder = holder[step]
    if field == "pool.cover.months":
        holder["months"] = _cover_months(tables, text)
    else:
        holder[place[-1]] = int(text) if text.isdigit() else text


def _cover_months(tables: Tables, which: str) -> list[int]:
    first, last = int(tables["pool"]["opens"][:2]), int(tables["pool"]["closes"][:2])
    if which == "cool":
        return [11, 12, 1, 2, 3, 4] if first == last or (first, last) == (1, 12) else [4, 5, 9, 10]
    if which == "all" or first == last:
        return list(range(1, 13))
    return sorted({first, first % 12 + 1, (last - 2) % 12 + 1, last})


def _turn(tables: Tables, degrees: str) -> None:
    """Put a third of the panels on a plane turned so far; none for 0."""
    if degrees == "0":
        return
    main = tables["roof"][0]
    bearing = (float(str(main["bearing"]).split()[0]) + float(degrees)) % 360.0
    tables["roof"].append({**main, "name": "second roof", "bearing": f"{bearing:g} deg"})
    banks = tables["array"]["banks"]
    moved = []
    for bank in banks:
        third = round(bank["panels"] / 3)
        if third:
            bank["panels"] -= third
            moved.append({**bank, "roof": "second roof", "panels": third})
    banks += moved
