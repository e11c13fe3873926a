"""Water that winter's steps leave, told in few lines: alike panels side by side are one."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from noonwater.hydraulics.trace_winter import Leftover

_PANEL = re.compile(r"(bank \d+) panels? (\d+)(?: to (\d+))?")


def side_by_side(left: Iterable[Leftover]) -> list[Leftover]:
    """Tell panels that stand side by side, are held by the same and ask for the same, as one.

    Parameters
    ----------
    left : iterable of Leftover
        In the order of the circuit.

    Returns
    -------
    list of Leftover
        "bank 1 panels 1 to 8" with the water of them all.
    """
    found: list[Leftover] = []
    for entry in left:
        joined = _joined(found[-1], entry) if found else None
        if joined is None:
            found.append(entry)
        else:
            found[-1] = joined
    return found


def _joined(before: Leftover, entry: Leftover) -> Leftover | None:
    """Both as one; None where they are no neighbours or not alike."""
    first, second = _PANEL.fullmatch(before.name), _PANEL.fullmatch(entry.name)
    if first is None or second is None or first[1] != second[1]:
        return None
    last = int(first[3] or first[2])
    alike = (before.held_by, before.remedy) == (entry.held_by, entry.remedy)
    if not alike or int(second[2]) != last + 1:
        return None
    name = f"{first[1]} panels {first[2]} to {second[2]}"
    return replace(before, name=name, litres=before.litres + entry.litres)
