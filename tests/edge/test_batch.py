"""noonwater batch: equal to single runs to the last digit, bad rows told, resumed after a kill."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import psutil
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from noonwater.app import verbs
from noonwater.app.batch_row import OF_MONTHS
from noonwater.app.compare_results import YEARLY, monthly, yearly
from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.job_option import read_option
from noonwater.app.study import study_year
from noonwater.app.text import MONTH_NAMES
from noonwater.cli.main import main
from tests.batches import BASE, HEADS, assert_same, options, read_results, worked_off, write_csv

Capture = pytest.CaptureFixture[str]


def ran(capsys: Capture, table: Path, *words: str) -> dict[str, Any]:
    code = main(["batch", str(table), *words, "--json"])
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert code == 0, told
    return told


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Options of one job and two jobs of their own, with bad rows between."""
    folder = tmp_path_factory.mktemp("mixed")
    (folder / "ranch.toml").write_text(demo_text("almond-ranch"), encoding="utf-8")
    (folder / "broken.toml").write_text("name = ", encoding="utf-8")
    rows = [
        ("", "83 °F", "", "", "first"),
        ("ranch.toml", "", "", "", ""),
        ("", "83", "", "", "no unit"),
        ("", "", "04-15", "2500 rpm", ""),
        ("broken.toml", "", "", "", ""),
        ("ranch.toml", "27 °C", "05-01", "-", ""),
        ("", "", "", "9000 rpm", "too fast"),
    ]
    heads = ("job", "pool.target", "pool.opens", "pump.solar_speed", "name")
    return write_csv(folder / "mixed.csv", rows, heads)


@pytest.fixture(scope="module")
def answered(mixed: Path) -> verbs.BatchAnswer:
    return verbs.batch(mixed, BASE, None, scheduler=None, cores=2, tell=lambda progress: None)


SINGLE = {
    1: (BASE, "pool.target=83 °F; name=first"),
    2: (FOLDER / "almond-ranch.toml", 'name="Almond Ranch"'),
    4: (BASE, "pool.opens=04-15; pump.solar_speed=2500 rpm"),
    6: (FOLDER / "almond-ranch.toml", "pool.target=27 °C; pool.opens=05-01; pump.solar_speed="),
}


@pytest.mark.parametrize("number", SINGLE)
def test_a_row_is_the_single_run_to_the_last_digit(
    answered: verbs.BatchAnswer, number: int
) -> None:
    row = read_results(answered.written[0].parent)[number - 1]
    job = read_option(*SINGLE[number])
    _, year, findings = study_year(job)
    assert (row["row"], row["done"], row["name"]) == (number, True, job.name)
    assert {name: row[name] for name in YEARLY} == yearly(year)
    for label, month in zip(MONTH_NAMES, year.months, strict=True):
        for name, value in monthly(month).items():
            assert row[f"{name}_{label.lower()}"] == value
    assert (row["closure"], row["settled_K"]) == (year.closure, year.settled)
    assert (row["inputs_hash"], row["version"]) == (year.inputs_hash, year.version)
    told = [{"rule": f.rule, "severity": f.severity, "where": f.where} for f in findings]
    assert row["findings"] == told
    assert row["faults"] == sum(finding.severity == "fault" for finding in findings)


def test_a_row_says_what_the_command_of_one_job_says(
    answered: verbs.BatchAnswer, tmp_path: Path, capsys: Capture
) -> None:
    text = demo_text("orchard-hill").replace('target = "82 °F"', 'target = "83 °F"')
    job = tmp_path / "one.toml"
    job.write_text(text, encoding="utf-8")
    assert main(["year", str(job), "--json"]) == 0
    single = json.loads(capsys.readouterr().out)["result"]
    row = read_results(answered.written[0].parent)[0]
    for name in OF_MONTHS:
        months = [row[f"{name}_{label.lower()}"] for label in MONTH_NAMES]
        assert months == [month[name] for month in single["months"]]
    for name in ("solar_heat_kWh", "pump_kWh", "pump_cost", "days_to_target", "opening_C"):
        assert row[name] == single[name]


def test_bad_rows_are_told_and_the_rest_is_done(answered: verbs.BatchAnswer) -> None:
    told = answered.to_dict()
    assert (told["rows"], told["done"], told["refused"]) == (7, 4, 3)
    assert [(each["row"], each["field"]) for each in told["refusals"]] == [
        (3, "pool.target"),
        (5, "broken.toml, line 1, column 8"),
        (7, "pump.solar_speed"),
    ]
    assert told["refusals"][0]["remedy"].startswith("write")
    (finding,) = answered.findings
    assert (finding.rule, finding.value) == ("rows-refused", "3 of 7 rows")
    rows = read_results(answered.written[0].parent)
    assert [row["done"] for row in rows] == [True, True, False, True, False, True, False]
    assert rows[2]["pool.target"] == "83"
    assert rows[2]["season_pool_C"] is None
    text = "\n".join(answered.lines("US"))
    assert "7 rows, 4 done, 3 refused" in text
    assert "row 3, pool.target: 83" in text
    assert "over the rows" in text


