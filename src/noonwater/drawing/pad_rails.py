"""The two rails of a pad: water goes up one to the array and comes down the other.

What joins the rails is a rung, what hangs on one of them a spur. Everything follows from which
pipe joins what; no arrangement is known here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from noonwater.drawing.pad_graph import Edge, PadGraph

_ASIDE = frozenset(
    ("bypass valve", "suction cleaner", "pressure cleaner", "cleaner", "spa", "drain", "plug")
)
"""Kinds that a rail goes round where it can."""

_MOST_STEPS = 20000


@dataclass(frozen=True)
class Branch:
    """Nodes that are on no rail, in a row, and what they hang on.

    Attributes
    ----------
    nodes : tuple of str
        In the order of the walk from `start`; empty where one pipe joins the rails.
    start : str
        Node of a rail, or the pool.
    stop : str
        Another node of a rail, or the pool; "" where the branch ends blind.
    edges : tuple of Edge
        That pipe, where `nodes` is empty.
    """

    nodes: tuple[str, ...]
    start: str
    stop: str
    edges: tuple[Edge, ...] = ()


@dataclass(frozen=True)
class Rails:
    """The order in which everything is drawn.

    Attributes
    ----------
    up_pad, up_roof : tuple of str
        From the pool to the array: what stands on the pad, what lies at the array.
    down_roof, down_pad : tuple of str
        From the array back to the pool.
    banks : tuple of Branch
        Each bank with what stands between it and the rails, in the order of the feed.
    branches : tuple of Branch
        All else.
    """

    up_pad: tuple[str, ...]
    up_roof: tuple[str, ...]
    down_roof: tuple[str, ...]
    down_pad: tuple[str, ...]
    banks: tuple[Branch, ...]
    branches: tuple[Branch, ...]

    @property
    def up(self) -> tuple[str, ...]:
        """The whole rail to the array."""
        return (*self.up_pad, *self.up_roof)

    @property
    def down(self) -> tuple[str, ...]:
        """The whole rail from the array."""
        return (*self.down_roof, *self.down_pad)


def find_rails(graph: PadGraph) -> Rails:
    """Find rails, banks and branches.

    Parameters
    ----------
    graph : PadGraph
        What is drawn.

    Returns
    -------
    Rails
        Every node but the pool stands in it once.
    """
    out: dict[str, list[str]] = {node: [] for node in graph.nodes}
    for edge in graph.edges:
        out[edge.start].append(edge.stop)
    banks = frozenset(graph.banks)
    up = _best_path(graph, out, [graph.pool] if graph.pool else [], banks, frozenset())
    avoid = frozenset(up)
    down = _best_path(graph, out, sorted(banks), frozenset({graph.pool}), avoid | banks)
    up, down = up[1:-1], down[1:-1]
    if not banks:
        up, down = _without_array(graph, out)
    up_pad, up_roof = _split(graph, up, "feed", down)
    down_roof, down_pad = _split(graph, down, "roof return", up)
    spokes, rest = _branches(graph, (*up, *down))
    feeds = {branch: _feed_place(graph, branch, up) for branch in spokes}
    ordered = tuple(sorted(spokes, key=feeds.__getitem__))
    return Rails(up_pad, up_roof, down_roof, down_pad, ordered, rest)


def _best_path(
    graph: PadGraph,
    out: dict[str, list[str]],
    starts: list[str],
    goals: frozenset[str],
    avoid: frozenset[str],
) -> tuple[str, ...]:
    """The path that passes most parts, round those that stand aside."""

    def worth(path: tuple[str, ...]) -> int:
        inner = path[1:-1]
        return len(inner) - 4 * sum(graph.kind(node) in _ASIDE for node in inner)

    found = [path for start in starts for path in _paths(out, start, goals, avoid - {start})]
    return max(found, key=worth, default=())


def _paths(
    out: dict[str, list[str]], start: str, goals: frozenset[str], avoid: frozenset[str]
) -> Iterator[tuple[str, ...]]:
    """Paths without a loop; of a circuit with very many only the first ones."""
    waiting: list[tuple[str, ...]] = [(start,)]
    for _ in range(_MOST_STEPS):
        if not waiting:
            return
        path = waiting.pop()
        for node in out[path[-1]]:
            if node in path or (node in avoid and node not in goals):
                continue
            if node in goals:
                yield (*path, node)
            else:
                waiting.append((*path, node))


def _without_array(
    graph: PadGraph, out: dict[str, list[str]]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """A pad that heats nothing: up to the filter, and down from there."""
    whole: tuple[str, ...] = ()
    for first in dict.fromkeys(out.get(graph.pool, [])):
        if first == graph.pool:
            continue
        path = _best_path(graph, out, [first], frozenset({graph.pool}), frozenset())
        whole = max(whole, path[:-1], key=len)
    kinds = [graph.kind(node) for node in whole]
    cut = kinds.index("filter") + 1 if "filter" in kinds else len(whole) // 2
    return whole[:cut], whole[cut:]


def _split(
    graph: PadGraph, rail: tuple[str, ...], role: str, other: tuple[str, ...]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Cut a rail at the longest pipe of the run between pad and array."""
    ends = (*rail, "") if role == "feed" else ("", *rail)
    best, cut = -1.0, len(rail) if role == "feed" else 0
    for i, (one, two) in enumerate(pairwise(ends)):
        if not (one and two):
            continue
        lengths = [edge.pipe.length for edge in graph.between(one, two) if edge.pipe.role == role]
        if lengths and max(lengths) > best:
            best, cut = max(lengths), i + (role == "feed")
    if best < 0.0:
        # A run that goes straight into a bank, or comes straight out of one, is no cut of the rail.
        cut = len(rail) if role == "feed" else 0
    return rail[:cut], rail[cut:]


