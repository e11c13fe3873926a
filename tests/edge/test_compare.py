"""noonwater compare: what differs in two jobs, what it moves, and wrong calls told."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from noonwater.app.compare_inputs import changes_between
from noonwater.app.compare_results import MONTHLY, YEARLY
from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.job_file import read_job, read_job_text
from noonwater.app.job_option import read_option
from noonwater.cli.main import main
from noonwater.core.errors import InputError

HILL = str(FOLDER / "orchard-hill.toml")
Capture = pytest.CaptureFixture[str]


def answered(capsys: Capture, *words: str) -> dict[str, Any]:
    assert main(["compare", *words, "--json"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


@pytest.fixture(scope="module")
def shaped(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """One comparison of a demo job with one without most of its panels, as a program reads it."""
    import contextlib
    import io

    words = "array.banks[0].panels=2; pool.target=80 °F; money.electricity=0.26 USD/kWh"
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert main(["compare", HILL, "--with", words, "--json"]) == 0
    told: dict[str, Any] = json.loads(out.getvalue())
    return told


def test_one_stable_shape(shaped: dict[str, Any]) -> None:
    assert list(shaped) == ["ok", "result", "findings", "version"]
    assert shaped["ok"] is True
    result = shaped["result"]
    assert list(result) == ["jobs", "changes", "differences"]
    assert [job["label"] for job in result["jobs"]] == ["A", "B"]
    for job in result["jobs"]:
        assert [month["month"] for month in job["months"]] == list(range(1, 13))
        assert list(job["year"]) == list(YEARLY)
        assert job["closure"] < 1e-6
    quantities = [(row["quantity"], row["month"]) for row in result["differences"]]
    months = [(quantity, month) for quantity in MONTHLY for month in range(1, 13)]
    assert quantities == [*months, *((quantity, None) for quantity in YEARLY), ("findings", None)]


def test_changes_name_field_and_both_values_in_the_jobs_units(shaped: dict[str, Any]) -> None:
    assert shaped["result"]["changes"] == [
        {"job": "B", "field": "pool.target", "from": "82 °F", "to": "80 °F"},
        {"job": "B", "field": "array.banks[0].panels", "from": "8", "to": "2"},
        {
            "job": "B",
            "field": "money.electricity",
            "from": "0.13 USD/kWh",
            "to": "0.26 USD/kWh",
        },
    ]


def test_differences_are_those_of_the_two_answers(shaped: dict[str, Any]) -> None:
    first, other = shaped["result"]["jobs"]
    for row in shaped["result"]["differences"][:-1]:
        if row["month"] is None:
            expected = first["year"][row["quantity"]], other["year"][row["quantity"]]
        else:
            at = row["month"] - 1
            expected = tuple(job["months"][at][row["quantity"]] for job in (first, other))
        assert (row["from"], row["to"]) == expected
        assert row["change"] == pytest.approx(row["to"] - row["from"])
    moved = {row["quantity"]: row["change"] for row in shaped["result"]["differences"][60:-1]}
    assert moved["solar_heat_kWh"] < 0.0, "fewer panels bring less"
    findings = shaped["result"]["differences"][-1]
    assert findings["change"] == findings["to"] - findings["from"]
    assert findings["to"] - findings["from"] == len(findings["new"]) - len(findings["gone"])
    assert {"rule", "where", "text"} == {key for row in findings["new"] for key in row} or not (
        findings["new"]
    )


def test_a_job_beside_itself_moves_nothing(capsys: Capture) -> None:
    result = answered(capsys, HILL, HILL)["result"]
    assert result["changes"] == []
    assert {row["change"] for row in result["differences"]} == {0}
    assert main(["compare", HILL, HILL]) == 0
    assert "B says the same as A." in capsys.readouterr().out


def test_jobs_of_other_units_and_long_lists_keep_to_the_page(
    capsys: Capture, tmp_path: Path
) -> None:
    text = demo_text("almond-ranch").replace(
        "[money]", '[money]\nhouse_use = ["620 kWh", "640 kWh", "600 kWh", "560 kWh", "500 kWh",'
        ' "520 kWh", "700 kWh", "720 kWh", "610 kWh", "560 kWh", "580 kWh", "630 kWh"]'
    )  # fmt: skip
    job = tmp_path / "ranch.toml"
    job.write_text(text, encoding="utf-8")
    assert main(["compare", str(job), HILL]) == 0
    lines = capsys.readouterr().out.splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith("changed in B"))
    changes = lines[start : lines.index("", start)]
    assert all(len(line) <= 100 for line in changes)
    assert any(line.split() == ["pool.target", "28", "°C", "27.778", "°C"] for line in changes)
    assert any(line.startswith("money.house_use in B: 900 kWh, 820 kWh") for line in changes)


def test_each_price_is_told_in_its_own_jobs_currency() -> None:
    text = demo_text("almond-ranch")
    euro = read_job_text(text.replace("USD", "EUR"))
    found = {each.field: each for each in changes_between(read_job_text(text), euro)}
    assert list(found) == ["money.currency"], "the same amounts"
    dear = read_job_text(text.replace("USD", "EUR").replace("0.32 EUR", "0.35 EUR"))
    found = {each.field: each for each in changes_between(read_job_text(text), dear)}
    price = found["money.electricity"]
    assert (price.before, price.after) == ("0.32 USD/kWh", "0.35 EUR/kWh")


def test_the_table_a_person_reads(capsys: Capture) -> None:
    assert main(["compare", HILL, "--with", "controls.sensor=return well"]) == 0
    text = capsys.readouterr().out
    lines = text.splitlines()
    assert lines[0].startswith("A  Orchard Hill")
    assert any(
        line.split() == ["controls.sensor", "panel", "piece", "return", "well"] for line in lines
    )
    assert "Jan" in text and "solar heat, kWh" in text
    assert any(line.startswith("new in B: The sensor") for line in lines)
    assert all(len(line) <= 100 for line in lines[2:])


def test_other_weather_is_told(capsys: Capture) -> None:
    told = answered(capsys, HILL, str(FOLDER / "lagoon-court.toml"))
    assert [finding["rule"] for finding in told["findings"]] == ["compared-under-other-weather"]
    fields = {change["field"] for change in told["result"]["changes"]}
    assert {"name", "weather.year", "site.latitude"} <= fields


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([HILL], "2 to 10 jobs"),
        ([HILL, HILL, "--with", "pool.target=84 °F"], "one job with options"),
        ([HILL, "--with", "pool.target"], "fields with new values"),
        ([HILL, "--with", " ; "], "fields with new values"),
        ([HILL, "--with", "pool.taget=84 °F"], 'did you mean "target"'),
        ([HILL, "--with", "pool.target=84"], "pool.target"),
        ([HILL, "--with", "pump.program[7].speed=1500 rpm"], "no such place"),
        ([HILL, "--with", "pump.program[0].speed="], "one of the two"),
        ([HILL, "nowhere.toml"], "none of this name"),
        ([HILL] * 11, "2 to 10 jobs"),
    ],
)
def test_a_wrong_call_is_told(words: list[str], told: str, capsys: Capture) -> None:
    assert main(["compare", *words]) == 2
    assert told in capsys.readouterr().err
    assert main(["compare", *words, "--json"]) == 2
    shape = json.loads(capsys.readouterr().out)
    assert shape["ok"] is False
    assert told in json.dumps(
        [finding["text"] for finding in shape["findings"]], ensure_ascii=False
    ).replace('\\"', '"')


def test_faults_of_all_jobs_at_once(tmp_path: Path, capsys: Capture) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(demo_text("orchard-hill").replace('"82 °F"', '"82 ft"'), encoding="utf-8")
    worse = tmp_path / "worse.toml"
    worse.write_text(
        demo_text("orchard-hill").replace("panels = 8", "panels = 0"), encoding="utf-8"
    )
    assert main(["compare", str(bad), str(worse)]) == 2
    told = capsys.readouterr().err
    assert "bad.toml: pool.target" in told
    assert "worse.toml: array.banks[0].panels" in told


def test_an_option_sets_adds_and_takes_out(tmp_path: Path) -> None:
    job = read_option(
        HILL,
        "pump.solar_speed=; pump.solar_flow=40 gpm; controls.least_run=5 min;"
        " pool.cover.months=[5, 6]; array.banks[1].panels=2; pad.sight_windows=true",
    )
    assert job.pump.solar_speed is None
    assert job.pump.solar_flow == pytest.approx(40 * 6.30902e-5, rel=1e-5)
    assert job.controls.least_run == 300.0
    assert job.pool.cover.months == (5, 6)
    assert job.array.banks[1].panels == 2
    fields = [change.field for change in changes_between(read_job(HILL), job)]
    assert fields == [
        "pool.cover.months",
        "array.banks[1].panels",
        "pad.sight_windows",
        "pump.solar_speed",
        "pump.solar_flow",
        "controls.least_run",
    ]


def test_a_table_that_is_not_there_is_made(tmp_path: Path) -> None:
    path = tmp_path / "bare.toml"
    path.write_text(demo_text("orchard-hill").partition("[money]")[0], encoding="utf-8")
    job = read_option(path, "money.currency=EUR; money.electricity=0.3 EUR/kWh")
    assert job.money.currency == "EUR"


def test_lists_of_other_lengths_are_told_item_by_item() -> None:
    text = demo_text("orchard-hill")
    start = text.index("[[array.banks]]")
    first, second = text.index("[[array.banks]]", start + 1), text.index("[pad]")
    shorter = read_job_text(text[:first] + text[second:])
    changes = changes_between(read_job_text(text), shorter)
    assert {change.field for change in changes} >= {"array.banks[1].roof", "array.banks[1].panels"}
    assert all(change.after is None for change in changes)


def test_an_option_never_touches_the_file() -> None:
    before = Path(HILL).read_bytes()
    with pytest.raises(InputError):
        read_option(HILL, "pool.target=wet")
    assert Path(HILL).read_bytes() == before
