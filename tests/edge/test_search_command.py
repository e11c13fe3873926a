"""noonwater search on the command line: shape, text, chart, job files, wrong numbers, ending."""

from __future__ import annotations

import json
import signal
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from noonwater.app.compare_inputs import changes_between
from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.job_file import read_job, with_files_from
from noonwater.app.search_answer import answer_search
from noonwater.cli.main import main
from noonwater.cli.told import ended_by_hand
from noonwater.model.site import WeatherFromFile

COURT = str(FOLDER / "lagoon-court.toml")
Capture = pytest.CaptureFixture[str]


def test_one_shape_chart_and_job_files(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "x"
    assert main(["search", COURT, "--tries", "60", "--json", "--out", str(out)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["ok", "result", "findings", "version"]
    result = told["result"]
    assert result["judged"] == 60
    assert not result["stopped"]
    options = result["options"]
    assert [option["letter"] for option in options] == list("ABCDEF")[: len(options)]
    for option in options:
        assert option["bounds"]
        assert option["changes"]
        assert not set(option["cautions"]) - set(result["cautions_of_the_job"])
        job = read_job(out / f"option-{option['letter']}.toml")
        assert (out / job.money.offer.file).samefile(FOLDER / "demo-prices.csv")
        assert {bank.roof for bank in job.array.banks} == set(option["panels"])
        fields = {change.field for change in changes_between(read_job(COURT), job)}
        assert {change["field"] for change in option["changes"]} <= fields
    drawing = ET.parse(out / "search.svg").getroot()
    texts = {"".join(text.itertext()) for text in drawing.iter("{http://www.w3.org/2000/svg}text")}
    assert {option["letter"] for option in options} <= texts


def test_option_files_name_their_files_and_prices_as_they_are_there(tmp_path: Path) -> None:
    job = read_job(FOLDER / "almond-ranch.toml")
    there = tmp_path / "jobs"
    there.mkdir()
    weather = WeatherFromFile("file", str(there / "w.tmy3"))
    told = replace(job, weather=weather)
    assert with_files_from(told, there, tmp_path) == told, "a whole path is kept"
    offer = replace(job.money.offer, installed=None, file="own.csv")
    near = replace(
        job,
        weather=replace(weather, file="jobs/w.tmy3"),
        money=replace(job.money, offer=offer),
    )
    moved = with_files_from(near, Path("jobs"), Path("jobs/options"))
    assert moved.money.offer.file == str(Path("../own.csv"))
    assert isinstance(moved.weather, WeatherFromFile)
    assert moved.weather.file == str(Path("../w.tmy3"))


@pytest.fixture
def one_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """Judge in this process: that several give the very same is shown elsewhere."""
    monkeypatch.setattr("noonwater.app.search_pool.os.cpu_count", lambda: 1)


@pytest.mark.usefixtures("one_core")
def test_text_has_the_options_side_by_side_and_as_it_stands(capsys: Capture) -> None:
    assert main(["search", COURT, "--tries", "50", "--seed", "3"]) == 0
    text = capsys.readouterr().out
    assert "50 options judged with seed 3" in text
    assert "as it stands" in text
    assert "bound: " in text
    assert max(len(line) for line in text.splitlines()) <= 100


@pytest.mark.parametrize(
    ("words", "field"),
    [(("--tries", "3"), "--tries"), (("--seed", "-4"), "--seed"),
     (("--prices", "nowhere.csv"), "price list")],
)  # fmt: skip
def test_wrong_words_are_told(capsys: Capture, words: tuple[str, ...], field: str) -> None:
    assert main(["search", COURT, *words, "--json"]) == 2
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert field in {finding["where"] for finding in findings}


def test_words_that_are_no_numbers_are_refused_by_the_command(capsys: Capture) -> None:
    assert main(["search", COURT, "--seed", "x", "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["ok"] is False


def test_the_first_stop_ends_the_search_and_the_second_the_program() -> None:
    with ended_by_hand() as going:
        assert going()
        signal.raise_signal(signal.SIGINT)
        assert not going()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


@pytest.mark.usefixtures("one_core")
def test_no_valid_option_is_told_with_its_reason(tmp_path: Path) -> None:
    job = tmp_path / "high.toml"
    text = demo_text("lagoon-court").replace('file = "demo-prices.csv"', "")
    job.write_text(text.replace('eave_height = "9 ft"', 'eave_height = "90 ft"'), encoding="utf-8")
    answer = answer_search(job, tries=50)
    result = answer.to_dict()
    assert result["options"] == []
    assert result["valid"] == 0
    assert "no-setting-to-use" in result["broken"]
    told = " ".join(" ".join(answer.lines("US")).split())
    assert "No option is valid under every check" in told
    assert "because no pump speed or valve setting may be used" in told
    late = replace(answer, refused=2, refused_by=(("frost-without-draining", 2),))
    told = " ".join(" ".join(late.lines("US")).split())
    assert "2 were refused in the end, by 'frost-without-draining'. Mend first" in told
    assert late.to_dict()["refused_by"] == {"frost-without-draining": 2}
    warm = " ".join(" ".join(replace(answer, bare=0.0).lines("US")).split())
    assert "at its target on every day of the season without solar" in warm


def test_no_room_for_a_panel_is_told(capsys: Capture, tmp_path: Path) -> None:
    job = tmp_path / "narrow.toml"
    text = demo_text("lagoon-court").replace('file = "demo-prices.csv"', "")
    for width in ("36 ft", "28 ft"):
        text = text.replace(f'width = "{width}"', 'width = "3 ft"')
    job.write_text(text, encoding="utf-8")
    assert main(["search", str(job), "--json"]) == 2
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert finding["where"] == "roof"
