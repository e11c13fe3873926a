"""What is kept with a job beside its states: its price list, its options."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

import sqlalchemy as sql
from sqlalchemy.engine import Engine

_META = sql.MetaData()
_KEPT = sql.Table(
    "kept",
    _META,
    sql.Column("job", sql.String, primary_key=True),
    sql.Column("kind", sql.String, primary_key=True),
    sql.Column("name", sql.String, primary_key=True),
    sql.Column("made", sql.String, nullable=False),
    sql.Column("body", sql.LargeBinary, nullable=False),
)


@dataclass(frozen=True)
class Kept:
    """One thing: its name, when it was put there, and its bytes."""

    name: str
    made: str
    body: bytes


class Shelf:
    """Things kept with jobs, in the store's file.

    Parameters
    ----------
    writer, reader : Engine
        Of the store.
    """

    def __init__(self, writer: Engine, reader: Engine) -> None:
        self._writer, self._reader = writer, reader
        _META.create_all(writer)

    def keep(self, job: str, kind: str, name: str, body: bytes) -> None:
        """Put a thing there, in place of one of its name.

        Parameters
        ----------
        job : str
            Id.
        kind : str
            "prices" or "option".
        name : str
            Of the thing.
        body : bytes
            The thing.
        """
        now = datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
        with self._writer.begin() as connection:
            connection.execute(_KEPT.delete().where(_is(job, kind, name)))
            connection.execute(
                _KEPT.insert().values(job=job, kind=kind, name=name, made=now, body=body)
            )

    def drop(self, job: str, kind: str, name: str) -> None:
        """Take a thing away; nothing happens where it isn't there."""
        with self._writer.begin() as connection:
            connection.execute(_KEPT.delete().where(_is(job, kind, name)))

    def copy(self, job: str, other: str) -> None:
        """Put all that one job has there to another."""
        with self._writer.begin() as connection:
            rows = connection.execute(sql.select(_KEPT).where(_KEPT.c.job == job)).mappings().all()
            for row in rows:
                connection.execute(_KEPT.insert().values({**row, "job": other}))

    def kept(self, job: str, kind: str) -> list[Kept]:
        """List the things of a kind, the oldest first."""
        query = sql.select(_KEPT).where(_KEPT.c.job == job, _KEPT.c.kind == kind)
        with self._reader.connect() as connection:
            rows = connection.execute(query.order_by(_KEPT.c.made, _KEPT.c.name)).all()
        return [Kept(row.name, row.made, row.body) for row in rows]


def _is(job: str, kind: str, name: str) -> sql.ColumnElement[bool]:
    return sql.and_(_KEPT.c.job == job, _KEPT.c.kind == kind, _KEPT.c.name == name)
