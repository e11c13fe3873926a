"""The compiled engine's cache follows the source that a loop really reaches."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from noonwater.core import jit


def test_the_loop_reaches_its_formulas_and_not_the_command_line() -> None:
    names = {path.relative_to(jit.PACKAGE).as_posix() for path in jit.reached_sources(jit.ENGINE)}
    assert {"year/loop.py", "year/balance.py", "physics/evaporation.py", "physics/air.py"} <= names
    assert not any(name.startswith(("cli/", "app/", "drawing/")) for name in names)


def test_an_unwritable_place_gives_way_to_the_temp_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    blocked = tmp_path / "a file, not a folder"
    blocked.write_text("")
    monkeypatch.setenv("NOONWATER_CACHE", str(blocked))
    jit.engine_cache.cache_clear()
    folder = jit.engine_cache()
    jit.engine_cache.cache_clear()
    assert folder.is_dir()
    assert blocked not in folder.parents


def test_the_cache_lies_where_it_is_asked_to(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("NOONWATER_CACHE", os.fspath(tmp_path))
    jit.engine_cache.cache_clear()
    folder = jit.engine_cache()
    jit.engine_cache.cache_clear()
    assert folder.parent == tmp_path
