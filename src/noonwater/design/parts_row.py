"""A row of the parts list, and the rules that give what the circuit doesn't show."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import ceil
from typing import Literal

from noonwater.core.units import System, in_system
from noonwater.design.rule import COMMON_PRACTICE

Group = Literal["pad", "roof", "pipe", "supports", "already there"]
GROUPS: tuple[Group, ...] = ("pad", "roof", "pipe", "supports", "already there")

Measure = Literal["", "pipe", "panel", "bore"]
"""What a row's sizes are: none, sizes that pipe is bought by, width and length, inside diameter."""


@dataclass(frozen=True)
class CountRule:
    """How something is counted that the circuit doesn't show.

    Attributes
    ----------
    name : str
        Words joined by hyphens.
    text : str
        The rule.
    source : str
        Where it comes from.
    """

    name: str
    text: str
    source: str = COMMON_PRACTICE


@dataclass(frozen=True)
class PartRow:
    """A line of the parts list.

    Attributes
    ----------
    group : Group
        Where it is put, or that it is there already.
    name : str
        In trade words, with its row of the catalog.
    kind : str
        Word to look a price up by: "pipe", "fitting", "valve" and so on.
    quantity : float
        Pieces, or length with waste [m].
    unit : {"each", "length"}
        What is counted.
    where : tuple of str
        Parts and pipes of the circuit that it belongs to.
    measure : Measure
        What `sizes` are.
    sizes : tuple of float
        The larger first. [m]
    rule : CountRule or None
        None where the circuit shows it.
    net : float
        Length without waste. [m]
    stock, stock_length : int, float
        Pieces of pipe as sold, and how long one is. [-], [m]
    spacing : float
        Greatest distance between two. [m]
    """

    group: Group
    name: str
    kind: str
    quantity: float
    unit: Literal["each", "length"] = "each"
    where: tuple[str, ...] = ()
    measure: Measure = ""
    sizes: tuple[float, ...] = ()
    rule: CountRule | None = None
    net: float = 0.0
    stock: int = 0
    stock_length: float = 0.0
    spacing: float = 0.0


def length_bought(length: float, system: System) -> float:
    """Length to buy: whole feet or tenths of a metre, rounded up.

    Parameters
    ----------
    length : float
        [m]
    system : {"US", "SI"}
        Units.

    Returns
    -------
    float
        [ft] or [m]
    """
    steps = 1.0 if system == "US" else 10.0
    return ceil(in_system(length, "length", system) * steps - 1e-6) / steps


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """Key that sorts "panel 2" before "panel 10".

    Parameters
    ----------
    name : str
        Any.

    Returns
    -------
    tuple
        Its numbers and words.
    """
    pieces = re.split(r"([0-9]+)", name)
    return tuple((int(p), "") if p.isdecimal() else (-1, p) for p in pieces if p)


def merged(rows: Iterable[PartRow]) -> tuple[PartRow, ...]:
    """Add rows of the same thing together, and sort all.

    Parameters
    ----------
    rows : iterable of PartRow
        In any order.

    Returns
    -------
    tuple of PartRow
        Each thing once, by group, kind, name and size; rows of nothing left out.
    """
    found: dict[tuple[object, ...], list[PartRow]] = {}
    for row in rows:
        if row.quantity > 0:
            found.setdefault(_key(row), []).append(row)
    sums = [_sum(same) for same in found.values()]
    return tuple(sorted(sums, key=_order))


def _key(row: PartRow) -> tuple[object, ...]:
    sizes = tuple(round(size, 5) for size in row.sizes)
    return (row.group, row.kind, row.name, sizes, row.rule, round(row.spacing, 5))


def _sum(same: list[PartRow]) -> PartRow:
    where = {name for row in same for name in row.where}
    return replace(
        same[0],
        # Sorted, so that the order of the circuit's pipes moves no last digit.
        quantity=sum(sorted(row.quantity for row in same)),
        net=sum(sorted(row.net for row in same)),
        stock=sum(row.stock for row in same),
        where=tuple(sorted(where, key=natural)),
    )


def _order(row: PartRow) -> tuple[object, ...]:
    rule = "" if row.rule is None else row.rule.name
    place = (GROUPS.index(row.group), KINDS.index(row.kind))
    return (*place, row.name, row.sizes, rule, row.spacing)


KINDS = (
    "pump",
    "equipment",
    "panel",
    "valve",
    "actuator",
    "control",
    "gauge",
    "connector",
    "hold-down",
    "pipe",
    "fitting",
    "support",
    "cement",
)
"""Kinds of rows, in the order in which they are listed."""
