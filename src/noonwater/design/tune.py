"""Tune: the speed, or the place of a valve, that pays best, and what keeps it from being used."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import Fault, InputError
from noonwater.core.progress import Told, untold
from noonwater.design.doubts import Floats
from noonwater.design.money_tariff import electricity_cost
from noonwater.design.size_year import Yield, with_solar
from noonwater.design.tune_choice import Choice, choose
from noonwater.design.tune_heat import SolarHours, heat_rates, solar_hours
from noonwater.design.tune_setting import (
    Handle,
    Least,
    Setting,
    handle_of,
    least_of,
    own_value,
    settings_of,
)
from noonwater.design.tune_worth import Worth, worth_of
from noonwater.hydraulics.targets import Targets
from noonwater.model.job import Job
from noonwater.year import parameters as at
from noonwater.year.flows import PeriodFlows
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from noonwater.year.surroundings import Surroundings
from noonwater.year.terms import water_capacity

MONTH_GROUPS = ((11, 0, 1), (2, 3, 4), (5, 6, 7), (8, 9, 10))
"""Months, 0 for January, that are told together: three of like sun. Ours."""
PRICE_STEP = 1e-4 / 3.6e6
"""[currency/J] Prices of electricity nearer than this are one period of the tariff. Ours."""
MOST_PERIODS = 12

FlowsOf = Callable[[Job], PeriodFlows]


@dataclass(frozen=True)
class PerHour:
    """What a setting does in the mean hour of some.

    Attributes
    ----------
    heat : float
        To the pool. [W]
    power, power_added : float
        At the wire; beyond what the program takes without solar. [W]
    net : float or None
        Worth of the heat less the added electricity's; None where heat has no price. [currency/s]
    """

    heat: float
    power: float
    power_added: float
    net: float | None


@dataclass(frozen=True)
class Stretch:
    """Some of the year's solar hours, and what is best in them.

    Attributes
    ----------
    months : tuple of int
        1 for January; empty where all.
    price : float or None
        Of electricity; None where all. [currency/J]
    hours : float
        With water on the roof in the job's own year. [h]
    choice : Choice
        What pays best and what may be used.
    chosen, own : PerHour
        At the chosen setting, and at the job's own.
    """

    months: tuple[int, ...]
    price: float | None
    hours: float
    choice: Choice
    chosen: PerHour
    own: PerHour


@dataclass(frozen=True)
class YearOf:
    """The year at one setting.

    Attributes
    ----------
    value : float
        Of the setting.
    year : Yield
        What it gives.
    cost : float
        Of all the pump's electricity. [currency]
    worth : float or None
        Of the heat; None where it has no price. [currency]
    """

    value: float
    year: Yield
    cost: float
    worth: float | None


@dataclass(frozen=True, eq=False)
class TuneStudy:
    """All settings of a job's solar flow and what is best.

    Attributes
    ----------
    job : Job
        The job.
    handle : Handle
        What is set.
    settings : tuple of Setting
        Rising.
    per_hour : tuple of PerHour
        Of each, in the mean solar hour of the year.
    own : int
        Place of the job's own setting.
    choice : Choice
        Over the year.
    seasons, periods : tuple of Stretch
        By months, and by price of electricity.
    least : Least
        Speeds that breaker and start need.
    worth : Worth
        Prices.
    years : tuple of YearOf
        As set, and as chosen.
    """

    job: Job
    handle: Handle
    settings: tuple[Setting, ...]
    per_hour: tuple[PerHour, ...]
    own: int
    choice: Choice
    seasons: tuple[Stretch, ...]
    periods: tuple[Stretch, ...]
    least: Least
    worth: Worth
    years: tuple[YearOf, ...]


def tune(
    job: Job,
    around: Surroundings,
    flows_of: FlowsOf,
    targets: Targets | None,
    heat_price: float | None = None,
    *,
    told: Told = untold,
) -> TuneStudy:
    """Weigh every setting of the solar flow.

    Parameters
    ----------
    job : Job
        The job, its flows already made speeds.
    around : Surroundings
        Of its site.
    flows_of : callable
        Solves a job's circuit for the year.
    targets : Targets or None
        Of its circuit.
    heat_price : float, optional
        Of the heat that solar displaces; from the job's alternatives where left out. [currency/J]
    told : callable, optional
        Is told how many settings are solved.

    Returns
    -------
    TuneStudy

    Raises
    ------
    InputError
        Where solar runs in no hour of the year.
    NotConverged
        When a year doesn't settle.
    """
    inputs = prepare(job, around, flows_of(job))
    year = settled_year(inputs)
    hours = solar_hours(inputs, year.record)
    if not len(hours.place):
        where = "the year" if any(each.heats for each in job.pump.program) else "pump.program"
        given, allowed = "solar runs in no hour of it", "a job whose solar runs"
        raise InputError([Fault(where, given, allowed, '"noonwater check" says why')])
    handle = handle_of(job)
    least = least_of(job, targets)
    settings = settings_of(job, handle, told)
    water = water_capacity(job.pool.target)
    capacity = water * np.array([setting.state.bank_flows for setting in settings])
    heat = heat_rates(hours, capacity)
    power = np.array([setting.state.power for setting in settings])
    worth = worth_of(job, year.record[:, at.PUMP_ENERGY_WITHOUT], heat_price)
    weigh = _Scale(hours, heat, power, worth)
    own = next(i for i, each in enumerate(settings) if each.value == own_value(job, handle))
    everywhere = np.ones(len(hours.place), dtype=bool)
    per_hour = weigh.per_hour(everywhere)
    choice = choose(job, handle, settings, [each.net for each in per_hour])
    values = dict.fromkeys((own, choice.chosen))
    return TuneStudy(
        job=job,
        handle=handle,
        settings=settings,
        per_hour=tuple(per_hour),
        own=own,
        choice=choice,
        seasons=tuple(_by_season(job, handle, settings, weigh, own)),
        periods=tuple(_by_price(job, handle, settings, weigh, own)),
        least=least,
        worth=worth,
        years=tuple(_year_of(settings[place], around, flows_of, worth) for place in values),
    )


@dataclass(frozen=True, eq=False)
class _Scale:
    """Weighs settings over any of the solar hours."""

    hours: SolarHours
    heat: Floats
    power: Floats
    worth: Worth

    def per_hour(self, mask: np.ndarray) -> list[PerHour]:
        """What each setting does in the mean of some hours, by the time that water runs."""
        weight = np.where(mask, self.hours.time, 0.0)
        weight = weight / weight.sum()
        heat = self.heat @ weight
        added = self.power - float(self.hours.power_filter @ weight)
        place = self.hours.place
        electricity = self.worth.electricity[place]
        cost = (self.power[:, None] - self.hours.power_filter) @ (weight * electricity)
        gained = None if self.worth.heat is None else self.heat @ (weight * self.worth.heat[place])
        return [
            PerHour(
                heat=float(heat[i]),
                power=float(self.power[i]),
                power_added=float(added[i]),
                net=None if gained is None else float(gained[i] - cost[i]),
            )
            for i in range(len(self.power))
        ]


def _by_season(
    job: Job, handle: Handle, settings: tuple[Setting, ...], weigh: _Scale, own: int
) -> list[Stretch]:
    found = []
    for group in MONTH_GROUPS:
        mask = np.isin(weigh.hours.month, group)
        there = set(weigh.hours.month[mask].tolist())
        months = tuple(month + 1 for month in group if month in there)
        if mask.any():
            found.append(_stretch(job, handle, settings, weigh, (mask, own, months, None)))
    return found


def _by_price(
    job: Job, handle: Handle, settings: tuple[Setting, ...], weigh: _Scale, own: int
) -> list[Stretch]:
    price = np.round(weigh.worth.electricity[weigh.hours.place] / PRICE_STEP).astype(int)
    kinds = sorted(set(price.tolist()))
    if len(kinds) < 2:
        return []
    return [
        _stretch(job, handle, settings, weigh, (price == kind, own, (), kind * PRICE_STEP))
        for kind in kinds[:MOST_PERIODS]
    ]


def _stretch(
    job: Job,
    handle: Handle,
    settings: tuple[Setting, ...],
    weigh: _Scale,
    which: tuple[np.ndarray, int, tuple[int, ...], float | None],
) -> Stretch:
    mask, own, months, price = which
    per_hour = weigh.per_hour(mask)
    choice = choose(job, handle, settings, [each.net for each in per_hour])
    return Stretch(
        months=months,
        price=price,
        hours=float(weigh.hours.time[mask].sum()) / 3600.0,
        choice=choice,
        chosen=per_hour[choice.chosen],
        own=per_hour[own],
    )


def _year_of(setting: Setting, around: Surroundings, flows_of: FlowsOf, worth: Worth) -> YearOf:
    inputs = prepare(setting.job, around, flows_of(setting.job))
    year = settled_year(inputs)
    cost = electricity_cost(setting.job.money, year.record[:, at.PUMP_ENERGY]).sum()
    saved = None
    if worth.heat is not None:
        saved = float(year.record[:, at.SOLAR_HEAT] @ worth.heat)
    return YearOf(setting.value, with_solar(year, inputs), float(cost), saved)
