"""Six answers: what job they make, how a place is found, what a wrong answer is told."""

from __future__ import annotations

import pytest

from noonwater.app.six_place import place_at
from noonwater.app.six_questions import first_job, questions
from noonwater.climate.stations import station_table
from noonwater.core.errors import InputError
from noonwater.model.site import WeatherFromMonths, WeatherRough


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


MUNICH = {
    "units": "SI",
    "place": "48.14, 11.58",
    "air": "-0.3, 0.8, 4.7, 8.9, 13.3, 16.8, 18.7, 18.2, 14.2, 9.4, 4.2, 0.9",
    "rain": "48, 43, 60, 66, 97, 120, 130, 120, 85, 75, 62, 60",
    "sun": "1.1, 1.9, 3.1, 4.5, 5.3, 5.7, 5.7, 4.8, 3.5, 2.1, 1.2, 0.9",
}
"""Monthly means of public climate tables, from memory."""


def test_a_town_abroad_is_told_by_its_months() -> None:
    _, job = first_job(MUNICH)
    weather = job.weather
    assert isinstance(weather, WeatherFromMonths)
    assert (job.site.latitude, job.site.longitude, weather.utc_offset) == (48.14, 11.58, 3600.0)
    assert weather.sun[6] == pytest.approx(5.7 * 3.6e6)
    assert weather.air[0] == pytest.approx(-0.3)
    below = [air - dew for air, dew in zip(weather.air, weather.dew_point, strict=True)]
    assert all(0.0 < each < 10.0 for each in below)


def test_nearer_to_the_equator_rain_tells_the_sun() -> None:
    _, job = first_job({**MUNICH, "place": "−34.92, 138.62", "sun": ""})
    assert isinstance(job.weather, WeatherRough)
    assert job.weather.rain[5] == pytest.approx(0.12)
    months = {"air": ", ".join(["70"] * 12), "rain": "85 mm, " + ", ".join(["2"] * 11)}
    _, inches = first_job({"units": "US", "place": "-34.92 138.62", **months})
    assert isinstance(inches.weather, WeatherRough)
    assert inches.weather.air[0] == pytest.approx(21.111, abs=1e-2)
    assert inches.weather.rain[:2] == (pytest.approx(0.085), pytest.approx(0.0508, abs=1e-4))


@pytest.mark.parametrize(
    ("answers", "field", "said"),
    [
        ({"sun": ""}, "sun", "nothing at latitude 48.14"),
        ({"rain": ""}, "rain", "nothing"),
        ({"air": "1, 2, 3"}, "air", "3 months"),
        ({"air": ", ".join(["warm"] * 12)}, "air", "warm"),
        ({"rain": ", ".join(["-5"] * 12)}, "rain", "0 mm to 2500 mm"),
        ({"place": "Munich"}, "place", "latitude and longitude"),
        ({"place": "98, 11"}, "place", "98, 11"),
        ({"air": "", "rain": "", "sun": ""}, "place", "the town’s months"),
    ],
)
def test_what_is_missing_abroad_is_told_at_its_field(
    answers: dict[str, str], field: str, said: str
) -> None:
    with pytest.raises(InputError) as told:
        first_job({**MUNICH, **answers})
    assert field in {fault.field for fault in told.value.faults}
    assert said in str(told.value)


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
