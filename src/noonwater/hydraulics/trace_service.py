"""Steps that shut the array off for service while the filter goes on, found by search."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from noonwater.hydraulics.trace_moves import Move, moved_setting, openings_of, stops_of, turns_of
from noonwater.hydraulics.trace_plumbing import Plumbing, Setting, setting_of
from noonwater.hydraulics.trace_reach import driven_parts, has_way, running_of
from noonwater.hydraulics.trace_replay import Case, Scene, Step, replay, take
from noonwater.model.circuit import State

Tightness = Literal["valves", "check valve", "seeps", "not"]
"""Shut valves on every side; a check valve on one; a drain-down hole lets water seep in; nothing
shuts the array off."""

RANKS: tuple[Tightness, ...] = ("valves", "check valve", "seeps", "not")

DEPTH = 5
"""Turns of valves that the search tries at most."""

LEAST = 0.1
"""[L] A drain that lets out less is left shut."""


@dataclass(frozen=True)
class Service:
    """Steps to the array shut off.

    Attributes
    ----------
    start : str
        State that the steps begin in.
    tightness : Tightness
        What holds the pump's water off.
    steps : tuple of Step
        In order; the pump runs through all of them.
    array_litres : float
        Water that still stands in the panels. [L]
    """

    start: str
    tightness: Tightness
    steps: tuple[Step, ...]
    array_litres: float


def service_steps(case: Case, states: Sequence[State]) -> Service:
    """Find the fewest turns that shut the array off, and then its drains.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    states : sequence of State
        The job's; the search begins in a solar state if there is one.

    Returns
    -------
    Service
        The tightest that is reached. The pump never runs against a shut valve.
    """
    running = [state for state in states if state.speed > 0.0]
    solar = [state for state in running if state.solar]
    start = (solar or running or list(states))[0]
    scene = first_scene(case, start)
    boosters = [move for move in stops_of(case.circuit, start) if move.part != _filter_pump(case)]
    steps = list(replay(case, scene, boosters))
    scene = steps[-1].scene if steps else scene
    moves, tightness = _search(case, scene)
    turned = replay(case, scene, moves)
    steps += turned
    scene = turned[-1].scene if turned else scene
    if tightness != "not":
        steps += _drained(case, scene)
    last = steps[-1].scene.shares if steps else scene.shares
    return Service(start.name, tightness, tuple(steps), _array_litres(case, last))


def first_scene(case: Case, state: State) -> Scene:
    """Everything full, and then what the state leaves.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    state : State
        Any.

    Returns
    -------
    Scene
        Nothing open, nothing plugged.
    """
    setting = setting_of(state)
    plumbing = case.plumbing(setting)
    rest = case.settle(plumbing, None, running_of(case.loop, state))
    return Scene(setting, state, rest.shares)


def tightness_of(case: Case, setting: Setting) -> Tightness:
    """What holds open water and the pump's off the panels.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    setting : Setting
        How the valves stand.

    Returns
    -------
    Tightness
        The loosest thing on any way to a panel.
    """
    plumbing = case.plumbing(setting)
    panels = {
        plumbing.place_of[(part.name, port)]
        for part in case.circuit.of_kind("panel")
        for port in part.ports
    }
    if not panels & _reached(plumbing, check_valves=True, seeps=True):
        return "valves"
    if not panels & _reached(plumbing, check_valves=False, seeps=True):
        return "check valve"
    if not panels & _reached(plumbing, check_valves=False, seeps=False):
        return "seeps"
    return "not"


def _reached(plumbing: Plumbing, check_valves: bool, seeps: bool) -> set[int]:
    """Places that the pump's and the pool's water comes to; through check valves backward too."""
    stack = list(plumbing.waters)
    seen = set(stack)
    while stack:
        here = stack.pop()
        arcs = [*plumbing.out[here], *(plumbing.into[here] if check_valves else ())]
        for other, number, _ in arcs:
            if other not in seen and (seeps or not plumbing.passages[number].seeps):
                seen.add(other)
                stack.append(other)
    return seen


def _filter_pump(case: Case) -> str:
    return next((part.name for part in case.circuit.of_kind("pump")), "")


def _search(case: Case, scene: Scene) -> tuple[tuple[Move, ...], Tightness]:
    """Breadth first over turns of valves, never through a setting that leaves a pump no way."""
    turns = [move for part in case.circuit.parts for move in turns_of(part)]
    pumps = driven_parts(case.circuit, scene.state)
    queue: deque[tuple[Setting, tuple[Move, ...]]] = deque([(scene.setting, ())])
    seen = {scene.setting}
    best: tuple[tuple[Move, ...], Tightness] = ((), tightness_of(case, scene.setting))
    while queue and best[1] != "valves":
        setting, moves = queue.popleft()
        if len(moves) == DEPTH:
            break
        for move in turns:
            after = moved_setting(setting, move)
            if after in seen or not all(has_way(case.circuit, after, part) for part in pumps):
                continue
            seen.add(after)
            tightness = tightness_of(case, after)
            if RANKS.index(tightness) < RANKS.index(best[1]):
                best = ((*moves, move), tightness)
            queue.append((after, (*moves, move)))
    return best


def _drained(case: Case, scene: Scene) -> list[Step]:
    """Open the array's drains, the highest first, that let its water out without a flood."""
    steps: list[Step] = []
    vessels = {part.name for part in case.circuit.parts if not part.facts.settable}
    drains = [move for move in openings_of(case.circuit) if move.part not in vessels]
    kept = _lowered(case, scene, drains)
    for move in kept:
        step = take(case, scene, move)
        if step.safe:
            steps.append(step)
            scene = step.scene
    return steps


def _lowered(case: Case, scene: Scene, drains: Sequence[Move]) -> list[Move]:
    """Drains that are needed to empty the panels as far as all of them do."""

    def left(moves: Sequence[Move]) -> float:
        now = scene
        for move in moves:
            step = take(case, now, move)
            now = step.scene if step.safe else now
        return _array_litres(case, now.shares)

    kept = list(drains)
    if not kept or left([]) - left(kept) < LEAST:
        return []
    for move in drains:
        fewer = [other for other in kept if other != move]
        if left(fewer) <= left(kept) + LEAST:
            kept = fewer
    return kept


def _array_litres(case: Case, shares: Sequence[float]) -> float:
    names = {part.name for part in case.circuit.of_kind("panel")}
    passages = case.plumbing(Setting()).passages
    pairs = zip(passages, shares, strict=True)
    return 1000.0 * sum(p.volume * share for p, share in pairs if p.told_with in names)
