"""What to ask next: the reading that is expected to narrow the causes most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from noonwater.field.answers import Answers, answer_chances
from noonwater.field.expected import Case, Floats
from noonwater.field.reading import Reading
from noonwater.field.weigh import Told, causes_of, membership, weights

TIE = 0.02
"""[bit] What is gained alike to this is asked by effort: ours."""
HARDLY = 1e-5
"""[-] A case less likely is not reckoned with: all together they are below any gain that counts.
Ours."""
BEST = 3
LEAST = 0.01
"""[bit] Nothing to ask where less is gained."""
MOVES = 0.02
"""[-] Nothing to ask where another cause comes to the front more rarely: ours."""
SMALLEST = 0.04
"""[-] An answer rarer than this is not told: ours."""


@dataclass(frozen=True)
class Meaning:
    """What an answer would mean.

    Attributes
    ----------
    low, high : float or None
        Of a number, in SI; None is without end.
    choice : str
        Of a choice.
    cause : str
        Key of the cause that would then be likeliest.
    """

    low: float | None
    high: float | None
    choice: str
    cause: str


@dataclass(frozen=True)
class Question:
    """A reading worth asking for.

    Attributes
    ----------
    reading : Reading
        Which.
    gain : float
        Expected drop of the entropy over the causes. [bit]
    meanings : tuple of Meaning
        Of its answers, low ones first.
    decides : bool
        Whether it may bring another cause to the front than now stands there.
    """

    reading: Reading
    gain: float
    meanings: tuple[Meaning, ...]
    decides: bool


def entropy(chances: Floats) -> Floats:
    """Entropy of each column of chances. [bit]."""
    logs = np.log2(np.where(chances > 0.0, chances, 1.0))
    return np.asarray(-(chances * logs).sum(axis=0))


def questions(
    cases: Sequence[Case], readings: Sequence[Reading], told: Told
) -> tuple[Question, ...]:
    """Choose what to ask next.

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
    tuple of Question
        At most `BEST`, the best first; of those that gain alike the easier one.
    """
    now = weights(cases, readings, told)
    cases = [case for case, chance in zip(cases, now, strict=True) if chance > HARDLY]
    now = now[now > HARDLY]
    belongs = membership(cases)
    open_ = [reading for reading in readings if reading.key not in told]
    found = [_question(cases, reading, now, belongs) for reading in open_]
    worth = [each for each in found if each.gain > LEAST and each.decides]
    worth.sort(key=lambda each: (-round(each.gain / TIE), each.reading.effort))
    return tuple(worth[:BEST])


def _question(cases: Sequence[Case], reading: Reading, now: Floats, belongs: Floats) -> Question:
    answers, chance = answer_chances(cases, reading)
    joint = belongs @ (now[:, None] * chance)
    each = joint.sum(axis=0)
    gain = float(entropy((belongs @ now)[:, None])[0] - each @ entropy(joint / each))
    names = causes_of(cases)
    best = [names[row] for row in joint.argmax(axis=0).tolist()]
    first = names[int((belongs @ now).argmax())]
    moved = float(each[[cause != first for cause in best]].sum())
    meanings = _meanings(reading, answers, best, each, first)
    return Question(reading, gain, meanings, moved > MOVES)


def _meanings(
    reading: Reading, answers: Answers, best: Sequence[str], each: Floats, first: str
) -> tuple[Meaning, ...]:
    """Answers that mean the same taken together; those that hardly come are left out, but never
    all that would bring another cause to the front."""
    places = range(len(answers))
    runs = (
        [[n] for n in places]
        if reading.choices
        else [list(run) for _, run in groupby(places, key=lambda n: best[n])]
    )
    shares = [float(each[run].sum()) for run in runs]
    moving = [share for run, share in zip(runs, shares, strict=True) if best[run[0]] != first]
    least = min([SMALLEST, max(moving, default=SMALLEST)])
    often = [run for run, share in zip(runs, shares, strict=True) if share >= least]
    if reading.choices:
        return tuple(Meaning(None, None, reading.choices[run[0]], best[run[0]]) for run in often)
    joined = [
        [n for run in same for n in run] for _, same in groupby(often, key=lambda run: best[run[0]])
    ]
    values = [float(answer) for answer in answers]
    edges = [0.5 * (values[before[-1]] + values[after[0]]) for before, after in pairwise(joined)]
    lows, highs = [None, *edges], [*edges, None]
    return tuple(
        Meaning(low, high, "", best[run[0]])
        for low, high, run in zip(lows, highs, joined, strict=True)
    )
