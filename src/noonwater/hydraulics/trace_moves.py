"""Moves of a hand at the pad and on the roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from noonwater.hydraulics.trace_plumbing import Setting
from noonwater.hydraulics.trace_reach import driven_parts, ways_to_shut
from noonwater.hydraulics.volume import vessel_of
from noonwater.model.circuit import Circuit, Part, Port, State

Act = Literal["stop", "start", "turn", "open", "shut", "plug", "unplug", "fill"]
"""Stop or start a pump; turn a valve; open or shut a drain, or a lid with its drain plug; put a
plug into a port of the pool, or take it out; fill a pump's pot by hand."""

BETWEEN = "between"
"""A diverter's handle between its two ways."""


@dataclass(frozen=True)
class Move:
    """One thing to do.

    Attributes
    ----------
    act : Act
        What.
    part : str
        Where; "pool return" of a port of the pool.
    toward : str
        What a valve is turned to: "shut", "open", or a diverter's way.
    position : float
        The same as an opening. [-]
    port : Port or None
        Of a plug.
    """

    act: Act
    part: str
    toward: str = ""
    position: float = 0.0
    port: Port | None = None


def moved_setting(setting: Setting, move: Move) -> Setting:
    """A setting after a move.

    Parameters
    ----------
    setting : Setting
        Before.
    move : Move
        What is done.

    Returns
    -------
    Setting
        After; pumps are no part of it.
    """
    if move.act in ("open", "shut") and move.toward == "":
        opened = setting.opened | {move.part}
        return replace(
            setting, opened=opened if move.act == "open" else setting.opened - {move.part}
        )
    if move.act in ("turn", "open", "shut"):
        return setting.with_position(move.part, move.position)
    if move.port is not None:
        plugged = setting.plugged - {move.port}
        return replace(setting, plugged=plugged | {move.port} if move.act == "plug" else plugged)
    return setting


def turns_of(part: Part, between: bool = False) -> tuple[Move, ...]:
    """Every way to turn a valve that is no drain.

    Parameters
    ----------
    part : Part
        Any part.
    between : bool
        Whether a diverter may also be left between its ways.

    Returns
    -------
    tuple of Move
        None of a part that can't be turned.
    """
    shut = ways_to_shut(part)
    if not shut:
        return ()
    if len(part.ways) == 1:
        return (
            Move("turn", part.name, "shut", 0.0),
            Move("turn", part.name, "open", 1.0),
        )
    # Shut against one way is turned to the other.
    first, second = shut
    moves = (Move("turn", part.name, first, 0.0), Move("turn", part.name, second, 1.0))
    return (*moves, Move("turn", part.name, BETWEEN, 0.5)) if between else moves


def openings_of(circuit: Circuit) -> tuple[Move, ...]:
    """Every drain, and every vessel with a plug of its own, the highest first.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    tuple of Move
        To open each.
    """
    found = []
    for part in circuit.parts:
        if part.facts.settable and part.facts.air:
            found.append((-part.elevation, Move("open", part.name, "open", 1.0)))
        elif vessel_of(part):
            found.append((-part.elevation, Move("open", part.name)))
    return tuple(move for _, move in sorted(found, key=lambda entry: entry[0]))


def plugs_of(circuit: Circuit) -> tuple[Move, ...]:
    """Every port of the pool or spa that a pipe ends at.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    tuple of Move
        To plug each.
    """
    used = {port for pipe in circuit.pipes for port in (pipe.start, pipe.stop)}
    return tuple(
        Move("plug", f"{part.name} {port}", port=(part.name, port))
        for part in circuit.parts
        if part.facts.body
        for port in part.ports
        if (part.name, port) in used
    )


def undone(move: Move) -> Move:
    """The move that takes an opening or a plug back.

    Parameters
    ----------
    move : Move
        "open" or "plug".

    Returns
    -------
    Move
        "shut" or "unplug".
    """
    if move.act == "plug":
        return replace(move, act="unplug")
    return replace(move, act="shut", toward="shut" if move.toward else "", position=0.0)


def named_position(part: Part, position: float) -> str:
    """A valve's position in a word.

    Parameters
    ----------
    part : Part
        A valve or diverter.
    position : float
        Its opening. [-]

    Returns
    -------
    str
        "shut", "open", "30 % open", a diverter's way, or "between".
    """
    for move in turns_of(part):
        if move.position == position:
            return move.toward
    if len(part.ways) > 1:
        return BETWEEN
    return f"{100.0 * position:.0f} % open"


def turned_back(circuit: Circuit, setting: Setting, target: State) -> tuple[Move, ...]:
    """Moves that turn all valves but drains to how a state wants them.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    setting : Setting
        How they stand.
    target : State
        How they shall stand.

    Returns
    -------
    tuple of Move
        In the circuit's order.
    """
    moves = []
    for part in circuit.parts:
        wanted = target.position_of(part)
        if ways_to_shut(part) and setting.position_of(part) != wanted:
            moves.append(Move("turn", part.name, named_position(part, wanted), wanted))
    return tuple(moves)


def stops_of(circuit: Circuit, state: State) -> tuple[Move, ...]:
    """Moves that stop every pump that turns, the booster pumps first.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State
        Whose pumps turn.

    Returns
    -------
    tuple of Move
        One a pump.
    """
    turning = driven_parts(circuit, state)
    ordered: Sequence[Part] = sorted(turning, key=lambda part: part.kind == "pump")
    return tuple(Move("stop", part.name) for part in ordered)
