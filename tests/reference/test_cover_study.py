"""Covers.

Sources: evaporation under covers, eight pools, 90 days from July 2015, California Polytechnic
(Muleta), by trade-press reports (read); saving of heat 50 to 70 % in general, US Department of
Energy (read second-hand); loss split of an open heated pool, Smith, Lof and Jones 1994 (abstract
read).
"""

from __future__ import annotations

import pytest

from noonwater.physics.cover import (
    COVERS,
    covered_absorptance,
    covered_conductance,
    covered_dry_share,
    covered_evaporation,
)


@pytest.mark.parametrize(
    ("kind", "reduction"),
    [("foam", 95.9), ("bubble", 94.9), ("solid", 93.9), ("discs", 50.1), ("liquid", 15.1)],
)
def test_evaporation_of_the_study(kind: str, reduction: float) -> None:
    # Liquids: 14.4 to 15.8 %, the middle with half their spread.
    ours = covered_evaporation(100.0, COVERS[kind].evaporation_kept)
    assert 100.0 - ours == pytest.approx(reduction, abs=0.7 if kind == "liquid" else 0.05)


@pytest.mark.parametrize("kind", ("bubble", "solid"))
def test_saving_of_heat(kind: str) -> None:
    # 56 % evaporation, 44 % radiation and convection; 5 + 6 W/(m²·K) at the upper face (ours).
    cover = COVERS[kind]
    left = covered_evaporation(0.56, cover.evaporation_kept)
    left += 0.44 * covered_dry_share(cover.resistance, 11.0)
    assert 0.50 <= 1.0 - left <= 0.70


def test_foam_saves_more_than_the_general_figure() -> None:
    # Not covered by the 50 to 70 %: an insulating cover comes out above it.
    cover = COVERS["foam"]
    left = covered_evaporation(0.56, cover.evaporation_kept)
    left += 0.44 * covered_dry_share(cover.resistance, 11.0)
    assert 0.70 < 1.0 - left < 0.90


def test_series_of_resistances() -> None:
    # ISO 6946 sum of resistances (from memory): 1/(0.15 + 1/11).
    assert covered_conductance(0.15, 11.0) == pytest.approx(1.0 / (0.15 + 1.0 / 11.0))


def test_sun_under_covers() -> None:
    # Transparent covers take as little as 5 %, dark ones up to 40 % of absorption (read
    # second-hand); a clear blanket passes about 85 % (read second-hand).
    assert 0.85 <= covered_absorptance(1.0, COVERS["bubble"].sun_kept) <= 0.95
    assert covered_absorptance(1.0, COVERS["solid"].sun_kept) == pytest.approx(0.60)
