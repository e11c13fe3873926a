"""What a cause makes each reading show, as a distribution."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import nan, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from noonwater.field.reading import Reading

Floats = NDArray[np.float64]

SLIP = 0.02
"""[-] A reading is misread, misheard or of a broken gauge this often: ours. It keeps one crazy
reading from making a cause impossible."""


@dataclass(frozen=True)
class Normal:
    """A number that is read: its mean and its standard deviation, in SI."""

    mean: float
    spread: float


Choices = tuple[float, ...]
"""Chance of each of a reading's choices, in their order. [-]"""

Expected = Normal | Choices


@dataclass(frozen=True)
class Case:
    """One cause at one degree.

    Attributes
    ----------
    cause : str
        Key of the cause.
    weight : float
        Before anything is told, over all cases. [-]
    expected : mapping of str to Expected
        By reading; what is not in it is taken as equally likely throughout.
    """

    cause: str
    weight: float
    expected: Mapping[str, Expected]


def likelihoods(
    cases: Sequence[Case], reading: Reading, answers: Sequence[float] | Sequence[str]
) -> Floats:
    """How likely each case makes each answer.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    reading : Reading
        What is told.
    answers : sequence of float or of str
        Numbers in SI, or choices of the reading.

    Returns
    -------
    (cases, answers) array
        Of numbers densities [1/SI], of choices chances [-]; never 0.
    """
    found = [case.expected.get(reading.key) for case in cases]
    even = _even(reading)
    if reading.choices:
        places = [reading.choices.index(str(answer)) for answer in answers]
        chances = [each if isinstance(each, tuple) else (even,) * len(reading.choices)
                   for each in found]  # fmt: skip
        return choice_likelihood(np.array(chances))[:, places]
    values = np.array([float(answer) for answer in answers])
    known = [each if isinstance(each, Normal) else None for each in found]
    mean = np.array([[each.mean if each else nan] for each in known])
    spread = np.array([[each.spread if each else nan] for each in known])
    return number_likelihood(reading, values, mean, spread)


def number_likelihood(
    reading: Reading, value: Floats | float, mean: Floats, spread: Floats
) -> Floats:
    """How likely a number is where one of a normal spread is expected, or a slip.

    Parameters
    ----------
    reading : Reading
        What is told.
    value : array or float
        The number, in SI.
    mean, spread : array
        What is expected, in SI; nan where nothing is.

    Returns
    -------
    array
        Density [1/SI]; never 0.
    """
    even = _even(reading)
    density = np.exp(-0.5 * ((value - mean) / spread) ** 2) / (spread * sqrt(2.0 * pi))
    return np.asarray(np.where(np.isnan(mean), even, (1.0 - SLIP) * density + SLIP * even))


def choice_likelihood(chance: Floats) -> Floats:
    """How likely a choice is that is seen with a chance, or by a slip.

    Parameters
    ----------
    chance : (..., choices) array
        Of each choice. [-]

    Returns
    -------
    array
        Of each choice [-]; never 0.
    """
    return np.asarray((1.0 - SLIP) * chance + SLIP / chance.shape[-1])


def slips(cases: Sequence[Case], reading: Reading) -> Floats:
    """What a slip has of the likelihood of any answer, by case; all where nothing is expected.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    reading : Reading
        What is told.

    Returns
    -------
    (cases,) array
        As `likelihoods`.
    """
    even = _even(reading)
    return np.array([even * (SLIP if reading.key in case.expected else 1.0) for case in cases])


def _even(reading: Reading) -> float:
    """Likelihood of any answer where all are alike."""
    if reading.choices:
        return 1.0 / len(reading.choices)
    return 1.0 / (reading.high - reading.low)
