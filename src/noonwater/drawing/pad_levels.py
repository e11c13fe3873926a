"""How high everything on the pad stands: the order of both rails kept, rungs level."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from noonwater.drawing.pad_rails import Branch
from noonwater.drawing.pad_sketch import GAP, Extent, Side, Sketch


@dataclass(frozen=True)
class Levels:
    """Heights above the pool, and what each node takes above and below. [drawing units]"""

    levels: dict[str, float]
    extents: dict[str, Extent]
    height: float
    held: frozenset[str]


def pad_zone_height(sketch: Sketch) -> float:
    """Least height that the pad's rails take. [drawing units]."""
    return solved_levels(sketch).height


def solved_levels(sketch: Sketch) -> Levels:
    """Heights above the pool: each rail's order kept, rungs level where both orders allow it."""
    rails = (sketch.rails.up_pad, tuple(reversed(sketch.rails.down_pad)))
    sides: tuple[Side, Side] = ("left", "right")
    extents = {
        node: sketch.extent(sketch.measured(node, "up", side))
        for rail, side in zip(rails, sides, strict=True)
        for node in rail
    }
    rungs = _rungs(sketch, extents)
    levels = _relaxed(rails, extents, rungs)
    while levels is None and rungs:
        rungs = rungs[:-1]
        levels = _relaxed(rails, extents, rungs)
    levels = levels or {}
    top = max((levels[n] + extents[n][0] for n in levels), default=0.0)
    return Levels(levels, extents, top, frozenset(n for rung in rungs for n in rung))


def _rungs(sketch: Sketch, extents: dict[str, Extent]) -> list[tuple[str, str]]:
    """Pairs of nodes to hold level; what hangs between or beside needs its height as well."""
    rungs: list[tuple[str, str]] = []
    up, down = set(sketch.rails.up_pad), set(sketch.rails.down_pad)
    for branch in sketch.rails.branches:
        ends = [node for node in (branch.start, branch.stop) if node in extents]
        rung = branch.stop in extents
        inner = _branch_extent(sketch, branch, rung)
        for node in ends:
            extents[node] = tuple(map(max, extents[node], inner))  # type: ignore[assignment]
        pair = (branch.start, branch.stop)
        if pair[0] in down and pair[1] in up:
            pair = (pair[1], pair[0])
        if pair[0] in up and pair[1] in down:
            rungs.append(pair)
    return rungs


def _branch_extent(sketch: Sketch, branch: Branch, rung: bool) -> Extent:
    if sketch.pad.stacked and not rung and len(branch.nodes) > 1:
        heights = [sketch.height(sketch.measured(n, "down", "right")) for n in branch.nodes]
        return 0.5 * heights[0], sum(heights) - 0.5 * heights[0]
    inner = [sketch.extent(sketch.measured(n, "right", "under")) for n in branch.nodes]
    return max((e[0] for e in inner), default=0.0), max((e[1] for e in inner), default=0.0)


def _relaxed(
    rails: Sequence[Sequence[str]],
    extents: Mapping[str, Extent],
    rungs: Sequence[tuple[str, str]],
) -> dict[str, float] | None:
    """Least levels; None where rungs that cross each other push without end."""
    levels = {node: extents[node][1] + GAP for rail in rails for node in rail}
    for _ in range(4 * len(levels) + 4):
        before = dict(levels)
        for rail in rails:
            for low, high in pairwise(rail):
                levels[high] = max(levels[high], levels[low] + extents[low][0] + extents[high][1])
        for one, two in rungs:
            levels[one] = levels[two] = max(levels[one], levels[two])
        if levels == before:
            return levels
    return None


def spread(rail: Sequence[str], lifted: dict[str, float], solved: Levels, height: float) -> None:
    """Share the free length of a rail among those that no rung holds."""
    start = 0
    floor = 0.0
    while start < len(rail):
        stop = start
        while stop < len(rail) and rail[stop] not in solved.held:
            stop += 1
        held = rail[stop] if stop < len(rail) else ""
        ceiling = lifted[held] - solved.extents[held][1] if held else height
        free = rail[start:stop]
        taken = sum(sum(solved.extents[node]) for node in free)
        room = max(0.0, ceiling - floor - taken) / (len(free) + 1)
        at = floor
        for node in free:
            at += room + solved.extents[node][1]
            lifted[node] = at
            at += solved.extents[node][0]
        floor = lifted[held] + solved.extents[held][0] if held else floor
        start = stop + 1