def _branches(graph: PadGraph, rail: tuple[str, ...]) -> tuple[list[Branch], tuple[Branch, ...]]:
    """All that is on no rail: what holds a bank, and what does not."""
    fixed = {*rail, graph.pool}
    spokes: list[Branch] = []
    rest: list[Branch] = []
    seen: set[str] = set()
    for edge in graph.edges:
        if edge.start in fixed and edge.stop in fixed and not _along(rail, edge):
            rest.append(Branch((), edge.start, edge.stop, (edge,)))
    for node in graph.nodes:
        if node in fixed or node in seen:
            continue
        branch = _walk(graph, node, fixed)
        seen.update(branch.nodes)
        has_bank = any(name in graph.banks for name in branch.nodes)
        (spokes if has_bank else rest).append(branch)
    return spokes, tuple(rest)


def _along(rail: tuple[str, ...], edge: Edge) -> bool:
    """Whether an edge is a step of a rail, or joins the rail's end to the pool."""
    places = {node: i for i, node in enumerate(rail)}
    if edge.start in places and edge.stop in places:
        return places[edge.stop] - places[edge.start] == 1
    return not ({edge.start, edge.stop} <= places.keys())


def _walk(graph: PadGraph, node: str, fixed: set[str]) -> Branch:
    """The nodes that hang together with one, from where they hang on."""
    group, waiting = {node}, [node]
    while waiting:
        for edge in graph.at(here := waiting.pop()):
            if (other := edge.other(here)) not in fixed and other not in group:
                group.add(other)
                waiting.append(other)
    touching = [
        (edge, inner, edge.other(inner))
        for inner in group
        for edge in graph.at(inner)
        if edge.other(inner) in fixed
    ]
    touching.sort(key=lambda touch: (touch[2] == graph.pool, graph.edges.index(touch[0])))
    # Water's own order where the walk can follow it: begin where it comes from a rail.
    begins = [t for t in touching if t[0].stop == t[1] and t[2] != graph.pool] or touching
    if not begins:
        return Branch(tuple(sorted(group, key=graph.nodes.index)), "", "")
    _, first, start = begins[0]
    order = _order(graph, first, group)
    stops = [other for _, _, other in touching if other != start]
    return Branch(order, start, stops[0] if stops else "")


def _order(graph: PadGraph, first: str, group: set[str]) -> tuple[str, ...]:
    order, waiting = [first], [first]
    while waiting:
        here = waiting.pop(0)
        for edge in graph.at(here):
            other = edge.other(here)
            if other in group and other not in order:
                order.append(other)
                waiting.append(other)
    return tuple(order)


def _feed_place(graph: PadGraph, branch: Branch, up: tuple[str, ...]) -> tuple[int, int]:
    """Where on the rail a bank's feed begins; of two at one tee, the one on its branch first."""
    if branch.start not in up:
        return len(up), 0
    port = next(
        (
            edge.end_at(branch.start)[1]
            for node in branch.nodes
            for edge in graph.between(branch.start, node)
        ),
        "",
    )
    return up.index(branch.start), int(port != "branch")
