"""Compilation: the same function is plain Python for readers and tests, machine code in the loop.

Two decorators and no switches:

- ``formula`` leaves a physics function as it is; compiled code that calls it compiles it too.
- ``compiled`` makes a loop or a solver into machine code, kept in a writable cache.

The cache folder's name holds a hash of the engine's source. numba itself looks only at the file of
the outermost function, so a change in a formula that a cached loop calls would go unseen.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

F = TypeVar("F", bound=Callable[..., Any])

COMPILED_ROOMS = ("core", "physics", "climate", "hydraulics", "year")


def formula(function: F) -> F:
    """Mark a scalar physics function: Python when called from Python, compiled inside a loop."""
    from numba.extending import register_jitable

    plain: F = register_jitable(function)
    return plain


def compiled(function: F) -> F:
    """Compile a loop on its first call and keep the machine code for the next process."""
    import numba

    with _numba_cache_at(engine_cache()):
        loop: F = numba.njit(cache=True, error_model="numpy")(function)
    return loop


@cache
def engine_cache() -> Path:
    """Folder of the compiled engine for exactly this source, this numba and this user."""
    import numba
    import platformdirs

    package = Path(__file__).parent.parent
    digest = hashlib.sha256(numba.__version__.encode())
    for room in COMPILED_ROOMS:
        for source in sorted((package / room).glob("*.py")):
            digest.update(source.read_bytes())
    name = f"engine-{digest.hexdigest()[:16]}"
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


def engine_is_compiled() -> bool:
    """Whether a process before this one has already compiled the engine."""
    return (engine_cache() / "compiled").exists()


def note_engine_compiled() -> None:
    """Say to later processes that the engine lies compiled in the cache."""
    (engine_cache() / "compiled").touch()


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
