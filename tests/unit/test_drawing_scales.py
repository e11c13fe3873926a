from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.drawing.scales import Scale, amount_ticks, digits, temperature_ticks

FINITE = st.floats(-1e5, 1e5, allow_nan=False)


def test_known_values_land_on_known_places():
    up = Scale(30.0, 100.0, 500.0, 80.0)
    assert up.at(30.0) == 500.0
    assert up.at(100.0) == 80.0
    assert up.at(65.0) == 290.0
    assert up.at(np.array([44.0, 86.0])).tolist() == pytest.approx([416.0, 164.0], abs=1e-12)


@given(low=FINITE, span=st.floats(1e-3, 1e5), a=FINITE, b=FINITE)
def test_scale_keeps_order_and_turns_back(low, span, a, b):
    up = Scale(low, low + span, 500.0, 80.0)
    if a < b:
        assert up.at(a) >= up.at(b)
    assert up.value_at(up.at(a)) == pytest.approx(a, abs=1e-9 * (abs(a) + abs(low) + span))


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (30.4, 96.5, [30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100]),
        (-39.0, 31.0, [-40, -35, -30, -25, -20, -15, -10, -5, 0, 5, 10, 15, 20, 25, 30, 35]),
        (26.0, 29.0, [20, 25, 30, 35]),
        (25.0, 40.0, [25, 30, 35, 40]),
        (-40.0, 110.0, list(range(-40, 111, 10))),
    ],
)
def test_temperatures_in_fives_or_tens(low, high, expected):
    assert temperature_ticks(low, high, 16, 15.0).tolist() == expected


@given(low=st.floats(-60.0, 120.0), span=st.floats(0.0, 150.0), most=st.integers(5, 16))
def test_temperatures_reach_over_the_range(low, span, most):
    ticks = temperature_ticks(low, low + span, most, 15.0)
    assert ticks[0] <= low + 1e-6
    assert ticks[-1] >= low + span - 1e-6
    assert ticks[-1] - ticks[0] >= 15.0 - 1e-6
    assert 2 <= len(ticks) <= most
    assert np.allclose(ticks / 5.0, np.rint(ticks / 5.0))


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (0.0, 3225.0, [0, 1000, 2000, 3000, 4000]),
        (15.0, 139.0, [0, 50, 100, 150]),
        (0.0, 0.0, [0, 1]),
        (-120.0, 900.0, [-500, 0, 500, 1000]),
        (0.0, 0.55, [0, 0.2, 0.4, 0.6]),
    ],
)
def test_amounts_from_zero_in_ones_twos_and_fives(low, high, expected):
    assert amount_ticks(low, high, 5).tolist() == pytest.approx(expected, abs=1e-12)


@given(low=FINITE, high=FINITE, most=st.integers(3, 8))
def test_amounts_hold_zero_and_the_range(low, high, most):
    ticks = amount_ticks(low, high, most)
    reach = max(abs(low), abs(high)) * 1e-6
    assert ticks[0] <= min(low, 0.0) + reach
    assert ticks[-1] >= max(high, 0.0) - reach
    assert min(abs(ticks)) == 0.0
    assert 2 <= len(ticks) <= most


@pytest.mark.parametrize(
    ("value", "system", "places", "expected"),
    [
        (31400.4, "US", 0, "31,400"),
        (31400.4, "SI", 0, "31\u00a0400"),
        (-10.0, "SI", 0, "−10"),
        (-0.04, "US", 1, "0.0"),
        (82.4, "US", 1, "82.4"),
    ],
)
def test_numbers_for_people(value, system, places, expected):
    assert digits(value, system, places) == expected
