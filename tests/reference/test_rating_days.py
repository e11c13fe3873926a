"""Daily heat of tested pool panels on half-sine days, by the bank as the year uses it.

Source: six third-party tests of plastic pool panels in a certification directory of 13 March 2007,
names removed (read); daily heat derived from them in the project's reference notes for days of 10
hours, 23, 17 and 11 MJ/m², with the inlet 5 K under (A) and over (B) the air, printed to 0.1 kWh as
ranges and to more digits row by row. Low sun's angle, wind and sky are left out there and here.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from noonwater.physics.collector import heat_of_bank
from noonwater.physics.collector_rating import (
    efficiency_from_inlet,
    loss_coefficient_from_inlet,
)

HEAT_CAPACITY = 4186.0
HOURS = 10.0
AIR = 20.0


def rows(shared: Path) -> list[dict[str, float]]:
    with (shared / "reference" / "data" / "panels_tested.csv").open() as file:
        lines = csv.DictReader(line for line in file if not line.startswith("#"))
        return [{k: float(v) for k, v in row.items() if k != "id"} for row in lines]


def heat_of_day(row: dict[str, float], mega_joule: float, excess: float) -> float:
    """Heat of a square metre over the day while it gains. [kWh]."""
    slope = -row["c1_W_m2K"]
    rate = row["flow_L_s"] / row["gross_area_m2"] * HEAT_CAPACITY
    loss = loss_coefficient_from_inlet(slope, rate)
    eta = efficiency_from_inlet(row["FRta"], slope, rate)
    peak = mega_joule * 1e6 * np.pi / 2.0 / (HOURS * 3600.0)
    middles = (np.arange(600) + 0.5) / 600.0
    suns = peak * np.sin(np.pi * middles)
    heats = [heat_of_bank(float(sun) * eta, loss, AIR + excess, AIR, rate) for sun in suns]
    return float(np.maximum(heats, 0.0).mean()) * HOURS / 1000.0


@pytest.mark.parametrize(("day", "mega_joule"), [("clear", 23.0), ("mild", 17.0), ("cloudy", 11.0)])
@pytest.mark.parametrize(("letter", "excess"), [("A", -5.0), ("B", 5.0)])
def test_day_of_each_panel(
    shared: Path, day: str, mega_joule: float, letter: str, excess: float
) -> None:
    # 0.05 kWh: the tests' second-order term, left out here, is worth up to 0.026.
    for row in rows(shared):
        found = heat_of_day(row, mega_joule, excess)
        assert found == pytest.approx(row[f"kWhm2_{letter}_{day}"], abs=0.05)


@pytest.mark.parametrize(
    ("mega_joule", "excess", "low", "high"),
    [
        (23.0, -5.0, 5.9, 6.6),
        (23.0, 5.0, 4.1, 4.8),
        (17.0, -5.0, 4.6, 5.2),
        (17.0, 5.0, 2.8, 3.3),
        (11.0, -5.0, 3.2, 3.7),
        (11.0, 5.0, 1.5, 1.9),
    ],
)
def test_printed_ranges(
    shared: Path, mega_joule: float, excess: float, low: float, high: float
) -> None:
    found = [heat_of_day(row, mega_joule, excess) for row in rows(shared)]
    assert min(found) == pytest.approx(low, abs=0.08)
    assert max(found) == pytest.approx(high, abs=0.08)
