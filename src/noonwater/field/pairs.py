"""Two causes at once weighed: those that could show what was told are solved as one circuit.

All pairs are first judged by laying one cause's readings over the other's; the few that might fit
are solved anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from noonwater.field.cases import LEAST_WEIGHT, Known, warmth_of
from noonwater.field.cause import Cause
from noonwater.field.expected import (
    Case,
    Floats,
    Normal,
    choice_likelihood,
    number_likelihood,
)
from noonwater.field.moment import LikeHours
from noonwater.field.reading import Reading
from noonwater.field.solved import Solved, beside, solve_beside
from noonwater.field.together import RESTS, can_be_together, together
from noonwater.field.weigh import Told, fits

TWO = 0.1
"""[-] Of all calls so many have two causes: ours."""
FEWEST_TOLD = 2
"""One reading is never asked to tell two causes."""
WORTH = 0.02
"""[-] Chance of two causes, laid over each other, from which they are solved together: ours."""
MOST_PAIRS, MOST_DEGREES = 8, 4
"""Pairs of causes that are weighed in a call, and degrees of each: the others are left out, which
makes two at once a little too rare."""
SCALED = ("gauge", "flow", "power", "speed", "rise")
"""Readings that a cause changes by a share of themselves."""
RIGHT = 0
"""Place of the case in which nothing is wrong, `situations_of`."""

Places = tuple[int, int]


@dataclass(frozen=True)
class Pair:
    """Two causes at once, at one degree of each: how they are told, and what they show."""

    cause: Cause
    case: Case


def pairs_at(known: Known, hours: LikeHours, cases: Sequence[Case], told: Told) -> tuple[Pair, ...]:
    """Weigh two causes at once, where they might show what was told.

    Parameters
    ----------
    known : Known
        The job's causes.
    hours : LikeHours
        The hours like that of the call.
    cases : sequence of Case
        Each cause alone, as `cases_at` gives them.
    told : mapping
        What was told, by reading.

    Returns
    -------
    tuple of Pair
        Empty where each reading is explained well enough by one cause.
    """
    readings = [each for each in known.readings if each.key in told]
    if len(readings) < FEWEST_TOLD:
        return ()
    alone = np.array([case.weight for case in cases])
    for reading in readings:
        alone *= fits(cases, reading, told[reading.key])
    laid = _laid_over(known, hours, cases, readings, told)
    roof = warmth_of(hours)
    causes: dict[str, list[Pair]] = {}
    for places, weight in _worth(known, laid, float(alone.sum())):
        solved = _solved(known, places)
        if solved is None:
            continue
        cause = solved.situation.cause
        if cause.key not in causes and len(causes) == MOST_PAIRS:
            break
        expected = {**known.signs_of(solved), **solved.shows, **roof(solved)}
        causes.setdefault(cause.key, []).append(Pair(cause, Case(cause.key, weight, expected)))
    return tuple(pair for degrees in causes.values() for pair in degrees)


def with_pairs(cases: Sequence[Case], pairs: Sequence[Pair]) -> tuple[Case, ...]:
    """Put pairs beside the single causes; that none fits stays the last."""
    return (*cases[:-1], *(pair.case for pair in pairs), cases[-1])


@dataclass(frozen=True, eq=False)
class _Laid:
    """All pairs of cases, one laid over the other.

    Attributes
    ----------
    places : (pairs, 2) array
        Of the two among the cases.
    weight : (pairs,) array
        Before anything is told, on the scale of the cases. [-]
    mass : (pairs,) array
        The same after it. [-]
    """

    places: NDArray[np.intp]
    weight: Floats
    mass: Floats


def _laid_over(
    known: Known, hours: LikeHours, cases: Sequence[Case], readings: Sequence[Reading], told: Told
) -> _Laid:
    places = _possible(known)
    weight = _before(known, hours, cases, places)
    mass = weight.copy()
    for reading in readings:
        value = told[reading.key]
        if isinstance(value, str):
            chance = _choices_over(reading, cases, places)
            mass *= choice_likelihood(chance)[:, reading.choices.index(value)]
        else:
            mass *= number_likelihood(reading, value, *_numbers_over(reading, cases, places))
    return _Laid(places, weight, mass)


def _before(
    known: Known, hours: LikeHours, cases: Sequence[Case], places: NDArray[np.intp]
) -> Floats:
    """Weight of every pair before anything is told."""
    weight = np.array([case.weight for case in cases])
    found = np.asarray(weight[places].prod(axis=1))
    rest = [each.situation.cause.key == RESTS for each in known.solved]
    rests = np.array(rest)[places].any(axis=1)
    found[~rests] *= TWO / found[~rests].sum()
    if any(rest):
        # That solar has no reason to run is no second fault: it lies in the hour.
        found[rests] /= weight[rest.index(True)]
        found[rests] *= (1.0 - hours.called) / max(hours.called, LEAST_WEIGHT)
    return found


def _numbers_over(
    reading: Reading, cases: Sequence[Case], places: NDArray[np.intp]
) -> tuple[Floats, Floats]:
    found = [case.expected.get(reading.key) for case in cases]
    mean = np.array([each.mean if isinstance(each, Normal) else np.nan for each in found])
    spread = np.array([each.spread if isinstance(each, Normal) else np.nan for each in found])
    one, other = places.T
    if reading.key in SCALED and mean[RIGHT] > spread[RIGHT]:
        means = mean[one] * mean[other] / mean[RIGHT]
    else:
        means = mean[one] + mean[other] - mean[RIGHT]
    moved = np.abs(mean - mean[RIGHT])
    # What one cause does beside another differs from what it does alone: by so much at most, ours.
    missed = np.minimum(moved[one], moved[other])
    return means, np.hypot(beside(spread[one], spread[other], spread[RIGHT]), missed)


def _choices_over(reading: Reading, cases: Sequence[Case], places: NDArray[np.intp]) -> Floats:
    even = (1.0 / len(reading.choices),) * len(reading.choices)
    found = [case.expected.get(reading.key) for case in cases]
    chance = np.array([each if isinstance(each, tuple) else even for each in found])
    one, other = places.T
    # Which of the two decides what is seen only the circuit tells: the likelier is let through.
    return np.asarray(np.maximum(chance[one], chance[other]))


def _worth(known: Known, laid: _Laid, alone: float) -> Iterator[tuple[Places, float]]:
    """Pairs that might show what was told, likeliest first, in the degrees that fit best."""
    total = alone + laid.mass.sum()
    keys = [each.situation.cause.key for each in known.solved]
    groups: dict[Places, list[int]] = {}
    for place in np.argsort(-laid.mass):
        n, m = laid.places[place]
        groups.setdefault((keys[n], keys[m]), []).append(int(place))
    masses = {key: laid.mass[group].sum() / total for key, group in groups.items()}
    best = sorted((key for key in groups if masses[key] >= WORTH), key=lambda key: -masses[key])
    for key in best:
        for place in groups[key][:MOST_DEGREES]:
            n, m = laid.places[place]
            yield (int(n), int(m)), float(laid.weight[place])


@lru_cache(maxsize=12)
def _possible(known: Known) -> NDArray[np.intp]:
    """Places of all pairs of solved situations that can be together."""
    alone = [each.situation for each in known.solved]
    places = [
        (n, m)
        for n, one in enumerate(alone)
        for m, other in enumerate(alone[n + 1 :], n + 1)
        if can_be_together(known.subject, one, other)
    ]
    return np.array(places, dtype=np.intp).reshape(-1, 2)


@lru_cache(maxsize=1024)
def _solved(known: Known, places: Places) -> Solved | None:
    one, other = (known.solved[n] for n in places)
    situation = together(known.subject, one.situation, other.situation)
    right = known.solved[RIGHT]
    return None if situation is None else solve_beside(situation, one, other, right)
