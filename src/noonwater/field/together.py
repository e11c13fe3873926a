"""Two causes at once, as one circuit and one state to be solved."""

from __future__ import annotations

from dataclasses import replace

from noonwater.field import change
from noonwater.field.cause import Cause
from noonwater.field.expected import Normal
from noonwater.field.situation import Situation, Subject, leaking, situations_of
from noonwater.hydraulics.flow import state_flow
from noonwater.model.circuit import State

NO_FAULT, RESTS = "right", "no reason"
NOTHING_WRONG = "nothing is wrong: "
SEATS = {
    **dict.fromkeys(("slow", "fast", "weak", "stands"), "pump"),
    **dict.fromkeys(("breaker open", "breaker shut"), "breaker"),
    **dict.fromkeys((RESTS, "settings", "sensor low", "sensor high", "sensor dead", "table"),
                    "control"),
    **dict.fromkeys(("unprimed", "siphon lost"), "top"),
}  # fmt: skip
"""Where a cause sits: two of one seat are one fault, or can't both be."""


def seat_of(cause: Cause) -> str:
    """Where a cause sits: the part that it names, or the kind of thing that fails."""
    kind, _, part = cause.key.partition(": ")
    return part or SEATS.get(kind, kind)


def can_be_together(subject: Subject, one: Situation, other: Situation) -> bool:
    """Whether two causes can be at once, each seen beside the other.

    Parameters
    ----------
    subject : Subject
        The job and what should run.
    one, other : Situation
        Each alone.
    """
    if NO_FAULT in (one.cause.key, other.cause.key) or seat_of(one.cause) == seat_of(other.cause):
        return False
    return not (_elsewhere(subject, one) and _elsewhere(subject, other))


def together(subject: Subject, one: Situation, other: Situation) -> Situation | None:
    """Put two causes into one circuit.

    Parameters
    ----------
    subject : Subject
        The job and what should run.
    one, other : Situation
        Each alone.

    Returns
    -------
    Situation or None
        None where the second can't be in the circuit that the first leaves.
    """
    if _elsewhere(subject, one):
        one, other = other, one
    second = _in_loop(subject, one, other)
    if second is None:
        return None
    error = Normal(
        one.sensor.mean + second.sensor.mean, max(one.sensor.spread, second.sensor.spread)
    )
    return replace(
        second,
        cause=both(one.cause, other.cause),
        state=_laid_over(subject.state, one.state, second.state),
        speed=second.speed * (one.speed / subject.state.speed),
        marks=one.marks | second.marks,
        sensor=error,
        solve=one.solve if second.solve is state_flow else second.solve,
    )


def both(one: Cause, other: Cause) -> Cause:
    """Two causes as one: what they are, do and need, one after the other."""
    first, second = sorted((one, other), key=lambda cause: (cause.key == RESTS, -cause.weight))
    begins = "" if second.key == RESTS else "two at once: "
    cautions = dict.fromkeys(each.caution for each in (first, second) if each.caution)
    return Cause(
        f"{first.key} + {second.key}",
        f"{begins}{first.name}; and {second.name.removeprefix(NOTHING_WRONG)}",
        f"{first.changes}; and {second.changes}",
        first.weight * second.weight,
        f"{first.check}; {second.check}",
        f"{first.remedy}; {second.remedy}",
        " ".join(cautions),
    )


def _elsewhere(subject: Subject, situation: Situation) -> bool:
    """Whether another state runs than should."""
    return situation.state.name != subject.state.name


def _in_loop(subject: Subject, one: Situation, other: Situation) -> Situation | None:
    """The second as it is in the circuit that the first leaves."""
    kind, _, part = other.cause.key.partition(": ")
    within = replace(subject, loop=one.loop)
    if kind == "check leaks":
        there = any(each.name == part for each in one.loop.circuit.of_kind("check valve"))
        return leaking(within, part, other.marks) if there else None
    if one.loop is subject.loop:
        return other
    key = other.cause.key
    alone = [each for each in situations_of(subject) if each.cause.key == key]
    found = [each for each in situations_of(within) if each.cause.key == key]
    return found[alone.index(other)] if len(found) == len(alone) else None


def _laid_over(right: State, one: State, other: State) -> State:
    """What the first turns, slows or stops, in the state that the second runs."""
    stood = dict(right.positions)
    state = other
    for name, opening in one.positions:
        if stood.get(name) != opening:
            state = change.turned(state, name, opening)
    for name, _ in right.speeds:
        if name not in dict(one.speeds):
            state = change.at_rest(state, name)
    if one.solar != right.solar:
        state = replace(state, solar=one.solar)
    return change.at_speed(state, state.speed * (one.speed / right.speed))
