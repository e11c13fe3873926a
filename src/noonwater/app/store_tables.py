"""Tables of the store of jobs."""

from __future__ import annotations

import sqlalchemy as sql

META = sql.MetaData()
JOB = sql.Table(
    "job",
    META,
    sql.Column("id", sql.String, primary_key=True),
    sql.Column("name", sql.String, nullable=False),
    sql.Column("stage", sql.String, nullable=False),
    sql.Column("archived", sql.Boolean, nullable=False),
    sql.Column("made", sql.String, nullable=False),
    sql.Column("changed", sql.String, nullable=False),
    sql.Column("head", sql.Integer, nullable=False),
    sql.Column("plant", sql.JSON, nullable=False),
)
REVISION = sql.Table(
    "revision",
    META,
    sql.Column("job", sql.String, sql.ForeignKey("job.id"), primary_key=True),
    sql.Column("number", sql.Integer, primary_key=True),
    sql.Column("made", sql.String, nullable=False),
    sql.Column("tab", sql.String, nullable=False),
    sql.Column("words", sql.String, nullable=False),
    sql.Column("tables", sql.JSON, nullable=False),
    sql.Column("right", sql.JSON, nullable=False),
)
SENT = sql.Table(
    "sent",
    META,
    sql.Column("job", sql.String, primary_key=True),
    sql.Column("key", sql.String, primary_key=True),
    sql.Column("number", sql.Integer, nullable=False),
)
PHOTO = sql.Table(
    "photo",
    META,
    sql.Column("id", sql.String, primary_key=True),
    sql.Column("job", sql.String, sql.ForeignKey("job.id"), nullable=False),
    sql.Column("part", sql.String, nullable=False),
    sql.Column("kind", sql.String, nullable=False),
    sql.Column("made", sql.String, nullable=False),
    sql.Column("picture", sql.LargeBinary, nullable=False),
)
