"""Causes that no reading of a system tells apart."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from noonwater.field.answers import answer_chances
from noonwater.field.expected import Case
from noonwater.field.reading import Reading
from noonwater.field.weigh import NONE, Told, causes_of, membership, weights

APART = 0.3
"""[-] Two causes are told apart by a reading whose answers differ in so much of their chance: ours.
"""


def alike(
    cases: Sequence[Case], readings: Sequence[Reading], told: Told, among: Sequence[str]
) -> tuple[tuple[str, str], ...]:
    """Find pairs of causes that show the same in all that could still be told.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    readings : sequence of Reading
        What can be told.
    told : mapping
        What was: each cause is taken in the degrees that fit it.
    among : sequence of str
        Keys of the causes to compare.

    Returns
    -------
    tuple of (str, str)
        Pairs of keys, in the order of `among`.
    """
    cases = [case for case in cases if case.cause in among]
    names = causes_of(cases)
    within = membership(cases) * weights(cases, readings, told)
    within = within / np.maximum(within.sum(axis=1, keepdims=True), 1e-300)
    apart = dict.fromkeys(combinations([key for key in among if key != NONE], 2), 0.0)
    for reading in readings:
        if reading.key in told:
            continue
        shows = within @ answer_chances(cases, reading)[1]
        for (one, other), most in apart.items():
            here = 0.5 * np.abs(shows[names.index(one)] - shows[names.index(other)]).sum()
            apart[one, other] = max(most, float(here))
    return tuple(pair for pair, most in apart.items() if most < APART)
