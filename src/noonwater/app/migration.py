"""Older job files brought to the format of today, one small step per number.

A step takes a file's tables in one format and gives them in the next. To change the format: raise
`FORMAT` in model/job.py and add the step from the number before it here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from noonwater.core.errors import Fault
from noonwater.model.job import FORMAT

Tables = dict[str, Any]
Step = Callable[[Tables], Tables]

STEPS: dict[int, Step] = {}
"""From a format's number to the step that leads to the next number."""


def migrated(
    tables: Tables, steps: Mapping[int, Step] = STEPS, newest: int = FORMAT
) -> tuple[Tables, list[Fault]]:
    """Bring a file's tables to the newest format.

    Parameters
    ----------
    tables : dict
        A job file's content; left as it is.
    steps : mapping of int to callable
        The chain.
    newest : int
        Number that the chain ends at.

    Returns
    -------
    tuple of dict and list of Fault
        The tables in the newest format, and what is wrong with the number. A file without a number
        is taken for one of today, so that its other faults can be told in the same breath.
    """
    number = tables.get("format")
    allowed = f"{newest}" if newest == min([newest, *steps]) else f"{min(steps)} to {newest}"
    if number is None:
        fault = Fault("format", "missing", allowed, f"add at the top: format = {newest}")
        return {**tables, "format": newest}, [fault]
    if isinstance(number, bool) or not isinstance(number, int):
        fault = Fault("format", f"{number!r}, not a whole number"[:60], allowed)
        return {**tables, "format": newest}, [fault]
    if number > newest:
        remedy = "this file comes from a newer Noonwater: update Noonwater"
        return tables, [Fault("format", str(number)[:60], allowed, remedy)]
    while number < newest:
        if number not in steps:
            return tables, [Fault("format", str(number)[:60], allowed)]
        tables = {**steps[number](tables), "format": number + 1}
        number += 1
    return tables, []
