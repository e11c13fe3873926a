"""One state out of a job's, named as flow names it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar

from noonwater.core.errors import Fault, InputError


class Named(Protocol):
    """What belongs to a state."""

    @property
    def name(self) -> str:
        """Of the state."""
        ...


Entry = TypeVar("Entry", bound=Named)


def chosen_states(entries: Sequence[Entry], state: str | None) -> Sequence[Entry]:
    """Take those asked for.

    Parameters
    ----------
    entries : sequence of what belongs to a state
        All states of a job.
    state : str or None
        Name of one; None for all.

    Raises
    ------
    InputError
        A state that isn't there.
    """
    if state is None:
        return entries
    found = [entry for entry in entries if entry.name == state]
    if not found:
        allowed = ", ".join(f"'{entry.name}'" for entry in entries)
        raise InputError([Fault("state", f"'{state}'", allowed)])
    return found
