"""The rooms keep to their contracts; style and types are clean. One process for each tool."""

from __future__ import annotations

import subprocess
import sys

import pytest
from importlinter.cli import lint_imports

from tests.house import PACKAGE, REPOSITORY


def said_by(*words: str) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", *words],
        check=False,
        cwd=REPOSITORY,
        capture_output=True,
        encoding="utf-8",
    )
    return done.returncode, done.stdout + done.stderr


def test_rooms_import_only_what_they_may(capsys: pytest.CaptureFixture[str]) -> None:
    code = lint_imports(
        config_filename=str(REPOSITORY / "pyproject.toml"), no_cache=True, no_logo=True
    )
    assert code == 0, capsys.readouterr().out


def test_every_room_is_in_the_contract() -> None:
    contract = (REPOSITORY / "pyproject.toml").read_text(encoding="utf-8")
    rooms = {path.parent.name for path in PACKAGE.glob("*/__init__.py")}
    assert not {room for room in rooms if f'"noonwater.{room}"' not in contract}


def test_style_is_clean() -> None:
    code, said = said_by("ruff", "check", "--no-cache", "--output-format", "concise", ".")
    assert code == 0, said


def test_format_is_clean() -> None:
    code, said = said_by("ruff", "format", "--no-cache", "--check", ".")
    assert code == 0, said


def test_types_are_strict() -> None:
    code, said = said_by("mypy")
    assert code == 0, said
    code, said = said_by("mypy", "start.py")
    assert code == 0, said
