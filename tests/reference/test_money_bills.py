"""Electricity bills by our tariff against worked bills that utilities publish.

Sources (read, each on the utility's own page): [A] City of Seymour, residential block rates,
"Billing Calculation Examples", cityofseymour.org, residential electricity, bill comparison;
[B] City of River Falls, "Time-of-Day Pricing Calculator", rates as of 29 September 2020. What a
customer pays each month whatever the use is no matter of the tariff and is added by hand: 7.50 in
[A]; 14.00 in [B], what its standard line leaves over (88.98 less 675.54 kWh at 0.1110). Tax is left
out. Tolerance: half a cent for each printed term of [A], one cent for the two of [B].
"""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.climate.weather_year import DAYS_IN_MONTH, month_of_hour
from noonwater.design.money_tariff import electricity_cost
from noonwater.model.money import Money, Tier, Window

KWH = 3.6e6
NO_HOUSE = (0.0,) * 12
POWER = 0.085
"""[per kWh] [A] adds it to every block."""


def even(kwh: float) -> np.ndarray:
    """Use of each month spread evenly over its hours. [J]."""
    return KWH * kwh / (24 * np.array(DAYS_IN_MONTH)[month_of_hour()])


def block(above: float, price: float) -> Tier:
    return Tier(above * KWH, (price - 0.064) / KWH)


WINTER = (block(250, 0.049), block(700, 0.0446))
SUMMER = (block(250, 0.049), block(700, 0.0475), block(1250, 0.0446))


@pytest.mark.parametrize(
    ("blocks", "use", "bill", "terms"),
    [(WINTER, 1200, 169.85, 4), (SUMMER, 2000, 275.13, 5)],
    ids=["A, winter, 1200 kWh", "A, summer, 2000 kWh"],
)
def test_blocks_of_monthly_use(
    blocks: tuple[Tier, ...], use: float, bill: float, terms: int
) -> None:
    money = Money((0.064 + POWER) / KWH, house_use=NO_HOUSE, tiers=blocks)
    found = electricity_cost(money, even(use)) + 7.50
    assert found == pytest.approx(np.full(12, bill), abs=0.005 * terms)


@pytest.mark.parametrize(
    ("on_peak", "bill"), [(0.45, 96.58), (0.35, 88.14), (0.30, 83.92), (0.25, 79.70)]
)
def test_a_weekday_window(on_peak: float, bill: float) -> None:
    """[B]: 675.54 kWh, 0.191 from 8 to 20 on weekdays, 0.066 else; 45 % on peak, then less."""
    money = Money(0.066 / KWH, windows=(Window(0.191 / KWH, "08:00", "20:00", days="weekdays"),))
    hour = np.arange(8760)
    weekday = (hour // 24 % 7 < 5).astype(float)
    peak = (weekday == 1) & (hour % 24 >= 8) & (hour % 24 < 20)
    month = month_of_hour()
    use = np.zeros(8760)
    for m in range(12):
        for hours, share in ((peak, on_peak), (~peak, 1.0 - on_peak)):
            use[(month == m) & hours] = 675.54 * share * KWH / ((month == m) & hours).sum()
    found = electricity_cost(money, use, weekday=weekday) + 14.00
    assert found == pytest.approx(np.full(12, bill), abs=0.01)
