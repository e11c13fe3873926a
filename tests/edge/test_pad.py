"""Wrong input to `noonwater pad`: said in words, with what is allowed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from noonwater.app.demos import FOLDER
from noonwater.cli.main import main

JOB = str(FOLDER / "lagoon-court.toml")


def test_a_state_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pad", JOB, "--state", "solar"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("state: 'solar'; allowed: 'off', ")
    assert "'solar 2800 rpm'" in said.err


def test_a_state_that_is_not_there_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pad", JOB, "--state", "", "--json"]) == 2
    shape = json.loads(capsys.readouterr().out)
    assert not shape["ok"]
    assert shape["findings"][0]["where"] == "state"
    assert "'off'" in shape["findings"][0]["limit"]


def test_a_folder_that_is_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    assert main(["pad", JOB, "--state", "off", "--out", str(taken)]) == 2
    said = capsys.readouterr()
    assert "--out" in said.err
    assert "a folder that can be written to" in said.err
    assert taken.read_text(encoding="utf-8") == "mine"


def test_a_state_that_is_not_there_writes_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert main(["pad", JOB, "--state", "none", "--out", str(folder)]) == 2
    assert not folder.exists()


def test_a_job_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pad", "nowhere.toml"]) == 2
    assert "nowhere.toml" in capsys.readouterr().err


def test_a_job_with_a_fault_names_its_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "wrong.toml"
    text = Path(JOB).read_text(encoding="utf-8").replace('pipe = "2 in"', 'pipe = "2.2 in"')
    job.write_text(text, encoding="utf-8")
    assert main(["pad", str(job)]) == 2
    assert "pad.pipe" in capsys.readouterr().err
