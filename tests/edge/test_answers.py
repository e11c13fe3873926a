"""What the commands answer for the demo jobs, as a program and as a person reads it."""

from __future__ import annotations

import csv
import json
import re
from math import isfinite
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from noonwater.app.demos import FOLDER, demos
from noonwater.app.job_file import read_job
from noonwater.app.text import finding_lines
from noonwater.cli.main import main

NAMES = [demo.name for demo in demos()]
MONTH = {
    *("month", "pool_C", "pool_without_solar_C", "hours_at_target", "solar_heat_kWh", "pump_kWh")
}
STATE = {"name", "rpm", "flow_m3h", "array_flow_m3h", "head_m", "power_W", "breaker"}


def path_of(name: str) -> str:
    return str(FOLDER / f"{name}.toml")


SAID: dict[tuple[str, ...], str] = {}


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command prints; one that only answers is asked once."""
    if words not in SAID:
        assert main([*words]) == 0
        SAID[words] = capsys.readouterr().out
    return SAID[words]


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    shape: dict[str, Any] = json.loads(told(capsys, *words, "--json"), parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    assert shape["ok"] is True
    for finding in shape["findings"]:
        assert finding["rule"] != "input"
        assert finding["severity"] in ("fault", "caution")
        assert finding["text"]
        assert finding["remedy"]
    return shape


@pytest.mark.parametrize("name", NAMES)
def test_a_year_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    result = asked(capsys, "year", path_of(name))["result"]
    assert [month["month"] for month in result["months"]] == list(range(1, 13))
    for month in result["months"]:
        assert set(month) >= MONTH
        assert all(isfinite(month[key]) for key in MONTH)
        assert -5 < month["pool_C"] < 45
        assert 0 <= month["hours_at_target"] <= 744
    assert abs(result["closure"]) <= 1e-6


@pytest.mark.parametrize("command", ["flow", "trace", "year"])
def test_an_answer_says_what_it_leans_on(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    leans = asked(capsys, command, path_of("lagoon-court"))["result"]["leans_on"]
    rows = leans["catalog"]
    assert leans["rows"] == len(rows) > 5
    assert 0 < leans["rows_from_memory"] == sum(row["memory"] for row in rows) < len(rows)
    assert all(row["source"] and row["name"] for row in rows)
    # Litres lean on what the vessels hold, a flow does not.
    assert any(row["table"] == "vessel" for row in rows) == (command == "trace")
    text = told(capsys, command, path_of("lagoon-court")).splitlines()
    (line,) = (line for line in text if line.startswith("Sources: "))
    counts = f"{len(rows)} rows of the catalog, {leans['rows_from_memory']} of them with figures"
    assert counts in line


@pytest.mark.parametrize("name", NAMES)
def test_a_flow_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    states = asked(capsys, "flow", path_of(name))["result"]["states"]
    for state in states:
        assert set(state) >= STATE
    assert states[0]["name"] == "off"
    assert states[0]["power_W"] == 0
    assert states[0]["array_flow_m3h"] == pytest.approx(0, abs=1e-6)
    program = read_job(path_of(name)).pump.program
    assert {period.speed for period in program} <= {state["rpm"] for state in states}
    solar = [state for state in states if state["name"].startswith("solar")]
    assert all(0 < state["array_flow_m3h"] <= state["flow_m3h"] + 1e-9 for state in solar)
    # Rough sizes of a domestic pool pump at the wire: common practice, no source.
    assert all(30 < state["power_W"] < 4000 for state in states[1:])


@pytest.mark.parametrize("name", NAMES)
def test_a_check_counts_what_it_finds(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    shape = asked(capsys, "check", path_of(name))
    faults = [entry for entry in shape["findings"] if entry["severity"] == "fault"]
    assert shape["findings"][: len(faults)] == faults
    assert not faults, "a demo job is a start that can be built"


@pytest.mark.parametrize("command", ["year", "flow", "check"])
def test_text_begins_with_the_findings(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, command, path_of("lagoon-court")).splitlines()
    assert re.fullmatch(r"To do \(\d+\)|Nothing to mend was found.*\.", lines[0])
    assert all(len(line) <= 100 for line in lines if not line.startswith(("Sources", "Not mea")))


def test_an_answer_about_a_part_does_not_say_that_all_is_well() -> None:
    assert finding_lines(()) == [
        "Nothing to mend was found here; noonwater check looks at the whole design."
    ]
    assert finding_lines((), whole=True) == ["Nothing to mend was found."]


def test_units_follow_the_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert " gpm" in told(capsys, "flow", path_of("lagoon-court"))
    said = told(capsys, "flow", path_of("almond-ranch"))
    assert " m³/h" in said
    assert " gpm" not in said


def test_a_year_with_its_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "new" / "folder"
    assert main(["year", path_of("orchard-hill"), "--out", str(folder)]) == 0
    said = capsys.readouterr().out
    written = {path.suffix: path for path in folder.iterdir()}
    assert set(written) == {".csv", ".svg"}
    assert all(f"wrote {path}" in said for path in written.values())
    with written[".csv"].open(encoding="utf-8", newline="") as file:
        assert len(list(csv.reader(file))) == 8761
    root = ElementTree.fromstring(written[".svg"].read_text(encoding="utf-8"))
    assert root.tag.endswith("svg")


def test_a_place_that_takes_no_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "taken").write_text("a file, no folder", encoding="utf-8")
    words = ["year", path_of("lagoon-court"), "--json", "--out", str(tmp_path / "taken")]
    assert main(words) == 2
    assert json.loads(capsys.readouterr().out)["findings"][0]["where"] == "--out"
