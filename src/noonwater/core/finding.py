"""A fault of the design, as data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["fault", "caution"]


@dataclass(frozen=True)
class Finding:
    """Something to do on site or in the design.

    Attributes
    ----------
    rule : str
        Name of the check, words joined by hyphens.
    severity : {"fault", "caution"}
        A fault has to be mended before it is built; a caution wants a look.
    where : str
        Path of the job's field, or the part of the circuit, that causes it.
    value, limit : str
        What was found and what is allowed, with their units, ready to print.
    text : str
        One sentence for the contractor.
    source : str
        Standard, paper or 'common practice, no source'.
    remedy : str
        What to do.
    """

    rule: str
    severity: Severity
    where: str
    value: str
    limit: str
    text: str
    source: str
    remedy: str
