"""Steps that empty pad and array for the winter, and the steps back, found by search."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from noonwater.hydraulics.trace_moves import (
    Move,
    moved_setting,
    openings_of,
    plugs_of,
    stops_of,
    turned_back,
    turns_of,
    undone,
)
from noonwater.hydraulics.trace_opening import flooding
from noonwater.hydraulics.trace_plumbing import Setting
from noonwater.hydraulics.trace_reach import driven_parts, has_way
from noonwater.hydraulics.trace_replay import Case, Scene, Step, replay, take
from noonwater.hydraulics.trace_service import first_scene
from noonwater.hydraulics.volume import vessel_of
from noonwater.model.circuit import State

WORTH = 0.2
"""[L] A move that lets out less is not worth its trouble."""

TOGETHER = 3
"""Turns and plugs that the search tries at once: a pad below the water needs two ports shut off
before anything may be opened."""

Remedy = Literal["blow out", "lower the water", "let it stand"]
"""Blow it out or pump it off; it stands no higher than the pool's or spa's water, so lower that or
plug and blow out; too little to burst anything."""

HARMLESS = 0.5
"""[L] Water that has room to freeze in the part that holds it: ours, no source."""


@dataclass(frozen=True)
class Leftover:
    """Water that the steps leave.

    Attributes
    ----------
    name : str
        Part or pipe.
    litres : float
        [L]
    held_by : tuple of str
        What keeps it in; none where it is a low point.
    remedy : Remedy
        What to do about it.
    """

    name: str
    litres: float
    held_by: tuple[str, ...]
    remedy: Remedy


@dataclass(frozen=True)
class Winter:
    """Steps out of the season, what they leave, and the steps back.

    Attributes
    ----------
    start : str
        State that the steps begin in.
    steps : tuple of Step
        In order.
    left : tuple of Leftover
        Water that stays, by part.
    reopen : tuple of Step
        From there back to the running pump, and on to solar.
    """

    start: str
    steps: tuple[Step, ...]
    left: tuple[Leftover, ...]
    reopen: tuple[Step, ...]

    @property
    def litres_left(self) -> float:
        """All water that stays. [L]."""
        return sum(entry.litres for entry in self.left)


def winter_steps(case: Case, states: Sequence[State]) -> Winter:
    """Find moves that leave the least water, and the moves back.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    states : sequence of State
        The job's.

    Returns
    -------
    Winter
        No step floods, none runs a pump against a shut valve.
    """
    running = [state for state in states if state.speed > 0.0]
    start = next((state for state in running if not state.solar), (running or list(states))[0])
    scene = first_scene(case, start)
    steps = list(replay(case, scene, stops_of(case.circuit, start)))
    while True:
        now = steps[-1].scene if steps else scene
        moves = _next_moves(case, now)
        taken = _taken(case, now, moves)
        if not taken:
            break
        steps += taken
    last = steps[-1] if steps else None
    left = () if last is None else _leftovers(case, last)
    after = last.scene if last else scene
    return Winter(start.name, tuple(steps), left, reopening_steps(case, after, states))


def reopening_steps(case: Case, scene: Scene, states: Sequence[State]) -> tuple[Step, ...]:
    """Moves from the emptied circuit back to the running one.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    scene : Scene
        As the winter's steps leave it.
    states : sequence of State
        The job's.

    Returns
    -------
    tuple of Step
        Openings shut from the lowest up, plugs out, valves turned, pumps filled and started, and
        last the turn to solar.
    """
    running = [state for state in states if state.speed > 0.0]
    if not running:
        return ()
    first = next((state for state in running if not state.solar), running[0])
    solar = next((state for state in running if state.solar), None)
    opened = [m for m in openings_of(case.circuit) if _is_open(scene.setting, m)]
    moves = [undone(move) for move in reversed(opened)]
    plugs = [move for move in plugs_of(case.circuit) if move.port in scene.setting.plugged]
    moves += [undone(move) for move in plugs]
    moves += turned_back(case.circuit, scene.setting, first)
    steps = list(replay(case, scene, moves))
    now = steps[-1].scene if steps else scene
    pumps = driven_parts(case.circuit, first)
    fills = [Move("fill", pump.name) for pump in pumps if pump.elevation > 0.0]
    starts = [Move("start", pump.name, position=first.speed_of(pump)) for pump in pumps]
    steps += replay(case, now, [*fills, *starts])
    if solar is not None and solar is not first:
        steps += _to_solar(case, steps[-1].scene if steps else now, solar)
    return tuple(steps)


def _to_solar(case: Case, scene: Scene, solar: State) -> list[Step]:
    """Turn to solar one valve at a time, in an order that always leaves the pump a way."""
    pump = case.loop.pump
    moves: list[Move] = []
    if scene.state.speed_of(pump) != solar.speed_of(pump):
        moves.append(Move("start", pump.name, position=solar.speed_of(pump)))
    left = list(turned_back(case.circuit, scene.setting, solar))
    while left:
        setting = steps_setting(scene.setting, moves)
        free = [m for m in left if has_way(case.circuit, moved_setting(setting, m), pump)]
        if not free:
            break
        moves.append(free[0])
        left.remove(free[0])
    moves += [
        Move("start", part.name, position=solar.speed_of(part))
        for part in driven_parts(case.circuit, solar)
        if part.kind != "pump"
    ]
    return list(replay(case, scene, moves))


def steps_setting(setting: Setting, moves: Iterable[Move]) -> Setting:
    """A setting after several moves.

    Parameters
    ----------
    setting : Setting
        Before.
    moves : iterable of Move
        In order.

    Returns
    -------
    Setting
        After.
    """
    for move in moves:
        setting = moved_setting(setting, move)
    return setting


def _is_open(setting: Setting, move: Move) -> bool:
    if move.toward:
        return dict(setting.positions).get(move.part, 0.0) > 0.0
    return move.part in setting.opened


def _next_moves(case: Case, scene: Scene) -> list[Move]:
    """Turns and plugs after which all openings together let out the most, then the openings."""
    now = case.plumbing(scene.setting).litres(scene.shares)
    turns = [m for part in case.circuit.parts for m in turns_of(part, between=True)]
    turns = [m for m in turns if moved_setting(scene.setting, m) != scene.setting]
    turns += [m for m in plugs_of(case.circuit) if m.port not in scene.setting.plugged]
    chosen: list[Move] = []
    least, _ = _emptied(case, scene, chosen)
    for size in range(1, TOGETHER + 1):
        better = _best(case, scene, turns, size, least)
        if better is not None:
            chosen = better
            break
    left, openings = _emptied(case, scene, chosen)
    if now - left < WORTH:
        return []
    return [*chosen, *_needed(case, scene, chosen, openings)]


def _best(
    case: Case, scene: Scene, turns: Sequence[Move], size: int, least: float
) -> list[Move] | None:
    """The best so many turns together, if they let out more than none do."""
    best: list[Move] | None = None
    for together in combinations(turns, size):
        if len({move.part for move in together}) < size:
            continue
        left, _ = _emptied(case, scene, together)
        if left < least - WORTH * size:
            best, least = list(together), left
    return best


def _emptied(case: Case, scene: Scene, turns: Sequence[Move]) -> tuple[float, tuple[Move, ...]]:
    """Litres left once everything that doesn't flood is open after some turns; what is open."""
    setting = steps_setting(scene.setting, turns)
    openings = [m for m in openings_of(case.circuit) if not _is_open(setting, m)]
    while True:
        after = steps_setting(setting, openings)
        plumbing = case.plumbing(after)
        rest = case.settle(plumbing, scene.shares)
        floods = flooding(plumbing, rest)
        if not floods:
            return plumbing.litres(rest.shares), tuple(openings)
        dry = [move for move in openings if move.part not in floods]
        if len(dry) == len(openings):
            return plumbing.litres(scene.shares), ()
        openings = dry


