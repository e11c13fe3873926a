"""Two measured days of an uncovered collector.

Source: HTW Saar, uncovered hybrid module with rear insulation, 1.66 m², tilt 45°; Jonas, Theis and
Frey, Solar Energy 193, 2019, 51-64, data and ISO 9806:2013 coefficients through an open
building-physics library (read). Two-minute data; the first six rows repeat a warm-up value. The
measured long-wave irradiance was faulty, so it is computed here. Tolerances set beforehand: energy
within 12 %, mean absolute error 50 W.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from noonwater.physics.air import dew_point, vapour_pressure_at_humidity
from noonwater.physics.collector import collector_heat_quasi_dynamic, irradiance_modified
from noonwater.physics.collector_rating import iam_table
from noonwater.physics.sky import (
    EMISSIVITY_GROUND,
    emissivity_sky_berdahl_martin_mean,
    longwave_emitted,
    longwave_on_tilt,
    longwave_sky,
)

AREA, TILT, STEP, WARM_UP = 1.66, 45.0, 120.0, 6
ANGLES = np.array([0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 90.0])
MODIFIERS = np.array([1.0, 1.0, 1.0, 0.99, 0.99, 0.98, 0.96, 0.92, 0.0])


@dataclass(frozen=True)
class Day:
    measured: np.ndarray
    predicted: np.ndarray

    def energy(self, heat: np.ndarray) -> float:
        return float(heat.sum()) * STEP / 3.6e6


def longwave_excess(row: dict[str, float]) -> float:
    air = row["Ta"]
    dew = dew_point(vapour_pressure_at_humidity(air, 0.01 * row["RH_pct"]))
    sky = longwave_sky(emissivity_sky_berdahl_martin_mean(dew), air)
    ground = longwave_emitted(air, EMISSIVITY_GROUND)
    return longwave_on_tilt(sky, ground, TILT) - longwave_emitted(air, 1.0)


def heat(row: dict[str, float], temp_rate: float) -> float:
    total, diffuse = row["G_tilt"], row["Gd_tilt"]
    modifier = iam_table(row["inc_deg"], ANGLES, MODIFIERS)
    return AREA * collector_heat_quasi_dynamic(
        irradiance_modified(total - diffuse, diffuse, modifier, 1.0),
        total,
        row["Tm"],
        row["Ta"],
        row["u_plane"],
        longwave_excess(row),
        temp_rate,
        0.475,
        7.411,
        0.0,
        1.7,
        0.437,
        42200.0,
        0.003,
    )


def read_day(shared: Path, number: int) -> Day:
    path = shared / "reference" / "data" / f"uncovered_collector_day{number}.csv"
    with path.open() as file:
        lines = csv.DictReader(line for line in file if not line.startswith("#"))
        rows = [{k: float(v) for k, v in row.items()} for row in lines][WARM_UP:]
    rates = np.gradient(np.array([r["Tm"] for r in rows]), STEP)
    predicted = [heat(row, float(rate)) for row, rate in zip(rows, rates, strict=True)]
    return Day(np.array([r["Q_meas_W"] for r in rows]), np.array(predicted))


@pytest.mark.parametrize(("number", "expected"), [(1, 4.245), (2, 4.235)])
def test_heat_of_the_day(shared: Path, number: int, expected: float) -> None:
    day = read_day(shared, number)
    # That the file is read as the notes read it: their total, 0.2 %.
    assert day.energy(day.measured) == pytest.approx(expected, rel=0.002)
    assert day.energy(day.predicted) == pytest.approx(expected, rel=0.12)
    assert np.abs(day.predicted - day.measured).mean() <= 50.0


def test_wind_and_sky_terms_matter(shared: Path) -> None:
    # Without the collector's loss terms the 12 % are missed, so the check above can fail.
    day = read_day(shared, 1)
    assert 1.12 * day.energy(day.measured) < AREA * 0.475 * _sun(shared, 1)


def _sun(shared: Path, number: int) -> float:
    path = shared / "reference" / "data" / f"uncovered_collector_day{number}.csv"
    with path.open() as file:
        lines = csv.DictReader(line for line in file if not line.startswith("#"))
        return sum(float(row["G_tilt"]) for row in lines) * STEP / 3.6e6
