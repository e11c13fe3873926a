"""Hidden faults told with noise and asked after: how often the right cause is found.

A caller tells three things (gauge, the water at the returns by hand, air at the returns) and
answers the two questions asked next. Gauge, flow, speed and watts come from the circuit solved with
the fault in it at any degree, the pump's strength, the filter's load and the tees drawn together,
and then the instrument's error. What is seen and heard, and what hangs on the sun, is drawn from
the engine's own distributions: there the rates say how well causes can be told apart, not how well
the engine knows the world. `python -m tests.hidden_faults` makes the tables of
docs/decisions/0039-telephone.md.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from math import hypot

import numpy as np

from noonwater.app.demos import FOLDER, demos
from noonwater.app.job_file import read_job
from noonwater.app.telephone import Call, CallWish, answer_call
from noonwater.design.expected_readings import GAUGE, METER, PUMP_HEAD
from noonwater.field.alike import alike
from noonwater.field.ask import questions
from noonwater.field.cases import warmth_of
from noonwater.field.change import choked, filter_at, pipe_into, plugged
from noonwater.field.expected import SLIP, Case, Normal
from noonwater.field.pairs import pairs_at, with_pairs
from noonwater.field.reading import Reading
from noonwater.field.situation import (
    CLOGS,
    FAST,
    IN_USE,
    LOADS,
    PLUGGED,
    SLOW,
    Situation,
    Subject,
)
from noonwater.field.solved import DISPLAY, ENDS, NEEDLE, Solved, solve_beside
from noonwater.field.together import RESTS, can_be_together, together
from noonwater.field.weigh import NONE, Told, weigh
from noonwater.hydraulics.flow import state_flow

FIRST = ("gauge", "felt", "air")
ANSWERS, MORE_ANSWERS = 2, 6
WHEN = CallWish(month=4, hour=13, sky="clear", pool=20.0)
"""A clear spring noon with a cool pool: solar should run in every demo."""


@dataclass(frozen=True)
class Score:
    """How often the hidden cause came first, among three, or a cause first that shows the same.

    `said` is the mean chance that the engine gave to the cause that it put first.
    """

    calls: int
    first: float
    third: float
    twin: float
    said: float


@dataclass(frozen=True)
class TwoScore:
    """How often two hidden causes came first together, each among the first three, or one first."""

    both: float
    named: float
    one: float
    none: float


@dataclass(frozen=True)
class Caller:
    """One system with one fault: what its owner reads."""

    case: Case
    numbers: dict[str, float]
    chance: np.random.Generator

    def tells(self, reading: Reading) -> float | str:
        """One reading; now and then plain wrong."""
        wrong = self.chance.random() < SLIP
        if reading.choices:
            odds = np.array(self.case.expected[reading.key])
            odds = np.full(len(odds), 1.0) if wrong else odds
            return reading.choices[int(self.chance.choice(len(odds), p=odds / odds.sum()))]
        if wrong:
            return float(self.chance.uniform(reading.low, reading.high))
        if reading.key in self.numbers:
            value = self.numbers[reading.key]
        else:
            expected = self.case.expected[reading.key]
            assert isinstance(expected, Normal)
            value = self.chance.normal(expected.mean, expected.spread)
        return float(np.clip(value, reading.low, reading.high))


def between(subject: Subject, given: Situation, chance: np.random.Generator) -> Situation:
    """The same fault at any degree, not only at those that the engine solves."""
    key, loop = given.cause.key, subject.loop
    if key == "filter":
        return replace(given, loop=filter_at(loop, chance.uniform(LOADS[0], LOADS[-1])))
    if key == "plugged":
        return replace(given, loop=plugged(loop, chance.uniform(PLUGGED[0], PLUGGED[-1])))
    if key in ("suction", "return"):
        pipe = pipe_into(loop.circuit, loop.pump.name if key == "suction" else "pool")
        right = state_flow(loop, subject.state)
        clog = float(np.exp(chance.uniform(np.log(CLOGS[0]), np.log(CLOGS[-1]))))
        assert pipe is not None
        return replace(given, loop=choked(loop, pipe, clog * right.head, right.flow))
    if key in ("slow", "fast"):
        shares = SLOW if key == "slow" else FAST
        speed = subject.state.speed * chance.uniform(min(shares), max(shares))
        speed = float(np.clip(speed, loop.pump_type.lowest_speed, loop.pump_type.highest_speed))
        return replace(given, state=replace(given.state, speed=speed), speed=speed)
    return given


def caller(
    subject: Subject, case: Case, situation: Situation, solved: Solved, chance: np.random.Generator
) -> Caller:
    """Build a system with a fault as its doubts fall, and read its instruments."""
    strength = max(1.0 + chance.normal(0.0, PUMP_HEAD / ENDS), 0.5)
    loop = filter_at(
        situation.loop, situation.loop.settings.filter_load + chance.uniform(-IN_USE, IN_USE)
    )
    loop = replace(loop, settings=replace(loop.settings, tees=bool(chance.integers(2))))
    state = replace(situation.state, speed=situation.state.speed * strength**0.5)
    flow = situation.solve(loop, state) or solved.flow
    wavers = "air" in situation.marks
    numbers = {
        "gauge": flow.pressure_filter + chance.normal(0.0, hypot(GAUGE / ENDS, NEEDLE)),
        "flow": flow.flow * (1.0 + chance.normal(0.0, METER / ENDS)),
        "power": flow.power * (1.0 + chance.normal(0.0, METER / ENDS)),
        "speed": situation.speed + chance.normal(0.0, DISPLAY),
    }
    return Caller(case, {} if wavers else numbers, chance)


def told_by(call: Call, who: Caller, answers: int, pairs: bool) -> tuple[Told, tuple[Case, ...]]:
    """What is told in a call in which the first questions are answered, and what is weighed."""
    readings = call.known.readings

    def weighed(told: Told) -> tuple[Case, ...]:
        found = pairs_at(call.known, call.hours, call.cases, told) if pairs else ()
        return with_pairs(call.cases, found)

    told = {each.key: who.tells(each) for each in readings if each.key in FIRST}
    for _ in range(answers):
        # A dead sensor has no temperature to tell: then the next question is answered.
        asked = [each.reading for each in questions(weighed(told), readings, told)]
        reading = next((each for each in asked if each.key in who.case.expected), None)
        if reading is not None:
            told[reading.key] = who.tells(reading)
    return told, weighed(told)


def rank_of_hidden(call: Call, who: Caller) -> tuple[int, bool, float]:
    """Place of the hidden cause, whether it or a twin of it came first, the first one's chance."""
    told, cases = told_by(call, who, ANSWERS, pairs=True)
    readings = call.known.readings
    ranked = weigh(cases, readings, told)
    order = [each.cause for each in ranked]
    hidden, best = who.case.cause, order[0]
    twins = alike(cases, readings, told, (best, hidden)) if best != hidden else ()
    return order.index(hidden), best == hidden or bool(twins), ranked[0].chance


