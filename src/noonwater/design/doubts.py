"""What nobody measured on a job, as distributions: from what, how wide, by which source."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonwater.model.job import Job
from noonwater.physics.air import vapour_pressure_saturation
from noonwater.physics.collector_rating import TEST_WIND_RANGE
from noonwater.physics.evaporation import (
    EVAPORATION_FACTOR_HIGH,
    EVAPORATION_FACTOR_LOW,
    evaporation_coefficient,
)
from noonwater.physics.evaporation_formulas import evaporation_coefficient_smith_lof_jones
from noonwater.year.belief import Belief
from noonwater.year.calendar import FORGOTTEN_USUAL
from noonwater.year.panels import TEST_SKY_RANGE
from noonwater.year.parameters import Inputs
from noonwater.year.run import steps_per_hour

Floats = NDArray[np.float64]

TENTH = 1.2815515655446004
"""[-] Standard normal's 90 % point: `low` and `high` of a doubt are its 10 % and 90 % points."""


@dataclass(frozen=True)
class Doubt:
    """One doubtful input.

    Attributes
    ----------
    name : str
        In words.
    field : str
        Of `Belief`.
    low, middle, high : float
        10 %, 50 % and 90 % points.
    unit : str
        "" for a factor.
    scale : {"factor", "plain"}
        A factor is spread in its logarithm.
    floor, ceiling : float
        Never beyond.
    source : str
        Where the spread comes from.
    """

    name: str
    field: str
    low: float
    middle: float
    high: float
    unit: str
    scale: str
    floor: float
    ceiling: float
    source: str

    def at(self, share: Floats) -> Floats:
        """Value at each share of the distribution: two half normals that meet in the middle.

        Parameters
        ----------
        share : array
            0 to 1. [-]

        Returns
        -------
        array
            In the doubt's unit, within floor and ceiling.
        """
        from scipy.stats import norm

        z = norm.ppf(np.clip(share, 1e-6, 1.0 - 1e-6)) / TENTH
        if self.scale == "factor":
            low, middle, high = (math.log(x) for x in (self.low, self.middle, self.high))
        else:
            low, middle, high = self.low, self.middle, self.high
        value = middle + np.where(z > 0.0, z * (high - middle), z * (middle - low))
        value = np.exp(value) if self.scale == "factor" else value
        return np.asarray(np.clip(value, self.floor, self.ceiling))


WATER_WIND = (0.6, 1.0, 1.5)
"""[-] A surveyor's word for the garden's wind may be this wrong: ours, half a step of terrain."""

EFFICIENCY = (0.975, 1.0, 1.025)
"""[-] Spread of one panel's test: ratings within 25 Btu/(ft²·day) of a thousand count as equal
(read, a state solar centre's ratings page)."""

UNCOVERED = (0.02, FORGOTTEN_USUAL, 0.3)
"""[-] Share of nights on which an owner forgets the cover. Common practice, no source."""


GROUND = (0.5, 1.0, 2.0)
"""[-] Of the heat through walls and floor: dry sand to wet clay, from memory; decision 0016."""

REACH_HOURS = 5
"""[h] Every fifth hour of the season tells its mean: 24 hours are met in turn."""


def evaporation_reach(inputs: Inputs) -> float:
    """Upper end of the evaporation's range, over the default: at least to Smith-Lof-Jones in wind.

    Parameters
    ----------
    inputs : Inputs
        The job's, for the season's air and the wind at the water.

    Returns
    -------
    float
        The larger of `EVAPORATION_FACTOR_HIGH` and what Smith-Lof-Jones' formula evaporates over
        the default in the season's hours, from water at the target. [-]

    Notes
    -----
    Decision 0003. A hall has one formula and no wind: there it is `EVAPORATION_FACTOR_HIGH`.
    """
    drivers, water, pool = inputs.drivers, inputs.control.target, inputs.pool
    at_water = vapour_pressure_saturation(water)
    open_water = (drivers.season == 1) & (drivers.vapour_pressure < at_water)
    hours = np.flatnonzero(open_water)[:: steps_per_hour(inputs) * REACH_HOURS]
    if pool.coefficient_hall > 0.0 or not len(hours):
        return EVAPORATION_FACTOR_HIGH
    default = reached = 0.0
    for i in hours:
        wind, in_air = float(drivers.wind_water[i]), float(drivers.vapour_pressure[i])
        air, lack = float(drivers.temp_air[i]), at_water - in_air
        default += lack * evaporation_coefficient(wind, water, air, at_water, in_air, pool.pressure)
        reached += lack * evaporation_coefficient_smith_lof_jones(wind)
    return max(EVAPORATION_FACTOR_HIGH, reached / default)


