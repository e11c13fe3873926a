"""How cold it gets: what a source says about the coldest hour in many years.

A typical year is made of typical months, so it hides the night that bursts a pipe. Only a source
that looked at many years knows: the design conditions in an EPW file's header, or a file that holds
many real years. Where there is none, the risk is not known, and `Extremes.knows_risk` says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

RETURN_YEARS = (5.0, 10.0, 20.0, 50.0)
"""[a] Return periods that design conditions list."""

HEADER_VALUES = 4 + 2 * len(RETURN_YEARS)
"""Mean and spread of the lowest and the highest, then both for each return period: the last values
of the header's 'Extremes', whichever edition of the handbook wrote it."""

HEADER_MISMATCH = 0.4
"""[K] What rounding to 0.1 K of mean, spread and result can make at 50 years, with some room; ours.
Other numbers in these places are no lowest temperatures."""

YEARS_FOR_RISK = 10
"""[a] Fewer real years tell no spread of their lowest hours that anybody should drain by; ours."""

EULER = 0.5772156649015329


@dataclass(frozen=True)
class Extremes:
    """Coldest hours that a source knows of.

    Attributes
    ----------
    source : str
        Who says so.
    temp_lowest : float or None
        Coldest hour of the year or years at hand. [°C]
    mean_lowest, spread_lowest : float or None
        Mean and standard deviation of the years' coldest hours; None where nobody told them.
        [°C], [K]
    return_years : tuple of float
        Return periods that the source lists. [a]
    return_temps : tuple of float
        Coldest hour in so many years, one for each. [°C]
    yearly_lowest : tuple of float
        Coldest hour of each real year at hand, in their order. [°C]
    """

    source: str
    temp_lowest: float | None = None
    mean_lowest: float | None = None
    spread_lowest: float | None = None
    return_years: tuple[float, ...] = ()
    return_temps: tuple[float, ...] = ()
    yearly_lowest: tuple[float, ...] = ()

    @property
    def knows_risk(self) -> bool:
        """Whether many years stand behind it, so that a risk can be stated."""
        return self.mean_lowest is not None and self.spread_lowest is not None


def lowest_in_years(extremes: Extremes, years: float) -> float | None:
    """Coldest hour in a number of years.

    Parameters
    ----------
    extremes : Extremes
        What a source knows.
    years : float
        Return period, 1.01 to 100. [a]

    Returns
    -------
    float or None
        [°C]; None where the source knows no risk.

    Notes
    -----
    Range: beyond 50 years the source's own table ends; 'ours, not the source's'.
    """
    if extremes.mean_lowest is None or extremes.spread_lowest is None:
        return None
    return extremes.mean_lowest - gumbel_factor(years) * extremes.spread_lowest


def gumbel_factor(years: float) -> float:
    """Standard deviations from the mean of yearly extremes to the extreme of many years.

    Parameters
    ----------
    years : float
        Return period, above 1. [a]

    Returns
    -------
    float
        [-]; 0.72 at 5 years, 2.59 at 50.

    References
    ----------
    .. [1] ASHRAE Handbook Fundamentals, climatic design information, return period of extreme
       temperatures: F = -(√6/π) {0.5772 + ln ln[n/(n - 1)]} (from memory; the design conditions of
       two EPW files agree with it within their rounding, tests/reference).
    """
    return -math.sqrt(6.0) / math.pi * (EULER + math.log(math.log(years / (years - 1.0))))


def extremes_of_header(line: str, temp_lowest: float) -> Extremes | None:
    """Read the extremes of an EPW header's design conditions.

    Parameters
    ----------
    line : str
        The line that begins with DESIGN CONDITIONS.
    temp_lowest : float
        Coldest hour of the file. [°C]

    Returns
    -------
    Extremes or None
        None where the line holds none, or numbers that can't be them. [°C]
    """
    head, _, tail = line.partition(",Extremes,")
    values = _leading_numbers(tail)
    if len(values) < HEADER_VALUES:
        return None
    mean, _, spread, _, *pairs = values[-HEADER_VALUES:]
    told = Extremes(
        source=" ".join(head.split(",")[2:3]).strip() or "design conditions in the file's header",
        temp_lowest=temp_lowest,
        mean_lowest=mean,
        spread_lowest=spread,
        return_years=RETURN_YEARS,
        return_temps=tuple(pairs[::2]),
    )
    by_formula = [mean - gumbel_factor(years) * spread for years in RETURN_YEARS]
    off = max(abs(a - b) for a, b in zip(told.return_temps, by_formula, strict=True))
    return told if spread > 0.0 and off <= HEADER_MISMATCH else None


def _leading_numbers(text: str) -> list[float]:
    """Numbers up to the first part that is none; a second place's conditions may follow."""
    values = []
    for part in text.split(","):
        try:
            values.append(float(part))
        except ValueError:
            break
    return values


def extremes_of_years(lowest: Sequence[float], source: str) -> Extremes:
    """Tell the extremes from real years at hand.

    Parameters
    ----------
    lowest : sequence of n
        Coldest hour of each year. [°C]
    source : str
        Where the years come from.

    Returns
    -------
    Extremes
        With mean and spread, and so a risk, from ten years on. [°C]
    """
    enough = len(lowest) >= YEARS_FOR_RISK
    return Extremes(
        source=source,
        temp_lowest=min(lowest),
        mean_lowest=float(np.mean(lowest)) if enough else None,
        spread_lowest=float(np.std(lowest, ddof=1)) if enough else None,
        yearly_lowest=tuple(float(value) for value in lowest),
    )
