"""The answers that a reading can bring, and how likely each case makes them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from noonwater.field.expected import Case, Floats, Normal, likelihoods
from noonwater.field.reading import Reading

STEPS = (-3.0, -2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.0)
"""[-] Standard deviations about every case's mean at which a number that may be told is tried."""

Answers = list[float] | list[str]


def answer_chances(cases: Sequence[Case], reading: Reading) -> tuple[Answers, Floats]:
    """List the answers to a question and the chance of each under every case.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    reading : Reading
        What is asked for.

    Returns
    -------
    tuple
        Choices, or numbers in SI that stand for all between them; and a (cases, answers) array
        whose rows sum to 1. [-]
    """
    answers = _answers(cases, reading)
    chance = likelihoods(cases, reading, answers) * _widths(answers)
    # A density over steps is made a chance, so that every case gives some answer.
    return answers, chance / chance.sum(axis=1, keepdims=True)


def _answers(cases: Sequence[Case], reading: Reading) -> Answers:
    if reading.choices:
        return list(reading.choices)
    values = {
        round(found.mean + step * found.spread, 9)
        for case in cases
        if isinstance(found := case.expected.get(reading.key), Normal)
        for step in STEPS
    }
    within = sorted(value for value in values if reading.low < value < reading.high)
    return [reading.low, *within, reading.high]


def _widths(answers: Answers) -> Floats:
    """What each answer stands for: half the way to its neighbours; a choice for itself."""
    if isinstance(answers[0], str):
        return np.ones(len(answers))
    steps = np.diff(np.array([float(answer) for answer in answers]))
    return np.asarray(0.5 * (np.append(steps, 0.0) + np.append(0.0, steps)))
