"""Long work: in a process of its own, told how far it is, ended at once, its result kept.

Each piece has a folder named by its kind and by all that it is computed from. What was asked for
and is not done goes on after a restart; what was done once is shown again without computing.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import re
import shutil
import threading
import time
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, Literal

from noonwater import __version__
from noonwater.app.work_kinds import JOB_FILE, KINDS
from noonwater.app.work_process import ASKED, DONE, TOLD, TROUBLE, read_json, run_piece, write_json
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

Stage = Literal["none", "waits", "runs", "done", "failed"]
MOST_WAITING = 6
"""Pieces of one kind; more are refused until one is done."""
MOST_KEPT = 80
"""Results; the oldest go."""
KEY_LENGTH = 20
STOPPED = "the work ended before it was done; ask for it again"


@dataclass(frozen=True)
class Piece:
    """One piece of long work.

    Attributes
    ----------
    kind : str
        By `KINDS`.
    key : str
        Of all that it is computed from.
    """

    kind: str
    key: str

    def __post_init__(self) -> None:
        """Refuse what names no piece: the name becomes a folder's."""
        if self.kind not in KINDS:
            raise InputError([Fault("long work", f"'{self.kind[:40]}'", ", ".join(KINDS))])
        if not re.fullmatch(f"[0-9a-f]{{{KEY_LENGTH}}}", self.key):
            raise InputError([Fault("long work", f"'{self.key[:40]}'", "a key that was given")])

    @property
    def name(self) -> str:
        """Of its folder."""
        return f"{self.kind}-{self.key}"


@dataclass(frozen=True)
class Stand:
    """How far a piece is.

    Attributes
    ----------
    stage : {"none", "waits", "runs", "done", "failed"}
        "none" where nobody asked for it.
    done, of : int
        Steps.
    name : str
        What a step is.
    left : float or None
        Time that the rest takes at the rate so far; None before the first step. [s]
    words : str
        What hindered it.
    """

    stage: Stage
    done: int = 0
    of: int = 0
    name: str = ""
    left: float | None = None
    words: str = ""


def piece_of(kind: str, job: Job, files: Mapping[str, bytes] | None = None) -> Piece:
    """Name the piece of work of a kind for a job.

    Parameters
    ----------
    kind : str
        By `KINDS`.
    job : Job
        Computed from.
    files : mapping of str to bytes, optional
        Beside the job file: price list, table of a batch.

    Raises
    ------
    InputError
        For a kind that isn't there.
    """
    digest = hashlib.sha256(f"{__version__} {kind} {job!r}".encode())
    for name, raw in sorted((files or {}).items()):
        digest.update(f"\n{name} {len(raw)}\n".encode() + raw)
    return Piece(kind, digest.hexdigest()[:KEY_LENGTH])


