"""The plant that is there: what a surveyor notes of it, and photos, kept beside the job."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass

import sqlalchemy as sql

from noonwater.app.store import NoSuchJob, Store, job_row, now
from noonwater.app.store_tables import JOB, PHOTO
from noonwater.core.errors import Fault, InputError

LARGEST_PHOTO = 10_000_000
"""[bytes] A phone's picture has 2 to 6 MB."""

MOST_PHOTOS = 60
LONGEST_NOTE = 2000
"""[characters]"""

STATES = ("", "good", "worn", "to be replaced")
ROOM = ("", "yes", "no", "not seen")


@dataclass(frozen=True)
class Noted:
    """One thing that is noted of a part.

    Attributes
    ----------
    key : str
        "roof.age".
    words : str
        Of the field.
    choices : tuple of str
        Where one of a few is chosen.
    """

    key: str
    words: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class PlantPart:
    """A part that is there, and what is noted of it."""

    key: str
    words: str
    noted: tuple[Noted, ...]


@dataclass(frozen=True)
class Photo:
    """A photo in the list: its id, the part that it shows, when it was added."""

    id: str
    part: str
    made: str


@dataclass(frozen=True)
class OtherNote:
    """A note that two people wrote differently: what it is of, and both texts."""

    key: str
    yours: str
    theirs: str


def plant_parts() -> tuple[PlantPart, ...]:
    """What is recorded, part by part."""
    aged = (("roof", "Roof"), ("pump", "Pump"), ("filter", "Filter"), ("heater", "Heater"))
    parts = [
        PlantPart(
            key,
            words,
            (
                Noted(f"{key}.age", f"{words}: age"),
                Noted(f"{key}.state", f"{words}: state", STATES),
                Noted(f"{key}.notes", f"{words}: notes"),
            ),
        )
        for key, words in aged
    ]
    breaker = (
        Noted("breaker.room", "Room for a further breaker", ROOM),
        Noted("breaker.notes", "Electrical panel: notes"),
    )
    rest = PlantPart("other", "Else", (Noted("other.notes", "Other notes"),))
    return (*parts, PlantPart("breaker", "Electrical panel", breaker), rest)


def plant_of(store: Store, job: str) -> dict[str, str]:
    """What was noted, by key."""
    with store.reader.connect() as connection:
        return dict(job_row(connection, job)["plant"])


def record_plant(
    store: Store, job: str, notes: Mapping[str, str], base: Mapping[str, str] | None = None
) -> tuple[OtherNote, ...]:
    """Write down what is there; an empty text takes a note out.

    Parameters
    ----------
    store : Store
        The jobs.
    job : str
        Id.
    notes : mapping of str to str
        By key.
    base : mapping of str to str, optional
        What the writer saw: a note that somebody else wrote otherwise since stays, and is told.
        Without it every note is written.

    Returns
    -------
    tuple of OtherNote
        Notes that were not written.

    Raises
    ------
    InputError
        For a note of no part, too long, or not among its choices.
    """
    _refuse_odd(notes)
    others = []
    with store.writer.begin() as connection:
        held = dict(job_row(connection, job)["plant"])
        for key, text in notes.items():
            there = held.get(key, "")
            if base is not None and there not in (base.get(key, ""), text):
                others.append(OtherNote(key, text, there))
            elif text.strip():
                held[key] = text
            else:
                held.pop(key, None)
        connection.execute(JOB.update().where(JOB.c.id == job).values(plant=held))
    return tuple(others)


