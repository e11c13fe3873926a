"""Which rows from memory a circuit leans on: for the line of a result that says so."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from noonwater.catalog.panel import panel_named
from noonwater.catalog.part import (
    breaker_named,
    check_valve_named,
    cleaner_named,
    diverter_named,
    filter_named,
    fitting_named,
    heater_named,
    sanitizer_named,
    vessel_like,
)
from noonwater.catalog.pipe import pipes
from noonwater.catalog.pump import pump_named
from noonwater.model.circuit import Circuit, Part


@dataclass(frozen=True)
class CatalogUse:
    """A row of the catalog that a circuit uses.

    Attributes
    ----------
    table : str
        "pipe", "fitting", "pump" and so on.
    name : str
        Of the row.
    memory : bool
        Whether a figure of it is from memory.
    source : str
        Where its figures come from.
    """

    table: str
    name: str
    memory: bool
    source: str


class _Row(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def memory(self) -> bool: ...
    @property
    def source(self) -> str: ...


def catalog_uses(circuit: Circuit) -> tuple[CatalogUse, ...]:
    """All rows of the catalog that a circuit uses, each once.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    tuple of CatalogUse
        By table and name. A valve's loss is a row of the fittings.
    """
    found = {
        (table, row.name): CatalogUse(table, row.name, row.memory, row.source)
        for table, row in (*_of_pipes(circuit), *_of_parts(circuit))
    }
    return tuple(found[key] for key in sorted(found))


def vessel_uses(circuit: Circuit) -> tuple[CatalogUse, ...]:
    """Rows that say how much water a circuit's parts keep below their ports, each once.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    tuple of CatalogUse
        By name; a flow does not lean on them, a trace does.
    """
    rows = {vessel_like(part.kind, part.catalog) for part in circuit.parts}
    found = [CatalogUse("vessel", row.name, row.memory, row.source) for row in rows if row]
    return tuple(sorted(found, key=lambda use: use.name))


def memory_count(circuit: Circuit) -> int:
    """Count the rows from memory that a result of a circuit leans on.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    int
        Each row once, however many parts are of it.
    """
    return sum(use.memory for use in catalog_uses(circuit))


def _of_pipes(circuit: Circuit) -> Iterator[tuple[str, _Row]]:
    for pipe in circuit.pipes:
        # A header's bore is a figure of its panel.
        size = next((size for size in pipes() if size.diameter == pipe.diameter), None)
        if size is not None and pipe.role != "header":
            yield "pipe", size
        for fitting in pipe.fittings:
            yield "fitting", fitting_named(fitting.kind)


def _of_parts(circuit: Circuit) -> Iterator[tuple[str, _Row]]:
    readers: dict[str, tuple[str, Callable[[str], _Row]]] = {
        "pump": ("pump", lambda name: pump_named(name, own=circuit.own_pumps)),
        "booster pump": ("pump", lambda name: pump_named(name, own=circuit.own_pumps)),
        "panel": ("panel", lambda name: panel_named(name, own=circuit.own_panels)),
        "filter": ("filter", filter_named),
        "heater": ("heater", heater_named),
        "sanitizer": ("sanitizer", sanitizer_named),
        "suction cleaner": ("cleaner", cleaner_named),
        "pressure cleaner": ("cleaner", cleaner_named),
        "check valve": ("check valve", check_valve_named),
        "diverter": ("diverter", diverter_named),
        "vacuum breaker": ("vacuum breaker", breaker_named),
    }
    for part in circuit.parts:
        if part.kind in readers:
            table, reader = readers[part.kind]
            yield table, reader(part.catalog)
        yield from (("fitting", fitting_named(name)) for name in _fittings_of(part))


def _fittings_of(part: Part) -> tuple[str, ...]:
    """Rows of the fittings that a part's loss is taken from."""
    if part.kind in ("isolation valve", "bypass valve", "drain"):
        return ("ball valve",)
    if part.kind == "diverter":
        return (diverter_named(part.catalog).fitting,)
    if part.kind == "check valve":
        return (check_valve_named(part.catalog).fitting,)
    return ()