def test_spread_and_chart_are_of_the_rows(answered: verbs.BatchAnswer) -> None:
    rows = [row for row in read_results(answered.written[0].parent) if row["done"]]
    heat = {row["solar_heat_kWh"]: row["row"] for row in rows}
    spread = answered.to_dict()["spread"]["solar_heat_kWh"]
    assert (spread["lowest"], spread["lowest_row"]) == (min(heat), heat[min(heat)])
    assert (spread["highest"], spread["highest_row"]) == (max(heat), heat[max(heat)])
    assert min(heat) <= spread["low"] <= spread["middle"] <= spread["high"] <= max(heat)
    chart = answered.written[1].read_text(encoding="utf-8")
    assert chart.startswith("<svg")
    assert "4 of 7 rows" in chart


def test_a_finished_batch_answers_again_without_work(
    answered: verbs.BatchAnswer, mixed: Path
) -> None:
    before = answered.written[0].read_bytes()
    left = answered.written[0].parent / "parts" / "0000000.parquet"
    left.parent.mkdir()
    left.write_bytes(b"left by a kill after the last rename")
    again = verbs.batch(mixed, BASE, None, scheduler=None, cores=1, tell=lambda progress: None)
    assert (again.progress.kept, again.progress.done) == (7, 0)
    assert again.written[0].read_bytes() == before
    assert not left.parent.exists()
    assert again.to_dict()["spread"] == answered.to_dict()["spread"]


def test_parquet_gives_what_csv_gives(tmp_path: Path, capsys: Capture) -> None:
    rows = options(4)
    table = write_csv(tmp_path / "options.csv", rows)
    columns = dict(zip(HEADS, map(list, zip(*rows, strict=True)), strict=True))
    other = tmp_path / "options.parquet"
    pq.write_table(pa.table(columns), other)
    told = ran(capsys, other, "--base", str(BASE), "--cores", "1", "--out", str(tmp_path / "out"))
    assert told["result"]["done"] == 4
    assert_same(read_results(tmp_path / "out"), worked_off(table))


def started(table: Path, out: Path) -> subprocess.Popen[str]:
    words = ["batch", str(table), "--base", str(BASE), "--out", str(out), "--cores", "2"]
    source = str(Path(verbs.__file__).parents[2])
    return subprocess.Popen(
        [sys.executable, "-m", "noonwater", *words],
        env={**os.environ, "PYTHONPATH": source},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def wait_for(there: Any, seconds: float = 120.0) -> None:
    until = time.monotonic() + seconds
    while not there():
        assert time.monotonic() < until
        time.sleep(0.02)


def parts_of(out: Path) -> set[str]:
    return {path.name for path in out.glob("parts/*.parquet")}


def test_a_run_killed_and_stopped_goes_on_and_nothing_is_lost_or_doubled(
    tmp_path: Path, capsys: Capture
) -> None:
    table, out = write_csv(tmp_path / "options.csv", options(64)), tmp_path / "out"
    run = started(table, out)
    wait_for(lambda: len(parts_of(out)) >= 1 or run.poll() is not None)
    children = psutil.Process(run.pid).children(recursive=True)
    run.kill()
    run.communicate()
    first = parts_of(out)
    assert 1 <= len(first) < 14, "the kill fell into the middle of the run"
    wait_for(lambda: not any(child.is_running() for child in children))

    run = started(table, out)
    wait_for(lambda: len(parts_of(out)) > len(first) or run.poll() is not None)
    run.send_signal(signal.SIGINT)
    said = run.communicate(timeout=60.0)[1]
    assert run.returncode == 130
    assert "the same command goes on from there" in said
    assert "Traceback" not in said
    second = parts_of(out)
    assert first < second
    assert len(second) < 16

    told = ran(capsys, table, "--base", str(BASE), "--out", str(out), "--cores", "2")
    assert told["result"]["kept_from_before"] == 4 * len(second)
    assert not parts_of(out)
    assert_same(read_results(out), worked_off(table))


def refused(capsys: Capture, *words: str) -> str:
    assert main(["batch", *words]) == 2
    return capsys.readouterr().err


def test_wrong_calls_are_told(tmp_path: Path, capsys: Capture) -> None:
    table = write_csv(tmp_path / "options.csv", options(2))
    assert "--base: missing" in refused(capsys, str(table))
    assert "none of this name" in refused(capsys, str(tmp_path / "no.csv"), "--base", str(BASE))
    assert "none of this name" in refused(capsys, str(table), "--base", str(tmp_path / "no.toml"))
    wrong = write_csv(tmp_path / "wrong.csv", [("84 °F",)], ("pool.targt",))
    assert 'did you mean "target"?' in refused(capsys, str(wrong), "--base", str(BASE))
    assert "holds files that are no batch's" in refused(
        capsys, str(table), "--base", str(BASE), "--out", str(tmp_path)
    )


def test_a_changed_table_is_not_mixed_with_what_is_there(
    answered: verbs.BatchAnswer, mixed: Path, tmp_path: Path, capsys: Capture
) -> None:
    out = str(answered.written[0].parent)
    table = tmp_path / "mixed.csv"
    table.write_text(mixed.read_text(encoding="utf-8") + ",84 °F,,,\n", encoding="utf-8")
    said = refused(capsys, str(table), "--base", str(BASE), "--out", out)
    assert "holds another batch: the table differ" in said
    said = refused(capsys, str(mixed), "--base", str(FOLDER / "lagoon-court.toml"), "--out", out)
    assert "the base job differ" in said
