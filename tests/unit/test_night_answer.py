"""What `noonwater night` answers: shape, words, findings."""

from __future__ import annotations

import json
from dataclasses import replace
from math import isfinite
from pathlib import Path

import pytest

from noonwater.app.demos import FOLDER, demos
from noonwater.app.job_file import read_job
from noonwater.app.night_answer import NightAnswer, answer_night
from noonwater.app.study import check_job
from noonwater.cli.main import main
from noonwater.design.night import NIGHT_CHECKS, day_text, day_words
from noonwater.model.job import Job
from noonwater.model.site import WeatherFromFile

NAMES = [demo.name for demo in demos()]
ANSWERS: dict[str, NightAnswer] = {}


def demo(name: str) -> Job:
    return read_job(FOLDER / f"{name}.toml")


def answered(name: str) -> NightAnswer:
    if name not in ANSWERS:
        ANSWERS[name] = answer_night(demo(name))
    return ANSWERS[name]


@pytest.mark.parametrize("name", NAMES)
def test_the_shape_of_the_answer(name: str) -> None:
    told = answered(name).to_dict()
    assert [month["month"] for month in told["months"]] == list(range(1, 13))
    for month in told["months"]:
        assert all(isfinite(value) for value in month.values())
        assert month["dry_panel_lowest_C"] <= month["air_lowest_C"]
        assert month["dry_panel_lowest_C"] <= month["full_panel_lowest_C"] + 1e-9
        assert month["nights_at_risk"] <= 31
    assert set(told["risk"]) >= {"known", "source", "return_period_years"}
    above = told["freezing_above_zero"]
    assert above["hours_range"][0] <= above["hours"] <= above["hours_range"][1]
    assert above["hours"] == pytest.approx(
        sum(month["dry_below_freezing_in_air_above_hours"] for month in told["months"])
    )
    if above["worst"] is not None:
        assert above["worst"]["panel_C"] < 0.0 < above["worst"]["air_C"]
        assert above["worst"]["sky_C"] < above["worst"]["panel_C"]
    assert (told["drain_by"] is None) is not told["freezes"]


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_asks_for_nothing_and_its_text_names_the_risk(name: str) -> None:
    answer = answered(name)
    assert not answer.findings
    text = " ".join("\n".join(answer.lines(answer.job.units)).split())
    assert "isk not known" in text
    assert "maker's instructions" in text
    assert "bursts" in text


def test_the_command_gives_the_one_shape(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["night", str(FOLDER / "orchard-hill.toml"), "--json"]) == 0
    shape = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    assert shape["result"]["drain_by"] is not None
    assert main(["night", "no-such-job.toml"]) == 2


def test_a_full_array_open_in_the_freezing_weeks_is_a_fault_and_the_remedy_mends_it() -> None:
    job = demo("orchard-hill")
    full = replace(job, pad=replace(job.pad, breaker="none"))
    findings = answer_night(full).findings
    assert [finding.rule for finding in findings] == ["season-freezes"]
    assert findings[0].severity == "fault"
    span = answered("orchard-hill").nights.risk.chosen.cautious
    assert span is not None
    shut = replace(full.pool, closes=day_text(span.first - 1), opens=day_text(span.last))
    assert not answer_night(replace(full, pool=shut)).findings
    late = replace(shut, closes=day_text(span.first))
    assert answer_night(replace(full, pool=late)).findings


def test_a_low_trip_is_told_and_the_higher_one_mends_it() -> None:
    job = demo("orchard-hill")
    low = replace(job, controls=replace(job.controls, freeze="circulate", freeze_trip=1.0))
    answer = answer_night(low)
    assert [finding.rule for finding in answer.findings] == ["freeze-trip-misses"]
    assert answer.nights.trips[-1].missed.any()
    sensor = replace(low.controls, freeze_trip=5.6, freeze_watch="sensor")
    watched = answer_night(replace(low, controls=sensor))
    assert watched.nights.trips[-1].watch == "sensor"
    assert not watched.nights.trips[-1].missed.any()
    # A piece of panel feels the sky: it acts in more nights than the air at the same trip.
    assert watched.nights.trips[-1].nights_acted > watched.nights.trips[0].nights_acted


def test_trapped_water_in_an_open_season_is_told() -> None:
    job = demo("orchard-hill")
    trapped = replace(
        job,
        array=replace(job.array, trapped_water=0.1),
        pool=replace(job.pool, closes="12-31"),
    )
    assert [finding.rule for finding in answer_night(trapped).findings] == ["trapped-water-freezes"]


def test_a_file_with_extremes_in_its_header_states_the_risk(shared: Path) -> None:
    file = shared / "weather" / "USA_TX_Houston-Bush.Intercontinental.AP.722430_TMY3.epw"
    job = demo("orchard-hill")
    site = replace(job.site, latitude=30.0, longitude=-95.37, elevation=29.0)
    answer = answer_night(replace(job, site=site, weather=WeatherFromFile("file", str(file))))
    risk = answer.to_dict()["risk"]
    assert risk["known"] is True
    assert risk["return_period_years"] == 10.0
    assert "ASHRAE" in risk["source"]
    # The header's coldest hour in ten years, -9.0 °C, under the file's own coldest hour, -6.1 °C.
    ten = next(row for row in risk["dates"] if row["return_period_years"] == 10.0)
    assert ten["air_shift_K"] == pytest.approx(-9.0 + 6.1, abs=0.1)
    text = "\n".join(answer.lines("US"))
    assert "one winter of 50" in text
    assert "not known" not in text


def test_rules_have_names_of_their_own() -> None:
    names = [rule.name for rule in NIGHT_CHECKS]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("day", "text", "words"),
    [(0, "01-01", "1 January"), (278, "10-06", "6 October"), (-1, "12-31", "31 December")],
)
def test_days(day: int, text: str, words: str) -> None:
    assert day_text(day) == text
    assert day_words(day) == words


def test_a_check_tells_what_the_nights_ask_for_and_each_thing_once() -> None:
    job = demo("orchard-hill")
    trapped = replace(job, array=replace(job.array, trapped_water=0.3))
    assert "trapped-water-freezes" in {finding.rule for finding in check_job(trapped)}
    standing = replace(job, pad=replace(job.pad, breaker="none"))
    rules = [finding.rule for finding in check_job(standing)]
    assert "frost-without-draining" in rules
    assert "season-freezes" not in rules, "it says the same of the season alone"
    assert "season-freezes" in {finding.rule for finding in answer_night(standing).findings}


def test_what_draining_leaves_is_told_where_the_array_drains() -> None:
    answer = answered("lagoon-court")
    job = replace(answer.job, array=replace(answer.job.array, trapped_water=0.16))
    for each, told in ((answer, False), (replace(answer, job=job), True)):
        text = " ".join("\n".join(each.lines("US")).split())
        assert "This array drains by itself at each stop" in text
        assert ("but for 16 % of its water" in text) == told
