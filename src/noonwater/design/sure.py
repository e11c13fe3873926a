"""How sure the year is: ranges of what an owner counts, and what matters most to them."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.weather_year import month_of_hour
from noonwater.core.progress import Steps, Told, untold
from noonwater.design.doubts import Doubt, Floats, beliefs
from noonwater.design.size_year import days_at_target, monthly_means, season_of_day
from noonwater.year import parameters as at
from noonwater.year.belief import Belief
from noonwater.year.parameters import Inputs
from noonwater.year.run import run, steps_per_hour
from noonwater.year.varied import Base, varied

SAMPLES = 128
SEED = 20
SPIN_UP_DAYS = 45
WORKERS = 2
ONE_YEAR = "one typical or made year holds no spread from year to year"
LOW, HIGH = 0.1, 0.9
"""[-] Ends of the stated range: four of five cases lie inside."""


@dataclass(frozen=True, eq=False)
class Outcomes:
    """What each belief gives.

    Attributes
    ----------
    pool : (beliefs, 12) array
        Monthly mean with solar. [°C]
    days_at_target : (beliefs,) array
        Days whose mean is at the target or above, in the season. [d]
    solar_heat : (beliefs,) array
        [J]
    pump_energy : (beliefs,) array
        [J]
    heater_energy : (beliefs,) array
        Fuel or electricity of the heater beside solar. [J]
    """

    pool: Floats
    days_at_target: Floats
    solar_heat: Floats
    pump_energy: Floats
    heater_energy: Floats


@dataclass(frozen=True)
class Range:
    """Ten, fifty and ninety per cent points."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class Weight:
    """How much of the spread one doubt makes, 0 to 1. [-]"""

    name: str
    share: float


@dataclass(frozen=True)
class Sureness:
    """The ranges of a year.

    Attributes
    ----------
    pool : tuple of Range
        Twelve months. [°C]
    season_pool : Range
        Mean over the open season. [°C]
    days_at_target : Range
        [d]
    solar_heat : Range
        [J]
    pump_energy, heater_energy : Range
        [J]
    weights : tuple of Weight
        What makes the spread of the season's mean, the heaviest first.
    weather_left_out : str
        Why weather from year to year is not in the ranges; "" where it is.
    samples : int
        Beliefs that were run.
    outcomes : Outcomes
        What each of them gave.
    """

    pool: tuple[Range, ...]
    season_pool: Range
    days_at_target: Range
    solar_heat: Range
    pump_energy: Range
    heater_energy: Range
    weights: tuple[Weight, ...]
    weather_left_out: str
    samples: int
    outcomes: Outcomes


def sureness(
    bases: tuple[tuple[Base, Floats], ...],
    doubts: tuple[Doubt, ...],
    samples: int = SAMPLES,
    seed: int = SEED,
    told: Told = untold,
) -> Sureness:
    """Run the year in many beliefs and read off ranges.

    Parameters
    ----------
    bases : tuple of (Base, (BANKS + banks,) array)
        The job's shared inputs and the settled start of its middle year; one pair, or one a real
        year: then the beliefs take the years in turn, and weather is in the ranges.
    doubts : tuple of Doubt
        What is in doubt.
    samples, seed : int
        How many beliefs, and which.
    told : callable, optional
        Is told how many beliefs have been run.

    Returns
    -------
    Sureness
    """
    drawn, values = beliefs(doubts, samples, seed)
    turn = np.arange(len(drawn)) % len(bases)
    steps = Steps(told, len(drawn), "years run")
    parts = [
        run_beliefs(base, [drawn[i] for i in np.flatnonzero(turn == number)], start, steps)
        for number, (base, start) in enumerate(bases)
    ]
    outcomes = _in_turn(parts, turn)
    season = season_means(bases[0][0].inputs, outcomes)
    weights = weights_of(doubts, values, season)
    return Sureness(
        pool=tuple(range_of(outcomes.pool[:, month]) for month in range(12)),
        season_pool=range_of(season),
        days_at_target=range_of(outcomes.days_at_target),
        solar_heat=range_of(outcomes.solar_heat),
        pump_energy=range_of(outcomes.pump_energy),
        heater_energy=range_of(outcomes.heater_energy),
        weights=weights if len(bases) == 1 else _with_weather(weights, season, turn),
        weather_left_out=ONE_YEAR if len(bases) == 1 else "",
        samples=samples,
        outcomes=outcomes,
    )


def _in_turn(parts: list[Outcomes], turn: NDArray[np.intp]) -> Outcomes:
    order = np.argsort(np.argsort(turn, kind="stable"), kind="stable")
    return Outcomes(
        np.concatenate([part.pool for part in parts])[order],
        np.concatenate([part.days_at_target for part in parts])[order],
        np.concatenate([part.solar_heat for part in parts])[order],
        np.concatenate([part.pump_energy for part in parts])[order],
        np.concatenate([part.heater_energy for part in parts])[order],
    )


