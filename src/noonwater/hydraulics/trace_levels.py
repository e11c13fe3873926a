"""Still water: how high it stands in every part once it has come to rest.

Communicating vessels. Water leaves a part only where air comes in behind it: at a vacuum breaker,
at an open drain, or where the column is higher than the atmosphere holds up. What no air reaches
hangs as a siphon. Air goes to the highest places first, then down as long as the water below it can
leave; past a place that air has reached water no longer rises.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from noonwater.hydraulics.trace_plumbing import Plumbing

LEVEL = 1e-6
"""[m] Heights closer than this count as equal."""

SIPHON = 10.0
"""[m] Height that the atmosphere holds up, where a caller names none; see `physics.siphon`."""

Shares = tuple[float, ...]
"""How full each passage is, from its lower end; 0 to 1."""


@dataclass(frozen=True)
class Rest:
    """Water at rest.

    Attributes
    ----------
    shares : tuple of float
        How full each passage is. [-]
    level : tuple of float
        What the water at each place can sink to; infinite where it is shut in. [m]
    air : frozenset of int
        Places that air has reached.
    """

    shares: Shares
    level: tuple[float, ...]
    air: frozenset[int]


def settle(
    plumbing: Plumbing,
    shares: Shares | None = None,
    heads: Mapping[int, float] | None = None,
    siphon_limit: float = SIPHON,
) -> Rest:
    """Let the water come to rest.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    shares : tuple of float, optional
        How full each passage was; all full where left out. [-]
    heads : mapping of int to float, optional
        Head at the places that the running pump's water passes. [m]
    siphon_limit : float
        Height that the atmosphere holds up. [m]

    Returns
    -------
    Rest
        Water that nothing lets out stays where it was.
    """
    before = plumbing.full if shares is None else shares
    outlets = outlets_of(plumbing, heads or {})
    carrying = frozenset(heads or {})
    air = _invade(plumbing, before, outlets, carrying, siphon_limit)
    level, _ = sink(plumbing, outlets, air, carrying)
    after = []
    for number, passage in enumerate(plumbing.passages):
        ends = (passage.start, passage.stop)
        share = before[number]
        if not (passage.start in carrying and passage.stop in carrying):
            share = min(share, _share(plumbing, ends, air, level))
        after.append(share)
    return Rest(tuple(after), level, air)


def outlets_of(plumbing: Plumbing, heads: Mapping[int, float]) -> dict[int, float]:
    """Where water can leave to, and at which level.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    heads : mapping of int to float
        Head at the places that the running pump's water passes. [m]

    Returns
    -------
    dict
        The pool, open drains, and what the pump's water passes. [m]
    """
    outlets = dict(plumbing.waters)
    for place in plumbing.openings:
        outlets[place] = plumbing.elevation[place]
    outlets.update(heads)
    return outlets


def sink(
    plumbing: Plumbing,
    outlets: Mapping[int, float],
    air: frozenset[int],
    carrying: frozenset[int] = frozenset(),
) -> tuple[tuple[float, ...], tuple[int, ...]]:
    """Level that the water at each place can sink to, and the passage it takes.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    outlets : mapping of int to float
        Level at each outlet. [m]
    air : frozenset of int
        Places that air has reached: water passes them only if it stands above them.
    carrying : frozenset of int
        Places that the pump's water passes: each keeps its own head.

    Returns
    -------
    tuple
        Levels [m], infinite where there is no way out; numbers of passages, -1 at an outlet.
    """
    count = len(plumbing.elevation)
    best = [(inf, inf)] * count
    by = [-1] * count
    queue: list[tuple[float, float, int]] = []
    for place, head in outlets.items():
        best[place] = (head, 0.0)
        heapq.heappush(queue, (head, 0.0, place))
    while queue:
        level, length, place = heapq.heappop(queue)
        if (level, length) > best[place]:
            continue
        over = max(level, plumbing.elevation[place]) if place in air else level
        for other, number, _ in plumbing.into[place]:
            if other in carrying:
                continue
            further = (over, length + plumbing.passages[number].length)
            if further < best[other]:
                best[other] = further
                by[other] = number
                heapq.heappush(queue, (*further, other))
    return tuple(level for level, _ in best), tuple(by)


def rise(plumbing: Plumbing, shares: Shares, heads: Mapping[int, float]) -> Shares:
    """Let the pool and the pump's water fill what they reach.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    shares : tuple of float
        How full each passage was. [-]
    heads : mapping of int to float
        Head at the places that the running pump's water passes. [m]

    Returns
    -------
    tuple of float
        How full each is then; air is taken to get out of the way. [-]
    """
    reach, _ = reached_level(plumbing, {**plumbing.waters, **heads})
    after = []
    for number, passage in enumerate(plumbing.passages):
        both = passage.start in heads and passage.stop in heads
        share = 1.0 if both else _filled(plumbing, (passage.start, passage.stop), reach)
        after.append(max(shares[number], share))
    return tuple(after)


def reached_level(
    plumbing: Plumbing, heads: Mapping[int, float]
) -> tuple[tuple[float, ...], dict[int, tuple[int, bool]]]:
    """Highest level that water comes to each place with, and the passage it comes by.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    heads : mapping of int to float
        Level at each source. [m]

    Returns
    -------
    tuple
        Levels [m], minus infinity where none comes; by place the passage and whether it is passed
        forward. Water goes on from a place that lies under its level; a source keeps its own.
    """
    reach = [-inf] * len(plumbing.elevation)
    by: dict[int, tuple[int, bool]] = {}
    queue: list[tuple[float, int]] = []
    for place, head in heads.items():
        reach[place] = head
        heapq.heappush(queue, (-head, place))
    while queue:
        negative, place = heapq.heappop(queue)
        level = -negative
        if level < reach[place] or level < plumbing.elevation[place] - LEVEL:
            continue
        for other, number, forward in plumbing.out[place]:
            if level > reach[other] and other not in heads:
                reach[other] = level
                by[other] = (number, forward)
                heapq.heappush(queue, (negative, other))
    return tuple(reach), by


def _invade(
    plumbing: Plumbing,
    before: Sequence[float],
    outlets: Mapping[int, float],
    carrying: frozenset[int],
    siphon_limit: float,
) -> frozenset[int]:
    """Places that air reaches, the highest first."""
    dry = _dry_places(plumbing, before) - carrying
    air = set(dry)
    sources = {*plumbing.breakers, *plumbing.openings} - carrying
    queue = [(-plumbing.elevation[place], place, True) for place in sources]
    hanging, _ = sink(plumbing, outlets, frozenset(air), carrying)
    for place, level in enumerate(hanging):
        if plumbing.elevation[place] - level > siphon_limit and place not in carrying:
            queue.append((-plumbing.elevation[place], place, True))
    heapq.heapify(queue)
    reached: set[int] = set()
    risen: set[int] = set()
    while queue:
        _, place, source = heapq.heappop(queue)
        if place in reached:
            continue
        if place not in dry and not _leaves(
            plumbing, place, outlets, air, carrying=carrying, source=source
        ):
            continue
        if source and place not in risen:
            # Air that comes in rises first; what opens up there may leave the source under water.
            risen.add(place)
            above = _above(plumbing, place, air | carrying)
            queue += [(-plumbing.elevation[other], other, False) for other in above - {place}]
            queue.append((-plumbing.elevation[place], place, True))
            heapq.heapify(queue)
            continue
        reached.add(place)
        air.add(place)
        for other, _, _ in plumbing.out[place]:
            if other not in reached and other not in carrying:
                heapq.heappush(queue, (-plumbing.elevation[other], other, False))
    return frozenset(air)


def _above(plumbing: Plumbing, place: int, without: set[int]) -> set[int]:
    """Places that a bubble rises to."""
    stack, above = [place], {place}
    while stack:
        here = stack.pop()
        for other, _, _ in plumbing.out[here]:
            rises = plumbing.elevation[other] >= plumbing.elevation[here] - LEVEL
            if rises and other not in above and other not in without:
                above.add(other)
                stack.append(other)
    return above


def _leaves(
    plumbing: Plumbing,
    place: int,
    outlets: Mapping[int, float],
    air: set[int],
    *,
    carrying: frozenset[int],
    source: bool,
) -> bool:
    """Whether water at a place can go lower; at a source it has to, or it keeps air out."""
    height = plumbing.elevation[place]
    limit = height - LEVEL if source else height + LEVEL
    stack, seen = [place], {place}
    while stack:
        here = stack.pop()
        if outlets.get(here, inf) <= limit and not (source and here == place):
            return True
        if here in carrying:
            continue
        for other, _, _ in plumbing.out[here]:
            if other not in seen and (other not in air or plumbing.elevation[other] <= limit):
                seen.add(other)
                stack.append(other)
    return False


def _dry_places(plumbing: Plumbing, shares: Sequence[float]) -> set[int]:
    """Places at the empty end of a passage."""
    dry = set()
    for passage, share in zip(plumbing.passages, shares, strict=True):
        if passage.volume <= 0.0 or share >= 1.0:
            continue
        start, stop = plumbing.elevation[passage.start], plumbing.elevation[passage.stop]
        if share <= 0.0 or start >= stop - LEVEL:
            dry.add(passage.start)
        if share <= 0.0 or stop >= start - LEVEL:
            dry.add(passage.stop)
    return dry


def _share(
    plumbing: Plumbing, ends: tuple[int, int], air: frozenset[int], level: Sequence[float]
) -> float:
    """How full a passage is between places that air has reached or not."""
    wet = [place for place in ends if place not in air]
    if len(wet) != 1:
        return float(len(wet) == 2)
    place = wet[0]
    low, high = plumbing.elevation[place], max(plumbing.elevation[end] for end in ends)
    if high - low < LEVEL:
        return 1.0
    return min(max((level[place] - low) / (high - low), 0.0), 1.0)


def _filled(plumbing: Plumbing, ends: tuple[int, int], reach: Sequence[float]) -> float:
    """How full water from outside makes a passage."""
    low, high = sorted(plumbing.elevation[end] for end in ends)
    level = max(reach[end] for end in ends)
    if level <= low + LEVEL:
        return 0.0
    return 1.0 if high - low < LEVEL else min((level - low) / (high - low), 1.0)
