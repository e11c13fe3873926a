"""Which cause fits what was told: Bayes over the causes, and what speaks for and against each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from noonwater.field.expected import Case, Floats, likelihoods, slips
from noonwater.field.reading import Reading

Told = Mapping[str, float | str]
"""What was told, by reading: a number in SI, or one of the reading's choices."""

NONE = "none"
"""Key of the cause that none of the others fits; it expects nothing."""

SPEAKS = 3.0
"""[-] A reading speaks for a cause where it is so many times as likely as under the rest: ours."""

LIKELY, POSSIBLE = 0.5, 0.1
"""[-] From which chance a cause is called so: ours."""

Word = Literal["likely", "possible", "unlikely"]


@dataclass(frozen=True)
class Ranked:
    """A cause as it stands.

    Attributes
    ----------
    cause : str
        Key.
    chance : float
        Rough. [-]
    word : Word
        The same said.
    speaks_for, speaks_against : tuple of str
        Keys of told readings.
    """

    cause: str
    chance: float
    word: Word
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]


def causes_of(cases: Sequence[Case]) -> tuple[str, ...]:
    """Keys of all causes, in the order of the cases."""
    return tuple(dict.fromkeys(case.cause for case in cases))


def membership(cases: Sequence[Case]) -> Floats:
    """Which case belongs to which cause: 1 or 0, a row a cause."""
    names = causes_of(cases)
    return np.array([[float(case.cause == name) for case in cases] for name in names])


def weights(cases: Sequence[Case], readings: Sequence[Reading], told: Told) -> Floats:
    """Chance of every case after what was told.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    readings : sequence of Reading
        What can be told.
    told : mapping
        What was.

    Returns
    -------
    (cases,) array
        Sums to 1.
    """
    logs = np.log([case.weight for case in cases])
    for reading in readings:
        if reading.key in told:
            logs += np.log(fits(cases, reading, told[reading.key]))
    found = np.exp(logs - logs.max())
    return np.asarray(found / found.sum())


def weigh(cases: Sequence[Case], readings: Sequence[Reading], told: Told) -> tuple[Ranked, ...]:
    """Rank the causes.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible, each with a weight above 0.
    readings : sequence of Reading
        What can be told; taken as independent of each other under each case.
    told : mapping
        What was, by reading.

    Returns
    -------
    tuple of Ranked
        Likeliest first.
    """
    belongs = membership(cases)
    chance = belongs @ weights(cases, readings, told)
    for_, against = _evidence(cases, readings, told, belongs)
    found = [
        Ranked(name, float(chance[n]), word_of(float(chance[n])), tuple(for_[n]), tuple(against[n]))
        for n, name in enumerate(causes_of(cases))
    ]
    return tuple(sorted(found, key=lambda each: -each.chance))


def fits(cases: Sequence[Case], reading: Reading, value: float | str) -> Floats:
    """How likely each case makes what was told of one reading.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    reading : Reading
        What is told.
    value : float or str
        In SI, or one of its choices.

    Returns
    -------
    (cases,) array
        As `likelihoods`.
    """
    answers = [value] if isinstance(value, str) else [float(value)]
    return likelihoods(cases, reading, answers)[:, 0]


def misfits(cases: Sequence[Case], readings: Sequence[Reading], told: Told) -> tuple[str, ...]:
    """Name the told readings that are likelier a slip than what any cause shows.

    Parameters
    ----------
    cases : sequence of Case
        All that is possible.
    readings : sequence of Reading
        What can be told.
    told : mapping
        What was.

    Returns
    -------
    tuple of str
        Keys of readings: misread, misheard, of a broken gauge, or of a cause that is not listed.
    """
    known = [case for case in cases if case.cause != NONE]
    chance = weights(known, readings, told)
    found = []
    for reading in readings:
        if reading.key in told:
            slip = slips(known, reading) / fits(known, reading, told[reading.key])
            if float(chance @ slip) > LIKELY:
                found.append(reading.key)
    return tuple(found)


def word_of(chance: float) -> Word:
    """Say a chance in a word."""
    return "likely" if chance >= LIKELY else "possible" if chance >= POSSIBLE else "unlikely"


def _evidence(
    cases: Sequence[Case], readings: Sequence[Reading], told: Told, belongs: Floats
) -> tuple[list[list[str]], list[list[str]]]:
    """Readings for and against each cause, each with the others taken as told."""
    count = len(belongs)
    for_: list[list[str]] = [[] for _ in range(count)]
    against: list[list[str]] = [[] for _ in range(count)]
    for reading in readings:
        if reading.key not in told:
            continue
        others = {key: value for key, value in told.items() if key != reading.key}
        before = weights(cases, readings, others)
        shown = fits(cases, reading, told[reading.key])
        for n, mine in enumerate(belongs):
            within, beyond = mine * before, (1.0 - mine) * before
            own = float(within @ shown / max(within.sum(), 1e-300))
            rest = float(beyond @ shown / max(beyond.sum(), 1e-300))
            if own > SPEAKS * rest:
                for_[n].append(reading.key)
            elif SPEAKS * own < rest:
                against[n].append(reading.key)
    return for_, against