def _with_weather(
    weights: tuple[Weight, ...], season: Floats, turn: NDArray[np.intp]
) -> tuple[Weight, ...]:
    """Put the years' own share beside the doubts': variance of the years' means over all of it."""
    means = np.array([season[turn == year].mean() for year in range(turn.max() + 1)])
    share = float(np.clip(means.var() / max(season.var(), 1e-12), 0.0, 1.0))
    rest = [Weight(weight.name, weight.share * (1.0 - share)) for weight in weights]
    found = [*rest, Weight("weather from year to year", share)]
    return tuple(sorted(found, key=lambda weight: -weight.share))


def run_beliefs(
    base: Base, drawn: list[Belief], start: Floats, steps: Steps | None = None
) -> Outcomes:
    """Run the year once for each belief, on two threads: the compiled loop lets them.

    Parameters
    ----------
    base : Base
        The job's shared inputs.
    drawn : list of Belief
        The beliefs.
    start : (BANKS + banks,) array
        A state near each one's settled start.
    steps : Steps, optional
        Counts the years.

    Returns
    -------
    Outcomes
    """
    steps = steps or Steps(untold, len(drawn), "")

    def run_one(belief: Belief) -> list[float]:
        outcome = _outcome(varied(base, belief), start)
        steps.one_done()
        return outcome

    with ThreadPoolExecutor(WORKERS) as pool:
        rows = list(pool.map(run_one, drawn))
    stacked = np.array(rows)
    return Outcomes(stacked[:, :12], *stacked[:, 12:].T)


def season_means(inputs: Inputs, outcomes: Outcomes) -> Floats:
    """Mean of the pool over the open season, from the months, for each belief. [°C]."""
    hours = steps_per_hour(inputs)
    open_hours = np.bincount(
        month_of_hour(), weights=inputs.drivers.season[::hours].astype(float), minlength=12
    )
    if not open_hours.any():
        open_hours = np.bincount(month_of_hour(), minlength=12).astype(float)
    return np.asarray(outcomes.pool @ open_hours / open_hours.sum())


def range_of(values: Floats) -> Range:
    """Ten, fifty and ninety per cent points of a sample.

    Hazen's plotting positions: those of plain interpolation lie too far inside a small sample.
    """
    low, middle, high = np.quantile(values, [LOW, 0.5, HIGH], method="hazen")
    return Range(float(low), float(middle), float(high))


def weights_of(doubts: tuple[Doubt, ...], values: Floats, outcome: Floats) -> tuple[Weight, ...]:
    """Share of an outcome's spread that each doubt makes, by ranks.

    Parameters
    ----------
    doubts : tuple of Doubt
        Columns of ``values``.
    values : (beliefs, doubts) array
        What was drawn.
    outcome : (beliefs,) array
        What came of it.

    Returns
    -------
    tuple of Weight
        Squared standardised rank regression coefficients over their sum, the heaviest first.

    References
    ----------
    .. [1] Saltelli, A. et al., Sensitivity Analysis, Wiley, 2000, standardised rank regression
       (from memory).
    """
    from scipy.stats import rankdata

    x = np.column_stack([rankdata(column) for column in values.T])
    y = rankdata(outcome)
    x = (x - x.mean(axis=0)) / x.std(axis=0)
    y = (y - y.mean()) / max(y.std(), 1e-12)
    slopes = np.linalg.lstsq(x, y, rcond=None)[0] ** 2
    shares = slopes / max(slopes.sum(), 1e-12)
    order = np.argsort(-shares)
    return tuple(Weight(doubts[i].name, float(shares[i])) for i in order)


def belief_record(inputs: Inputs, start: Floats) -> Floats:
    """Run the year of one belief from a state near its settled one.

    Parameters
    ----------
    inputs : Inputs
        Of the belief.
    start : (BANKS + banks,) array
        Run for the year's last weeks first, so that little of it is left.

    Returns
    -------
    (8760, RECORD) array
        Hourly means and sums.
    """
    hours = steps_per_hour(inputs)
    steps, spin_up = len(inputs.drivers.temp_air), SPIN_UP_DAYS * 24 * hours
    state = run(inputs, start, steps - spin_up, spin_up).end
    return run(inputs, state, 0, steps).record


def _outcome(inputs: Inputs, start: Floats) -> list[float]:
    """Twelve monthly means [°C], days at target, solar heat, pump's and heater's energy [J]."""
    record = belief_record(inputs, start)
    pool, season = record[:, at.POOL_TEMP], season_of_day(inputs)
    return [
        *monthly_means(pool),
        float(days_at_target(pool, inputs.control.target, season)),
        float(record[:, at.SOLAR_HEAT].sum()),
        float(record[:, at.PUMP_ENERGY].sum()),
        float(record[:, at.HEATER_ENERGY].sum()),
    ]
