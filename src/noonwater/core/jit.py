"""Compilation: the same function is plain Python for readers and tests, machine code in the loop.

Three decorators and no switches:

- ``formula`` leaves a physics function as it is; compiled code that calls it compiles it too.
- ``inlined`` does the same for a part of a loop and puts it into the loop instead of calling it.
- ``compiled`` makes a loop or a solver into machine code, kept in a writable cache.

The cache folder's name holds a hash of the source that a loop's module reaches by its imports.
numba itself looks only at the file of the outermost function, so a change in a formula that a
cached loop calls would go unseen.
"""

from __future__ import annotations

import hashlib
import os
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

F = TypeVar("F", bound=Callable[..., Any])

PACKAGE = Path(__file__).parent.parent
ENGINE = "noonwater.year.loop"
"""The module whose compilation a newcomer waits for."""

_IMPORT = re.compile(
    r"^\s*(?:from|import) (noonwater\.[\w.]+)(?: import (\([^)]*\)|[^\n#]*))?", re.M
)


def formula(function: F) -> F:
    """Mark a scalar physics function: Python when called from Python, compiled inside a loop."""
    from numba.extending import register_jitable

    plain: F = register_jitable(function)
    return plain


def inlined(function: F) -> F:
    """Mark a part of a loop: as `formula`, but never called, so that taking it out costs nothing.

    A call hands on each float and array of a named tuple by itself; left to the compiler, the
    year's loop took half as long again.
    """
    from numba.extending import register_jitable

    plain: F = register_jitable(forceinline=True)(function)
    return plain


def compiled(function: F) -> F:
    """Compile a loop on its first call and keep the machine code for the next process."""
    import numba

    with _numba_cache_at(engine_cache(function.__module__)):
        loop: F = numba.njit(cache=True, nogil=True, error_model="numpy")(function)
    return loop


def compiled_loop(function: F) -> F:
    """Compile as `compiled` a loop that makes no array of its own, and count no references in it.

    Handing a named tuple of arrays to a part of the loop then costs nothing.
    """
    import numba

    with _numba_cache_at(engine_cache(function.__module__)):
        loop: F = numba.njit(cache=True, nogil=True, error_model="numpy", _nrt=False)(function)
    return loop


@cache
def engine_cache(module: str = ENGINE) -> Path:
    """Folder of a compiled module for exactly its source, this numba and this user."""
    import numba
    import platformdirs

    digest = hashlib.sha256(numba.__version__.encode())
    for source in sorted(reached_sources(module)):
        digest.update(source.read_bytes())
    name = f"engine-{module.removeprefix('noonwater.')}-{digest.hexdigest()[:16]}"
    wanted = os.environ.get("NOONWATER_CACHE") or platformdirs.user_cache_dir("noonwater")
    for parent in (Path(wanted), Path(tempfile.gettempdir()) / "noonwater"):
        folder = parent / name
        try:
            folder.mkdir(parents=True, exist_ok=True)
            (folder / ".writable").touch()
        except OSError:
            continue
        return folder
    raise OSError(f"no writable place for the compiled engine: tried {wanted} and the temp folder")


def reached_sources(module: str) -> set[Path]:
    """Files of the package that a module reaches by its imports, itself included."""
    found: set[Path] = set()
    waiting = [module]
    while waiting:
        path = _file_of(waiting.pop())
        if path is None or path in found:
            continue
        found.add(path)
        for name, names in _IMPORT.findall(path.read_text(encoding="utf-8")):
            waiting.append(name)
            waiting += [f"{name}.{each}" for each in re.findall(r"\w+", names or "")]
    return found


def engine_is_compiled() -> bool:
    """Whether a process before this one has already compiled the year's loop."""
    return (engine_cache() / "compiled").exists()


def note_engine_compiled() -> None:
    """Say to later processes that the year's loop lies compiled in the cache."""
    (engine_cache() / "compiled").touch()


def _file_of(module: str) -> Path | None:
    if not module.startswith("noonwater."):
        file = getattr(sys.modules.get(module), "__file__", None)
        return Path(file) if file else None
    base = PACKAGE.joinpath(*module.split(".")[1:])
    for path in (base.with_suffix(".py"), base / "__init__.py"):
        if path.is_file():
            return path
    return None


@contextmanager
def _numba_cache_at(folder: Path) -> Iterator[None]:
    # numba reads the setting when a function is decorated; others' numba caches stay untouched.
    from numba import config

    before = config.CACHE_DIR
    config.CACHE_DIR = str(folder)
    try:
        yield
    finally:
        config.CACHE_DIR = before


@contextmanager
def counting_compiled(count: Callable[[], None]) -> Iterator[None]:
    """Tell of each function that this process compiles, those inside others too.

    Parameters
    ----------
    count : callable
        Called once a function.
    """
    from numba.core import event

    class Counter(event.Listener):  # type: ignore[misc,unused-ignore]
        def on_start(self, event: object) -> None:
            pass

        def on_end(self, event: object) -> None:
            count()

    listener = Counter()
    event.register("numba:compile", listener)
    try:
        yield
    finally:
        event.unregister("numba:compile", listener)
