"""The command line as its users and their scripts meet it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from noonwater import __version__
from noonwater.app.demos import demo_text
from noonwater.cli.main import main, noonwater
from noonwater.core.errors import NotConverged
from noonwater.core.finding import Finding

HEAVY = ("numba", "numpy", "scipy", "pandas", "pvlib", "pint", "pydantic")
FINDING_KEYS = ["rule", "severity", "where", "value", "limit", "text", "source", "remedy"]


def run(*words: str, **more: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "noonwater", *words],
        check=False,
        capture_output=True,
        encoding="utf-8",
        **more,
    )


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    path = tmp_path / "wrong.toml"
    text = demo_text("lagoon-court").replace('"4.5 ft"', "4.5").replace('"84 °F"', '"84 psi"')
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("command", ["", *noonwater.commands])
def test_no_help_loads_anything_heavy(command: str) -> None:
    words = [word for word in (command, "--help") if word]
    program = (
        "import sys\nfrom noonwater.cli.main import main\n"
        f"code = main({words!r})\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)\n"
        "sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], check=False, capture_output=True, encoding="utf-8"
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr.strip() == "[]"
    assert done.stdout.startswith("Usage: noonwater")


def test_demos_and_version_load_nothing_heavy_either() -> None:
    program = (
        "import sys\nfrom noonwater.cli.main import main\nmain(['demos'])\nmain(['--version'])\n"
        f"sys.exit(any(name in sys.modules for name in {HEAVY!r}))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"noonwater {__version__}\n"


def test_the_module_runs_like_the_command() -> None:
    done = run("demos")
    assert done.returncode == 0
    assert [line.split()[0] for line in done.stdout.splitlines()] == [
        *("almond-ranch", "lagoon-court", "orchard-hill")
    ]


def test_new_says_what_it_wrote_and_what_comes_next(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "mine.toml"
    assert main(["new", str(path), "--from", "orchard-hill"]) == 0
    said = capsys.readouterr().out
    assert str(path) in said
    assert f"noonwater year {path}" in said
    assert path.read_text(encoding="utf-8") == demo_text("orchard-hill")
    assert main(["new", str(path), "--from", "lagoon-court"]) == 2
    assert "there already" in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == demo_text("orchard-hill")


def test_schema_prints_the_published_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    published = Path(__file__).parent.parent.parent / "docs" / "job.schema.json"
    assert json.loads(capsys.readouterr().out) == json.loads(published.read_text(encoding="utf-8"))


@pytest.mark.parametrize("command", ["year", "flow", "check"])
def test_bad_input_is_one_line_a_fault_and_exit_code_2(
    command: str, wrong: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, str(wrong)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    lines = said.err.strip().split("\n")
    assert [line.split(": ")[1] for line in lines] == ["pool.depth", "pool.target"]


@pytest.mark.parametrize("command", ["year", "flow", "check"])
def test_bad_input_as_json_has_the_one_shape(
    command: str, wrong: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, str(wrong), "--json"]) == 2
    shape = json.loads(capsys.readouterr().out)
    assert list(shape) == ["ok", "result", "findings", "version"]
    assert shape["ok"] is False
    assert shape["result"] is None
    assert shape["version"] == __version__
    first = shape["findings"][0]
    assert list(first) == FINDING_KEYS
    assert first["rule"] == "input"
    assert first["severity"] == "fault"
    assert first["where"] == "pool.depth"
    assert first["value"].startswith("4.5")
    assert "length" in first["limit"]
    assert first["remedy"] == 'write "4.5 ft" or "4.5 m"'


@pytest.mark.parametrize(
    "words",
    [["year", "absent.toml", "--json"], ["year", "--json"], ["yeer", "--json"],
     ["flow", "a", "b", "--json"], ["check", "--jsn", "--json"], ["new", "--json"]],
)  # fmt: skip
def test_json_is_json_whatever_is_wrong(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    shape = json.loads(capsys.readouterr().out)
    assert shape["ok"] is False
    assert shape["findings"][0]["rule"] == "input"


@pytest.mark.parametrize(
    "words", [["yeer"], ["year"], ["year", "a", "b"], ["new", "x"], ["--nope"], []]
)
def test_wrong_words_are_told_with_the_way_to_help(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    assert "Usage: noonwater" in capsys.readouterr().err


class FakeAnswer:
    """An answer with the numbers that JSON has no word for."""

    class job:  # noqa: N801
        units = "US"

    findings = (Finding("a-rule", "caution", "pump", "1", "2", "A text.", "a source", "Do it."),)

    def to_dict(self) -> dict[str, Any]:
        import numpy as np

        return {"a": float("nan"), "b": np.float64(2.5), "c": np.arange(3), "d": (1, None, "ü")}

    def lines(self, system: str) -> list[str]:
        return [f"in {system}", "34 m³/h at 29 °C"]


def test_an_answer_as_json_is_strict_json(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("noonwater.app.verbs.flow", lambda path: FakeAnswer())
    assert main(["flow", "any.toml", "--json"]) == 0
    shape = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert shape["ok"] is True
    assert shape["result"] == {"a": None, "b": 2.5, "c": [0, 1, 2], "d": [1, None, "ü"]}
    assert list(shape["findings"][0]) == FINDING_KEYS


def test_an_answer_as_text_is_in_the_job_s_units(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("noonwater.app.verbs.flow", lambda path: FakeAnswer())
    assert main(["flow", "any.toml"]) == 0
    assert capsys.readouterr().out == "in US\n34 m³/h at 29 °C\n"


def raise_bug(path: str) -> None:
    raise ZeroDivisionError("deep\ninside")


def raise_no_answer(path: str) -> None:
    raise NotConverged("The network", 0.5, "solar 2400 rpm")


def test_a_fault_of_our_own_is_said_to_be_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("noonwater.app.verbs.flow", raise_bug)
    assert main(["flow", "any.toml"]) == 1
    said = capsys.readouterr().err
    assert "fault of Noonwater, please report it: ZeroDivisionError: deep inside" in said
    assert "Traceback" not in said
    assert main(["--debug", "flow", "any.toml"]) == 1
    assert "Traceback" in capsys.readouterr().err
    assert main(["flow", "any.toml", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["findings"][0]["rule"] == "fault-of-noonwater"


def test_no_answer_is_told_apart_from_bad_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("noonwater.app.verbs.flow", raise_no_answer)
    assert main(["flow", "any.toml", "--json"]) == 3
    assert json.loads(capsys.readouterr().out)["findings"][0]["rule"] == "no-answer"


@pytest.mark.skipif(os.name == "nt", reason="pipes of another kind")
def test_a_reader_that_leaves_early_gets_no_complaint() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [sys.executable, "-m", "noonwater", "schema"],
        check=False,
        stdout=writer,
        stderr=subprocess.PIPE,
    )
    os.close(writer)
    assert done.stderr == b""
    assert done.returncode == 1


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-16"])
def test_every_console_gets_utf8(encoding: str, tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    done = run("schema", env=environment)
    assert done.returncode == 0, done.stderr
    assert "°" in done.stdout
    path = tmp_path / "Übersee ¾.toml"
    assert "Übersee ¾" in run("year", str(path), env=environment).stderr


def test_a_job_file_that_is_no_text_gets_a_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "job.toml"
    for content in (b"", b"\x00\x01", b"\xff\xfe", b"caf\xe9 = 1", b"= 3"):
        path.write_bytes(content)
        assert main(["check", str(path)]) == 2
        said = capsys.readouterr().err.splitlines()
        assert len(said) == 1
        assert said[0].startswith(f"{path}: ")
