"""Heat pumps for pools against published ratings.

Sources: conditions of AHRI 1160 and ASHRAE 146, water 80 °F with air at 80 °F and at 50 °F, spa
water 104 °F with air at 80 °F, 63 % humidity (read on a dealer's page, which also has 4.3 to 5.9
as usual COP); heat of one machine at 80/80/80, 80/63/80 and 50/63/80: 120, 111 and 77 thousand
Btu/h (read on an owners' forum); least COP of 4.0 at 50 °F, Florida building code (read
second-hand); COP of 3.0 to 7.0 at 80 °F (read, US Department of Energy). From memory, rounded over
several sheets: COP 5.7, 4.1 and 4.2 at 80/63/80, 50/63/80 and 80/63/104; and for the European
points, COP 6.0 with air and water at 26 °C, 4.6 with air at 15 °C.
"""

from __future__ import annotations

import pytest

from noonwater.physics.heat_pump import (
    COP_KEPT_COOL,
    COP_USUAL,
    HEAT_KEPT_COOL,
    LIFT_LEAST,
    TEMP_RATED,
    TEMP_RATED_COOL,
    cop_heat_pump,
    heat_heat_pump,
    lift_own,
)

SPA = (104.0 - 32.0) / 1.8


def test_it_goes_through_both_ratings() -> None:
    own = lift_own(5.7, 4.1)
    assert cop_heat_pump(TEMP_RATED, TEMP_RATED, 5.7, own) == pytest.approx(5.7)
    assert cop_heat_pump(TEMP_RATED_COOL, TEMP_RATED, 5.7, own) == pytest.approx(4.1)


def test_conditions_are_those_of_the_standard() -> None:
    # Fahrenheit to the tenth of a degree.
    assert pytest.approx((80.0 - 32.0) / 1.8, abs=0.05) == TEMP_RATED
    assert pytest.approx((50.0 - 32.0) / 1.8, abs=0.05) == TEMP_RATED_COOL


def test_spa_rating_from_the_two_of_the_pool() -> None:
    # The third rating isn't used by the formula. 10 %: sheets scatter as much among themselves.
    cop = cop_heat_pump(TEMP_RATED, SPA, 5.7, lift_own(5.7, 4.1))
    assert cop == pytest.approx(4.2, rel=0.10)


def test_european_point() -> None:
    # From 26 °C and the usual fall to 10 °C; 10 % as above.
    cop = cop_heat_pump(15.0, 26.0, 6.0, lift_own(6.0, COP_KEPT_COOL * 6.0))
    assert cop == pytest.approx(4.6, rel=0.10)


def test_usual_machine() -> None:
    assert 4.3 <= COP_USUAL <= 5.9
    assert 3.0 <= COP_USUAL <= 7.0
    # A machine that just meets the code at 50 °F has 5.5 to 6 at 80 °F.
    assert 5.4 <= 4.0 / COP_KEPT_COOL <= 6.1


def test_heat_of_the_printed_machine() -> None:
    # Between the fall from humid and from dry air.
    assert 77.0 / 120.0 <= HEAT_KEPT_COOL <= 77.0 / 111.0
    assert heat_heat_pump(TEMP_RATED, 111.0, 77.0) == pytest.approx(111.0)
    assert heat_heat_pump(TEMP_RATED_COOL, 111.0, 77.0) == pytest.approx(77.0)
    # 65 °F, the middle: the mean of the two, as any straight line has it.
    assert heat_heat_pump((65.0 - 32.0) / 1.8, 111.0, 77.0) == pytest.approx(94.0, rel=0.01)
    assert heat_heat_pump(-60.0, 111.0, 77.0) == 0.0


@pytest.mark.parametrize("air", [5.0, 15.0, 26.7, 40.0])
@pytest.mark.parametrize("water", [10.0, 26.7, 40.0])
def test_second_law(air: float, water: float) -> None:
    # Carnot between a coil that must be at least 5 K colder than the air and water at least 2 K
    # warmer than the pool (common practice, no source): no machine does better than two thirds.
    own = lift_own(5.7, 4.1)
    cop = cop_heat_pump(air, water, 5.7, own)
    carnot = (water + 2.0 + 273.15) / max(water - air + 7.0, 1e-9)
    assert cop < carnot * 2.0 / 3.0 or water - air + 7.0 < LIFT_LEAST * own
    assert cop <= 5.7 / LIFT_LEAST + 1e-9
