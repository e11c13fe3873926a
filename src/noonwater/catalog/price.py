"""Generic prices of parts and covers, for jobs whose contractor has not told his own."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog.reader import table


@dataclass(frozen=True)
class GenericPrice:
    """A generic price of a part.

    Attributes
    ----------
    name : str
        As the parts list has it.
    size : float or None
        Nominal; None for any. [m]
    per : {"each", "length", "job"}
        What the price is for: a piece, a metre, a job.
    pack : float
        Pieces or metres that it is for.
    price : float
        [USD]
    hours : float
        Labour. [s]
    memory : bool
        Whether it is from memory.
    source : str
        Where it comes from.
    """

    name: str
    size: float
    per: str
    pack: float
    price: float
    hours: float
    memory: bool
    source: str


@dataclass(frozen=True)
class CoverPrice:
    """A generic price of a new cover.

    Attributes
    ----------
    name : str
        Kind of the job's cover.
    price : float
        A square metre of water. [USD/m²]
    life : float
        Years that one lasts.
    memory : bool
        Whether it is from memory.
    source : str
        Where it comes from.
    """

    name: str
    price: float
    life: float
    memory: bool
    source: str


def generic_prices() -> tuple[GenericPrice, ...]:
    """All generic prices of parts."""
    return table("part_price.csv", GenericPrice)


def cover_price(kind: str) -> CoverPrice | None:
    """Price of a new cover; None where nothing is bought once, as for a liquid."""
    rows = table("cover_price.csv", CoverPrice)
    return next((row for row in rows if row.name == kind), None)
