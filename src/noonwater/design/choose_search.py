"""The search: generations of options by a library's genetic algorithm, then step by step downhill.

NSGA-II (Deb and others, IEEE Transactions on Evolutionary Computation 6, 2002, from memory) as
optuna has it keeps a population on the trade-off; from the best for each of some weights a walk
along the axes then goes on while it finds better; what is left is spent on the trade-off's
neighbours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, permutations
from typing import TYPE_CHECKING

import numpy as np

from noonwater.catalog import pipe_named
from noonwater.core.progress import Told, untold
from noonwater.design.choose_option import Judge, Option
from noonwater.design.choose_space import Place, Space

if TYPE_CHECKING:
    import optuna

AT_ONCE = 8
"""Options that are judged between two questions whether to go on. Ours."""
POPULATION = 32
BORN_SHARE = 0.35
"""[-] Of all tries that generations may take; the walks get the rest. Ours."""
WEIGHTS = (
    (1.0, 1.0, 1.0),
    (0.2, 1.0, 0.2),
    (1.0, 0.4, 0.2),
    (0.2, 0.6, 1.0),
    (0.6, 1.0, 0.6),
    (0.4, 1.0, 0.1),
    (0.1, 1.0, 0.4),
    (0.02, 1.0, 0.02),
    (1.0, 0.05, 0.05),
    (0.05, 0.05, 1.0),
)
"""Of price, shortfall and running cost, each over its range on the trade-off. Ours."""
STEPS = (-2, -1, 1, 2)
MOST_DRAWN = 100
"""Weights drawn at random. Ours."""
FAR = 1e12
BROKEN = "broken"

SideBySide = Callable[[Sequence[Place]], Iterable[Option]]
"""Judges places, in their order."""
Going = Callable[[], bool]
"""Asked now and then whether the search goes on."""


def search_options(
    judge: Judge,
    seed: int,
    tries: int,
    told: Told = untold,
    going: Going = lambda: True,
    *,
    side_by_side: SideBySide | None = None,
) -> list[Option]:
    """Search a space.

    Parameters
    ----------
    judge : Judge
        Judges options, keeps them.
    seed : int
        The same seed finds the same options.
    tries : int
        Options that may be judged.
    told : callable, optional
        Is told how many are judged.
    going : callable, optional
        Asked whether to go on.
    side_by_side : callable, optional
        Judges several places at once, as the judge does; the judge itself where left out.

    Returns
    -------
    list of Option
        All valid ones, in the order of their places.
    """
    hunt = _Hunt(judge, tries, (told, going), side_by_side or _one_by_one(judge))
    _generations(hunt, seed)
    _walks(hunt, seed)
    _around_the_front(hunt)
    return sorted((o for o in judge.known.values() if o.valid), key=lambda option: option.place)


class _Hunt:
    """What is left of a search's tries, and whether it goes on."""

    def __init__(
        self, judge: Judge, tries: int, waits: tuple[Told, Going], side_by_side: SideBySide
    ) -> None:
        self.judge, self.tries, self.side_by_side = judge, tries, side_by_side
        self.told, self.ask = waits
        self.going = True

    @property
    def left(self) -> int:
        """Options that may still be judged."""
        return max(0, self.tries - len(self.judge.known))

    def judged(self, places: Iterable[Place]) -> list[Option]:
        """Judge places, new ones side by side, while tries are left."""
        wanted = list(dict.fromkeys(places))
        new = [place for place in wanted if place not in self.judge.known][: self.left]
        for first in range(0, len(new), AT_ONCE):
            if not self.going:
                break
            some = new[first : first + AT_ONCE]
            self.judge.known.update(zip(some, self.side_by_side(some), strict=True))
            self.told(len(self.judge.known), self.tries, "options")
            self.going = self.ask()
        return [self.judge.known[place] for place in wanted if place in self.judge.known]


def _one_by_one(judge: Judge) -> SideBySide:
    return lambda places: [judge.option(place) for place in places]


def _generations(hunt: _Hunt, seed: int) -> None:
    """Let generations be born until their share of the tries is used."""
    import optuna

    optuna.logging.set_verbosity(optuna.logging.ERROR)
    sampler = optuna.samplers.NSGAIISampler(population_size=POPULATION, seed=seed)
    study = optuna.create_study(directions=["minimize"] * 3, sampler=sampler)
    space = hunt.judge.space
    names = [f"{number} {axis.name}" for number, axis in enumerate(space.axes)]
    for place in first_places(space):
        study.enqueue_trial(dict(zip(names, place, strict=True)))
    last, rest = hunt.tries * (1.0 - BORN_SHARE), POPULATION
    while hunt.going and hunt.left > last and rest:
        before = hunt.left
        trials = [study.ask(_distributions(space, names)) for _ in range(POPULATION)]
        places = [tuple(int(trial.params[name]) for name in names) for trial in trials]
        hunt.judged(places)
        for trial, place in zip(trials, places, strict=True):
            _tell(study, trial, hunt.judge.known.get(place))
        # A generation without a new face still counts, so that this ends.
        rest -= before == hunt.left


