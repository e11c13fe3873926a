"""The engine made ready before it is asked for: compiled once on a machine, then loaded."""

from __future__ import annotations

import gc
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from noonwater.app.demos import FOLDER
from noonwater.core.errors import NoonwaterError
from noonwater.core.jit import ENGINE, counting_compiled, engine_is_compiled

DEMO = "lagoon-court.toml"
FUNCTIONS = 93
"""Of the engine, counted while it was compiled: the bar stops short where they have become more."""

ENOUGH = 6
"""Functions before a time is told: the first one waits for the compiler itself."""


@dataclass(frozen=True)
class Making:
    """How far the engine is.

    Attributes
    ----------
    ready : bool
        Whether it answers.
    done, of : int
        Functions that are compiled, and about how many there are.
    left : float or None
        Time that the rest takes at the rate so far; None while too few are done. [s]
    """

    ready: bool
    done: int = 0
    of: int = FUNCTIONS
    left: float | None = None


class EngineStart:
    """Makes the engine ready in a thread of its own.

    Parameters
    ----------
    compute : callable, optional
        What the engine is tried on: a demo job's year if left out.
    """

    def __init__(self, compute: Callable[[], object] | None = None) -> None:
        self._compute = compute or demo_year
        self._lock = threading.Lock()
        self._began: float | None = None
        self._done = 0
        self._ready = False

    @property
    def ready(self) -> bool:
        """Whether an answer comes without compiling."""
        self._ready = self._ready or engine_is_compiled()
        return self._ready

    def begin(self) -> None:
        """Make the engine ready, once; returns at once."""
        with self._lock:
            if self._began is None:
                self._began = time.monotonic()
                threading.Thread(target=self._run, daemon=True).start()

    def load(self) -> None:
        """Load the engine where it is compiled and no sheet has asked for it yet."""
        if ENGINE in sys.modules:
            gc.freeze()
        else:
            self.begin()

    def stand(self) -> Making:
        """Tell how far it is."""
        if self.ready or self._began is None:
            return Making(self.ready)
        done = min(self._done, FUNCTIONS - 1)
        took = time.monotonic() - self._began
        left = took * (FUNCTIONS - done) / done if done >= ENOUGH else None
        return Making(ready=False, done=done, left=left)

    def _run(self) -> None:
        # What hinders the demo is told where the job asks for the engine itself.
        with counting_compiled(self._count), suppress(NoonwaterError, OSError):
            self._compute()
        # What lies in memory now stays: looking through it for waste would hold an edit up.
        gc.freeze()
        self._ready = True

    def _count(self) -> None:
        self._done += 1


def demo_year() -> Any:
    """Reckon a demo job's year, for which the whole engine is needed."""
    from noonwater.app.job_file import read_job
    from noonwater.app.study import study_year

    return study_year(read_job(FOLDER / DEMO))
