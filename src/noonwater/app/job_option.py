"""An option of a job: the same file with some of its fields set otherwise."""

from __future__ import annotations

import re
import tomllib
from copy import deepcopy
from itertools import pairwise
from pathlib import Path
from typing import Any

from noonwater.app.job_file import read_job_tables, tables_of_file
from noonwater.core.errors import Fault, InputError
from noonwater.core.unit_text import quoted
from noonwater.model.job import Job

FORM = 'fields with new values, such as "pump.solar_speed=2600 rpm; pool.target=84 °F"'
NO_PLACE = ("no such place in the file", "a field of the job file")
_STEP = re.compile(r"([A-Za-z_][\w-]*)|\[(\d{1,3})\]")
_PATH = re.compile(r"[A-Za-z_][\w-]*(\[\d{1,3}\])?(\.[A-Za-z_][\w-]*(\[\d{1,3}\])?)*")


def read_option(path: Path | str, option: str) -> Job:
    """Read a job file with some fields set otherwise.

    Parameters
    ----------
    path : Path or str
        A job file.
    option : str
        "field=value", several parted by ";"; a value left empty takes the field out. Fields are
        written as in messages: "pump.program[0].speed".

    Returns
    -------
    Job
        Checked as any job.

    Raises
    ------
    InputError
        With every fault of the option, or of the job that it makes.
    """
    tables = deepcopy(tables_of_file(path))
    faults: list[Fault] = []
    for setting in filter(None, (part.strip() for part in option.split(";"))):
        fault = _set(tables, setting)
        faults += [fault] if fault else []
    if not option.strip(" ;"):
        faults.append(Fault("--with", quoted(option), FORM))
    if faults:
        raise InputError(faults, str(path))
    return read_job_tables(tables, f"{path} with {option}", Path(path).parent)


def _set(tables: dict[str, Any], setting: str) -> Fault | None:
    """Set one field in the tables; tells what hinders."""
    field, equals, text = (part.strip() for part in setting.partition("="))
    if not equals or not steps_of(field):
        return Fault("--with", quoted(setting), FORM)
    if not set_field(tables, field, value_of(text) if text else None):
        return Fault(f"--with {field}", *NO_PLACE)
    return None


def steps_of(field: str) -> list[str | int]:
    """Keys and numbers that lead to a field, "pump.program[0].speed"; none where it is no path."""
    if not _PATH.fullmatch(field):
        return []
    return [name or int(number) for name, number in (m.groups() for m in _STEP.finditer(field))]


def set_field(tables: dict[str, Any], field: str, value: Any) -> bool:
    """Set a field in the tables of a job file.

    Parameters
    ----------
    tables : dict
        As TOML gives them; changed.
    field : str
        Its path.
    value : object
        As TOML would give it; None takes the field out.

    Returns
    -------
    bool
        Whether there is such a place.
    """
    steps = steps_of(field)
    place: Any = tables
    for step, after in pairwise(steps):
        if isinstance(step, str) and isinstance(place, dict) and isinstance(after, str):
            place = place.setdefault(step, {})
        else:
            place = _inside(place, step)
    last = steps[-1]
    if isinstance(place, dict) and isinstance(last, str):
        if value is None:
            place.pop(last, None)
        else:
            place[last] = value
        return True
    if isinstance(place, list) and isinstance(last, int) and value is not None:
        there = last < len(place)
        place[last : last + there] = [value] * there
        return there
    return False


def _inside(place: Any, step: str | int) -> Any:
    if isinstance(place, dict) and isinstance(step, str):
        return place.get(step)
    if isinstance(place, list) and isinstance(step, int) and step < len(place):
        return place[step]
    return None


def value_of(text: str) -> Any:
    """A value as TOML has it, and a quantity without its quotes as text."""
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError:
        return text
