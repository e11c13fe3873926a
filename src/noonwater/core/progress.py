"""How far long work is, told on the way to whoever waits for it."""

from __future__ import annotations

import threading
from collections.abc import Callable

Told = Callable[[int, int, str], None]
"""Is told how many steps are done, of how many, and the name of what is worked on."""


def untold(done: int, of: int, name: str) -> None:
    """Take no notice: nobody waits."""


class Steps:
    """Counts steps that end on several threads, and tells each end.

    Parameters
    ----------
    told : callable
        Is told.
    of : int
        How many steps there are.
    name : str
        What a step is.
    """

    def __init__(self, told: Told, of: int, name: str) -> None:
        self._told, self._of, self._name = told, of, name
        self._done, self._lock = 0, threading.Lock()
        told(0, of, name)

    def one_done(self) -> None:
        """Count one more."""
        with self._lock:
            self._done += 1
            self._told(self._done, self._of, self._name)
