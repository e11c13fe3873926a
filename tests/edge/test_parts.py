"""What `noonwater parts` says, for a program, for a person and for a spreadsheet."""

from __future__ import annotations

import csv
import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from noonwater.app.demos import FOLDER, demos
from noonwater.app.parts_answer import answer_parts
from noonwater.app.parts_words import spreadsheet_safe
from noonwater.cli.main import main
from noonwater.design.parts_row import length_bought
from noonwater.model.pad_option import AddPart
from noonwater.model.plant import Period, Pump
from tests.jobs import example_job

NAMES = [demo.name for demo in demos()]
TITLES = (
    "At the pad",
    "On the roof",
    "Pipe and fittings",
    "Supports, cement",
    "Already there",
)


def path_of(name: str) -> str:
    return str(FOLDER / f"{name}.toml")


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["parts", *words, "--json"]) == 0
    shape: dict[str, Any] = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    result: dict[str, Any] = shape["result"]
    return result


@pytest.mark.parametrize("name", NAMES)
def test_parts_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    result = asked(capsys, path_of(name))
    rules = {rule["name"]: rule for rule in result["rules"]}
    for row in result["parts"]:
        assert row["quantity"] > 0
        assert row["unit"] in ("each", "m")
        assert (row["counted"] == "by rule") == (row["rule"] in rules)
        assert row["source"] == (rules[row["rule"]]["source"] if row["rule"] else None)
    # Pipe, panel, and the table of supports in both warmths.
    tables = [use["table"] for use in result["leans_on"]["catalog"]]
    assert sorted(tables) == ["panel", "pipe", "support", "support"]
    held = [p["quantity"] for p in result["parts"] if p["kind"] == "hold-down"]
    assert 0 < result["roof_penetrations"] < sum(held)
    planes = result["roof_penetrations_by_plane"]
    assert sum(sum(each.values()) for each in planes.values()) == result["roof_penetrations"]
    assert all(rule["source"] and rule["text"] for rule in rules.values())


@pytest.mark.parametrize("name", NAMES)
def test_parts_as_text(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", path_of(name)]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    assert all(title in text for title in TITLES)
    assert all(word in text for word in ("Falls", "pressure", "electrician"))
    assert not re.search(r"\b(None|nan|inf)\b", text)


@pytest.mark.parametrize("name", NAMES)
def test_the_table_holds_what_json_holds(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "new" / "folder"
    result = asked(capsys, path_of(name), "--out", str(folder))
    raw = (folder / "parts.csv").read_bytes()
    assert raw.endswith(b"\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    with (folder / "parts.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    assert [row["part"] for row in rows] == [row["part"] for row in result["parts"]]
    for cells, row in zip(rows, result["parts"], strict=True):
        assert cells["where"].split("; ") == row["where"]
        if row["unit"] == "each":
            assert cells["quantity"] == str(row["quantity"])
            continue
        metres = float(cells["quantity"]) * {"ft": 0.3048, "m": 1.0}[cells["unit"]]
        # A foot or a decimetre rounded up, and no more.
        assert -1e-6 <= metres - row["quantity"] < {"ft": 0.3048, "m": 0.1}[cells["unit"]]


def test_units_follow_the_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", path_of("orchard-hill")]) == 0
    said = capsys.readouterr().out.partition("Counted from")[0]
    assert " ft " in said
    assert not re.search(r"\d m\b", said)
    assert main(["parts", path_of("almond-ranch")]) == 0
    said = capsys.readouterr().out.partition("Counted from")[0]
    assert not re.search(r"\d ft\b", said)


def test_lengths_to_buy_are_rounded_up() -> None:
    assert length_bought(3.0, "SI") == 3.0
    assert length_bought(3.01, "SI") == 3.1
    assert length_bought(3.048, "US") == 10.0
    assert length_bought(3.05, "US") == 11.0


EVIL = [
    "=1+1",
    '=HYPERLINK("http://example.org","valve")',
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    " =1",
    "＝1",
    "\0=1",
]


@pytest.mark.parametrize("name", EVIL)
def test_no_name_becomes_a_formula(name: str, tmp_path: Path) -> None:
    assert spreadsheet_safe(name).startswith("'")
    edit = AddPart("add", "feed", "isolation valve", f"{name}")
    other = AddPart("add", "roof return", "isolation valve", 'plain "quoted", name; =2')
    job = example_job()
    job = replace(job, pad=replace(job.pad, edit=(edit, other)))
    answer_parts(job).write(tmp_path)
    with (tmp_path / "parts.csv").open(encoding="utf-8", newline="") as file:
        cells = [cell for row in csv.reader(file, strict=True) for cell in row]
    assert not [cell for cell in cells if cell.lstrip().startswith(("=", "+", "-", "@", "＝"))]
    assert any(name.replace("\0", "") in cell for cell in cells)


def test_a_harmless_name_stays_as_it_is() -> None:
    for name in ("feed drain", "2 in", "válvula 3", "a=b", ""):
        assert spreadsheet_safe(name) == name


def test_a_place_that_takes_no_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "taken").write_text("a file, no folder", encoding="utf-8")
    words = ["parts", path_of("lagoon-court"), "--json", "--out", str(tmp_path / "taken")]
    assert main(words) == 2
    assert json.loads(capsys.readouterr().out)["findings"][0]["where"] == "--out"


def test_a_program_written_in_flows_has_parts_too() -> None:
    by_speed = example_job()
    program = (Period("09:00", "17:00", flow=2.5e-3),)
    by_flow = replace(by_speed, pump=Pump("variable large", program, solar_flow=2.5e-3))
    assert answer_parts(by_flow).rows == answer_parts(by_speed).rows
