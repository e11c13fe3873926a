"""Wind over terrain.

Davenport-Wieringa roughness lengths: Stull, Meteorology for Scientists and Engineers (read,
second-hand page, and again in a wind library's documentation). Grass reference of FAO Irrigation
and Drainage Paper 56, eq. 47 and table 2.9 of its annex (from memory).
"""

from __future__ import annotations

import math

import pytest

from noonwater.physics.wind import (
    EXPOSURE_FACTOR,
    ROUGHNESS,
    wind_speed_at_water,
    wind_speed_log_law,
)


def test_roughness_classes() -> None:
    assert list(ROUGHNESS.values()) == [0.0002, 0.005, 0.03, 0.1, 0.25, 0.5, 1.0, 2.0]


def test_ten_metres_to_two_over_grass() -> None:
    # FAO 56: factor 0.748 from 10 m to 2 m, roughness length 0.123 h and zero plane 2/3 h of 0.12 m
    # grass (0.0148 m, 0.08 m). The zero plane moves it by under 1 %.
    assert wind_speed_log_law(1.0, 10.0, 2.0, 0.0148, 0.0148) == pytest.approx(0.748, rel=0.015)


def test_one_terrain_is_the_plain_law() -> None:
    plain = math.log(2.0 / 0.03) / math.log(10.0 / 0.03)
    assert wind_speed_log_law(4.0, 10.0, 2.0, 0.03, 0.03) == pytest.approx(4.0 * plain)


@pytest.mark.parametrize(
    ("exposure", "terrain"),
    [
        ("open", "open country"),
        ("partly sheltered", "scattered buildings"),
        ("sheltered", "suburb"),
    ],
)
def test_exposure_factors_come_from_the_classes(exposure: str, terrain: str) -> None:
    # The factors are rounded to one digit.
    station = ROUGHNESS["open country"]
    law = wind_speed_log_law(1.0, 10.0, 2.0, station, ROUGHNESS[terrain])
    assert wind_speed_at_water(1.0, EXPOSURE_FACTOR[exposure]) == pytest.approx(law, abs=0.05)
