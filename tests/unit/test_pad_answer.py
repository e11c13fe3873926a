"""What `noonwater pad` says and writes, for a program and for a person."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from noonwater.app.demos import FOLDER, demos
from noonwater.app.pad_answer import answer_pad
from noonwater.cli.main import main
from tests.drawn_pads import PADS

NAMES = [demo.name for demo in demos()]
HOLDS = {"carries", "full", "trapped", "empty"}
ARRANGED = [
    "plain",
    "hand-set bypass",
    "pool with raised spa",
    "isolation valves and drains",
    "everything",
]


def path_of(name: str) -> str:
    return str(FOLDER / f"{name}.toml")


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert main(["pad", *words, "--json"]) == 0
    shape: dict[str, Any] = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    result: dict[str, Any] = shape["result"]
    return result


@pytest.mark.parametrize("name", ARRANGED)
def test_a_program_can_follow_the_water(name: str) -> None:
    for state in answer_pad(PADS[name]()).to_dict()["states"]:
        names = {part["name"] for part in state["parts"]}
        assert set(state["order"]) == names
        net = dict.fromkeys(names, 0.0)
        open_to_air = {p["name"] for p in state["parts"] if p["kind"] in _AIRY}
        banks = {panel["name"]: p["name"] for p in state["parts"] for panel in p.get("panels", ())}
        for pipe in state["pipes"]:
            assert pipe["holds"] in HOLDS
            assert pipe["direction"] != "none" or pipe["holds"] != "carries"
            flow = pipe["flow_m3h"] * {"forward": 1, "backward": -1, "none": 0}[pipe["direction"]]
            ends = [pipe[end]["part"] for end in ("from", "to")]
            start, stop = (banks.get(end, end) for end in ends)
            net[start] -= flow
            net[stop] += flow
        assert {n for n, flow in net.items() if abs(flow) > 0.01} <= open_to_air


_AIRY = ("pool", "spa", "drain", "vacuum breaker", "suction cleaner", "pressure cleaner")


@pytest.mark.parametrize("name", ARRANGED)
def test_a_program_finds_everything_on_the_sheets(name: str) -> None:
    for state in answer_pad(PADS[name]()).to_dict()["states"]:
        for form, sheet in state["sheets"].items():
            for part in state["parts"]:
                x, y = part["at"][form]
                assert 0 < x < sheet["width"]
                assert 0 < y < sheet["height"]
            for pipe in state["pipes"]:
                assert all(0 < x < sheet["width"] for x, _ in pipe["on"][form])
                assert all(0 < y < sheet["height"] for _, y in pipe["on"][form])


@pytest.mark.parametrize("name", NAMES)
def test_a_pad_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    result = asked(capsys, path_of(name))
    assert main(["flow", path_of(name), "--json"]) == 0
    flow = json.loads(capsys.readouterr().out)["result"]
    assert [state["name"] for state in result["states"]] == [s["name"] for s in flow["states"]]
    for state, solved in zip(result["states"], flow["states"], strict=True):
        parts = {part["name"]: part for part in state["parts"]}
        assert parts["pump"]["flow_m3h"] == pytest.approx(solved["flow_m3h"], abs=1e-6)
        over = sum(part["flow_m3h"] for part in state["parts"] if part["kind"] == "bank")
        assert over == pytest.approx(solved["array_flow_m3h"], abs=1e-3)
        numbers = [part["number"] for part in state["parts"] if part.get("number")]
        assert sorted(numbers) == list(range(1, len(numbers) + 1))
        assert {part["holds"] for part in state["parts"]} <= HOLDS


@pytest.mark.parametrize("name", NAMES)
def test_a_pad_as_text(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pad", path_of(name)]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    assert "Electrical work" in text
    assert not re.search(r"\b(None|nan|inf)\b|-0\.0\b", text)
    solar = text[text.index("solar ") :]
    places = [solar.index(f"\n  {part} ") for part in ("pump", "filter", "diverter", "bank 1")]
    assert places == sorted(places)


def test_one_state_alone(capsys: pytest.CaptureFixture[str]) -> None:
    (state,) = asked(capsys, path_of("lagoon-court"), "--state", "off")["states"]
    assert state["name"] == "off"
    assert {pipe["direction"] for pipe in state["pipes"]} == {"none"}


def test_two_drawings_of_every_state_are_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "drawings of it"
    assert main(["pad", path_of("lagoon-court"), "--out", str(folder)]) == 0
    told = [line for line in capsys.readouterr().out.splitlines() if line.startswith("wrote ")]
    files = sorted(folder.iterdir())
    assert sorted(told) == [f"wrote {path}" for path in files]
    assert {path.name for path in files} >= {
        "pad-off-wide.svg",
        "pad-off-narrow.svg",
        "pad-solar-2800-rpm-wide.svg",
        "pad-solar-2800-rpm-narrow.svg",
    }
    for path in files:
        root = ElementTree.parse(path).getroot()
        width = float(root.get("viewBox", "").split()[2])
        assert width == 390.0 if path.stem.endswith("narrow") else width >= 1188.0


def test_json_stays_json_while_files_are_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["pad", path_of("lagoon-court"), "--state", "off", "--out", str(tmp_path), "--json"]
    assert main(words) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["ok"]
    assert said.err.count("wrote ") == len(list(tmp_path.iterdir())) == 2
