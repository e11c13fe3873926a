"""Long work: in a process of its own, told how far it is, ended at once, its result kept.

Each piece has a folder named by its kind and by all that it is computed from. What was asked for
and is not done goes on after a restart; what was done once is shown again without computing. Desks
on one data folder share its pieces: whoever has the turn of a kind does the oldest one.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import re
import shutil
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, Literal

from noonwater import __version__
from noonwater.app.work_kinds import JOB_FILE, KINDS
from noonwater.app.work_process import ASKED, DONE, TOLD, TROUBLE, read_json, run_piece, write_json
from noonwater.app.work_turn import Turns
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

Stage = Literal["none", "waits", "runs", "done", "failed"]
MOST_WAITING = 6
"""Pieces of one kind; more are refused until one is done."""
MOST_KEPT = 80
"""Results; the oldest go."""
KEY_LENGTH = 20
LOOK_AROUND = 1.0
"""[s] Between two looks for what another desk left."""
LOOK_UP = 0.3
"""[s] Between two looks whether another desk cancelled what runs here."""
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
        self._turns = Turns(folder)
        self._closed = threading.Event()

    def resume(self) -> None:
        """Go on with what was asked for before a restart and is not done, and from now on with what
        another desk leaves undone when it ends."""
        self._begin_all()
        threading.Thread(target=self._look_around, daemon=True).start()

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
            if len(self._asked(piece.kind)) > MOST_WAITING:
                fault = Fault("long work", f"{MOST_WAITING} wait", "fewer", "cancel one, or wait")
                raise InputError([fault])
            self._clear()
            folder = self._of(piece)
            shutil.rmtree(folder, ignore_errors=True)
            # Another desk may just be ending the same piece there.
            folder.mkdir(parents=True, exist_ok=True)
            (folder / JOB_FILE).write_text(job_file, encoding="utf-8")
            for name, raw in (files or {}).items():
                (folder / Path(name).name).write_bytes(raw)
            (folder / ASKED).touch()
            self._begin_next(piece.kind)

    def cancel(self, piece: Piece) -> None:
        """End a piece at once, whatever it does; a result that is there stays.

        One that another desk does is ended by it, as soon as it looks up.
        """
        folder = self._of(piece)
        with self._lock:
            runs = self._running.get(piece.kind)
            here = runs is not None and runs[0] == piece
            if runs is not None and here:
                runs[1].kill()
                runs[1].join()
                self._end_turn(piece.kind)
            (folder / ASKED).unlink(missing_ok=True)
            if not (folder / DONE).exists() and not self._done_elsewhere(piece):
                shutil.rmtree(folder, ignore_errors=True)
            self._begin_next(piece.kind)
            if piece.kind not in self._running:
                self._turns.leave(piece.kind)

    def stand(self, piece: Piece) -> Stand:
        """Tell how far a piece is, whichever desk does it."""
        folder = self._of(piece)
        if (folder / DONE).exists():
            return Stand("done")
        if (trouble := read_json(folder / TROUBLE)) is not None:
            return Stand("failed", words=str(trouble["words"]))
        if not (folder / ASKED).exists():
            return Stand("none")
        with self._lock:
            runs = self._running.get(piece.kind)
            here = runs is not None and runs[0] == piece
        return _told(folder) if here or (folder / TOLD).exists() else Stand("waits")

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
            self._closed.set()
            for _, process in self._running.values():
                process.kill()
                process.join()
            self._running.clear()
            self._turns.leave_all()

    def _of(self, piece: Piece) -> Path:
        return self._folder / piece.name

    def _done_elsewhere(self, piece: Piece) -> bool:
        """Whether another desk works on a piece; takes the turn where none does."""
        begun = (self._of(piece) / TOLD).exists()
        return begun and piece.kind not in self._running and not self._turns.take(piece.kind)

    def _asked(self, kind: str) -> list[Piece]:
        """Pieces of a kind that were asked for, at any desk, and are not done; the oldest first."""
        return [piece for _, piece in sorted(self._asked_at(kind), key=lambda each: each[0])]

    def _asked_at(self, kind: str) -> Iterator[tuple[int, Piece]]:
        for asked in self._folder.glob(f"{kind}-*/{ASKED}"):
            folder = asked.parent
            with suppress(FileNotFoundError, InputError):
                if not (folder / DONE).exists() and not (folder / TROUBLE).exists():
                    key = folder.name.removeprefix(f"{kind}-")
                    yield asked.stat().st_mtime_ns, Piece(kind, key)

    def _look_around(self) -> None:
        while not self._closed.wait(LOOK_AROUND):
            self._begin_all()

    def _begin_all(self) -> None:
        for kind in KINDS:
            with self._lock:
                self._begin_next(kind)

    def _begin_next(self, kind: str) -> None:
        if self._closed.is_set() or kind in self._running or not self._asked(kind):
            return
        if not self._turns.take(kind):
            return
        # Whoever had the turn may have done it meanwhile.
        asked = self._asked(kind)
        if not asked:
            self._turns.leave(kind)
            return
        folder = self._of(asked[0])
        # Before the work tells anything itself, the other desks see that it runs.
        write_json(folder / TOLD, {"done": 0, "of": 0, "name": "", "began": time.time()})
        spawn = multiprocessing.get_context("spawn")
        # A batch has processes of its own, which a daemon may not have.
        process = spawn.Process(target=run_piece, args=(kind, str(folder)), daemon=False)
        process.start()
        self._running[kind] = (asked[0], process)
        watch = threading.Thread(target=self._watch, args=(asked[0], process), daemon=True)
        watch.start()

    def _watch(self, piece: Piece, process: BaseProcess) -> None:
        folder, killed = self._of(piece), False
        while process.is_alive():
            process.join(LOOK_UP)
            if process.is_alive() and not (folder / ASKED).exists():
                killed = True
                process.kill()
        with self._lock:
            if self._closed.is_set() or self._running.get(piece.kind, (None, None))[1] != process:
                return
            if not (folder / ASKED).exists():
                if not (folder / DONE).exists():
                    shutil.rmtree(folder, ignore_errors=True)
            elif not killed:
                # A killed piece that is asked for again meanwhile stays in the queue.
                if not (folder / DONE).exists() and not (folder / TROUBLE).exists():
                    write_json(folder / TROUBLE, {"words": STOPPED})
                (folder / ASKED).unlink(missing_ok=True)
            self._end_turn(piece.kind)
            self._begin_next(piece.kind)

    def _end_turn(self, kind: str) -> None:
        self._running.pop(kind)
        self._turns.leave(kind)

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
