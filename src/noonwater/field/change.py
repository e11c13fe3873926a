"""Faults as changes of a job's own circuit, each of which the solver then answers anew."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from noonwater.catalog import fitting_named
from noonwater.hydraulics.element import fitting_loss
from noonwater.hydraulics.loop import Loop
from noonwater.model.circuit import Circuit, Fitting, Part, Pipe, State

CLOG = "elbow 90"
"""A clog loses as so many of these do: by the square of the flow."""


def filter_at(loop: Loop, load: float) -> Loop:
    """A loop with its filter loaded.

    Parameters
    ----------
    loop : Loop
        Any.
    load : float
        0 clean, 1 due for cleaning; beyond it the same line goes on: ours. [-]
    """
    return replace(loop, settings=replace(loop.settings, filter_load=load))


def choked(loop: Loop, pipe: Pipe, head: float, flow: float) -> Loop:
    """A loop with a pipe choked.

    Parameters
    ----------
    loop : Loop
        Any.
    pipe : Pipe
        One of its pipes.
    head : float
        That the clog takes at a flow. [m]
    flow : float
        That flow. [m³/s]

    Returns
    -------
    Loop
        With whole elbows more in that pipe, at least one.
    """
    velocity = flow / (0.25 * pi * pipe.diameter**2)
    each = fitting_loss(fitting_named(CLOG), pipe.diameter)
    count = round(2.0 * loop.settings.gravity * head / velocity**2 / each)
    clogged = replace(pipe, fittings=(*pipe.fittings, Fitting(CLOG, max(count, 1))))
    pipes = tuple(clogged if old is pipe else old for old in loop.circuit.pipes)
    return replace(loop, circuit=replace(loop.circuit, pipes=pipes))


def plugged(loop: Loop, share: float) -> Loop:
    """A loop with a share of the tubes of every panel plugged."""

    def part(old: Part) -> Part:
        if old.kind != "panel":
            return old
        return replace(old, plugged=1.0 - (1.0 - old.plugged) * (1.0 - share))

    return _with_parts(loop, tuple(part(old) for old in loop.circuit.parts))


def stuck_shut(loop: Loop, state: State, name: str) -> tuple[Loop, State]:
    """A loop whose check valve does not open: a shut valve in its place."""
    parts = tuple(
        replace(old, kind="isolation valve") if old.name == name else old
        for old in loop.circuit.parts
    )
    return _with_parts(loop, parts), turned(state, name, 0.0)


def turned(state: State, name: str, opening: float) -> State:
    """A state with one valve at another opening. [-]."""
    others = tuple(pair for pair in state.positions if pair[0] != name)
    return replace(state, positions=(*others, (name, opening)))


def at_rest(state: State, name: str) -> State:
    """A state in which one booster pump does not run."""
    return replace(state, speeds=tuple(pair for pair in state.speeds if pair[0] != name))


def at_speed(state: State, speed: float) -> State:
    """A state with the pump at another speed. [rpm]."""
    return replace(state, speed=speed)


def weak(loop: Loop, state: State, head: float) -> tuple[Loop, State]:
    """A pump that makes a share of its head, as a slower one would.

    Parameters
    ----------
    loop : Loop
        Any.
    state : State
        Any.
    head : float
        What is left of it. [-]

    Notes
    -----
    Head goes with the square of the speed. That the watts then fall by its cube is ours: a choked
    impeller moves and takes less, a worn one falls less.
    """
    share = head**0.5
    slower = replace(loop, priming_speed=loop.priming_speed * share)
    return slower, at_speed(state, state.speed * share)


def pipe_into(circuit: Circuit, name: str) -> Pipe | None:
    """The pipe that ends at a part; the first of several."""
    return next((pipe for pipe in circuit.pipes if pipe.stop[0] == name), None)


def _with_parts(loop: Loop, parts: tuple[Part, ...]) -> Loop:
    return replace(loop, circuit=replace(loop.circuit, parts=parts))
