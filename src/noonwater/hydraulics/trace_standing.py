"""What each part holds: water that is carried, stands, has drained, or is trapped."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from noonwater.hydraulics.trace_levels import Rest, outlets_of
from noonwater.hydraulics.trace_plumbing import Plumbing
from noonwater.hydraulics.trace_reach import Running
from noonwater.model.circuit import Circuit, Part, Pipe

WaterWord = Literal["carries", "full", "drained", "trapped", "dry"]
"""Carries the pump's water; stands with water that hangs together with the pool's or the pump's;
has let its water go; holds water that nothing lets out; never holds water."""

EMPTY = 0.005
"""[-] Less of a part's water is a wet wall."""


@dataclass(frozen=True)
class PartWater:
    """What one part or pipe holds.

    Attributes
    ----------
    name : str
        Of the part or pipe.
    water : WaterWord
        In a word.
    litres : float
        [L]
    held_by : tuple of str
        What keeps trapped water in; none where it is a low point or the part's own bottom.
    """

    name: str
    water: WaterWord
    litres: float
    held_by: tuple[str, ...] = ()


def parts_water(
    circuit: Circuit, plumbing: Plumbing, rest: Rest, running: Running
) -> tuple[PartWater, ...]:
    """What every part and pipe holds.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    plumbing : Plumbing
        The same under one setting.
    rest : Rest
        Where the water has come to rest.
    running : Running
        What the pump moves.

    Returns
    -------
    tuple of PartWater
        Parts, then pipes, in the circuit's order; without the pool and without stretches of header,
        which their panels count.
    """
    numbers: dict[str, list[int]] = {}
    for number, passage in enumerate(plumbing.passages):
        numbers.setdefault(passage.told_with, []).append(number)
    reaching = _hangs_together(plumbing, rest, running)
    things: list[Part | Pipe] = [part for part in circuit.parts if not part.facts.body]
    things += [pipe for pipe in circuit.pipes if pipe.role != "header"]
    return tuple(
        _part_water(thing, numbers.get(thing.name, []), (plumbing, rest, running), reaching)
        for thing in things
    )


def held_by(plumbing: Plumbing, rest: Rest, place: int) -> tuple[str, ...]:
    """What keeps the water at a place in.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    rest : Rest
        Where the water has come to rest.
    place : int
        Where water stands.

    Returns
    -------
    tuple of str
        Shut valves, and check valves that point inward, around the water that hangs together there.
    """
    region = _region(plumbing, rest, place)
    names = set()
    for passage in plumbing.passages:
        inside = [end for end in (passage.start, passage.stop) if end in region]
        if len(inside) == 2 and passage.forward and passage.backward:
            continue
        leaves = (passage.start in region and passage.forward) or (
            passage.stop in region and passage.backward
        )
        if inside and not leaves:
            names.add(passage.name)
    return tuple(sorted(names))


def _region(plumbing: Plumbing, rest: Rest, place: int) -> set[int]:
    stack, region = [place], {place}
    while stack:
        here = stack.pop()
        for other, _, _ in (*plumbing.out[here], *plumbing.into[here]):
            if other not in region and other not in rest.air:
                region.add(other)
                stack.append(other)
    return region


def _hangs_together(plumbing: Plumbing, rest: Rest, running: Running) -> set[int]:
    """Places whose water hangs together with open water or with what the pump moves."""
    outlets = outlets_of(plumbing, running.heads(plumbing))
    stack = [place for place in outlets if place not in plumbing.openings]
    reaching = set(stack)
    while stack:
        here = stack.pop()
        for other, _, _ in plumbing.into[here]:
            if other not in reaching and other not in rest.air:
                reaching.add(other)
                stack.append(other)
    return reaching


def _part_water(
    thing: Part | Pipe,
    numbers: list[int],
    case: tuple[Plumbing, Rest, Running],
    reaching: set[int],
) -> PartWater:
    plumbing, rest, running = case
    litres = sum(plumbing.passages[i].volume * rest.shares[i] for i in numbers) * 1000.0
    full = sum(plumbing.passages[i].volume for i in numbers) * 1000.0
    if thing.name in running.flow:
        return PartWater(thing.name, "carries", litres)
    places = _places(thing, plumbing, numbers)
    wet = [place for place in places if place not in rest.air]
    if full > 0.0:
        holding = [i for i in numbers if plumbing.passages[i].volume * rest.shares[i] > 0.0]
        inside = {e for i in holding for e in _ends(plumbing, i)}
        wet = [place for place in wet if place in inside]
    if not places or _is_stub(thing, plumbing):
        return PartWater(thing.name, "dry", 0.0)
    if not wet or (full > 0.0 and litres < EMPTY * full):
        return PartWater(thing.name, "drained", litres)
    shut_in = [place for place in wet if place not in reaching]
    if not shut_in:
        return PartWater(thing.name, "full", litres)
    return PartWater(thing.name, "trapped", litres, held_by(plumbing, rest, shut_in[0]))


def _ends(plumbing: Plumbing, number: int) -> tuple[int, int]:
    return plumbing.passages[number].start, plumbing.passages[number].stop


def _places(thing: Part | Pipe, plumbing: Plumbing, numbers: list[int]) -> list[int]:
    ports = (
        (thing.start, thing.stop)
        if isinstance(thing, Pipe)
        else tuple((thing.name, port) for port in thing.ports)
    )
    ends = [end for number in numbers for end in _ends(plumbing, number)]
    return list(dict.fromkeys([*(plumbing.place_of[port] for port in ports), *ends]))


def _is_stub(thing: Part | Pipe, plumbing: Plumbing) -> bool:
    """Whether nothing leads to a part: it never gets water."""
    if isinstance(thing, Pipe):
        return False
    places = {plumbing.place_of[(thing.name, port)] for port in thing.ports}
    return not any(
        passage.name != thing.name and places & {passage.start, passage.stop}
        for passage in plumbing.passages
    )
