"""Whose turn it is to do long work of a kind, of all desks on one data folder."""

from __future__ import annotations

from pathlib import Path

from filelock import FileLock, Timeout


class Turns:
    """A lock for each kind of work.

    The operating system lets a lock go when the desk that holds it ends, however it ends.

    Parameters
    ----------
    folder : Path
        Of the pieces; there before a turn is taken.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._locks: dict[str, FileLock] = {}

    def take(self, kind: str) -> bool:
        """Take the turn, unless another desk has it; whoever has it may take it again."""
        if kind not in self._locks:
            # Taken by the thread that was asked, and left by the one that watches the process.
            self._locks[kind] = FileLock(self._folder / f"{kind}.lock", thread_local=False)
        if self._locks[kind].is_locked:
            return True
        try:
            self._locks[kind].acquire(blocking=False)
        except Timeout:
            return False
        return True

    def leave(self, kind: str) -> None:
        """Let the next desk have it."""
        if kind in self._locks:
            self._locks[kind].release(force=True)

    def leave_all(self) -> None:
        """Leave every turn that is held."""
        for kind in self._locks:
            self.leave(kind)