def _needed(
    case: Case, scene: Scene, turns: Sequence[Move], openings: Sequence[Move]
) -> list[Move]:
    """Openings that let water out at their turn, and those that the others need for air."""

    def left(moves: Sequence[Move]) -> float:
        plumbing = case.plumbing(steps_setting(scene.setting, [*turns, *moves]))
        return plumbing.litres(case.settle(plumbing, scene.shares).shares)

    useful: list[Move] = []
    now = left([])
    for move in openings:
        after = left([*useful, move])
        if now - after >= WORTH:
            useful.append(move)
            now = after
    least = left(openings)
    idle = [move for move in openings if move not in useful]
    for move in list(idle):
        without = [
            other for other in openings if other in useful or (other in idle and other != move)
        ]
        if left(without) < least + WORTH:
            idle.remove(move)
    return [move for move in openings if move in useful or move in idle]


def _taken(case: Case, scene: Scene, moves: Sequence[Move]) -> list[Step]:
    """The moves as steps, each put off while it would flood; those that always would are left."""
    steps: list[Step] = []
    waiting = list(moves)
    while waiting:
        for move in waiting:
            step = take(case, scene, move)
            if step.safe:
                break
        else:
            break
        steps.append(step)
        scene = step.scene
        waiting.remove(move)
    return steps


def _leftovers(case: Case, last: Step) -> tuple[Leftover, ...]:
    return tuple(
        Leftover(
            entry.name,
            entry.litres,
            entry.held_by,
            "let it stand"
            if entry.litres < HARMLESS and entry.name in _vessels(case)
            else "lower the water"
            if entry.water == "full"
            else "blow out",
        )
        for entry in last.parts
        if entry.litres > 0.005
    )


def _vessels(case: Case) -> set[str]:
    return {part.name for part in case.circuit.parts if vessel_of(part)}
