from __future__ import annotations

from datetime import date, timedelta

import pytest

from noonwater.drawing.calendar import Season, Span, day_name, month_spans

YEAR = 2003  # any year without a leap day


def day_is_open(day: date, opens: str, closes: str) -> bool:
    text = f"{day:%m-%d}"
    inside = opens <= text <= closes
    return inside if opens <= closes else not closes < text < opens


@pytest.mark.parametrize(
    ("opens", "closes"),
    [
        ("04-01", "10-31"),
        ("10-01", "04-15"),
        ("01-01", "12-31"),
        ("07-04", "07-04"),
        ("12-31", "01-01"),
        ("04-02", "04-01"),
        ("01-01", "02-28"),
        ("03-01", "12-31"),
    ],
)
def test_open_and_closed_days_after_the_standard_library(opens, closes):
    season = Season(opens, closes)
    opened = {day for span in season.open_spans for day in range(span.start, span.end)}
    closed = {day for span in season.closed_spans for day in range(span.start, span.end)}
    days = [date(YEAR, 1, 1) + timedelta(days=i) for i in range(365)]
    assert opened == {i for i, day in enumerate(days) if day_is_open(day, opens, closes)}
    assert closed == set(range(365)) - opened
    assert season.length == len(opened)


def test_months_after_the_standard_library():
    starts = [(date(YEAR, month, 1) - date(YEAR, 1, 1)).days for month in range(1, 13)]
    assert month_spans() == tuple(map(Span, starts, [*starts[1:], 365]))


def test_days_are_named_in_the_order_of_their_country():
    assert day_name("04-01", "US") == "Apr 1"
    assert day_name("12-31", "SI") == "31 Dec"
