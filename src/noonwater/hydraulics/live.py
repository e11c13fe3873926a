"""Which links can carry water at all: those on a loop through the pool that it can come to."""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache

Ends = tuple[tuple[int, int], ...]
KEPT = 512
"""Shapes of networks: most edits of a job leave what is joined to what."""


def carrying_links(ends: list[tuple[int, int]], ground: int) -> list[int]:
    """Links that lie on a loop and hang together with the ground node.

    Parameters
    ----------
    ends : list of (int, int)
        Nodes of each link.
    ground : int
        The pool's node.

    Returns
    -------
    list of int
        Numbers of the links, ascending. A link whose removal cuts the graph in two (a dead end, a
        leg behind a shut valve) carries nothing in steady flow and is left out.
    """
    return list(_carrying(tuple(ends), ground))


@lru_cache(maxsize=KEPT)
def _carrying(ends: Ends, ground: int) -> tuple[int, ...]:
    bridges = _bridges(ends)
    around = defaultdict(list)
    for link, (start, stop) in enumerate(ends):
        if link not in bridges:
            around[start].append((stop, link))
            around[stop].append((start, link))
    seen, stack, links = {ground}, [ground], set()
    while stack:
        for other, link in around[stack.pop()]:
            links.add(link)
            if other not in seen:
                seen.add(other)
                stack.append(other)
    return tuple(sorted(links))


def fed_links(ends: list[tuple[int, int]], one_way: list[bool], sources: set[int]) -> list[int]:
    """Links that water from an open body can come to.

    Parameters
    ----------
    ends : list of (int, int)
        Nodes of each link.
    one_way : list of bool
        Whether a link lets water pass from its first node to its second alone.
    sources : set of int
        Nodes at which open water stands.

    Returns
    -------
    list of int
        Numbers of the links, ascending. What only lets water out, as an array behind shut valves
        with its drains open, carries nothing once it is empty.
    """
    return list(_fed(tuple(ends), tuple(one_way), frozenset(sources)))


@lru_cache(maxsize=KEPT)
def _fed(ends: Ends, one_way: tuple[bool, ...], sources: frozenset[int]) -> tuple[int, ...]:
    onward = defaultdict(list)
    for link, (start, stop) in enumerate(ends):
        onward[start].append((stop, link))
        if not one_way[link]:
            onward[stop].append((start, link))
    seen, stack, links = set(sources), list(sources), set()
    while stack:
        for other, link in onward[stack.pop()]:
            links.add(link)
            if other not in seen:
                seen.add(other)
                stack.append(other)
    return tuple(sorted(links))


def _bridges(ends: Ends) -> set[int]:
    # Tarjan's search, with a stack of its own: a chain of 300 parts is too deep for recursion.
    around = defaultdict(list)
    for link, (start, stop) in enumerate(ends):
        around[start].append((stop, link))
        around[stop].append((start, link))
    entered: dict[int, int] = {}
    lowest: dict[int, int] = {}
    bridges: set[int] = set()
    for root in list(around):
        if root in entered:
            continue
        entered[root] = lowest[root] = len(entered)
        stack = [(root, -1, iter(around[root]))]
        while stack:
            node, came_by, onward = stack[-1]
            for other, link in onward:
                if link == came_by:
                    continue
                if other in entered:
                    lowest[node] = min(lowest[node], entered[other])
                    continue
                entered[other] = lowest[other] = len(entered)
                stack.append((other, link, iter(around[other])))
                break
            else:
                stack.pop()
                if stack:
                    parent = stack[-1][0]
                    lowest[parent] = min(lowest[parent], lowest[node])
                    if lowest[node] > entered[parent]:
                        bridges.add(came_by)
    return bridges
