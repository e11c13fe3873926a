"""The owner's sheet says what year, ranges and nights say, in the units of the job."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.core.units import System
from noonwater.document.block import Figure, Paper, Points, Schedule
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.owner import open_days, open_months, owner_paper
from noonwater.model.job import Job
from tests.papers import CODES, DEMOS, material, text_of


def shown(temp: float, system: System) -> str:
    return f"{temp * 1.8 + 32.0:.0f}" if system == "US" else f"{temp:.0f}"


def paper(found: Material) -> Paper:
    return owner_paper(found, language_of("en", "US"))


def points(found: Material) -> str:
    blocks = paper(found).blocks
    return " ".join(item for each in blocks if isinstance(each, Points) for item in each.items)


def with_job(demo: str, **changes: object) -> Material:
    found = material(demo)
    job: Job = replace(found.job, **changes)  # type: ignore[arg-type]
    return replace(found, job=job)


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("system", ["US", "SI"])
def test_the_season_and_every_whole_month_stand_as_reckoned(
    demo: str, code: str, system: System
) -> None:
    found, text = material(demo), text_of("owner", demo, code, system)
    to = {"en": "to", "es": "a"}[code]
    unit = {"US": "°F", "SI": "°C"}[system]
    ranges = [found.sureness.season_pool]
    ranges += [
        found.sureness.pool[month - 1]
        for month in open_months(found)
        if len(open_days(found, month)) >= 28
    ]
    assert len(ranges) > 3
    for span in ranges:
        low, high = shown(span.low, system), shown(span.high, system)
        assert (f" {low} {to} {high} {unit}" if low != high else f" {low} {unit}") in text


@pytest.mark.parametrize("demo", DEMOS)
def test_a_month_s_row_comes_from_its_open_days(demo: str) -> None:
    found = material(demo)
    table = next(each for each in paper(found).blocks if isinstance(each, Schedule))
    assert len(table.rows) == len(open_months(found))
    without = found.year.pool_without_solar.reshape(-1, 24)
    for row, month in zip(table.rows, open_months(found), strict=True):
        days = open_days(found, month)
        hours = found.year.months[month - 1].solar_time / 3600.0 / len(days)
        assert float(row[4]) == pytest.approx(hours, abs=0.051)
        assert row[3] == f"{shown(float(np.mean(without[days])), 'US')} °F"


def test_a_season_over_the_year_s_end_begins_with_its_first_month() -> None:
    job = material("lagoon-court").job
    found = with_job("lagoon-court", pool=replace(job.pool, opens="10-20", closes="03-05"))
    assert open_months(found) == [10, 11, 12, 1, 2, 3]
    assert [len(open_days(found, month)) for month in open_months(found)] == [12, 30, 31, 31, 28, 5]


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_frost_has_the_nights_dates(demo: str, code: str) -> None:
    found, text = material(demo), text_of("owner", demo, code, "US")
    span = found.nights.risk.chosen.cautious
    word = {"en": "drain before the evening", "es": "vaciar antes de la noche"}[code]
    assert (word in text) == (span is not None)


def test_bubbles_are_told_by_what_the_breaker_does() -> None:
    found = material("orchard-hill")
    assert "mean that air gets in" in points(found)
    solar = found.solar_state
    assert solar is not None
    drawing = tuple(
        replace(state, breaker="open") if state.name == solar.name else state
        for state in found.flow.states
    )
    airy = replace(found, flow=replace(found.flow, states=drawing))
    assert "as long as solar runs" in points(airy)
    assert "mean that air gets in" not in points(airy)


def test_on_and_off_follow_the_controls() -> None:
    job = material("orchard-hill").job
    timer = with_job("orchard-hill", controls=replace(job.controls, kind="timer"))
    hand = with_job("orchard-hill", pad=replace(job.pad, arrangement="hand diverter"))
    assert "works by itself" in points(material("orchard-hill"))
    assert "A timer sends" in points(timer)
    assert "turn the diverter's handle to solar" in points(hand)


@pytest.mark.parametrize("action", ["none", "circulate", "drain"])
def test_the_freeze_action_is_told(action: str) -> None:
    job = material("orchard-hill").job
    found = with_job("orchard-hill", controls=replace(job.controls, freeze=action))
    told = {"none": "does nothing", "circulate": "push pool water", "drain": "opens the array"}
    assert told[action] in points(found)


def test_the_picture_says_its_ranges_to_those_who_can_t_see_it() -> None:
    found = material("orchard-hill")
    figure = next(each for each in paper(found).blocks if isinstance(each, Figure))
    july = found.sureness.pool[6]
    assert f"Jul {shown(july.low, 'US')} to {shown(july.high, 'US')} °F" in figure.alt
