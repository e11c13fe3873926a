"""Support spacing of PVC pipe against a published table.

Source: support spacing table for PVC pipe in a published pipe table (ASTM D1785 sizes), rows of
1 1/2 and 2 in, schedules 40 and 80, at 60, 80, 100, 120 and 140 °F, read; all other rows from
memory. Feet are turned into metres to a tenth of a millimetre: that is the tolerance.

The cap of 4 ft: International Residential Code 2018, table P2605.1, where the row of ABS was read
(4 ft level); PVC has the same row from memory. 24 CFR 3280.608(b), read: 3 ft for plastic water
pipe of manufactured homes, unless the pipe's maker says otherwise.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from noonwater.catalog import support_row, support_spacing, support_spacings

FOOT = 0.3048
FAHRENHEIT = (60, 80, 100, 120, 140)
READ = [
    ("40", 1.5, (6.0, 5.5, 5.0, 3.5, 3.0)),
    ("40", 2.0, (6.0, 5.5, 5.0, 3.5, 3.0)),
    ("80", 1.5, (6.5, 6.0, 5.5, 3.5, 3.5)),
    ("80", 2.0, (7.0, 6.5, 6.0, 4.0, 3.5)),
]


@pytest.mark.parametrize(("schedule", "inch", "feet"), READ)
def test_published_rows(schedule: str, inch: float, feet: tuple[float, ...]) -> None:
    for warmth, expected in zip(FAHRENHEIT, feet, strict=True):
        row = support_row(inch * 0.0254, schedule, (warmth - 32) / 1.8)
        assert row.spacing == pytest.approx(expected * FOOT, abs=1e-4)
        assert not row.memory
        spacing = support_spacing(inch * 0.0254, schedule, (warmth - 32) / 1.8)
        assert spacing == pytest.approx(min(expected, 4.0) * FOOT, abs=1e-4)


def test_rows_from_memory_keep_the_tables_order() -> None:
    """A wider or a thicker pipe may stand no closer, a warmer one no farther apart."""
    by = {(r.schedule, r.nominal, round(r.temp)): r.spacing for r in support_spacings()}
    assert len(by) == 2 * 9 * 5
    for (schedule, nominal, temp), spacing in by.items():
        if schedule == "40":
            assert by["80", nominal, temp] >= spacing
    sizes = sorted({nominal for _, nominal, _ in by})
    temps = sorted({temp for _, _, temp in by})
    for schedule in ("40", "80"):
        for temp in temps:
            for small, large in pairwise(sizes):
                assert by[schedule, small, temp] <= by[schedule, large, temp]
        for size in sizes:
            for cool, warm in pairwise(temps):
                assert by[schedule, size, cool] >= by[schedule, size, warm]


def test_between_rows_the_careful_one_holds() -> None:
    assert support_row(0.0508, "40", 50.0).spacing == pytest.approx(3.0 * FOOT, abs=1e-4)
    assert support_row(0.0508, "40", 80.0).spacing == pytest.approx(3.0 * FOOT, abs=1e-4)
    # 63 mm is less than 2 1/2 in: the row of 2 in. 16 mm takes the smallest there is.
    assert support_row(0.063, "metric", 37.0).nominal == pytest.approx(0.0508)
    assert support_row(0.016, "metric", 37.0).nominal == pytest.approx(0.01905)
