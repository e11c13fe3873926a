"""The set-up script: what it says when something is missing, without touching the network."""

from __future__ import annotations

import ast
import importlib.util
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.house import REPOSITORY

SCRIPT = REPOSITORY / "start.py"


@pytest.fixture
def start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """The script as a module, its house moved to an empty folder."""
    spec = importlib.util.spec_from_file_location("start", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "HOUSE", tmp_path)
    monkeypatch.setattr(module, "VENV", tmp_path / ".venv")
    for name in ("pyproject.toml", "constraints.txt", "tools/house_build.py"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(name)
    return module


def done(code: int, said: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.CompletedProcess([], code, said)


def test_an_old_python_can_read_it_and_is_told(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ast.parse(SCRIPT.read_text(encoding="utf-8"), feature_version=(3, 8))
    monkeypatch.setattr(sys, "version_info", (3, 10, 4))
    assert start.main([]) == 2
    assert "Python 3.11 or newer" in capsys.readouterr().out


def test_it_imports_the_standard_library_only() -> None:
    tree = ast.parse(SCRIPT.read_text(encoding="utf-8"))
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import)
             for alias in node.names}  # fmt: skip
    names |= {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert names <= set(sys.stdlib_module_names)


def test_another_word_is_told(start: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert start.main(["tests"]) == 2
    assert "start.py test" in capsys.readouterr().out


def test_serve_sets_up_and_opens_the_desk(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[list[str]] = []
    monkeypatch.setattr(start, "set_up", lambda extra: Path(f"python{extra}"))
    monkeypatch.setattr(start, "run", lambda words: asked.append(words) or 0)
    assert start.main(["serve", "--port", "8600"]) == 0
    assert asked == [["python", "-m", "noonwater", "serve", "--port", "8600"]]


@pytest.mark.parametrize(("name", "ending"), [("start.bat", b"\r\n"), ("start.command", b"\n")])
def test_a_double_click_serves(name: str, ending: bytes) -> None:
    raw = (REPOSITORY / name).read_bytes()
    assert b"start.py serve" in raw
    lines = raw.split(b"\n")[:-1]
    assert all(line.endswith(b"\r") == (ending == b"\r\n") for line in lines)


@pytest.mark.skipif(sys.platform == "win32", reason="a shell script")
def test_the_mac_s_double_click_runs_start_py_beside_it(tmp_path: Path) -> None:
    house = tmp_path / "a house"
    house.mkdir()
    (house / "start.command").write_bytes((REPOSITORY / "start.command").read_bytes())
    (house / "start.py").write_text("import sys; print(sys.argv[1:])", encoding="utf-8")
    told = subprocess.run(
        ["sh", str(house / "start.command"), "--quiet"], capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == "['serve', '--quiet']"


def test_packages_are_installed_once_and_again_when_the_pins_change(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / ".venv").mkdir()
    asked: list[list[str]] = []
    monkeypatch.setattr(start, "works", lambda python: True)
    monkeypatch.setattr(start, "quietly", lambda words: asked.append(words) or done(0, "3.11"))

    def installs() -> list[str]:
        targets = [words[-1] for words in asked if "install" in words]
        asked.clear()
        return targets

    start.set_up("")
    assert installs() == ["."]
    start.set_up("")
    assert installs() == []
    start.set_up("test")
    assert installs() == [".[test]"]
    start.set_up("")
    assert installs() == []
    (tmp_path / "constraints.txt").write_text("numpy==2.0.0")
    start.set_up("")
    assert installs() == ["."]


def test_the_tests_packages_are_enough_for_the_program(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / ".venv").mkdir()
    asked: list[list[str]] = []
    monkeypatch.setattr(start, "works", lambda python: True)
    monkeypatch.setattr(start, "quietly", lambda words: asked.append(words) or done(0, "3.11"))
    start.set_up("test")
    start.set_up("")
    assert [words[-1] for words in asked if "install" in words] == [".[test]"]


@pytest.mark.parametrize(
    ("said", "remedy"),
    [
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("NameResolutionError(...)\nERROR: No matching distribution found", "check the network"),
        ("ERROR: No matching distribution found for numba==0.68.1", "Use Python 3.11"),
        ("PermissionError: Permission denied", "can't be written"),
        ("something new", "could not install"),
    ],
)
def test_pip_s_complaint_is_put_in_words(
    start: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    said: str,
    remedy: str,
) -> None:
    (start.VENV).mkdir()
    monkeypatch.setattr(start, "works", lambda python: True)
    monkeypatch.setattr(start, "quietly", lambda words: done(1 if "install" in words else 0, said))
    assert start.main([]) == 1
    told = capsys.readouterr().out
    assert remedy in told
    assert said.splitlines()[-1] in told


def test_a_python_without_venv_is_told_what_to_install(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    assert start.main([]) == 1
    told = capsys.readouterr().out
    assert "ensurepip is missing" in told
    assert f"python{sys.version_info.major}.{sys.version_info.minor}-venv" in told


def test_browser_tests_are_named_when_left_out(
    start: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
) -> None:
    folder = tmp_path / "tests" / "browser"
    folder.mkdir(parents=True)
    (folder / "test_page.py").touch()
    ran: list[tuple[list[str], dict[str, str]]] = []
    monkeypatch.setattr(start, "set_up", lambda extra: Path("python"))
    monkeypatch.setattr(start, "run", lambda words, more: ran.append((words, more)) or 5)
    monkeypatch.setattr(start, "find_chromium", lambda: "")
    monkeypatch.setattr(start, "install_chromium", lambda: "")
    assert start.main(["test", "-k", "word"]) == 5
    assert ran[0][0][-4:] == ["-m", "not browser", "-k", "word"]
    assert "test_page.py" in capsys.readouterr().out
    monkeypatch.setattr(start, "find_chromium", lambda: "/somewhere/chromium")
    assert start.main(["test"]) == 5
    assert ran[1] == (["python", "-m", "pytest"], {"NOONWATER_CHROMIUM": "/somewhere/chromium"})


def test_a_named_browser_comes_first_and_a_broken_one_is_passed_over(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    good, broken = tmp_path / "good", tmp_path / "broken"
    for path, code in ((good, 0), (broken, 1)):
        path.write_text(f"#!/bin/sh\nexit {code}\n")
        path.chmod(0o755)
    monkeypatch.setattr(start, "usual_places", lambda: [str(tmp_path / "go*")])
    monkeypatch.setattr(start, "WINDOWS", False)
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    for named in (good, broken, tmp_path / "absent"):
        monkeypatch.setenv("NOONWATER_CHROMIUM", str(named))
        assert start.find_chromium() == str(good)
    good.unlink()
    assert start.find_chromium() == ""


@pytest.mark.parametrize("system", ["linux", "darwin"])
def test_usual_places_are_whole_paths(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, system: str
) -> None:
    monkeypatch.setattr(start, "WINDOWS", False)
    monkeypatch.setattr(sys, "platform", system)
    assert all(place[0] in "/~" for place in start.usual_places())


def test_usual_places_on_windows(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start, "WINDOWS", True)
    monkeypatch.setenv("ProgramFiles", r"C:\Program Files")
    assert r"C:\Program Files\Chromium\Application\chrome.exe" in start.usual_places()


def test_nothing_is_installed_without_leave(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(start.os, "geteuid", lambda: 1000, raising=False)
    monkeypatch.setattr(start, "quietly", pytest.fail)
    assert start.install_chromium() == ""


def test_ci_calls_the_readme_s_command() -> None:
    text = (REPOSITORY / ".ci" / "run").read_text(encoding="utf-8")
    assert "python3 start.py test" in text
    assert "python3 start.py test" in (REPOSITORY / "README.md").read_text(encoding="utf-8")
