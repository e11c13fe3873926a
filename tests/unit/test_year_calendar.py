"""Clock and calendar over the steps."""

from __future__ import annotations

import numpy as np

from noonwater.model.plant import Period
from noonwater.model.pool import Cover
from noonwater.year.calendar import (
    covered_in_step,
    forgotten_days,
    month_of_step,
    period_of_step,
    season_of_step,
)


def test_periods_by_the_middle_of_the_step() -> None:
    program = (Period("08:00", "12:00", 2000.0), Period("22:00", "02:00", 1500.0))
    day = period_of_step(program, 12)[: 24 * 12].reshape(24, 12)
    assert (day[8:12] == 0).all()
    assert (day[[22, 23, 0, 1]] == 1).all()
    assert (day[2:8] == -1).all()
    assert (day[12:22] == -1).all()


def test_a_season_over_the_years_end() -> None:
    days = season_of_step("10-01", "04-15", 1).reshape(365, 24)
    assert days[0].all()
    assert days[104].all(), "15 April itself is in season"
    assert not days[105].any()
    assert not days[272].any()
    assert days[273].all(), "1 October"


def test_one_day_and_all_year() -> None:
    assert season_of_step("06-01", "06-01", 1).sum() == 24
    assert season_of_step("01-01", "12-31", 1).all()


def test_cover_by_hours_and_months() -> None:
    cover = Cover("bubble", "20:00", "08:00", (1, 12), forgotten=0)
    on = covered_in_step(cover, 2)
    month = month_of_step(2)
    assert on[(month > 0) & (month < 11)].sum() == 0
    assert on[month == 0].sum() == 31 * 24
    assert covered_in_step(Cover(), 12).sum() == 0


def test_months_have_their_days() -> None:
    assert (
        np.bincount(month_of_step(1))
        == 24 * np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    ).all()


def test_a_cover_only_when_the_evening_is_cold() -> None:
    air = np.repeat(np.where(np.arange(365) % 2 == 0, 10.0, 25.0), 24)
    cover = Cover("bubble", "20:00", "08:00", only_below=15.0, forgotten=0)
    on = covered_in_step(cover, 1, air).reshape(365, 24)
    assert on[2, 20:].all()
    assert on[3, :8].all(), "the night that began on a cold evening"
    assert not on[3, 20:].any()
    assert not on[4, :8].any()


def test_forgotten_one_day_in_so_many() -> None:
    for one_in in (2, 3, 7, 10, 30):
        days = np.flatnonzero(forgotten_days(1.0 / one_in))
        assert abs(len(days) - 365 / one_in) <= 2.0
        assert np.diff(days).max() <= 3 * one_in, "no long stretch without one"
    assert not forgotten_days(0.0).any()
    assert (forgotten_days(0.1) <= forgotten_days(0.3)).all(), "a worse habit forgets these too"


def test_an_untold_habit_forgets_one_night_in_ten_and_zero_none() -> None:
    never = covered_in_step(Cover("bubble", forgotten=0), 1)
    untold = covered_in_step(Cover("bubble"), 1)
    np.testing.assert_array_equal(untold, covered_in_step(Cover("bubble", forgotten=10), 1))
    assert 0.88 < untold.sum() / never.sum() < 0.92
    open_hours = np.flatnonzero(np.diff((never - untold).astype(int), prepend=0) == 1)
    assert set(open_hours[1:] % 24) == {20}, "a whole night is forgotten, not two halves"
