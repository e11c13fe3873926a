"""What an answer leans on: rows of the catalog, and those of them that are from memory."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from noonwater.catalog import CatalogUse
    from noonwater.model.circuit import Circuit

NAMED = "--json names each"


def rows_leant_on(circuit: Circuit, with_vessels: bool = False) -> tuple[CatalogUse, ...]:
    """List the rows of the catalog that an answer about a circuit leans on.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    with_vessels : bool
        Whether the answer tells litres as well.

    Returns
    -------
    tuple of CatalogUse
        Each once.
    """
    from noonwater.catalog import catalog_uses, vessel_uses

    return (*catalog_uses(circuit), *(vessel_uses(circuit) if with_vessels else ()))


def leaning_dict(rows: tuple[CatalogUse, ...]) -> dict[str, Any]:
    """Give counts and rows for JSON."""
    return {
        "rows": len(rows),
        "rows_from_memory": sum(row.memory for row in rows),
        "catalog": [asdict(row) for row in rows],
    }


def leaning_words(rows: tuple[CatalogUse, ...]) -> str:
    """Say in one line how many rows an answer leans on; JSON names them."""
    memory = sum(row.memory for row in rows)
    return f"{len(rows)} rows of the catalog, {memory} of them with figures from memory"
