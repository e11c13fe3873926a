"""The first answer: its stated range holds what the full survey finds, and says something."""

from __future__ import annotations

import random
import tomllib
from copy import deepcopy

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.first_answer import (
    FirstAnswer,
    FirstRange,
    first_answer,
    first_range,
)
from noonwater.app.first_open import open_fields, put
from noonwater.app.job_file import job_text, read_job_tables, read_job_text
from noonwater.app.six_questions import first_job
from noonwater.model.job import Job

SIX = {
    "lagoon-court": {
        "units": "US",
        "place": "25.82, -80.30",
        "area": "420",
        "depth": "4.5",
        "cover": "bubble",
        "target": "84",
        "opens": "01-01",
        "closes": "12-31",
        "bearing": "180",
        "pitch": "4:12",
        "panels": "9",
        "panel": "tube 4x12",
        "pump": "variable medium",
    },
    "almond-ranch": {
        "units": "SI",
        "place": "36.62, -119.55",
        "area": "54",
        "depth": "1.6",
        "cover": "none",
        "target": "28",
        "opens": "04-01",
        "closes": "10-31",
        "bearing": "195",
        "pitch": "14",
        "panels": "12",
        "panel": "tube 4x10",
        "pump": "single medium",
    },
    "orchard-hill": {
        "units": "US",
        "place": "36.10, -79.95",
        "area": "512",
        "depth": "5",
        "cover": "solid",
        "target": "82",
        "opens": "04-15",
        "closes": "10-15",
        "bearing": "150",
        "pitch": "8:12",
        "panels": "12",
        "panel": "sheet 4x10",
        "pump": "variable large",
    },
}
"""Six answers as an owner gives them over the telephone, of each demo house."""


def of_demo(name: str) -> tuple[Job, FirstRange]:
    _, six = first_job(SIX[name])
    return six, first_range(six)


def inside(answer: FirstAnswer, stated: FirstRange) -> dict[str, bool]:
    assert answer.clear_day is not None
    assert answer.season_water is not None
    assert answer.days_at_target is not None
    assert answer.solar_heat is not None
    return {
        "clear day": stated.clear_day.holds(answer.clear_day),
        "water": stated.season_water.holds(answer.season_water),
        "days": stated.days_at_target.holds(answer.days_at_target),
        "heat": stated.solar_heat.holds(answer.solar_heat),
    }


@pytest.mark.parametrize("name", list(SIX))
def test_the_full_survey_moves_the_answer_only_inside_its_range(name: str) -> None:
    six, stated = of_demo(name)
    full = read_job_text(demo_text(name))
    every = {"clear day": True, "water": True, "days": True, "heat": True}
    assert inside(first_answer(six), stated) == every
    assert inside(first_answer(full), stated) == every
    # The weather of two demos is another source's year than the one that the answers found.
    assert stated.season_water.high - stated.season_water.low < 5.0


def test_the_range_says_something_of_this_job_and_not_of_every_job() -> None:
    _, stated = of_demo("almond-ranch")
    _, bare = first_job({**SIX["almond-ranch"], "panels": "2"})
    _, covered = first_job({**SIX["almond-ranch"], "cover": "foam", "target": "34"})
    assert not stated.solar_heat.holds(first_answer(bare).solar_heat or 0.0)
    assert not stated.clear_day.holds(first_answer(bare).clear_day or 0.0)
    assert not stated.season_water.holds(first_answer(covered).season_water or 0.0)


def test_surveys_drawn_another_way_lie_inside_nine_times_in_ten() -> None:
    six, stated = of_demo("orchard-hill")
    tables, chance = tomllib.loads(job_text(six)), random.Random(3)
    found = []
    for _ in range(12):
        drawn = deepcopy(tables)
        for each in open_fields(six):
            put(drawn, each.field, chance.choice(each.found))
        found.append(inside(first_answer(read_job_tables(drawn)), stated)["water"])
    assert sum(found) >= 10
