"""Parts of a job priced from a contractor's own price list; what finds no price is named.

A row of the list prices a part when it has the same words, in any order, and its size. Nothing is
guessed from likeness: a near name is told as a hint only.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from math import ceil
from typing import Literal

from noonwater.design.money_words import part_words
from noonwater.design.parts_row import PartRow

Per = Literal["each", "length", "job"]

SIZE_TOLERANCE = 0.01
"""[-] Sizes this near are one: 63.5 mm and 2 1/2 in are, 50 mm and 2 in are not. Ours."""
BORE_TOLERANCE = 0.1
"""[-] What fits on a header is sold by the pipe's size and counted by its bore. Ours."""
ALREADY_THERE = "already there"


@dataclass(frozen=True)
class PriceRow:
    """A row of a price list.

    Attributes
    ----------
    line : int
        Its number in the file.
    text : str
        Its name as written.
    words : frozenset of str
        Of its name, without sizes.
    sizes : tuple of float
        In rising order; none: any size. [m]
    per : {"each", "length", "job"}
        What the price is for: pieces, a length, or every job once.
    pack : float
        Pieces [-] or length [m] that the price is for.
    price : float
        [currency]
    hours : float
        Labour that a pack asks for. [s]
    """

    line: int
    text: str
    words: frozenset[str]
    sizes: tuple[float, ...]
    per: Per
    pack: float
    price: float
    hours: float


@dataclass(frozen=True)
class PricedPart:
    """A part and the row that prices it.

    Attributes
    ----------
    part : PartRow or None
        None for what every job has once.
    row : PriceRow
        Of the price list.
    packs : float
        Bought.
    cost : float
        [currency]
    hours : float
        [s]
    """

    part: PartRow | None
    row: PriceRow
    packs: float
    cost: float
    hours: float


@dataclass(frozen=True)
class UnpricedPart:
    """A part without a price: why, and names of the list that are near."""

    part: PartRow
    why: str
    near: tuple[str, ...]


@dataclass(frozen=True)
class Pricing:
    """Parts priced and not.

    Attributes
    ----------
    priced : tuple of PricedPart
        In the order of the parts list, then what every job has once.
    unpriced : tuple of UnpricedPart
        In the order of the parts list.
    unused : int
        Rows of the list that price nothing here.
    """

    priced: tuple[PricedPart, ...]
    unpriced: tuple[UnpricedPart, ...]
    unused: int

    @property
    def cost(self) -> float:
        """Of all that has a price. [currency]."""
        return sum(part.cost for part in self.priced)

    @property
    def hours(self) -> float:
        """Labour of all that has a price. [s]."""
        return sum(part.hours for part in self.priced)


def bought(parts: Iterable[PartRow]) -> tuple[PartRow, ...]:
    """Rows of a parts list that are bought: all but those already there."""
    return tuple(part for part in parts if part.group != ALREADY_THERE)


def price_parts(parts: Iterable[PartRow], rows: Sequence[PriceRow]) -> Pricing:
    """Price the parts of a job.

    Parameters
    ----------
    parts : iterable of PartRow
        The parts that are bought.
    rows : sequence of PriceRow
        The price list, in any order.

    Returns
    -------
    Pricing
    """
    priced: list[PricedPart] = []
    unpriced: list[UnpricedPart] = []
    for part in parts:
        found = _priced(part, rows)
        if isinstance(found, PricedPart):
            priced.append(found)
        else:
            unpriced.append(found)
    priced += [PricedPart(None, row, 1.0, row.price, row.hours) for row in rows if row.per == "job"]
    used = {part.row.line for part in priced}
    return Pricing(tuple(priced), tuple(unpriced), sum(row.line not in used for row in rows))


def _priced(part: PartRow, rows: Sequence[PriceRow]) -> PricedPart | UnpricedPart:
    words = part_words(part.name)
    named = [row for row in rows if row.words == words and row.per != "job"]
    sized = [(miss, row) for row in named if (miss := _miss(part, row)) is not None]
    if not sized:
        return UnpricedPart(part, "no row of this size" if named else "no row of this name",
                            () if named else _near(words, rows))  # fmt: skip
    row = min(sized, key=lambda found: (found[0], found[1].line))[1]
    needed = _needed(part, row)
    if needed is None:
        return UnpricedPart(part, f"row {row.line} is priced by the {_other(row)}", ())
    packs = needed / row.pack
    # A length is cut from the roll by the foot; packs of more than that are bought whole.
    bought = packs if row.per == "length" and row.pack <= 1.0 else float(ceil(packs - 1e-9))
    return PricedPart(part, row, bought, bought * row.price, packs * row.hours)


def _miss(part: PartRow, row: PriceRow) -> float | None:
    """How far a row's size is from a part's [-]; None where it is another size."""
    if not row.sizes or not part.sizes:
        return 1.0 if not row.sizes else (2.0 if not part.sizes else None)
    if len(row.sizes) != len(part.sizes):
        return None
    pairs = zip(row.sizes, sorted(part.sizes), strict=True)
    miss = max(abs(ours / theirs - 1.0) for ours, theirs in pairs)
    allowed = BORE_TOLERANCE if part.measure == "bore" else SIZE_TOLERANCE
    return miss if miss <= allowed else None


def _needed(part: PartRow, row: PriceRow) -> float | None:
    """Pieces or metres of a row's kind that a part comes to; None where they don't compare."""
    if (part.unit == "length") == (row.per == "length"):
        return part.quantity
    if part.unit == "length" and part.stock:
        return float(part.stock)
    return None


def _other(row: PriceRow) -> str:
    return "length" if row.per == "length" else "piece"


def _near(words: frozenset[str], rows: Sequence[PriceRow]) -> tuple[str, ...]:
    texts = {" ".join(sorted(row.words)): row.text for row in rows}
    found = get_close_matches(" ".join(sorted(words)), list(texts), 2, 0.6)
    return tuple(texts[key] for key in found)
