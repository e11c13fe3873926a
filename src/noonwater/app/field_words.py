"""Names of the job's fields for people."""

from __future__ import annotations

from noonwater.app.job_tables import Place, meaning_of, model_of, slot_at, value_at
from noonwater.app.schema import MEANINGS


def field_name(place: Place, tables: object) -> str:
    """Say what a field is for, in a few words with a capital.

    Parameters
    ----------
    place : Place
        Of the field.
    tables : dict
        Of the job; they tell which of several models a table is.
    """
    key = str(place[-1])
    slot = slot_at(place, tables)
    said = meaning_of(slot) if slot is not None else ""
    if not said:
        holder = slot_at(place[:-1], tables)
        model = ""
        if holder is not None and holder.models:
            model = model_of(holder, value_at(place[:-1], tables)).__name__
        said = MEANINGS.get(f"{model}.{key}") or MEANINGS.get(key) or key.replace("_", " ")
    return said[:1].upper() + said[1:]
