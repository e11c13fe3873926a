"""The short list: a few options on the trade-off, each checked in full and told what bounds it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.core.finding import Finding
from noonwater.design.checks import FLOW_CHECKS, JOB_CHECKS, YEAR_CHECKS
from noonwater.design.choose_judge import counts
from noonwater.design.choose_option import Judge, Option
from noonwater.design.choose_search import Scalar, front
from noonwater.design.choose_space import Place
from noonwater.design.rule import counted, rpm, shown
from noonwater.design.search import SPEED_STEP, solved
from noonwater.design.tune_setting import bounds_of, handle_of, set_to

MOST_LISTED = 6
WARMTH_WORTH = 0.5
"""[-] Of the warmth that the best option brings: less is not worth the work. Ours."""
NEAR = 0.005
"""[-] Of an aim's span over the trade-off: two options so near are one to an owner. Ours."""
EVEN = (1.0, 1.0, 1.0)
HEAD_LINES = ("warmest", "balanced", "lowest price", "least to run")
OTHERS = {
    "nothing-to-build": "no panels are left, or no hours for solar",
    "no-setting-to-use": "no pump speed or valve setting may be used",
    "no-answer": "the circuit has no answer",
}

FullCheck = Callable[[Option], tuple[Finding, ...]]


@dataclass(frozen=True, eq=False)
class Listed:
    """An option of the short list.

    Attributes
    ----------
    option : Option
        The system.
    why : tuple of str
        What it is best in; "between" where in nothing.
    findings : tuple of Finding
        Of all checks: cautions that the job as it stands has too.
    bounds : tuple of str
        What keeps it from being better, a sentence's part each.
    """

    option: Option
    why: tuple[str, ...]
    findings: tuple[Finding, ...]
    bounds: tuple[str, ...]


def short_list(
    judge: Judge, options: Sequence[Option], bare: float, full_check: FullCheck
) -> tuple[tuple[Listed, ...], int]:
    """Choose a few options of a search.

    Parameters
    ----------
    judge : Judge
        That judged them.
    options : sequence of Option
        Valid so far.
    bare : float
        Shortfall without solar. [K]
    full_check : callable
        Asks every check of an option.

    Returns
    -------
    tuple of (tuple of Listed, int)
        At most `MOST_LISTED`, the warmest first, each valid under every check; and how many of the
        trade-off were found invalid by checks that the search doesn't ask.
    """
    useful = _useful(front(options), bare)
    listed: dict[Place, tuple[list[str], tuple[Finding, ...]]] = {}
    refused: set[Place] = set()
    while useful and len(listed) < MOST_LISTED:
        pick = _next(useful, listed, refused)
        if pick is None:
            break
        option, why = pick
        if option.place in listed:
            listed[option.place][0].append(why)
            continue
        findings = full_check(option)
        if any(counts(finding, judge.borne) for finding in findings):
            refused.add(option.place)
            useful = [other for other in useful if other.place != option.place]
            listed = {place: (words[:0], told) for place, (words, told) in listed.items()}
            continue
        listed[option.place] = ([why], findings)
    ordered = sorted(listed, key=lambda place: (judge.known[place].shortfall, place))
    return tuple(
        Listed(
            judge.known[place],
            tuple(dict.fromkeys(listed[place][0])) or ("between",),
            listed[place][1],
            tuple(what_bounds(judge, judge.known[place])),
        )
        for place in ordered
    ), len(refused)


def _useful(trade_off: Sequence[Option], bare: float) -> list[Option]:
    """Those of a trade-off that bring a good part of the warmth that the best one brings."""
    if not trade_off:
        return []
    most = bare - min(option.shortfall for option in trade_off)
    return [o for o in trade_off if bare - o.shortfall >= WARMTH_WORTH * most]


