"""Parts with their prices as a table that reads as a price list again."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import TYPE_CHECKING

from noonwater.app.parts_words import size_words, spreadsheet_safe
from noonwater.core.units import in_system, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_parts import PriceRow, Pricing
    from noonwater.design.parts_row import PartRow

LIST_HEADS = ("part", "size", "unit", "price", "hours", "quantity", "listed as", "row")
"""Heads of the written list."""


def priced_parts(job: Job, parts: Sequence[PartRow], pricing: Pricing | None) -> str:
    """Give the parts with prices found, and room for those that aren't, as CSV.

    Parameters
    ----------
    job : Job
        For its units and its pipe.
    parts : sequence of PartRow
        What is bought.
    pricing : Pricing or None
        What a price list gives.
    """
    priced = () if pricing is None else pricing.priced
    found = {id(each.part): each.row for each in priced if each.part is not None}
    rows: dict[tuple[str, str], list[str]] = {}
    for part in parts:
        cells = _cells(job, part, found.get(id(part)))
        known = rows.setdefault((cells[0], cells[1]), cells)
        if known is not cells:
            known[5] = f"{float(known[5]) + float(cells[5]):.6g}"
    once = [_once(each.row) for each in priced if each.part is None]
    return csv_table(LIST_HEADS, [*rows.values(), *once])


def _cells(job: Job, part: PartRow, row: PriceRow | None) -> list[str]:
    each, units = part.unit == "each", job.units
    quantity = part.quantity if each else in_system(part.quantity, "length", units)
    name = spreadsheet_safe(part.name)
    size = size_words(part, job.pad.schedule, units)
    counted = f"{quantity:.6g}"
    if row is None:
        sold = "each" if each else unit_label("length", units)
        return [name, size, sold, "", "", counted, "", ""]
    return [name, size, *_sold(row), counted, spreadsheet_safe(row.text), str(row.line)]


def _sold(row: PriceRow) -> list[str]:
    """Unit, price and hours, as a list is read."""
    unit = {"job": "job", "length": f"{row.pack:.6g} m"}.get(row.per, f"{row.pack:g}")
    return ["each" if unit == "1" else unit, f"{row.price:.6g}", f"{row.hours / 3600.0:.4g}"]


def _once(row: PriceRow) -> list[str]:
    """Row of what every job has once."""
    text = spreadsheet_safe(row.text)
    return [text, "", *_sold(row), "", text, str(row.line)]


def csv_table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Write a table as comma-separated values."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows(rows)
    return text.getvalue()