def add_photo(store: Store, job: str, part: str, picture: bytes) -> str:
    """Keep a photo; gives its id.

    Raises
    ------
    InputError
        When it is none, too large, of no part, or one too many.
    """
    if part not in [each.key for each in plant_parts()]:
        raise InputError([Fault("part", part[:40], "a part of the plant")])
    if len(picture) > LARGEST_PHOTO:
        megabytes = f"{len(picture) / 1e6:.0f} MB"
        remedy = "let the phone send it in a smaller size"
        fault = Fault("photo", megabytes, f"at most {LARGEST_PHOTO / 1e6:.0f} MB", remedy)
        raise InputError([fault])
    kind = picture_kind(picture)
    if len(photos(store, job)) >= MOST_PHOTOS:
        given = f"{MOST_PHOTOS} photos are there"
        raise InputError([Fault("photo", given, f"{MOST_PHOTOS} a job", "take one out first")])
    photo = secrets.token_hex(8)
    with store.writer.begin() as connection:
        job_row(connection, job)
        connection.execute(
            PHOTO.insert().values(
                id=photo, job=job, part=part, kind=kind, made=now(), picture=picture
            )
        )
    return photo


def photos(store: Store, job: str) -> list[Photo]:
    """List the photos of a job, the oldest first."""
    query = sql.select(PHOTO.c.id, PHOTO.c.part, PHOTO.c.made).where(PHOTO.c.job == job)
    with store.reader.connect() as connection:
        rows = connection.execute(query.order_by(PHOTO.c.made)).all()
    return [Photo(row.id, row.part, row.made) for row in rows]


def photo_of(store: Store, job: str, photo: str) -> tuple[str, bytes]:
    """Give a photo: its media type and its bytes."""
    query = sql.select(PHOTO).where(PHOTO.c.id == photo, PHOTO.c.job == job)
    with store.reader.connect() as connection:
        row = connection.execute(query).mappings().first()
    if row is None:
        raise NoSuchJob(f"there is no photo {photo[:40]} of this job")
    return row["kind"], row["picture"]


def remove_photo(store: Store, job: str, photo: str) -> None:
    """Take a photo out."""
    query = PHOTO.delete().where(PHOTO.c.id == photo, PHOTO.c.job == job)
    with store.writer.begin() as connection:
        connection.execute(query)


def copy_plant(store: Store, job: str, other: str) -> None:
    """Give another job the notes and photos of a job: it is the same house."""
    with store.writer.begin() as connection:
        notes = job_row(connection, job)["plant"]
        connection.execute(JOB.update().where(JOB.c.id == other).values(plant=notes))
        rows = connection.execute(sql.select(PHOTO).where(PHOTO.c.job == job)).mappings().all()
        for row in rows:
            again = {**row, "id": secrets.token_hex(8), "job": other}
            connection.execute(PHOTO.insert().values(again))


def picture_kind(picture: bytes) -> str:
    """Tell a picture's media type by its first bytes, whatever it calls itself.

    Raises
    ------
    InputError
        When it is no picture that every browser shows.
    """
    marks = (
        (b"\xff\xd8\xff", 0, "image/jpeg"),
        (b"\x89PNG\r\n\x1a\n", 0, "image/png"),
        (b"WEBP", 8, "image/webp"),
    )
    for mark, at, kind in marks:
        if picture[at : at + len(mark)] == mark and (at == 0 or picture[:4] == b"RIFF"):
            return kind
    remedy = "send it as JPEG, or take it anew from this page"
    raise InputError([Fault("photo", "no picture of a known kind", "JPEG, PNG or WebP", remedy)])


def _refuse_odd(notes: Mapping[str, str]) -> None:
    known = {noted.key: noted for part in plant_parts() for noted in part.noted}
    faults = []
    for key, text in notes.items():
        if key not in known:
            faults.append(Fault(key[:60], "no such note", "a note of the plant"))
        elif len(text) > LONGEST_NOTE:
            faults.append(Fault(key, f"{len(text)} characters", f"at most {LONGEST_NOTE}"))
        elif known[key].choices and text not in known[key].choices:
            choices = ", ".join(choice for choice in known[key].choices if choice)
            faults.append(Fault(key, f"“{text[:40]}”", choices))
    if faults:
        raise InputError(faults)
