"""A thermistor's resistance between the points of its table, against the table's other points.

Source: the resistance table of the common thermistor of 10,000 ohm at 25 °C with a B-value of
3976 K (25/85), as makers of building controls print it as "10K type 2" (from memory). Only three
of its points go in; the others are expected. Tolerance: 1 %, for two constants follow such a table
over 25 to 50 K no closer; makers sell it to 0.2 K, which is 0.9 % at 25 °C.
"""

from __future__ import annotations

from math import exp

import pytest

from noonwater.physics.thermistor import resistance_thermistor

TABLE = {0.0: 32650.0, 10.0: 19900.0, 20.0: 12490.0, 25.0: 10000.0, 30.0: 8057.0, 40.0: 5327.0,
         50.0: 3603.0, 60.0: 2488.0, 70.0: 1752.0, 75.0: 1480.0}  # fmt: skip
ENTERED = (0.0, 25.0, 50.0, 75.0)


@pytest.mark.parametrize("temp", TABLE)
def test_between_entered_points_it_gives_the_table(temp: float) -> None:
    cool = max(point for point in ENTERED[:-1] if point <= temp)
    warm = next(point for point in ENTERED if point > cool)
    found = resistance_thermistor(temp, cool, TABLE[cool], warm, TABLE[warm])
    assert found == pytest.approx(TABLE[temp], rel=0.01)


def test_it_is_the_law_of_the_b_value() -> None:
    """R = R25 exp(B (1/T - 1/T25)), IEC 60539-1 (from memory); equal but for rounding."""

    def law(temp: float) -> float:
        return 10000.0 * exp(3976.0 * (1.0 / (temp + 273.15) - 1.0 / 298.15))

    found = resistance_thermistor(60.0, 25.0, law(25.0), 85.0, law(85.0))
    assert found == pytest.approx(law(60.0), rel=1e-12)
