"""The store of jobs: every state of every job in one SQLite file in the user's data folder."""

from __future__ import annotations

import datetime
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import sqlalchemy as sql
from sqlalchemy.engine import Connection, RowMapping

from noonwater.app.job_edit import Change, Conflict, changed_fields, merged, read_typed
from noonwater.app.job_place import Tables
from noonwater.app.shelf import Shelf
from noonwater.app.store_open import (
    look_before_opening,
    mark_ours,
    opened_with_care,
    tell_troubles,
)
from noonwater.app.store_tables import JOB, META, REVISION, SENT
from noonwater.core.errors import Fault, NoonwaterError

Stage = Literal["survey", "design", "offered", "building", "running", "closed"]
STAGES: tuple[Stage, ...] = ("survey", "design", "offered", "building", "running", "closed")
"""Of the work on a job."""

FILE = "jobs.sqlite"
LARGEST = 2**62
"""Number that SQLite can still be asked for."""
WAIT = 30
"""[s] For another process that writes."""


class NoSuchJob(NoonwaterError):
    """A job or state that the store doesn't hold."""


@dataclass(frozen=True)
class Entry:
    """A job in the list."""

    id: str
    name: str
    stage: str
    archived: bool
    changed: str
    head: int


@dataclass(frozen=True)
class State:
    """One state of a job.

    Attributes
    ----------
    job : str
        Id of the job.
    number : int
        Revision, from 1.
    made : str
        When, ISO 8601 with its zone.
    words : str
        What was changed.
    tables : dict
        As typed.
    right : dict
        The newest tables without a fault, up to here.
    """

    job: str
    number: int
    made: str
    words: str
    tables: Tables
    right: Tables


@dataclass(frozen=True)
class Mark:
    """What the list of states tells of one: revision, when, from which page, what was changed."""

    number: int
    made: str
    tab: str
    words: str


@dataclass(frozen=True)
class Outcome:
    """What became of an edit.

    Attributes
    ----------
    state : State
        The newest.
    conflicts : tuple of Conflict
        Fields that somebody else set otherwise since the base.
    refused : tuple of Fault
        Changes of fields that the job hasn't.
    alone : bool
        Whether nobody had written since the base.
    """

    state: State
    conflicts: tuple[Conflict, ...]
    refused: tuple[Fault, ...]
    alone: bool = False


