"""Six answers: what job they make, how a place is found, what a wrong answer is told."""

from __future__ import annotations

import pytest

from noonwater.app.six_questions import first_job, place_at, questions
from noonwater.climate.stations import station_table
from noonwater.core.errors import InputError


def test_there_are_six_and_their_defaults_make_a_job_in_either_system() -> None:
    for units in ("US", "SI"):
        assert len(questions(units)) == 6  # type: ignore[arg-type]
        _, job = first_job({"units": units})
        assert job.array.panels == 8
        assert job.units == units


def test_bare_numbers_have_the_unit_of_the_form_and_others_their_own() -> None:
    _, job = first_job({"units": "US", "area": "500", "depth": "1.5 m", "target": "29 °C"})
    assert job.pool.area == pytest.approx(46.4515, abs=1e-3)
    assert (job.pool.depth, job.pool.target) == (1.5, pytest.approx(29.0))


def test_answers_reach_the_job() -> None:
    answers = {
        "place": "36.62, -119.55",
        "cover": "bubble",
        "opens": "05-01",
        "closes": "09-30",
        "bearing": "225",
        "pitch": "6:12",
        "panels": "23",
        "panel": "sheet 4x10",
        "pump": "single medium",
        "name": "Pine Street",
    }
    _, job = first_job(answers)
    assert (job.name, job.pool.cover.kind, job.pump.pump) == (
        "Pine Street",
        "bubble",
        "single medium",
    )
    assert [bank.panels for bank in job.array.banks] == [8, 8, 7]
    assert {bank.panel for bank in job.array.banks} == {"sheet 4x10"}
    assert (job.roof[0].bearing, round(job.roof[0].pitch, 2)) == (225.0, 26.57)
    assert (job.site.latitude, job.site.longitude) == (36.62, -119.55)
    assert job.pump.program[0].speed == 3450.0


@pytest.mark.parametrize("text", ["Fresno, CA", "fresno ca", "FRESNO yosemite"])
def test_a_place_is_found_by_words_of_a_station_s_name(text: str) -> None:
    table = station_table()
    number = table.place.index("Fresno Yosemite Intl Ap, CA")
    assert place_at(text)[:2] == (table.latitude[number], table.longitude[number])


def test_stations_of_one_town_are_one_place() -> None:
    assert place_at("Miami, FL")[0] == pytest.approx(25.8, abs=0.2)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Atlantis", "no station"),
        ("springfield", "stations:"),
        ("48.2, 16.4", "no weather station within 200 km"),
        ("95, 400", "no weather station"),
        ("", "Fresno"),
    ],
)
def test_a_place_that_is_not_found_is_told(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as told:
        place_at(text)
    assert told.value.faults[0].field == "place"


def test_every_wrong_answer_is_told_at_its_question() -> None:
    wrong = {
        "place": "Atlantis",
        "area": "big",
        "target": "200",
        "opens": "13-01",
        "pitch": "steep",
        "panels": "many",
        "pump": "of my own",
    }
    with pytest.raises(InputError) as told:
        first_job(wrong)
    named = {fault.field for fault in told.value.faults}
    assert {"place", "area", "target", "pitch", "panels"} <= named
    with pytest.raises(InputError) as again:
        first_job({"opens": "13-01", "pump": "of my own"})
    assert {fault.field for fault in again.value.faults} <= {"opens", "closes", "pump"} | {
        "pool",
        "pool.opens",
    }
