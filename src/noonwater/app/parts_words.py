"""Words of the parts list: sizes, quantities in the job's units, names that no spreadsheet runs."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from noonwater.app.text import number
from noonwater.core.spreadsheet import starts_like_formula
from noonwater.core.units import System, show, unit_label
from noonwater.design.parts_row import length_bought

if TYPE_CHECKING:
    from noonwater.design.parts_row import PartRow


def size_words(row: PartRow, schedule: str, system: System) -> str:
    """Size of a row's thing.

    Parameters
    ----------
    row : PartRow
        Of the parts list.
    schedule : str
        Of the job's pipe, whose sizes have names of their own: "2 in", "63 mm".
    system : {"US", "SI"}
        Units to print in.
    """
    if row.measure == "pipe":
        return " x ".join(_pipe_size(size, schedule) for size in row.sizes)
    if row.measure == "panel":
        digits = 1 if system == "US" else 2
        return " x ".join(show(size, "length", system, digits) for size in row.sizes)
    if row.measure == "bore":
        digits = 2 if system == "US" else 0
        bores = " x ".join(show(size, "diameter", system, digits) for size in row.sizes)
        return f"{bores} bore"
    return ""


def _pipe_size(nominal: float, schedule: str) -> str:
    from noonwater.catalog import pipes
    from noonwater.catalog.pipe import NOMINAL_TOLERANCE

    for size in pipes():
        if size.schedule == schedule and abs(size.nominal - nominal) <= NOMINAL_TOLERANCE:
            return " ".join(size.name.split()[:2])
    return f"{1000.0 * nominal:.0f} mm"


def quantity_words(row: PartRow, system: System) -> str:
    """How many, or how long with waste."""
    if row.unit == "each":
        return number(row.quantity)
    digits = 0 if system == "US" else 1
    shown = number(length_bought(row.quantity, system), digits)
    return f"{shown} {unit_label('length', system)}"


def remark(row: PartRow, system: System) -> str:
    """What a row says besides: stock lengths, net length, distance of supports."""
    if row.stock:
        net = show(row.net, "length", system, 1)
        stock = show(row.stock_length, "length", system, 0 if system == "US" else 1)
        return f"{row.stock} lengths of {stock}; {net} net"
    if row.spacing:
        return f"at most {show(row.spacing, 'length', system, 1)} apart"
    return ""


def spreadsheet_safe(text: str) -> str:
    """Text that no spreadsheet takes for a formula.

    Parameters
    ----------
    text : str
        As the job has it.

    Returns
    -------
    str
        An apostrophe ahead where it starts like a formula, spaces or not; NUL left out.
    """
    text = text.replace("\0", "")
    return f"'{text}" if starts_like_formula(text) else text


def joined_safe(names: Iterable[str]) -> str:
    """Names in one cell, each safe by itself: some programs part cells at semicolons."""
    return "; ".join(spreadsheet_safe(name) for name in names)
