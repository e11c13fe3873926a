"""noonwater size on the command line: one shape, text, chart, and wrong wishes told."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest

from noonwater.app.demos import FOLDER, demo_text
from noonwater.cli.main import main

HILL = str(FOLDER / "orchard-hill.toml")
Capture = pytest.CaptureFixture[str]


def faults_of(capsys: Capture, *words: str) -> list[dict[str, Any]]:
    assert main(["size", *words, "--json"]) == 2
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert told["ok"] is False
    faults: list[dict[str, Any]] = told["findings"]
    return faults


def test_one_shape_and_a_chart(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "made"
    assert main(["size", HILL, "--roof", "southeast", "--json", "--out", str(out)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["ok", "result", "findings", "version"]
    result = told["result"]
    assert [curve["cover"] for curve in result["curves"]] == ["solid", "none"]
    for curve in result["curves"]:
        counts = [point["panels"] for point in curve["points"]]
        assert counts == list(range(21))
        assert curve["points"][-1]["next_panel"] is None
        assert 0 < curve["knee_panels"] < 20
    names = {limit["name"] for limit in result["limits"]}
    assert {"roof", "pump, fewest"} <= names
    assert all(limit["reason"] for limit in result["limits"])
    drawing = ET.parse(out / "size.svg").getroot()
    assert drawing.tag == "{http://www.w3.org/2000/svg}svg"
    texts = ["".join(text.itertext()) for text in drawing.iter("{http://www.w3.org/2000/svg}text")]
    knee = result["curves"][0]["knee_panels"]
    assert f"knee: {knee} panels" in texts


def test_text_tells_answer_curve_covers_and_limits(capsys: Capture) -> None:
    assert main(["size", HILL, "--share", "65 %"]) == 0
    text = capsys.readouterr().out
    assert "At the target on 65 % of the season's 184 days: " in text
    assert "knee" in text
    assert "this job" in text
    assert "cover is worth" in text
    assert "What bounds the number of panels:" in text
    assert "roof, southeast: at most 20" in text
    assert max(len(line) for line in text.splitlines()) <= 100


@pytest.mark.parametrize(
    ("words", "field", "allowed"),
    [
        (("--target", "84"), "pool.target", "temperature"),
        (("--target", "5 °F"), "pool.target", "50 °F to 104 °F"),
        (("--months", "0-4"), "--months", '"4-10"'),
        (("--months", "spring"), "--months", '"4-10"'),
        (("--flow", "4"), "--flow", "gpm"),
        (("--flow", "900 gpm"), "--flow", "gpm"),
        (("--share", "120 %"), "--share", "100"),
        (("--budget", "lots"), "--budget", "USD"),
        (("--budget", "8000 EUR"), "--budget", "USD"),
        (("--roof", "north"), "--roof", "'southeast', 'southwest'"),
    ],
)
def test_wrong_wishes_are_told(
    capsys: Capture, words: tuple[str, ...], field: str, allowed: str
) -> None:
    (fault,) = faults_of(capsys, HILL, *words)
    assert fault["where"] == field
    assert allowed in fault["limit"]


def test_all_wrong_wishes_at_once(capsys: Capture) -> None:
    faults = faults_of(capsys, HILL, "--flow", "much", "--share", "often", "--months", "13")
    assert {fault["where"] for fault in faults} == {"--flow", "--share", "--months"}


def test_no_room_on_the_asked_plane(capsys: Capture, tmp_path: Path) -> None:
    job = tmp_path / "shed.toml"
    text = demo_text("orchard-hill").replace('width = "24 ft"', 'width = "3 ft"')
    text = text.replace('file = "demo-prices.csv"', "")
    job.write_text(text, encoding="utf-8")
    (fault,) = faults_of(capsys, str(job), "--roof", "southwest")
    assert fault["where"] == "roof[1]"
    assert "no room" in fault["value"]


def test_an_unreachable_target_says_the_most_there_is(capsys: Capture) -> None:
    assert main(["size", HILL, "--target", "86 °F", "--roof", "southeast"]) == 0
    text = capsys.readouterr().out
    assert "not here; the most is" in text
    assert main(["size", HILL, "--target", "100 °F", "--roof", "southeast"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "not here; no number of panels reaches it on any day" in text


def test_a_target_below_the_unheated_pool_needs_no_panels(capsys: Capture) -> None:
    words = ["--target", "55 °F", "--months", "6-8", "--roof", "southeast"]
    assert main(["size", HILL, *words]) == 0
    assert "days: no panels, it is that warm without solar." in capsys.readouterr().out


def test_a_folder_that_is_a_file(capsys: Capture, tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("", encoding="utf-8")
    (fault,) = faults_of(capsys, HILL, "--roof", "southeast", "--out", str(taken))
    assert fault["where"] == "--out"


def test_a_program_without_solar_is_refused(capsys: Capture, tmp_path: Path) -> None:
    job = tmp_path / "off.toml"
    text = demo_text("lagoon-court").replace('file = "demo-prices.csv"', "")
    job.write_text(text.replace("solar = true", "solar = false"), encoding="utf-8")
    (fault,) = faults_of(capsys, str(job))
    assert fault["where"] == "pump.program"


def test_every_option_that_is_wrong_is_told_at_once(capsys: Capture) -> None:
    words = ["--target", "warm", "--months", "14", "--share", "lots", "--flow", "x",
             "--budget", "cheap", "--roof", "nowhere"]  # fmt: skip
    assert main(["size", HILL, *words]) == 2
    told = capsys.readouterr().err
    for name in ("pool.target", "--months", "--share", "--flow", "--budget", "--roof"):
        assert f"{name}: " in told
    assert len(told.splitlines()) == 6
