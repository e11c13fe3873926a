"""Pads broken in one way each are named right, and correct pads are left alone.

Source: the promise of the house, 95 % named right and 2 % false at most; the breaks are made by
hand in tests/broken_pads.py, each with the rules that truly stand for it written beside it. The
table is docs/broken-pads.md.
"""

from __future__ import annotations

import pytest

from tests.broken_pads import COUNT, PAGE, correct_pads, page, tally
from tests.design_jobs import found_before_the_year


@pytest.mark.parametrize("number", range(len(correct_pads())))
def test_a_correct_pad_is_left_alone(number: int) -> None:
    assert found_before_the_year(correct_pads()[number]) == []


def test_broken_pads_are_named_right() -> None:
    table = tally()
    rows = table.values()
    assert sum(row.count for row in rows) == COUNT > 200
    assert sum(row.named for row in rows) >= 0.95 * COUNT
    assert sum(row.false for row in rows) <= 0.02 * sum(row.findings for row in rows)
    assert PAGE.read_text(encoding="utf-8") == page(table)
