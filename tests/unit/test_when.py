"""Times and days as people write them: read to the same, written in one form."""

from __future__ import annotations

import tomllib

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_edit import Change, merged, read_typed
from noonwater.model.when import day_of_year, minutes_of, plain_day, plain_time


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("08:00", 480), ("8:00", 480), ("8am", 480), ("8 AM", 480), ("5:30 p.m.", 1050),
        ("12 am", 0), ("12:15 AM", 15), ("12 pm", 720), ("24:00", 1440),
    ],
)  # fmt: skip
def test_a_time_is_read_and_written_in_one_form(typed: str, minutes: int) -> None:
    assert minutes_of(typed, "start") == minutes
    assert minutes_of(plain_time(typed), "start") == minutes


@pytest.mark.parametrize("typed", ["13 pm", "0 am", "25:00", "8", "8:5 pm", "8:60 am", "", "am"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match="allowed: a time of day"):
        minutes_of(typed, "start")


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("04-15", "04-15"), ("4-5", "04-05"), ("April 15", "04-15"), ("15 April", "04-15"),
        ("Apr. 15", "04-15"), ("15. apr", "04-15"), ("Sept 3", "09-03"), ("may 1", "05-01"),
    ],
)  # fmt: skip
def test_a_day_is_read_and_written_in_one_form(typed: str, plain: str) -> None:
    assert plain_day(typed) == plain
    assert day_of_year(typed, "opens") == day_of_year(plain, "opens")


@pytest.mark.parametrize("typed", ["4/5", "Feb 29", "jun 31", "ma 3", "ju 3", "April", "15"])
def test_what_is_no_day_or_may_be_two_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match="allowed: month and day"):
        day_of_year(typed, "opens")


def test_a_job_holds_the_one_form_and_its_file_what_was_typed() -> None:
    tables = tomllib.loads(demo_text("lagoon-court"))
    changes = [
        Change("pump.program[0].start", "8:15 am"),
        Change("pool.opens", "April 1"),
        Change("pool.closes", "31 Oct"),
    ]
    after = merged(tables, tables, changes).tables
    job, _, faults = read_typed(after, tables)
    assert faults == ()
    assert job.pump.program[0].start == "08:15"
    assert (job.pool.opens, job.pool.closes) == ("04-01", "10-31")
    assert after["pool"]["opens"] == "April 1"
