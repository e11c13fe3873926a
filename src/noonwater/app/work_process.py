"""What runs in the process of a piece of long work."""

from __future__ import annotations

import json
import os
import time
import traceback
from contextlib import suppress
from pathlib import Path
from typing import Any

from noonwater.app.answer_shape import plain_values
from noonwater.app.child_process import begin_as_child
from noonwater.app.work_kinds import KINDS
from noonwater.core.errors import NoonwaterError

ASKED, TOLD, DONE, TROUBLE = "asked", "told.json", "done.json", "trouble.json"
OFTEN = 0.1
"""[s] Between two notes of how far it is."""
POLITE = 5
"""Added to the process's niceness: whoever types comes first."""
BROKE = "Noonwater itself failed here; what it said lies beside the work"


def run_piece(kind: str, folder_name: str) -> None:
    """Do a piece of work; what comes of it lies in its folder.

    Parameters
    ----------
    kind : str
        By `KINDS`.
    folder_name : str
        Where its job file lies.
    """
    begin_as_child()
    with suppress(AttributeError, OSError):
        os.nice(POLITE)
    folder = Path(folder_name)
    try:
        result = KINDS[kind].compute(folder, Note(folder / TOLD))
        write_json(folder / DONE, plain_values(result))
    except NoonwaterError as error:
        write_json(folder / TROUBLE, {"words": str(error)})
    except Exception:
        (folder / "failed.txt").write_text(traceback.format_exc(), encoding="utf-8")
        write_json(folder / TROUBLE, {"words": BROKE})
        raise


class Note:
    """Writes how far the work is, often but not at each step.

    Parameters
    ----------
    path : Path
        Of the note.
    """

    def __init__(self, path: Path) -> None:
        self._path, self._name = path, ""
        self._began = self._last = 0.0

    def __call__(self, done: int, of: int, name: str) -> None:
        """Note it; a new name begins a new count of time."""
        now = time.time()
        if name != self._name:
            self._name, self._began, self._last = name, now, 0.0
        if now - self._last >= OFTEN or done == of:
            self._last = now
            note = {"done": done, "of": of, "name": name, "began": self._began}
            write_json(self._path, note)


def write_json(path: Path, values: dict[str, Any]) -> None:
    """Write a file so that a reader sees all of it or nothing."""
    beside = path.with_suffix(".new")
    beside.write_text(json.dumps(values, allow_nan=False), encoding="utf-8")
    for _ in range(20):
        try:
            beside.replace(path)
            return
        except PermissionError:
            # On Windows a file that is just being read can't be replaced.
            time.sleep(0.02)
    beside.replace(path)


def read_json(path: Path) -> dict[str, Any] | None:
    """Read a file of `write_json`; None where there is none."""
    try:
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    except (FileNotFoundError, NotADirectoryError):
        return None
    return found