def score(demo: str, calls: int, seed: int, *, evenly: bool = False) -> Score:
    """Draw faults of a demo by their weights, or each as often, and let the engine find them."""
    chance = np.random.default_rng(seed)
    call = answer_call(read_job(FOLDER / f"{demo}.toml"), WHEN)
    real = [case for case in call.cases if case.cause != NONE]
    count = Counter(case.cause for case in real)
    odds = np.array([1.0 / count[case.cause] if evenly else case.weight for case in real])
    subject, found = call.known.subject, []
    for n in chance.choice(len(real), size=calls, p=odds / odds.sum()).tolist():
        solved = call.known.solved[n]
        situation = between(subject, solved.situation, chance)
        who = caller(subject, real[n], situation, solved, chance)
        found.append(rank_of_hidden(call, who))
    return _scored(found)


def _scored(found: Sequence[tuple[int, bool, float]]) -> Score:
    places, twins, said = (np.array(column) for column in zip(*found, strict=True))
    return Score(
        len(found),
        float(np.mean(places == 0)),
        float(np.mean(places < 3)),
        float(np.mean(twins)),
        float(np.mean(said)),
    )


def score_two(demo: str, calls: int, seed: int, *, answers: int, pairs: bool) -> TwoScore:
    """Draw two faults of a demo by their weights, and let the engine find them."""
    chance = np.random.default_rng(seed)
    call = answer_call(read_job(FOLDER / f"{demo}.toml"), WHEN)
    found = []
    while len(found) < calls:
        who = _with_two(call, chance)
        if who is None:
            continue
        told, cases = told_by(call, who, answers, pairs)
        ranked = weigh(cases, call.known.readings, told)
        hidden = set(who.case.cause.split(" + "))
        first, *more = [set(each.cause.split(" + ")) for each in ranked[:3]]
        named = hidden <= first.union(*more)
        found.append((first == hidden, named, bool(first & hidden), first == {NONE}))
    return TwoScore(*(float(np.mean(column)) for column in zip(*found, strict=True)))


def _with_two(call: Call, chance: np.random.Generator) -> Caller | None:
    known, weight = call.known, np.array([case.weight for case in call.cases[:-1]])
    drawn = chance.choice(len(weight), size=2, p=weight / weight.sum())
    one, other = (known.solved[n] for n in drawn.tolist())
    subject, pair = known.subject, (one.situation, other.situation)
    if RESTS in {each.cause.key for each in pair} or not can_be_together(subject, *pair):
        return None
    situation = together(subject, between(subject, pair[0], chance), pair[1])
    solved = situation and solve_beside(situation, one, other, known.solved[0])
    if not situation or not solved:
        return None
    expected = {**known.signs_of(solved), **solved.shows, **warmth_of(call.hours)(solved)}
    case = Case(situation.cause.key, 1.0, expected)
    return caller(subject, case, situation, solved, chance)


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Print a table."""
    for row in chain((heads, ("---",) * len(heads)), rows):
        print(f"| {' | '.join(row)} |", flush=True)


def main() -> None:
    """Print the tables."""
    calls = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    table(
        ("demo", "drawn", "calls", "first", "chance told for the first", "among three",
         "first, or one that shows the same"),
        (
            (demo.name, words, f"{found.calls}", f"{found.first:.0%}", f"{found.said:.0%}",
             f"{found.third:.0%}", f"{found.twin:.0%}")
            for demo in demos()
            for words, evenly in (("by weight", False), ("each as often", True))
            for found in (score(demo.name, calls, seed=1, evenly=evenly),)
        ),
    )  # fmt: skip
    table(
        ("demo", "questions answered", "weighed", "both, as one, first",
         "both among the first three", "first names one of them", "none fits"),
        (
            (demo.name, f"{answers}", words, f"{found.both:.0%}", f"{found.named:.0%}",
             f"{found.one:.0%}", f"{found.none:.0%}")
            for demo in demos()
            for answers in (ANSWERS, MORE_ANSWERS)
            for words, pairs in (("single causes", False), ("two at once too", True))
            for found in (score_two(demo.name, calls // 5, 1, answers=answers, pairs=pairs),)
        ),
    )  # fmt: skip


if __name__ == "__main__":
    main()
