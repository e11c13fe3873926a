"""The store's file opened with care: what is not ours, newer or damaged is told and left alone."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any, NoReturn

import sqlalchemy as sql
from sqlalchemy.engine import Engine

from noonwater.core.errors import Fault, InputError, NoonwaterError

FORM = 1
"""Of the tables, in SQLite's user_version; 0 is what was written before there was a number."""
OURS = 0x4E4F4F4E
"""SQLite's application_id of a file of ours: NOON."""

DAMAGED = (
    "keep a copy of it, then put a copy made earlier in its place; job files that were saved can be"
    " brought in"
)
SAID = (
    ("disk is full", "the disk is full: nothing was saved; make room and do it again"),
    ("disk I/O error", "the disk does not write: nothing was saved; make room or look at the disk"),
    (
        "readonly",
        "the data folder may not be written to: nothing was saved; allow writing to it",
    ),
    (
        "unable to open",
        "the data file can’t be opened: nothing was saved; is its folder there?",
    ),
    ("locked", "another program holds the data file: nothing was saved; close that, do it again"),
    ("malformed", f"the data file is damaged: {DAMAGED}"),
    ("not a database", f"the data file is damaged: {DAMAGED}"),
)
"""What SQLite says, and what it means to who works here."""


class StoreTrouble(NoonwaterError):
    """The store's file can't be read or written now; nothing of the attempt is in it."""


def look_before_opening(file: Path) -> None:
    """Look at a store's file and its folder before anything is written.

    Parameters
    ----------
    file : Path
        There or not; its folder is made where it is not.

    Raises
    ------
    InputError
        When the folder can't be had, or the file is damaged, newer, or another program's.
    """
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        there = file.exists() and file.stat().st_size > 0
    except OSError as error:
        allowed = "a folder that can be written to"
        given = f"{file.parent}: {error.strerror or error}"
        raise InputError([Fault("--data", given, allowed, "name another folder")]) from None
    if there:
        with _told(file), closing(sqlite3.connect(file)) as connection:
            _refuse_others(file, connection)


def mark_ours(engine: Engine) -> None:
    """Write into a store's file whose it is and which form its tables have."""
    with engine.begin() as connection:
        if connection.exec_driver_sql("PRAGMA user_version").scalar() != FORM:
            connection.exec_driver_sql(f"PRAGMA application_id = {OURS}")
            connection.exec_driver_sql(f"PRAGMA user_version = {FORM}")


def tell_troubles(engine: Engine) -> None:
    """Tell in words what SQLite refuses while the desk is open."""

    @sql.event.listens_for(engine, "handle_error")
    def told(context: Any) -> None:
        words = words_of(context.original_exception)
        if words:
            raise StoreTrouble(words) from context.original_exception


def words_of(error: BaseException) -> str:
    """Say what an error of SQLite means; empty for one that only we can have made."""
    text = str(error)
    return next((words for sign, words in SAID if sign in text), "")


@contextmanager
def opened_with_care(file: Path) -> Iterator[None]:
    """Tell what hinders a store's file from being opened, as `look_before_opening` does.

    Parameters
    ----------
    file : Path
        The store's.
    """
    try:
        yield
    except StoreTrouble as error:
        _refuse(file, str(error), "look at the folder, or name another with --data")


@contextmanager
def _told(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        _refuse(file, words_of(error) or str(error), "look at the folder, or name another")


def _refuse_others(file: Path, connection: sqlite3.Connection) -> None:
    form = int(connection.execute("PRAGMA user_version").fetchone()[0])
    whose = int(connection.execute("PRAGMA application_id").fetchone()[0])
    columns = {row[1] for row in connection.execute("PRAGMA table_info(job)")}
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if whose not in (0, OURS) or (tables and not columns >= {"id", "name", "plant", "head"}):
        _refuse(file, "a file of another program", "name another folder with --data")
    if form > FORM:
        given = f"written by a newer Noonwater (form {form}, this one knows {FORM})"
        _refuse(file, given, "start the newer Noonwater; the file was left as it is")


def _refuse(file: Path, given: str, remedy: str) -> NoReturn:
    allowed = "a file of jobs that this version can read and write"
    raise InputError([Fault("--data", f"{file}: {given}", allowed, remedy)]) from None
