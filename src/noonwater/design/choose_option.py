"""An option judged: what it costs, how cold the pool stays, what a year of it costs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from noonwater.core.errors import InputError, NotConverged
from noonwater.design.choose_judge import broken_at_once, broken_rules, with_pace
from noonwater.design.choose_space import Place, Space, job_at
from noonwater.design.doubts import Floats
from noonwater.design.money_own_heater import own_alternative
from noonwater.design.money_parts import PriceRow
from noonwater.design.money_tariff import electricity_cost
from noonwater.design.size_year import Yield, season_of_day, with_solar
from noonwater.design.system_price import SystemPrice, cover_cost, system_price
from noonwater.model.job import Job
from noonwater.year import parameters as at
from noonwater.year.flows import PeriodFlows
from noonwater.year.parameters import Bytes, only_designed
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from noonwater.year.surroundings import Surroundings

AS_IT_STANDS: Place = ()


@dataclass(frozen=True, eq=False)
class Option:
    """One whole system.

    Attributes
    ----------
    place : Place
        In the space; empty for the job as it stands.
    job : Job
        Complete.
    broken : tuple of str
        Rules that it breaks; empty where it is valid so far.
    parts : SystemPrice or None
        Of its parts, before a price told whole scales it; None where it breaks a rule.
    price : float
        Installed, a new cover with it, before incentives. [currency]
    shortfall : float
        How far the season's days are below the target, in the mean. [K]
    running : float
        A year's electricity of the pump, the backup heater's fuel, a new cover's renewal.
        [currency]
    year : Yield or None
        What its year gives; None where it breaks a rule.
    """

    place: Place
    job: Job
    broken: tuple[str, ...]
    parts: SystemPrice | None = None
    price: float = np.inf
    shortfall: float = np.inf
    running: float = np.inf
    year: Yield | None = None

    @property
    def valid(self) -> bool:
        """Whether it breaks no rule that was asked."""
        return not self.broken

    @property
    def aims(self) -> tuple[float, float, float]:
        """Price, shortfall and running cost."""
        return self.price, self.shortfall, self.running


@dataclass(frozen=True, eq=False)
class Judge:
    """Judges options of one job; what was judged is kept.

    Attributes
    ----------
    space : Space
        What may be chosen.
    around : Surroundings
        Of the site, with all planes.
    flows_of : callable
        Solves a job's circuit for the year.
    rows : sequence of PriceRow
        The contractor's price list.
    factor : float
        A price told whole over that of the parts. [-]
    borne : frozenset of str
        Cautions that the job as it stands has already.
    known : dict
        Options by their place.
    """

    space: Space
    around: Surroundings
    flows_of: Callable[[Job], PeriodFlows]
    rows: Sequence[PriceRow]
    factor: float
    borne: frozenset[str]
    known: dict[Place, Option] = field(default_factory=dict)

    def option(self, place: Place) -> Option:
        """Judge the option at a place."""
        if place not in self.known:
            self.known[place] = self._judged(place)
        return self.known[place]

    def _judged(self, place: Place) -> Option:
        try:
            job = job_at(self.space, place)
            if job is None:
                return Option(place, self.space.job, ("nothing-to-build",))
            at_once = broken_at_once(job, self.borne, self.around.weather)
            if at_once:
                return Option(place, job, tuple(at_once))
            paced = with_pace(job, self.space.whole(place, "pace"))
            if paced is None:
                return Option(place, job, ("no-setting-to-use",))
            broken = broken_rules(paced, self.borne)
            return Option(place, paced, tuple(broken)) if broken else self.judged_job(place, paced)
        except InputError as error:
            return Option(place, self.space.job, tuple(fault.field for fault in error.faults))
        except NotConverged:
            return Option(place, self.space.job, ("no-answer",))

    def judged_job(self, place: Place, job: Job) -> Option:
        """Price a complete job and run its year, whatever rules it breaks."""
        inputs = prepare(job, self.around, self.flows_of(job))._replace(twins=only_designed())
        year = settled_year(inputs)
        parts = system_price(job, self.rows)
        new = job.pool.cover.kind != self.space.job.pool.cover.kind
        cover, renewal = cover_cost(job, job.pool.cover.kind) if new else (0.0, 0.0)
        return Option(
            place,
            job,
            (),
            parts=parts,
            price=self.factor * parts.total + cover,
            shortfall=shortfall(
                year.record[:, at.POOL_TEMP], job.pool.target, season_of_day(inputs)
            ),
            running=running_cost(job, year.record) + renewal,
            year=with_solar(year, inputs),
        )

    def bare_shortfall(self, job: Job) -> float:
        """Shortfall of a job without solar, its heater alone where there is one. [K]."""
        inputs = prepare(job, self.around, self.flows_of(job))
        record = settled_year(inputs).record
        heated = inputs.twins[at.HEATER_ONLY] == 1
        column = at.POOL_TEMP_HEATER_ONLY if heated else at.POOL_TEMP_WITHOUT
        return shortfall(record[:, column], job.pool.target, season_of_day(inputs))


def shortfall(pool: Floats, target: float, season: Bytes) -> float:
    """How far the season's days are below the target, days above it counted as none.

    Parameters
    ----------
    pool : (8760,) array
        Hourly means. [°C]
    target : float
        [°C]
    season : (365,) array
        1 on the season's days.

    Returns
    -------
    float
        Mean over the season. [K]
    """
    days = pool.reshape(365, 24).mean(axis=1)[season == 1]
    return float(np.maximum(target - days, 0.0).mean()) if days.size else 0.0


def running_cost(job: Job, record: Floats) -> float:
    """A year's electricity of the pump and energy of the backup heater. [currency].

    Parameters
    ----------
    job : Job
        For its tariff, and the price of what its heater burns.
    record : (8760, RECORD) array
        Of its year.
    """
    money, pump = job.money, record[:, at.PUMP_ENERGY]
    cost = float(electricity_cost(money, pump).sum())
    heater = own_alternative(job)
    if heater is None:
        return cost
    energy, called = record[:, at.HEATER_ENERGY], record[:, at.HEATER_PUMP_ENERGY]
    price = heater.energy_price
    if price is not None:
        fuel = price * float(energy.sum())
        return cost + fuel + float(electricity_cost(money, called, below=pump).sum())
    return cost + float(electricity_cost(money, energy + called, below=pump).sum())
