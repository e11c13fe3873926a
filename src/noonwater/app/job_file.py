"""Job files: a Job read from TOML with all its faults told at once, and written back unchanged."""

from __future__ import annotations

import json
import os
import re
import tomllib
from dataclasses import is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.job_checks import job_checks, plumbing_faults
from noonwater.app.job_faults import faults_of
from noonwater.app.job_tables import slots
from noonwater.app.migration import migrated
from noonwater.core.errors import Fault, InputError
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import quoted
from noonwater.core.units import System, written
from noonwater.model.job import Job
from noonwater.model.site import WeatherFromFile

if TYPE_CHECKING:
    from pydantic import TypeAdapter

LARGEST = 1_000_000
"""[bytes] A job file of a hundred roof planes is a hundredth of this."""

A_JOB_FILE = "a job file in TOML"
_UNQUOTED = re.compile(
    r"^\s*[\w.-]+\s*=\s*([-+]?[\d.]+(?:\s*[°%A-Za-z/][^\"'#,]*|:\d+\s*))(?:#.*)?$"
)
_PLAIN_NUMBER = re.compile(r"[-+]?[\d._]+(e[-+]?\d+)?|0[xob]\w+")


def read_job(path: Path | str) -> Job:
    """Read a job file.

    Parameters
    ----------
    path : Path or str
        A TOML file. A weather file that it names is looked for beside it.

    Returns
    -------
    Job
        In SI, checked.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    path = Path(path)
    return read_job_text(text_of_file(path), source=str(path), folder=path.parent)


def read_job_text(text: str, source: str = "", folder: Path | None = None) -> Job:
    """Read a job from the text of a job file.

    Parameters
    ----------
    text : str
        TOML.
    source : str
        What to call it in messages.
    folder : Path, optional
        Where a weather file is looked for; without it the file's name is taken as it stands.
    """
    return read_job_tables(tables_of_text(text, source), source, folder)


def tables_of_file(path: Path | str) -> dict[str, Any]:
    """Read a job file as TOML only, to be changed and given to `read_job_tables`."""
    return tables_of_text(text_of_file(Path(path)), str(path))


def read_job_tables(tables: dict[str, Any], source: str = "", folder: Path | None = None) -> Job:
    """Read a job from the tables of a job file.

    Parameters
    ----------
    tables : dict
        As TOML gives them.
    source : str
        What to call them in messages.
    folder : Path, optional
        Where a weather file is looked for; without it the file's name is taken as it stands.
    """
    try:
        tables, faults = migrated(tables)
        job = _checked(tables, faults, folder)
    except RecursionError:
        raise InputError([_too_deep()], source) from None
    if faults or job is None:
        raise InputError(faults, source)
    if folder is not None and isinstance(job.weather, WeatherFromFile):
        return replace(job, weather=replace(job.weather, file=str(folder / job.weather.file)))
    return job


def write_job(job: Job, path: Path | str) -> None:
    """Write a job as a job file; `read_job` gives the same job again."""
    Path(path).write_text(job_text(job), encoding="utf-8", newline="\n")


def with_files_from(job: Job, old: Path, new: Path) -> Job:
    """A job that lay in one folder, naming its files as they are found from another.

    Parameters
    ----------
    job : Job
        As read there: its weather file is found from where the program runs.
    old, new : Path
        Folders of its job file, before and now.

    Returns
    -------
    Job
        Files that were named with their whole path keep it.
    """
    weather, offer = job.weather, job.money.offer
    if isinstance(weather, WeatherFromFile):
        job = replace(job, weather=replace(weather, file=path_from(new, Path(weather.file))))
    if offer.file:
        offer = replace(offer, file=path_from(new, old / offer.file))
        job = replace(job, money=replace(job.money, offer=offer))
    return job


def path_from(folder: Path, file: Path) -> str:
    """Name a file as it is found from a folder; a whole path stays."""
    if file.is_absolute():
        return str(file)
    try:
        return os.path.relpath(file, folder)
    except ValueError:  # on another drive
        return str(file.absolute())


def job_text(job: Job) -> str:
    """Write a job as the text of a job file, quantities in the job's own units."""
    lines = _lines(job, "", job.units, job.money.currency)
    first = f"format = {job.format}"
    lines.remove(first)
    return "\n".join([first, *lines, ""])


@cache
def job_adapter() -> TypeAdapter[list[Job]]:
    """Checker of job files: strict types, no keys but the known ones.

    A list, since pydantic hands a configuration down to plain dataclasses from a container only.
    """
    from pydantic import TypeAdapter

    return TypeAdapter(list[Job], config={"extra": "forbid", "strict": True})


