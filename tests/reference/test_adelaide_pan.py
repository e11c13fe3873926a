"""Class A pan at Adelaide as a closed energy balance; the table of decision 0003.

Source: Bureau of Meteorology, Kent Town, Adelaide, March 2001 to August 2004, through an open
package of evaporation models (read; test data only, never copied here). The set-up is in
evaporation_comparison.py and holds nothing fitted. Tolerances set before the first run: total
within 10 %, mean absolute error 12 mm a month of 40 to 201, correlation above 0.98.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from noonwater.physics.evaporation import evaporation_coefficient
from tests.reference.evaporation_comparison import (
    FORMULAS,
    markdown,
    pan_months,
    pan_score,
    read_pan,
    table,
)

DECISION = Path(__file__).parents[2] / "docs" / "decisions" / "0003-evaporation.md"


def test_observed_months_are_those_of_the_notes(shared: Path) -> None:
    # V-E25: mean January 201.4 mm, mean July 43.9 mm, total 4597 mm.
    observed = read_pan(shared / "reference" / "data")[1]
    months = {m: [v for k, v in observed.items() if k % 12 == m] for m in (0, 6)}
    assert sum(months[0]) / len(months[0]) == pytest.approx(201.4, abs=0.05)
    assert sum(months[6]) / len(months[6]) == pytest.approx(43.9, abs=0.05)
    assert sum(observed.values()) == pytest.approx(4597.0, abs=0.5)
    assert len(observed) == 42


def test_default_predicts_the_pan(shared: Path) -> None:
    weather, observed = read_pan(shared / "reference" / "data")
    months = pan_months(
        lambda u, v, tw, ta, pw, pa, p: evaporation_coefficient(u, tw, ta, pw, pa, p), weather
    )
    score = pan_score(months, observed)
    assert score.ratio == pytest.approx(1.0, abs=0.10)
    assert score.error <= 12.0
    assert score.correlation > 0.98


def test_decision_prints_the_table_of_today(shared: Path) -> None:
    rows = table(shared / "reference" / "data")
    assert set(rows) == set(FORMULAS)
    text = DECISION.read_text(encoding="utf-8")
    for line in markdown(rows):
        assert line in text