class Store:
    """Jobs on disk; safe for several processes and threads.

    Parameters
    ----------
    folder : Path
        Made where it is not there.

    Raises
    ------
    InputError
        When its file is damaged, newer or another program's, or can't be written: it is left as it
        is.

    Attributes
    ----------
    folder : Path
        The same.
    shelf : Shelf
        What is kept with jobs beside their states.
    writer, reader : Engine
        Connections; the writer's transactions hold the file from their begin on.
    """

    def __init__(self, folder: Path) -> None:
        look_before_opening(folder / FILE)
        self.folder = folder
        self.writer, self.reader = (
            sql.create_engine(f"sqlite:///{folder / FILE}", connect_args={"timeout": WAIT})
            for _ in range(2)
        )
        for engine in (self.writer, self.reader):
            sql.event.listen(engine, "connect", _set_up_connection)
            tell_troubles(engine)
        sql.event.listen(self.writer, "begin", _begin_at_once)
        with opened_with_care(folder / FILE):
            META.create_all(self.writer)
            self.shelf = Shelf(self.writer, self.reader)
            mark_ours(self.writer)

    def close(self) -> None:
        """Let go of the file."""
        self.writer.dispose()
        self.reader.dispose()

    def jobs(self, search: str = "", archived: bool = False) -> list[Entry]:
        """List jobs, the last changed first; those whose name holds every word of the search."""
        query = sql.select(JOB).where(JOB.c.archived == archived)
        for word in search.split():
            query = query.where(JOB.c.name.icontains(word, autoescape=True))
        with self.reader.connect() as connection:
            rows = connection.execute(query.order_by(JOB.c.changed.desc())).mappings().all()
        return [_entry(row) for row in rows]

    def add(self, tables: Tables, right: Tables | None = None, words: str = "begun") -> State:
        """Add a job.

        Parameters
        ----------
        tables : dict
            As typed.
        right : dict, optional
            A state without a fault to compute with; the tables themselves if left out.
        words : str
            What the first state is.
        """
        job, made = secrets.token_hex(8), now()
        with self.writer.begin() as connection:
            connection.execute(
                JOB.insert().values(
                    id=job,
                    name=_name(tables),
                    stage=STAGES[0],
                    archived=False,
                    made=made,
                    changed=made,
                    head=1,
                    plant={},
                )
            )
            _insert(connection, State(job, 1, made, words, tables, right or tables), "")
        return self.state(job)

    def entry(self, job: str) -> Entry:
        """Tell what the list tells of one job."""
        with self.reader.connect() as connection:
            return _entry(job_row(connection, job))

    def state(self, job: str, number: int | None = None) -> State:
        """Give a state of a job, the newest if none is named."""
        with self.reader.connect() as connection:
            head = job_row(connection, job)["head"]
            return _state(connection, job, head if number is None else number)

    def marks(self, job: str) -> list[Mark]:
        """List every state of a job without its content, the newest first."""
        columns = REVISION.c.number, REVISION.c.made, REVISION.c.tab, REVISION.c.words
        query = sql.select(*columns).where(REVISION.c.job == job)
        with self.reader.connect() as connection:
            job_row(connection, job)
            rows = connection.execute(query.order_by(REVISION.c.number.desc())).all()
        return [Mark(row.number, row.made, row.tab, row.words) for row in rows]

    def edit(
        self, job: str, base: int, changes: Sequence[Change], *, tab: str = "", key: str = ""
    ) -> Outcome:
        """Apply changes made on a state to the newest one, in one transaction.

        Parameters
        ----------
        job : str
            Id.
        base : int
            Revision that the changes were made on.
        changes : sequence of Change
            In order.
        tab : str
            Who sends.
        key : str
            Of this sending: items that it added or took out once stay so, and a page may send anew
            what it got no answer to.
        """
        with self.writer.begin() as connection:
            head = _state(connection, job, job_row(connection, job)["head"])
            if key and _sent_at(connection, job, key) is not None:
                # Fields set twice to the same are the same; items added twice are not.
                changes = [change for change in changes if change.act == "set"]
            elif key:
                connection.execute(SENT.insert().values(job=job, key=key, number=head.number))
            result = merged(_state(connection, job, base).tables, head.tables, changes)
            if result.tables == head.tables:
                return Outcome(head, result.conflicts, result.refused, head.number == base)
            _job, right, _faults = read_typed(result.tables, head.right)
            words = ", ".join(changed_fields(head.tables, result.tables))
            state = State(job, head.number + 1, now(), words, result.tables, right)
            _advance(connection, state, tab)
        return Outcome(state, result.conflicts, result.refused, head.number == base)

    def go_back(self, job: str, number: int) -> State:
        """Make an old state the newest; nothing is lost."""
        with self.writer.begin() as connection:
            head = job_row(connection, job)["head"]
            old = _state(connection, job, number)
            words = f"back to revision {number}"
            state = State(job, head + 1, now(), words, old.tables, old.right)
            _advance(connection, state, "")
        return state

    def copy(self, job: str) -> State:
        """Make a job of its own from a job's newest state."""
        state = self.state(job)
        tables = {**state.tables, "name": f"{_name(state.tables)} (copy)"}
        right = {**state.right, "name": tables["name"]}
        return self.add(tables, right, "copied")

    def set_stage(self, job: str, stage: str) -> None:
        """Say how far the work is."""
        if stage not in STAGES:
            raise NoSuchJob(f"no stage of work is called '{stage}'; they are {', '.join(STAGES)}")
        self._set(job, stage=stage)

    def archive(self, job: str, archived: bool = True) -> None:
        """Take a job out of the list, or back into it."""
        self._set(job, archived=archived)

    def _set(self, job: str, **values: Any) -> None:
        with self.writer.begin() as connection:
            job_row(connection, job)
            connection.execute(JOB.update().where(JOB.c.id == job).values(**values))


def data_folder() -> Path:
    """Where jobs are kept unless told otherwise."""
    import platformdirs

    return Path(platformdirs.user_data_dir("noonwater", appauthor=False))


def _set_up_connection(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # SQLAlchemy's "begin" says when a transaction begins
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin_at_once(connection: Connection) -> None:
    # A transaction that reads and then writes would fail where another wrote in between.
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def job_row(connection: Connection, job: str) -> RowMapping:
    """Find a job's row."""
    row = connection.execute(sql.select(JOB).where(JOB.c.id == job)).mappings().first()
    if row is None:
        raise NoSuchJob(f"there is no job {job[:40]} in this store")
    return row


def _state(connection: Connection, job: str, number: int) -> State:
    number = min(max(number, 0), LARGEST)
    query = sql.select(REVISION).where(REVISION.c.job == job, REVISION.c.number == number)
    row = connection.execute(query).mappings().first()
    if row is None:
        raise NoSuchJob(f"this job has no revision {number}")
    return _state_of(row)


def _state_of(row: RowMapping) -> State:
    return State(row["job"], row["number"], row["made"], row["words"], row["tables"], row["right"])


def _insert(connection: Connection, state: State, tab: str) -> None:
    connection.execute(
        REVISION.insert().values(
            job=state.job,
            number=state.number,
            made=state.made,
            tab=tab,
            words=state.words,
            tables=state.tables,
            right=state.right,
        )
    )


def _advance(connection: Connection, state: State, tab: str) -> None:
    _insert(connection, state, tab)
    connection.execute(
        JOB.update()
        .where(JOB.c.id == state.job)
        .values(head=state.number, changed=state.made, name=_name(state.tables))
    )


def _sent_at(connection: Connection, job: str, key: str) -> int | None:
    query = sql.select(SENT.c.number).where(SENT.c.job == job, SENT.c.key == key)
    return connection.execute(query).scalar()


def _entry(row: RowMapping) -> Entry:
    return Entry(row["id"], row["name"], row["stage"], row["archived"], row["changed"], row["head"])


def _name(tables: Tables) -> str:
    return str(tables.get("name") or "a job without a name")


def now() -> str:
    """This moment, ISO 8601 with its zone."""
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
