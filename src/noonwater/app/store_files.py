"""Job files in and out of the store, without loss: what was typed goes out as it was typed."""

from __future__ import annotations

import math
import re
import tomllib
from typing import Any

from noonwater.app.job_file import LARGEST
from noonwater.app.job_place import Tables
from noonwater.app.store import State
from noonwater.core.errors import Fault, InputError


def tables_from_text(text: str) -> Tables:
    """Read a job file's text as tables; what is wrong in a field is told at that field.

    Raises
    ------
    InputError
        When it is no TOML, or too large.
    """
    if len(text) > LARGEST:
        raise InputError([Fault("the file", "too large", f"at most {LARGEST // 1000} kB")])
    try:
        return {key: _plain(value) for key, value in tomllib.loads(text.lstrip("\ufeff")).items()}
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        said = "nested too deeply" if isinstance(error, RecursionError) else str(error)[:200]
        fault = Fault("the file", said, "a job file in TOML")
        raise InputError([fault]) from None


def job_file(state: State) -> tuple[str, str]:
    """Write a state as a job file: a name for it, and its text."""
    import tomli_w

    return f"{file_stem(state)}.toml", tomli_w.dumps(state.tables)


def file_stem(state: State) -> str:
    """Name for files of a job, from what it is called."""
    name = re.sub(r"[^a-z0-9]+", "-", str(state.tables.get("name", "job")).lower()).strip("-")
    return name[:60].strip("-") or "job"


def _plain(value: Any) -> Any:
    """What the store can hold: a date or a number without end becomes the text that it was."""
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, str | bool | int) or (isinstance(value, float) and math.isfinite(value)):
        return value
    return str(value)
