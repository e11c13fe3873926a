"""What is wrong with what was typed, as a page says it."""

from __future__ import annotations

from noonwater.app.field_words import fields_named
from noonwater.app.telephone_words import capital, sentence
from noonwater.core.errors import Fault

FILE_ONLY = "add: "
"""How a remedy begins that is for who writes a job file: on a page one types into the field."""


def fault_words(fault: Fault, tables: object = None) -> str:
    """Say what was given, what is allowed and what to do, in whole sentences.

    Parameters
    ----------
    fault : Fault
        As it was found.
    tables : dict, optional
        Of the job, whose fields are then named as its sheets name them.
    """
    allowed = f"Allowed: {fault.allowed}".replace(" in quotes", "") if fault.allowed else ""
    remedy = "" if fault.remedy.startswith(FILE_ONLY) else fault.remedy
    parts = (fault.given, allowed, remedy)
    words = " ".join(sentence(capital(part)) for part in parts if part)
    return fields_named(words, tables) if tables is not None else words


def fault_line(fault: Fault) -> str:
    """Say the same with the field before it."""
    return f"{capital(fault.field)}: {fault_words(fault)}"
