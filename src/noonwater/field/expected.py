"""What a cause makes each reading show, as a distribution."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import pi, sqrt

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
        return np.asarray((1.0 - SLIP) * np.array(chances)[:, places] + SLIP * even)
    values = np.array([float(answer) for answer in answers])
    known = [each if isinstance(each, Normal) else None for each in found]
    mean = np.array([[each.mean if each else 0.0] for each in known])
    spread = np.array([[each.spread if each else 1.0] for each in known])
    density = np.exp(-0.5 * ((values - mean) / spread) ** 2) / (spread * sqrt(2.0 * pi))
    knows = np.array([[each is not None] for each in known])
    return np.asarray(np.where(knows, (1.0 - SLIP) * density + SLIP * even, even))


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
