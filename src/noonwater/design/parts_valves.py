"""Valves, tees, pumps and the rest of the circuit's parts, each as one row's piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from noonwater.design.parts_place import Places
from noonwater.design.parts_row import CountRule, Group, PartRow
from noonwater.model.circuit import Circuit, Part

VALVES = frozenset(
    {
        "check valve",
        "diverter",
        "bypass valve",
        "isolation valve",
        "drain",
        "vacuum breaker",
    }
)
LISTED_ELSEWHERE = frozenset({"pool", "spa", "panel"})
"""Bodies of water are no parts; panels are counted with the array."""

ROW_KINDS = {
    "pump": "pump",
    "booster pump": "pump",
    "filter": "equipment",
    "heater": "equipment",
    "sanitizer": "equipment",
    "suction cleaner": "equipment",
    "pressure cleaner": "equipment",
    "tee": "fitting",
    "plug": "fitting",
}
UNSIZED = frozenset({"pump", "equipment"})

BREAKER_TEE = CountRule("breaker-tee", "a vacuum breaker stands on a tee in the pipe")
UNIONS = CountRule("pump-unions", "a booster pump gets a union on each side, to be taken out")


def place_group(part: Part, places: Places) -> Group:
    """Group that a part's row belongs to.

    Parameters
    ----------
    part : Part
        Any.
    places : Places
        What lies where.

    Returns
    -------
    Group
        "already there", "roof" or "pad".
    """
    if part.name in places.there:
        return "already there"
    return "roof" if part.name in places.roof else "pad"


def part_words(part: Part) -> str:
    """Name of a part as it is bought.

    Parameters
    ----------
    part : Part
        Any but a body of water or a panel.

    Returns
    -------
    str
        Kind and row of the catalog, where that says more.
    """
    name: str = part.kind
    if part.catalog and part.catalog != part.kind:
        name = f"{name}, {part.catalog}"
    return f"{name}, with sight window" if "sight window" in part.features else name


def valve_rows(circuit: Circuit, places: Places) -> Iterator[PartRow]:
    """List every part of the circuit but panels, with what turns and carries it.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    places : Places
        What lies where.

    Yields
    ------
    PartRow
        Not yet merged.
    """
    for part in circuit.parts:
        if part.kind in LISTED_ELSEWHERE or part.catalog == "none":
            continue
        group, where = place_group(part, places), (part.name,)
        kind = "valve" if part.kind in VALVES else ROW_KINDS[part.kind]
        plain = PartRow(group, part_words(part), kind, 1, where=where)
        if kind in UNSIZED:
            yield plain
        else:
            yield _sized(plain, part)
        if "actuator" in part.features:
            name = "actuator with stops" if "stops" in part.features else "actuator"
            yield PartRow(group, f"{name} for a diverter", "actuator", 1, where=where)
        if part.kind == "vacuum breaker":
            tee = PartRow(group, "tee", "fitting", 1, where=where, rule=BREAKER_TEE)
            yield _sized(tee, part)
        if part.kind == "booster pump" and group != "already there":
            yield _sized(PartRow(group, "union", "fitting", 2, where=where, rule=UNIONS), part)


def _sized(row: PartRow, part: Part) -> PartRow:
    return replace(row, measure="pipe", sizes=(part.size,))