class Work:
    """Long work of a desk: one process a kind, the others wait.

    Parameters
    ----------
    folder : Path
        Of the pieces; made when there is one.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = threading.RLock()
        self._running: dict[str, tuple[Piece, BaseProcess]] = {}
        self._waiting: dict[str, deque[Piece]] = {kind: deque() for kind in KINDS}
        self._closed = False

    def resume(self) -> None:
        """Go on with what was asked for before a restart and is not done."""
        for asked in sorted(self._folder.glob(f"*/{ASKED}"), key=lambda path: path.stat().st_mtime):
            kind, _, key = asked.parent.name.partition("-")
            if (asked.parent / DONE).exists() or kind not in KINDS:
                asked.unlink()
            else:
                with self._lock:
                    self._waiting[kind].append(Piece(kind, key))
                    self._begin_next(kind)

    def start(self, piece: Piece, job_file: str, files: Mapping[str, bytes] | None = None) -> None:
        """Ask for a piece; nothing happens where it is done, runs or waits.

        Parameters
        ----------
        piece : Piece
            Which.
        job_file : str
            The job as TOML.
        files : mapping of str to bytes, optional
            As for `piece_of`.

        Raises
        ------
        InputError
            When too many wait.
        """
        with self._lock:
            if self.stand(piece).stage in ("done", "runs", "waits"):
                return
            if len(self._waiting[piece.kind]) >= MOST_WAITING:
                fault = Fault("long work", f"{MOST_WAITING} wait", "fewer", "cancel one, or wait")
                raise InputError([fault])
            self._clear()
            folder = self._of(piece)
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir(parents=True)
            (folder / JOB_FILE).write_text(job_file, encoding="utf-8")
            for name, raw in (files or {}).items():
                (folder / Path(name).name).write_bytes(raw)
            (folder / ASKED).touch()
            self._waiting[piece.kind].append(piece)
            self._begin_next(piece.kind)

    def cancel(self, piece: Piece) -> None:
        """End a piece at once, whatever it does; a result that is there stays."""
        with self._lock:
            if piece in self._waiting[piece.kind]:
                self._waiting[piece.kind].remove(piece)
            runs = self._running.get(piece.kind)
            if runs is not None and runs[0] == piece:
                runs[1].kill()
                runs[1].join()
                self._running.pop(piece.kind)
            if not (self._of(piece) / DONE).exists():
                shutil.rmtree(self._of(piece), ignore_errors=True)
            self._begin_next(piece.kind)

    def stand(self, piece: Piece) -> Stand:
        """Tell how far a piece is."""
        folder = self._of(piece)
        if (folder / DONE).exists():
            return Stand("done")
        if (trouble := read_json(folder / TROUBLE)) is not None:
            return Stand("failed", words=str(trouble["words"]))
        with self._lock:
            runs = self._running.get(piece.kind)
            if runs is not None and runs[0] == piece:
                return _told(folder)
            if piece in self._waiting[piece.kind]:
                return Stand("waits")
        return Stand("none")

    def result(self, piece: Piece) -> dict[str, Any] | None:
        """Give what a piece gave; None where it is not done."""
        return read_json(self._of(piece) / DONE)

    def file(self, piece: Piece, name: str) -> bytes | None:
        """Give a file that a piece wrote; None where there is none."""
        found = [path for path in self._of(piece).glob("results/*") if path.name == name]
        return found[0].read_bytes() if found else None

    def close(self) -> None:
        """End all processes; what they did goes on with the next desk."""
        with self._lock:
            self._closed = True
            for _, process in self._running.values():
                process.kill()
                process.join()
            self._running.clear()

    def _of(self, piece: Piece) -> Path:
        return self._folder / piece.name

    def _begin_next(self, kind: str) -> None:
        if self._closed or kind in self._running or not self._waiting[kind]:
            return
        piece = self._waiting[kind].popleft()
        spawn = multiprocessing.get_context("spawn")
        # A batch has processes of its own, which a daemon may not have.
        process = spawn.Process(target=run_piece, args=(kind, str(self._of(piece))), daemon=False)
        process.start()
        self._running[kind] = (piece, process)
        watch = threading.Thread(target=self._watch, args=(piece, process), daemon=True)
        watch.start()

    def _watch(self, piece: Piece, process: BaseProcess) -> None:
        process.join()
        with self._lock:
            if self._closed or self._running.get(piece.kind, (None, None))[1] is not process:
                return
            self._running.pop(piece.kind)
            folder = self._of(piece)
            if not (folder / DONE).exists() and not (folder / TROUBLE).exists():
                write_json(folder / TROUBLE, {"words": STOPPED})
            (folder / ASKED).unlink(missing_ok=True)
            self._begin_next(piece.kind)

    def _clear(self) -> None:
        """Let the oldest results go."""
        ended = [path.parent for path in self._folder.glob(f"*/{DONE}")]
        ended += [path.parent for path in self._folder.glob(f"*/{TROUBLE}")]
        ended.sort(key=lambda path: path.stat().st_mtime)
        for folder in ended[: max(len(ended) - MOST_KEPT, 0)]:
            shutil.rmtree(folder, ignore_errors=True)


def _told(folder: Path) -> Stand:
    told = read_json(folder / TOLD)
    if told is None:
        return Stand("runs")
    done, of = int(told["done"]), int(told["of"])
    took = time.time() - float(told["began"])
    left = took * (of - done) / done if done else None
    return Stand("runs", done, of, str(told["name"]), left)
