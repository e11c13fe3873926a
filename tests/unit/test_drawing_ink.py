from __future__ import annotations

from itertools import product

import pytest

from noonwater.drawing import ink


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it, from memory."""
    parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_known_pairs():
    # Black on white is 21 by definition; #767676 is the well-known lightest grey that passes AA.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize(("letters", "ground"), list(product(ink.LETTERS, ink.GROUNDS)))
def test_text_reads_on_every_ground(letters, ground):
    assert contrast(letters, ground) >= 4.5


@pytest.mark.parametrize("line", [ink.AIR, ink.WATER, ink.HEAT, ink.INK])
def test_lines_read_on_the_sheet(line):
    assert contrast(line, ink.SHEET) >= 3.0