def _next(
    useful: Sequence[Option],
    listed: dict[Place, tuple[list[str], tuple[Finding, ...]]],
    refused: set[Place],
) -> tuple[Option, str] | None:
    """The next option to list and why: heads of the list first, then those farthest from all."""
    even = Scalar(useful, EVEN)
    best = {
        "warmest": min(useful, key=lambda o: (o.shortfall, o.price, o.place)),
        "balanced": min(useful, key=lambda o: (even.of(o), o.place)),
        "lowest price": min(useful, key=lambda o: (o.price, o.shortfall, o.place)),
        "least to run": min(useful, key=lambda o: (o.running, o.shortfall, o.place)),
    }
    told = {word for words, _ in listed.values() for word in words}
    aims = {o.place: np.array(o.aims) for o in useful}
    span = np.ptp(np.array(list(aims.values())), axis=0)
    span = np.where(span > 0.0, span, 1.0)
    for why in HEAD_LINES:
        if why not in told:
            off = {place: np.abs(aims[place] - aims[best[why].place]) / span for place in listed}
            near = (o for o in useful if o.place in listed and (off[o.place] <= NEAR).all())
            return next(near, best[why]), why
    rest = [o for o in useful if o.place not in listed]

    def apart(option: Option) -> float:
        mine = aims[option.place]
        return min(
            float(np.linalg.norm((mine - aims[place]) / span)) for place in listed if place in aims
        )

    far = max(rest, key=lambda o: (apart(o), o.place), default=None)
    return None if far is None or apart(far) <= NEAR else (far, "between")


def what_bounds(judge: Judge, option: Option) -> Iterator[str]:
    """Say what keeps an option from being better.

    Parameters
    ----------
    judge : Judge
        Asked for neighbours.
    option : Option
        Valid.

    Yields
    ------
    str
        Full planes; what one panel more costs and brings, or which rule it breaks; what forbids a
        slower pump or less water; what forbids a smaller pipe.
    """
    yield from _panel_words(judge, option)
    yield from _setting_words(option)
    number = judge.space.number("pipe")
    if option.place[number]:
        smaller = judge.option(_moved(option.place, number, -1))
        if not smaller.valid:
            size = judge.space.pipe(smaller.place)
            yield f"{size.name} pipe: {rule_words(smaller.broken[0])}"


def _panel_words(judge: Judge, option: Option) -> Iterator[str]:
    space, job, year = judge.space, judge.space.job, option.year
    assert year is not None
    for number, room in enumerate(space.rooms):
        name = room.roof.name
        if option.place[number] == len(space.axes[number].values) - 1:
            count = space.panels(option.place).get(name, 0)
            held, full = counted(count, "panel"), count == room.panels
            outgrown = f"'{name}' has {held}, twice the pool's area: more is not tried"
            yield f"'{name}' is full with {held}" if full else outgrown
            continue
        more = judge.option(_moved(option.place, number, 1))
        if not more.valid or more.year is None:
            yield f"a panel more on '{name}': {rule_words(more.broken[0])}"
            continue
        cost = more.price - option.price
        days = more.year.days_at_target - year.days_at_target
        warmer = shown(job, option.shortfall - more.shortfall, "temperature difference", 2)
        yield (
            f"a panel more on '{name}' costs {cost:,.0f} {job.money.currency} and brings"
            f" {counted(days, 'day')} at the target, {warmer} in the mean"
        )


def _setting_words(option: Option) -> Iterator[str]:
    job = option.job
    if handle_of(job) != "speed" or job.pump.solar_speed is None:
        return
    slower = set_to(job, "speed", job.pump.solar_speed - SPEED_STEP)
    speed = slower.pump.solar_speed or 0.0
    state = solved(slower, speed, True, job.pool.target)
    bound = None if state is None else next(bounds_of(slower, state), None)
    if bound is not None:
        yield f"slower than {rpm(job.pump.solar_speed)}, {bound.words}"


def rule_words(rule: str) -> str:
    """What a broken rule asks for, in words."""
    limits = {each.name: each.limit for each in (*JOB_CHECKS, *FLOW_CHECKS, *YEAR_CHECKS)}
    if rule in limits:
        return f"'{rule}', which asks for {limits[rule]}"
    return OTHERS.get(rule, f"'{rule}', which the job's own edits don't bear")


def _moved(place: Place, number: int, step: int) -> Place:
    return (*place[:number], place[number] + step, *place[number + 1 :])