def doubts_of(
    job: Job, uncertainty_sun: float, evaporation_high: float = EVAPORATION_FACTOR_HIGH
) -> tuple[Doubt, ...]:
    """List the doubts of a job.

    Parameters
    ----------
    job : Job
        The job; a pool without cover has no doubt about its cover, nor one whose owner's habit the
        job tells: the year counts its forgotten days.
    uncertainty_sun : float
        One standard deviation of the source's annual sun. [-]
    evaporation_high : float
        Upper end of the evaporation's range, over the default: `evaporation_reach`. [-]

    Returns
    -------
    tuple of Doubt
    """
    spread = TENTH * uncertainty_sun
    found = [
        Doubt(
            "evaporation",
            "evaporation",
            EVAPORATION_FACTOR_LOW,
            1.0,
            evaporation_high,
            "",
            "factor",
            0.3,
            4.0,
            "spread of the measurements in decision 0003",
        ),
        Doubt(
            "wind at the water", "water_wind", *WATER_WIND, "", "factor", 0.1, 4.0,
            "ours: half a step of terrain",
        ),
        Doubt(
            "wind at the panels' test", "test_wind", *TEST_WIND_RANGE, "m/s", "plain", 0.0, 5.0,
            "limits of the test standards, from memory",
        ),
        Doubt(
            "sky at the panels' test", "test_sky", *TEST_SKY_RANGE, "W/m²", "plain", -110.0, 0.0,
            "clear outdoor tests and lamp halls, from memory",
        ),
        Doubt(
            "efficiency of the panels", "efficiency", *EFFICIENCY, "", "factor", 0.8, 1.2,
            "repeatability of published ratings",
        ),
        Doubt(
            "sun of the weather's source",
            "sun",
            1.0 - spread,
            1.0,
            1.0 + spread,
            "",
            "factor",
            0.6,
            1.4,
            "the weather's own statement",
        ),
        Doubt(
            "heat to the ground", "ground", *GROUND, "", "factor", 0.2, 4.0,
            "dry sand to wet clay, from memory",
        ),
    ]  # fmt: skip
    if job.pool.cover.kind != "none" and job.pool.cover.forgotten is None:
        found.append(
            Doubt(
                "nights without the cover", "uncovered", *UNCOVERED, "", "plain", 0.0, 1.0,
                "common practice, no source",
            )
        )  # fmt: skip
    return tuple(found)


def beliefs(doubts: tuple[Doubt, ...], count: int, seed: int) -> tuple[list[Belief], Floats]:
    """Draw ways to see a job, evenly over all doubts together.

    Parameters
    ----------
    doubts : tuple of Doubt
        What is in doubt.
    count : int
        How many; a power of two spreads best.
    seed : int
        Same seed, same draw.

    Returns
    -------
    tuple of (list of Belief, (count, doubts) array)
        The beliefs, and their values a column each.

    Notes
    -----
    Scrambled Sobol sequence of scipy.stats.qmc.
    """
    from scipy.stats import qmc

    power = max(1, math.ceil(math.log2(max(count, 2))))
    shares = qmc.Sobol(len(doubts), rng=np.random.default_rng(seed)).random_base2(power)[:count]
    values = np.column_stack([doubt.at(shares[:, i]) for i, doubt in enumerate(doubts)])
    return [belief_of(doubts, row) for row in values], values


def belief_of(doubts: tuple[Doubt, ...], values: Floats) -> Belief:
    """Make a belief of one value a doubt."""
    named: Mapping[str, float] = {
        doubt.field: float(value) for doubt, value in zip(doubts, values, strict=True)
    }
    return Belief(**named)


def middle_belief(doubts: tuple[Doubt, ...]) -> Belief:
    """Make the belief of every middle."""
    return belief_of(doubts, np.array([doubt.middle for doubt in doubts]))
