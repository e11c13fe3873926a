"""noonwater tune on the command line: one shape, text, chart, wrong words told."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from noonwater.app.demos import FOLDER, demo_text
from noonwater.cli.main import main

COURT = str(FOLDER / "lagoon-court.toml")
RANCH = str(FOLDER / "almond-ranch.toml")
Capture = pytest.CaptureFixture[str]


def test_one_shape_and_a_chart(capsys: Capture, tmp_path: Path) -> None:
    words = ["tune", COURT, "--heat-price", "0.07 USD/kWh", "--json", "--out", str(tmp_path / "x")]
    assert main(words) == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["ok", "result", "findings", "version"]
    result = told["result"]
    assert result["handle"] == "speed"
    values = [setting["value"] for setting in result["settings"]]
    assert values == sorted(values)
    assert result["chosen"] in values
    assert result["own"] == 2800.0
    assert result["binds"] == "breaker"
    assert result["speeds_needed_rpm"]["breaker_clean"] < result["chosen"]
    assert len(result["years"]) == 2
    drawing = ET.parse(tmp_path / "x" / "tune.svg").getroot()
    texts = ["".join(text.itertext()) for text in drawing.iter("{http://www.w3.org/2000/svg}text")]
    assert f"use: {result['chosen']:,.0f} rpm" in texts


def test_text_says_the_reason_first(capsys: Capture) -> None:
    assert main(["tune", RANCH, "--heat-price", "0.05 USD/kWh"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Tune: Almond Ranch"
    assert lines[2].startswith("Set the bypass valve to ")
    assert max(len(line) for line in lines) <= 100


def test_a_job_without_a_price_of_heat_says_so(capsys: Capture, tmp_path: Path) -> None:
    job = tmp_path / "plain.toml"
    text = demo_text("lagoon-court").partition("[money]")[0]
    job.write_text(text, encoding="utf-8")
    assert main(["tune", str(job)]) == 0
    text = capsys.readouterr().out
    assert "has no price of heat" in text
    assert "money.alternatives" in " ".join(text.split())


WRONG = ("0.07", "cheap", "7 kWh", "900 USD/kWh", "-1 USD/kWh", "0.07 EUR/kWh")


@pytest.mark.parametrize("price", WRONG)
def test_a_wrong_price_is_told(capsys: Capture, price: str) -> None:
    assert main(["tune", COURT, "--heat-price", price, "--json"]) == 2
    (fault,) = json.loads(capsys.readouterr().out)["findings"]
    assert fault["where"] == "--heat-price"
    assert "USD" in fault["limit"] + fault["remedy"]
