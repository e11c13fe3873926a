"""Files brought into the store: job files, and what was typed on a survey page."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel, Field, ValidationError

from noonwater.app.bare_number import with_unit
from noonwater.app.demos import demo_text
from noonwater.app.job_edit import Change, Conflict, read_typed
from noonwater.app.job_place import Tables
from noonwater.app.job_tables import slots
from noonwater.app.migration import migrated
from noonwater.app.plant import OtherNote, record_plant
from noonwater.app.sent_text import SentText, whole_signs
from noonwater.app.shelf import Shelf
from noonwater.app.store import NoSuchJob, State, Store
from noonwater.app.store_files import file_stem, tables_from_text
from noonwater.core.errors import Fault, InputError
from noonwater.core.units import System
from noonwater.model.job import Job

STAND_IN = "lagoon-court"
"""Demo job whose fields take the place of those that a brought-in file has wrong or lacks."""

BROUGHT = "brought"
"""On the shelf: the store holds no comments, so the file that had them is kept as it came."""

KIND = "noonwater survey page"
A_FILE = "a job file, or what a survey page exported"


class TypedAway(BaseModel):
    """One change as a survey page exports it."""

    field: SentText = Field(max_length=200)
    text: SentText = Field(default="", max_length=20_000)
    act: Literal["set", "add"] = "set"


class SurveyFile(BaseModel):
    """What a survey page exports.

    Attributes
    ----------
    kind : str
        Always the same words.
    page : str
        Of this page, whichever of its exports it is.
    job : str
        Id; empty for a page made from a job file.
    base : int
        Revision that the page was made of.
    tables : dict
        Of that revision, so that another store can take it in too.
    changes : list of TypedAway
        All that was typed since.
    seen, notes : dict of str to str
        Of the plant: what stood there when the page was made, and what was typed.
    """

    kind: Literal["noonwater survey page"]
    format: Literal[1]
    page: str = Field(min_length=8, max_length=60)
    job: str = Field(max_length=60)
    base: int
    tables: dict[str, Any]
    changes: list[TypedAway] = Field(max_length=2000)
    seen: dict[str, str] = Field(default_factory=dict, max_length=200)
    notes: dict[str, SentText] = Field(default_factory=dict, max_length=200)


@dataclass(frozen=True)
class Brought:
    """What became of a file.

    Attributes
    ----------
    state : State
        The newest of the job.
    begun : bool
        Whether the file began a job of its own.
    conflicts : tuple of Conflict
        Fields that somebody else set otherwise since.
    refused : tuple of Fault
        Changes of fields that the job hasn't.
    others : tuple of OtherNote
        Notes of the plant that somebody else wrote otherwise since.
    """

    state: State
    begun: bool = False
    conflicts: tuple[Conflict, ...] = ()
    refused: tuple[Fault, ...] = ()
    others: tuple[OtherNote, ...] = ()


def bring_in(store: Store, raw: bytes) -> Brought:
    """Take a file in, whichever of the two it is.

    Parameters
    ----------
    store : Store
        The jobs.
    raw : bytes
        The file.

    Raises
    ------
    InputError
        When it is neither; what is wrong in a field of a job file is told at the field instead.
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        fault = Fault("the file", "not text in UTF-8", A_FILE)
        raise InputError([fault]) from None
    if text.lstrip().startswith("{"):
        return _survey(store, text)
    tables = tables_from_text(text)
    if not tables.keys() & slots(Job).keys():
        raise InputError([Fault("the file", "none of the tables of a job", A_FILE)])
    state = begin(store, tables, "brought in")
    store.shelf.keep(state.job, BROUGHT, f"{file_stem(state)}.toml", raw)
    return Brought(state, begun=True)


def brought_file(shelf: Shelf | None, job: str) -> tuple[str, bytes] | None:
    """Give a job file as it was brought in, with its comments: its name and bytes.

    Parameters
    ----------
    shelf : Shelf or None
        What is kept with jobs.
    job : str
        Id.
    """
    kept = shelf.kept(job, BROUGHT) if shelf else []
    return (kept[0].name, kept[0].body) if kept else None


def begin(store: Store, tables: Tables, words: str) -> State:
    """Begin a job with what a file says, right or wrong.

    Parameters
    ----------
    store : Store
        The jobs.
    tables : dict
        As typed. Where they can't be computed with, a demo job's fields stand in.
    words : str
        What the first state is.
    """
    tables, _ = migrated(tables)
    return store.add(tables, stand_in(tables), words)


def stand_in(tables: Tables) -> Tables:
    """Tables to compute with: what was typed where it is right, a demo job's fields elsewhere."""
    return read_typed(tables, tables_from_text(demo_text(STAND_IN)))[1]


def survey_changes(page: SurveyFile) -> list[Change]:
    """What was typed away, bare numbers with the unit that the page showed."""
    units: System = "SI" if stand_in(page.tables).get("units") == "SI" else "US"
    return [
        Change(each.field, with_unit(each.field, each.text, page.tables, units), each.act)
        for each in page.changes
    ]


def _survey(store: Store, text: str) -> Brought:
    page = _read(text)
    changes = survey_changes(page)
    known = _knows(store, page)
    job, base = page.job, page.base
    if not known:
        started = begin(store, page.tables, "begun from a survey page")
        job, base = started.job, started.number
    # Exported twice, a page's added items are not added twice; its fields are held against the
    # same base again, and told where somebody wrote otherwise since.
    outcome = store.edit(job, base, changes, tab=page.page, key=page.page)
    others = record_plant(store, job, page.notes, page.seen if known else {})
    return Brought(outcome.state, not known, outcome.conflicts, outcome.refused, others)


def _knows(store: Store, page: SurveyFile) -> bool:
    """Whether the page was made of a state of this very store."""
    try:
        return bool(page.job) and store.state(page.job, page.base).tables == page.tables
    except NoSuchJob:
        return False


def _read(text: str) -> SurveyFile:
    try:
        return SurveyFile.model_validate(whole_signs(json.loads(text)))
    except (ValidationError, ValueError, RecursionError) as error:
        raise InputError([Fault("the file", _said(error), A_FILE)]) from None


def _said(error: Exception) -> str:
    """Say what hinders a survey page's file from being read."""
    if not isinstance(error, ValidationError):
        return "JSON that can’t be read: is it whole?"
    first = error.errors()[0]
    where = ".".join(str(step) for step in first["loc"])
    if where == "kind":
        return "JSON of something else than a survey page"
    if where == "format":
        return "written by a survey page of another version of Noonwater"
    return f"a survey page’s file with a fault in {where}: {first['msg']}"