def _checked(tables: dict[str, Any], faults: list[Fault], folder: Path | None) -> Job | None:
    """Build the job; adds to `faults` what is wrong."""
    from pydantic import ValidationError

    if any(fault.field == "format" and fault.given != "missing" for fault in faults):
        return None
    # By way of JSON: in that mode strict types still take arrays for tuples and tables for models.
    try:
        job = job_adapter().validate_json(json.dumps([tables], default=str))[0]
    except ValidationError as error:
        job = None
        faults += faults_of(error, tables)
    told = {fault.field for fault in faults}
    faults += [fault for fault in job_checks(tables, folder) if fault.field not in told]
    if job is not None and not faults:
        faults += plumbing_faults(job)
    return job


def text_of_file(path: Path) -> str:
    """Read the text of a job file; InputError says why there is none."""
    name = str(path)

    def refuse(given: str, remedy: str = "") -> InputError:
        return InputError([Fault("the file", given, A_JOB_FILE, remedy)], name)

    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        remedy = 'see "noonwater demos", then "noonwater new PATH --from NAME" writes one'
        raise refuse("there is none of this name", remedy) from None
    except IsADirectoryError:
        raise refuse("a folder", "name a file in it") from None
    except (OSError, ValueError) as error:
        # ValueError: a name with a null in it. Windows says PermissionError for a folder.
        reason = getattr(error, "strerror", None) or str(error)
        raise refuse("a folder" if path.is_dir() else f"can't be read: {reason}") from None
    if len(raw) > LARGEST:
        raise refuse(f"larger than {LARGEST // 1000} kB")
    if not raw.strip():
        raise refuse("empty", '"noonwater new PATH --from NAME" writes one as a start')
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refuse("text in UTF-16", "save it as UTF-8")
    if b"\x00" in raw:
        raise refuse("no text: it holds null bytes")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        given = f"line {line} has a byte that is no UTF-8 (0x{raw[error.start]:02x})"
        raise refuse(given, "save it as UTF-8") from None


def tables_of_text(text: str, source: str) -> dict[str, Any]:
    """Read a job file's text as TOML only; InputError with every quantity that lost its quotes."""
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        raise InputError(_syntax_faults(text, str(error)), source) from None
    except ValueError as error:
        fault = Fault("the file", quoted(str(error)), "numbers of bearable length")
        raise InputError([fault], source) from None
    except RecursionError:
        raise InputError([_too_deep()], source) from None


def _too_deep() -> Fault:
    return Fault("the file", "tables nested too deep", A_JOB_FILE)


def _syntax_faults(text: str, message: str) -> list[Fault]:
    """Every quantity that lost its quotes; else what the TOML reader says."""
    lines = text.splitlines()
    faults = []
    for number, line in enumerate(lines, 1):
        bare = _UNQUOTED.match(line)
        if bare and not _PLAIN_NUMBER.fullmatch(bare[1].strip()):
            key = line.partition("=")[0].strip()
            remedy = f'write {key} = "{bare[1].strip()}"'
            place = f"line {number}, column {line.index(bare[1]) + 1}"
            given = f"{key} = {bare[1].strip()}"
            faults.append(Fault(place, given, "a quantity in quotes", remedy))
    where = re.search(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)", message)
    said = message[: where.start()] if where else message
    row = int(where[1]) if where and where[1] else max(len(lines), 1)
    line = lines[row - 1] if row <= len(lines) else ""
    column = int(where[2]) if where and where[2] else len(line) + 1
    if any(fault.field.startswith(f"line {row},") for fault in faults):
        return faults
    given = f"{said} in {quoted(line.strip())}" if line.strip() else said
    place = f"line {row}, column {column}"
    return [*faults, Fault(place, " ".join(given.split()), "TOML, see toml.io")]


def _lines(model: Any, path: str, units: System, currency: str) -> list[str]:
    """Write a model's plain fields, then its tables."""
    plain, tables = [], []
    for key, slot in slots(type(model)).items():
        value = getattr(model, key)
        if value is None:
            continue
        inner = f"{path}.{key}" if path else key
        if is_dataclass(value):
            body = _lines(value, inner, units, currency)
            tables += body if body[:1] == [""] else ["", f"[{inner}]", *body]
        elif isinstance(value, tuple) and slot.item is not None and slot.item.models:
            for item in value:
                tables += ["", f"[[{inner}]]", *_lines(item, inner, units, currency)]
            if not value:
                plain.append(f"{key} = []")
        elif isinstance(value, tuple) and slot.item is not None:
            items = [_value(item, slot.item.mark, units, currency) for item in value]
            plain.append(f"{key} = [{', '.join(items)}]")
        else:
            plain.append(f"{key} = {_value(value, slot.mark, units, currency)}")
    return plain + tables


def field_text(value: Any, mark: Any, units: System, currency: str) -> str | None:
    """Write one value for a reader, in units of the job; None where a field is left out."""
    if value is None:
        return None
    text = _value(value, mark, units, currency)
    return str(json.loads(text)) if text.startswith('"') else text


def _value(value: Any, mark: Any, units: System, currency: str) -> str:
    if isinstance(mark, Quantity):
        value = written(value, mark.kind, units, currency)
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        # JSON's escapes are TOML's, but for the one sign that JSON lets stand.
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return str(value)
