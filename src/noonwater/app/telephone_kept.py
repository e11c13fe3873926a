"""Calls that were kept with a job: when, what was told as typed, what it came to."""

from __future__ import annotations

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass

from noonwater.app.shelf import Shelf
from noonwater.core.errors import Fault, InputError

CALL = "call"
"""Kind of thing on the shelf."""
MOST_CALLS = 200


@dataclass(frozen=True)
class KeptCall:
    """A call.

    Attributes
    ----------
    id : str
        On the shelf.
    made : str
        ISO 8601 with its zone.
    texts : mapping of str to str
        By field, as typed.
    told, found : str
        The same in a line, and the likeliest cause.
    """

    id: str
    made: str
    texts: Mapping[str, str]
    told: str
    found: str


def keep_call(shelf: Shelf, job: str, texts: Mapping[str, str], told: str, found: str) -> str:
    """Keep a call with a job; gives its id.

    Raises
    ------
    InputError
        For a call of which nothing was told, or one too many.
    """
    if not told:
        raise InputError([Fault("call", "nothing is told", "one reading at least")])
    if len(shelf.kept(job, CALL)) >= MOST_CALLS:
        given = f"{MOST_CALLS} calls are there"
        raise InputError([Fault("call", given, f"{MOST_CALLS} a job", "take one out first")])
    call = secrets.token_hex(6)
    body = json.dumps({"texts": dict(texts), "told": told, "found": found}, ensure_ascii=False)
    shelf.keep(job, CALL, call, body.encode())
    return call


def kept_calls(shelf: Shelf | None, job: str) -> tuple[KeptCall, ...]:
    """List the calls of a job, the newest first."""
    if shelf is None:
        return ()
    found = []
    for kept in reversed(shelf.kept(job, CALL)):
        held = json.loads(kept.body)
        found.append(KeptCall(kept.name, kept.made, held["texts"], held["told"], held["found"]))
    return tuple(found)


def drop_call(shelf: Shelf, job: str, call: str) -> None:
    """Take a call out; nothing happens where it isn't there."""
    shelf.drop(job, CALL, call)
