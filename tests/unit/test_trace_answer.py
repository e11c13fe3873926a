"""What `noonwater trace` says, for a program and for a person."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from noonwater.app.demos import FOLDER, demos
from noonwater.app.trace_words import grouped, volume
from noonwater.cli.main import main

NAMES = [demo.name for demo in demos()]
WORDS = {"carries", "full", "drained", "trapped", "dry"}


def path_of(name: str) -> str:
    return str(FOLDER / f"{name}.toml")


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["trace", *words, "--json"]) == 0
    shape: dict[str, Any] = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    result: dict[str, Any] = shape["result"]
    return result


@pytest.mark.parametrize("name", NAMES)
def test_a_trace_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    result = asked(capsys, path_of(name))
    for state in result["states"]:
        assert {part["water"] for part in state["parts"]} <= WORDS
        litres = [part["litres"] for part in state["parts"]]
        assert sum(litres) == pytest.approx(state["litres"])
        trapped = [p["litres"] for p in state["parts"] if p["water"] == "trapped"]
        assert sum(trapped) == pytest.approx(state["trapped_litres"])
    assert result["trapped_litres"] == result["states"][0]["trapped_litres"]
    for key in ("winterize", "reopen", "service"):
        for step in result[key]:
            assert step["do"]
            assert step["see"]
            assert step["floods"] == step["deadheads"] == []
    assert result["winterize"][0]["action"] == "stop"
    assert result["winterize"][-1]["pump_rpm"] == 0
    left = sum(entry["litres"] for entry in result["winterize_left"])
    assert left == pytest.approx(result["winterize_litres_left"])
    assert result["reopen"][-1]["pump_rpm"] > 0


@pytest.mark.parametrize("name", NAMES)
def test_a_trace_as_text(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trace", path_of(name)]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    for head in ("To winterize", "To reopen", "To shut the array off", "scalds"):
        assert head in text
    assert not re.search(r"\b(None|nan|inf)\b", text)


def test_one_state_only(capsys: pytest.CaptureFixture[str]) -> None:
    result = asked(capsys, path_of(NAMES[0]), "--state", "off")
    assert [state["name"] for state in result["states"]] == ["off"]
    assert main(["trace", path_of(NAMES[0]), "--state", "off"]) == 0
    assert "To winterize" not in capsys.readouterr().out


def test_a_part_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    words = (path_of("orchard-hill"), "--without", "filter check valve")
    change = asked(capsys, *words)["without"]
    assert change["part"] == "filter check valve"
    assert any(f["part"] == "filter" and f["backward"] for f in change["new_backflow"])
    assert all(cost["head_m"] > 0 for cost in change["cost"])
    assert main(["trace", *words]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "backward through filter" in text
    assert "it costs" in text


@pytest.mark.parametrize(
    ("option", "value", "near"),
    [("--state", "solr", "solar"), ("--without", "filtr check valve", "did you mean")],
)
def test_a_name_that_is_not_there_is_refused(
    option: str, value: str, near: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trace", path_of(NAMES[0]), option, value]) == 2
    said = capsys.readouterr().err
    assert value in said
    assert near in said


def test_panels_of_a_bank_are_told_in_one_piece() -> None:
    names = ["feed", "bank 1 panel 1", "bank 1 panel 2", "bank 1 panel 3", "bank 2 panel 4"]
    assert grouped(names) == "feed, bank 1 panels 1 to 3, bank 2 panel 4"
    assert grouped(["bank 1 panel 1", "bank 1 panel 3"]) == "bank 1 panels 1, 3"


def test_a_volume_in_the_jobs_units() -> None:
    # 1 US gallon = 3.785411784 L, exact (NIST SP 811).
    assert volume(37.85411784, "US") == "10 gal"
    assert volume(3.785411784, "US") == "1.0 gal"
    assert volume(37.85411784, "SI") == "38 L"
