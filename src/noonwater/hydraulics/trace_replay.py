"""Moves done one after the other, and what the water does at each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.trace_levels import Rest, Shares, rise, settle
from noonwater.hydraulics.trace_moves import Move, moved_setting
from noonwater.hydraulics.trace_opening import flooding
from noonwater.hydraulics.trace_plumbing import SHUT, Plumbing, Setting, plumbing_of
from noonwater.hydraulics.trace_reach import STILL, Running, driven_parts, has_way, running_of
from noonwater.hydraulics.trace_standing import PartWater, parts_water
from noonwater.model.circuit import Circuit, State


@dataclass(frozen=True)
class Case:
    """A circuit with what its water depends on besides.

    Attributes
    ----------
    loop : Loop
        Circuit and limits.
    residue : float
        Share of the panels' water that draining leaves in them. [-]
    """

    loop: Loop
    residue: float = 0.0

    @property
    def circuit(self) -> Circuit:
        """Parts and pipes."""
        return self.loop.circuit

    def plumbing(self, setting: Setting) -> Plumbing:
        """The circuit as vessels under a setting."""
        return plumbing_of(self.circuit, setting, self.residue)

    def settle(self, plumbing: Plumbing, shares: Shares | None, running: Running = STILL) -> Rest:
        """Let the water come to rest."""
        heads = running.heads(plumbing)
        return settle(plumbing, shares, heads, self.loop.siphon_limit)


@dataclass(frozen=True)
class Scene:
    """How everything stands between two moves: setting, speeds, and where the water is.

    Attributes
    ----------
    setting : Setting
        Valves, openings and plugs.
    state : State
        For its speeds; the pump stands at speed 0.
    shares : tuple of float
        How full each passage is. [-]
    """

    setting: Setting
    state: State
    shares: Shares


@dataclass(frozen=True)
class Step:
    """A move and what comes of it.

    Attributes
    ----------
    move : Move
        What is done.
    scene : Scene
        How everything stands afterwards.
    parts : tuple of PartWater
        What each part holds then.
    water, trapped : float
        In all parts and pipes, and of that trapped. [L]
    runs_out : float
        At this move; negative where water comes in. [L]
    floods : tuple of str
        Openings that open water runs out of.
    deadheads : tuple of str
        Pumps that run without a way.
    carries : tuple of str
        Kinds of part that the pump's water passes.
    """

    move: Move
    scene: Scene
    parts: tuple[PartWater, ...]
    water: float
    trapped: float
    runs_out: float
    floods: tuple[str, ...]
    deadheads: tuple[str, ...]
    carries: tuple[str, ...]

    @property
    def safe(self) -> bool:
        """Whether nothing floods and no pump runs against a shut valve."""
        return not self.floods and not self.deadheads


def take(case: Case, scene: Scene, move: Move) -> Step:
    """Do one move and let the water come to rest.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    scene : Scene
        Before.
    move : Move
        What is done.

    Returns
    -------
    Step
        With everything that it brings about.
    """
    setting, state = moved_setting(scene.setting, move), _moved_state(case, scene.state, move)
    solar = _toward_roof(case.circuit, setting, state)
    state = replace(state, positions=setting.positions, solar=solar)
    plumbing = case.plumbing(setting)
    dead = tuple(
        part.name
        for part in driven_parts(case.circuit, state)
        if not has_way(case.circuit, setting, part)
    )
    running = STILL if dead else running_of(case.loop, state)
    shares = rise(plumbing, scene.shares, running.heads(plumbing))
    rest = case.settle(plumbing, shares, running)
    parts = parts_water(case.circuit, plumbing, rest, running)
    kinds = {part.kind for part in case.circuit.parts if part.name in running.flow}
    return Step(
        move=move,
        scene=Scene(setting, state, rest.shares),
        parts=parts,
        water=plumbing.litres(rest.shares),
        trapped=sum(entry.litres for entry in parts if entry.water == "trapped"),
        runs_out=plumbing.litres(scene.shares) - plumbing.litres(rest.shares),
        floods=tuple(sorted(flooding(plumbing, rest))),
        deadheads=dead,
        carries=tuple(sorted(kinds & {"panel", "filter", "heater", "sanitizer"})),
    )


def _toward_roof(circuit: Circuit, setting: Setting, state: State) -> bool:
    """Whether the diverter sends water to the roof; as the state says where there is none."""
    diverters = [part for part in circuit.of_kind("diverter") if part.ports[-1] == "solar"]
    if not diverters:
        return state.solar
    return any(setting.position_of(part) > SHUT for part in diverters)


def replay(case: Case, scene: Scene, moves: Iterable[Move]) -> tuple[Step, ...]:
    """Do one move after the other.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    scene : Scene
        Before the first.
    moves : iterable of Move
        In order.

    Returns
    -------
    tuple of Step
        One a move.
    """
    steps = []
    for move in moves:
        step = take(case, scene, move)
        steps.append(step)
        scene = step.scene
    return tuple(steps)


def _moved_state(case: Case, state: State, move: Move) -> State:
    if move.act not in ("stop", "start"):
        return state
    part = case.circuit.part(move.part)
    speed = move.position if move.act == "start" else 0.0
    if part.kind == "pump":
        return replace(state, speed=speed)
    speeds = {**dict(state.speeds), part.name: speed}
    return replace(state, speeds=tuple(sorted(speeds.items())))
