"""What a measurement says about the doubts: beliefs weighed by how well they foretell it.

Nothing is fitted that the data cannot tell: the beliefs stay what they were, only their weights
move, so a doubt that the measurement does not touch keeps its range and is named so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import Fault, InputError
from noonwater.design.doubts import Doubt, Floats
from noonwater.design.sure import HIGH, LOW, Outcomes, Range, season_means
from noonwater.physics.air import pressure_at_elevation, vapour_pressure_saturation
from noonwater.physics.evaporation import (
    evaporation_coefficient,
    evaporation_heat,
    evaporation_rate,
)
from noonwater.year import parameters as at
from noonwater.year.belief import Belief
from noonwater.year.parameters import Inputs, resting_state
from noonwater.year.run import run, steps_per_hour
from noonwater.year.varied import Base, varied

BUCKET_READING = 1.5e-3
"""[m] Reading a level twice, in a bucket that rocks. Common practice, no source."""

BUCKET_MODEL = 0.10
"""[-] Weather during the test taken by its mean: ours."""

LOGGER_MODEL = 0.5
"""[K] Daily mean of a pool model with good inputs: 82 % of results within 0.5 °C of a measured pool
(Lovell et al. 2019, abstract, read second-hand)."""

MEMORY_DAYS = 3.0
"""[d] A pool's error today is like yesterday's: one independent reading in so many days. Ours."""

MOST_READINGS = 8.0
"""[-] A long log counts as so many independent readings at most: what a model's form gets wrong
lasts the season and does not average out. Ours."""

MOST_MISS = 3.0
"""[-] Times its error that the best belief may miss a measurement by, root mean square. Ours."""

LEAST_EFFECTIVE = 12.0
"""[-] Fewer effective beliefs than this carry no range: the measurement is then given so much less
weight that they count. Ours."""

BISECTIONS = 40

TOLD = 0.10
"""[-] A doubt whose range narrows by less than this was not told by the measurement; ours."""


@dataclass(frozen=True)
class Bucket:
    """A bucket test: how far the level sank in a bucket that floats in the open pool.

    Attributes
    ----------
    drop : float
        [m]
    days : float
        [d]
    water, air, dew_point : float
        Means over the test. [°C]
    wind : float
        Mean at the weather station, 10 m. [m/s]
    """

    drop: float
    days: float
    water: float
    air: float
    dew_point: float
    wind: float


@dataclass(frozen=True)
class Narrowed:
    """One doubt before and after.

    Attributes
    ----------
    name : str
        Of the doubt.
    before, after : Range
        In its unit.
    narrower : float
        Share of its width that went. [-]
    told : bool
        Whether the measurement says something about it.
    """

    name: str
    before: Range
    after: Range
    narrower: float
    told: bool


@dataclass(frozen=True)
class Calibration:
    """What a measurement leaves.

    Attributes
    ----------
    effective : float
        Beliefs that still count. [-]
    doubts : tuple of Narrowed
        Each doubt.
    season_before, season_after : Range
        Mean of the pool in its season. [°C]
    heat_before, heat_after : Range
        Solar heat of the year. [J]
    narrower : float
        Share of the season range's width that went. [-]
    """

    effective: float
    doubts: tuple[Narrowed, ...]
    season_before: Range
    season_after: Range
    heat_before: Range
    heat_after: Range
    narrower: float


def bucket_misfit(
    bucket: Bucket, drawn: list[Belief], wind_factor: float, elevation: float
) -> Floats:
    """Squared miss of each belief's evaporation, in units of the test's own error.

    Parameters
    ----------
    bucket : Bucket
        The test.
    drawn : list of Belief
        The beliefs.
    wind_factor : float
        Wind at the water over the station's. [-]
    elevation : float
        Of the site. [m]

    Returns
    -------
    (beliefs,) array
        [-]
    """
    pressure = pressure_at_elevation(elevation)
    at_water = vapour_pressure_saturation(bucket.water)
    in_air = vapour_pressure_saturation(bucket.dew_point)
    foretold = []
    for belief in drawn:
        coefficient = belief.evaporation * evaporation_coefficient(
            bucket.wind * wind_factor * belief.water_wind,
            bucket.water,
            bucket.air,
            at_water,
            in_air,
            pressure,
        )
        rate = evaporation_rate(evaporation_heat(coefficient, at_water, in_air), bucket.water)
        foretold.append(rate * bucket.days * 86400.0 / 1000.0)
    error = np.hypot(BUCKET_READING, BUCKET_MODEL * bucket.drop)
    return np.asarray(((bucket.drop - np.array(foretold)) / error) ** 2)


def logger_misfit(base: Base, drawn: list[Belief], first_hour: int, temps: Floats) -> Floats:
    """Squared miss of each belief's daily pool temperatures, in units of the model's own error.

    Parameters
    ----------
    base : Base
        The job's shared inputs, on the weather of the log.
    drawn : list of Belief
        The beliefs.
    first_hour : int
        Hour of the year that the log begins in.
    temps : (hours,) array
        Logged hourly, whole days, the solar plant as in the job. [°C]

    Returns
    -------
    (beliefs,) array
        Mean over the log's days. [-]
    """
    hours = steps_per_hour(base.inputs)
    days = len(temps) // 24
    logged = temps[: days * 24].reshape(days, 24).mean(axis=1)
    misses = []
    for belief in drawn:
        inputs = varied(base, belief)
        first = first_hour * hours
        state = resting_state(
            float(temps[0]), float(inputs.drivers.temp_air[first]), len(inputs.array.area)
        )
        record = run(inputs, state, first, days * 24 * hours).record
        foretold = record[:, at.POOL_TEMP].reshape(days, 24).mean(axis=1)
        misses.append(np.mean(((foretold - logged) / LOGGER_MODEL) ** 2))
    return np.array(misses)


def readings_in(hours: int) -> float:
    """Independent readings in so many hours of a log. [-]."""
    return min(max(1.0, hours / 24.0 / MEMORY_DAYS), MOST_READINGS)


def calibrate(
    doubts: tuple[Doubt, ...],
    values: Floats,
    outcomes: Outcomes,
    inputs: Inputs,
    misfit: Floats,
    *,
    readings: float = 1.0,
) -> Calibration:
    """Weigh the beliefs by a measurement and read off what is left.

    Parameters
    ----------
    doubts : tuple of Doubt
        Columns of ``values``.
    values : (beliefs, doubts) array
        What was believed.
    outcomes : Outcomes
        What came of it.
    inputs : Inputs
        For the season.
    misfit : (beliefs,) array
        Squared miss over its error, mean of a reading. [-]
    readings : float
        Independent ones. [-]

    Returns
    -------
    Calibration

    Raises
    ------
    InputError
        When no belief can explain the measurement.
    """
    if misfit.min() > MOST_MISS**2:
        raise InputError([_unexplained(float(misfit.min()))])
    weights, effective = _weights(readings * misfit)
    even = np.full(len(weights), 1.0 / len(weights))
    season = season_means(inputs, outcomes)
    before, after = weighted_range(season, even), weighted_range(season, weights)
    return Calibration(
        effective=effective,
        doubts=tuple(
            _narrowed(doubt.name, values[:, i], even, weights) for i, doubt in enumerate(doubts)
        ),
        season_before=before,
        season_after=after,
        heat_before=weighted_range(outcomes.solar_heat, even),
        heat_after=weighted_range(outcomes.solar_heat, weights),
        narrower=_narrower(before, after),
    )


def weighted_range(values: Floats, weights: Floats) -> Range:
    """Ten, fifty and ninety per cent points of a weighted sample."""
    order = np.argsort(values)
    reached = np.cumsum(weights[order]) - 0.5 * weights[order]
    low, middle, high = np.interp([LOW, 0.5, HIGH], reached, values[order])
    return Range(float(low), float(middle), float(high))


def _narrowed(name: str, values: Floats, even: Floats, weights: Floats) -> Narrowed:
    before, after = weighted_range(values, even), weighted_range(values, weights)
    narrower = _narrower(before, after)
    moved = abs(after.middle - before.middle) > TOLD * (before.high - before.low)
    return Narrowed(name, before, after, narrower, narrower > TOLD or moved)


def _narrower(before: Range, after: Range) -> float:
    width = before.high - before.low
    return 1.0 - (after.high - after.low) / width if width > 0.0 else 0.0


def _weights(misfit: Floats) -> tuple[Floats, float]:
    """Weigh the beliefs by their miss, softly enough that `LEAST_EFFECTIVE` of them count.

    Notes
    -----
    Where too few beliefs lie near the measurement they would be told as sure by chance; a softer
    weight leaves the range wider than the measurement could make it, never narrower.
    """

    def weighed(share: float) -> Floats:
        found = np.exp(-0.5 * share * (misfit - misfit.min()))
        return np.asarray(found / found.sum())

    def effective(weights: Floats) -> float:
        return float(1.0 / (weights**2).sum())

    hard, soft = 1.0, 0.0
    if effective(weighed(hard)) < LEAST_EFFECTIVE <= len(misfit):
        for _ in range(BISECTIONS):
            middle = 0.5 * (hard + soft)
            enough = effective(weighed(middle)) >= LEAST_EFFECTIVE
            hard, soft = (hard, middle) if enough else (middle, soft)
        hard = soft
    weights = weighed(hard)
    return weights, effective(weights)


def _unexplained(best: float) -> Fault:
    return Fault(
        "measurement",
        f"misses the best of all beliefs by {np.sqrt(best):.1f} times its own error",
        f"within {MOST_MISS:.0f} times its error",
        "check the readings and their units, the cover, a leak, and that the weather is that of "
        "the measurement",
    )
