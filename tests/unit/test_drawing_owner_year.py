"""The owner's year: a box for each open month, at its temperatures; nothing in closed months."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np
import pytest

from noonwater.drawing.calendar import Season
from noonwater.drawing.owner_year import OwnerYear, OwnerYearWords, owner_year

SVG = "{http://www.w3.org/2000/svg}"
WORDS = OwnerYearWords("Year", "with", "without", "aim", tuple("JFMAMJJASOND"), "°C")
RANGES = tuple((15.0 + month, 18.0 + month) for month in range(12))
WITHOUT = np.full(365, 14.0)


def boxes(season: Season) -> list[tuple[float, float, float, float]]:
    root = ET.fromstring(owner_year(OwnerYear(RANGES, WITHOUT, 20.0, season), WORDS, "SI"))
    group = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "with-solar")
    keys = ("x", "y", "width", "height")
    x, y, width, height = ([float(r.attrib[k]) for r in group.iter(f"{SVG}rect")] for k in keys)
    return list(zip(x, y, width, height, strict=True))


@pytest.mark.parametrize(
    ("season", "count"),
    [
        (Season("01-01", "12-31"), 12),
        (Season("04-15", "10-15"), 7),
        (Season("10-20", "03-05"), 6),
        (Season("06-01", "06-30"), 1),
    ],
)
def test_open_months_have_a_box(season: Season, count: int) -> None:
    assert len(boxes(season)) == count


def test_a_box_is_as_high_as_its_range_and_a_warmer_one_higher() -> None:
    found = boxes(Season("01-01", "12-31"))
    heights = [height for _, _, _, height in found]
    assert max(heights) - min(heights) < 0.3
    tops = [y for _, y, _, _ in found]
    assert tops == sorted(tops, reverse=True)
    steps = np.diff(tops)
    # A kelvin up the scale is a third of a box; its edges stand one unit outside.
    assert steps == pytest.approx(np.full(11, -(np.mean(heights) - 2.0) / 3.0), abs=0.2)