def _distributions(
    space: Space, names: Sequence[str]
) -> dict[str, optuna.distributions.BaseDistribution]:
    from optuna.distributions import CategoricalDistribution, IntDistribution

    return {
        name: IntDistribution(0, len(axis.values) - 1)
        if axis.ordered
        else CategoricalDistribution(range(len(axis.values)))
        for name, axis in zip(names, space.axes, strict=True)
    }


def _tell(study: optuna.Study, trial: optuna.trial.Trial, option: Option | None) -> None:
    broken = 1.0 if option is None else float(len(option.broken))
    trial.set_constraint(BROKEN, broken)
    values = (FAR,) * 3 if option is None or not option.valid else option.aims
    study.tell(trial, values)


def first_places(space: Space) -> list[Place]:
    """Places to begin at: few, half and all panels, the rest in its middle or as the job has it."""
    middle = [len(axis.values) // 2 if axis.ordered else 0 for axis in space.axes]
    middle[space.number("pace")] = 0
    sizes = space.axes[space.number("pipe")].values
    own = pipe_named(space.job.pad.pipe, space.job.pad.schedule)
    middle[space.number("pipe")] = sizes.index(own) if own in sizes else 0
    planes = len(space.rooms)
    found = []
    for share in (0.3, 0.5, 0.7, 1.0):
        place = list(middle)
        for number in range(planes):
            place[number] = round(share * (len(space.axes[number].values) - 1))
        found.append(tuple(place))
    return found


def _walks(hunt: _Hunt, seed: int) -> None:
    """Walk for each weight, then for weights drawn at random."""
    rng = np.random.default_rng(seed)
    drawn = (tuple(rng.dirichlet((1.0, 1.0, 1.0)).tolist()) for _ in range(MOST_DRAWN))
    for weight in chain(WEIGHTS, drawn):
        _walk(hunt, weight)


def _around_the_front(hunt: _Hunt) -> None:
    """Use what is left on the neighbours of the trade-off, along one axis after the other."""
    for number in range(len(hunt.judge.space.axes) + 1):
        for option in front([each for each in hunt.judge.known.values() if each.valid]):
            if not (hunt.going and hunt.left):
                return
            hunt.judged(neighbours(hunt.judge.space, option.place, number))


def _walk(hunt: _Hunt, weight: Sequence[float]) -> None:
    """From the best for a weight, go on along one axis after the other while that finds better."""
    valid = [option for option in hunt.judge.known.values() if option.valid]
    if not valid:
        return
    scale = Scalar(front(valid), weight)
    here = min(valid, key=lambda option: (scale.of(option), option.place))
    better = True
    while better:
        better = False
        for number in range(len(hunt.judge.space.axes) + 1):
            if not (hunt.going and hunt.left):
                return
            found = hunt.judged(neighbours(hunt.judge.space, here.place, number))
            best = min((option for option in found if option.valid), key=scale.of, default=here)
            if scale.of(best) < scale.of(here):
                here, better = best, True


class Scalar:
    """Weighs the three aims into one, each over its range on a trade-off."""

    def __init__(self, options: Sequence[Option], weight: Sequence[float]) -> None:
        aims = np.array([option.aims for option in options])
        self.low = aims.min(axis=0)
        span = aims.max(axis=0) - self.low
        self.weight = np.array(weight) / np.where(span > 0.0, span, 1.0)

    def of(self, option: Option) -> float:
        """Weighed aims; 0 is the best of each at once. [-]."""
        return float(self.weight @ (np.array(option.aims) - self.low))


def neighbours(space: Space, place: Place, number: int) -> list[Place]:
    """Places a step or two along an axis; past the last axis, a panel moved to another plane."""
    if number == len(space.axes):
        return list(_moved_panels(space, place))
    axis, here = space.axes[number], place[number]
    steps = STEPS if axis.ordered else range(-here, len(axis.values) - here)
    return [
        (*place[:number], here + step, *place[number + 1 :])
        for step in steps
        if step and 0 <= here + step < len(axis.values)
    ]


def _moved_panels(space: Space, place: Place) -> Iterator[Place]:
    for giver, taker in permutations(range(len(space.rooms)), 2):
        moved = list(place)
        moved[giver] -= 1
        moved[taker] += 1
        if moved[giver] >= 0 and moved[taker] < len(space.axes[taker].values):
            yield tuple(moved)


def front(options: Sequence[Option]) -> list[Option]:
    """Options that no other is better than in one aim and as good in all.

    Parameters
    ----------
    options : sequence of Option
        Valid ones.

    Returns
    -------
    list of Option
        The trade-off, by price; of equals the first.
    """
    ordered = sorted(options, key=lambda option: (*option.aims, option.place))
    aims = np.array([option.aims for option in ordered]).reshape(-1, 3)
    kept: list[int] = []
    for number, mine in enumerate(aims):
        # Sorted by price, only an earlier one can be as good in all three.
        if not (aims[kept] <= mine).all(axis=1).any():
            kept.append(number)
    return [ordered[number] for number in kept]
