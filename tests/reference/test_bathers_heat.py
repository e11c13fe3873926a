"""Heat of bathers against oxygen and breath.

Sources: energy of oxygen, 20.3 kJ a litre at a respiratory quotient of 0.85, and 3.5 ml a minute
for a kilogram at rest (Lusk's and Weir's tables, any textbook of exercise physiology; from
memory). Breath, ISO 7730 annex D, equations of Fanger: 1.7e-5 M (5867 - pa) + 0.0014 M (34 - ta)
(from memory). Oxygen of slow breaststroke, 1.5 l/min at 0.5 m/s, Holmér 1974 (from memory).
Calories of light to moderate laps, 423 kcal an hour at 160 lb (a clinic's public table; from
memory).
"""

from __future__ import annotations

import pytest

from noonwater.physics.bather import (
    BODY_MASS,
    MET,
    METS_PLAYING,
    SHARE_TO_WATER,
    heat_bather,
)

JOULE_PER_LITRE = 20.3e3
SWIMMING_SLOWLY = 6.0


def test_met_by_oxygen() -> None:
    # 4 %: the definition in calories is rounded from the one in oxygen.
    assert pytest.approx(3.5e-3 / 60.0 * JOULE_PER_LITRE, rel=0.04) == MET


def test_share_by_breath_and_head() -> None:
    # Over water of 27 °C, 60 %: vapour 2140 Pa. The head is 7 % of the skin and stays out, so the
    # share lies between breath alone and breath with all of the head's part.
    breath = 1.7e-5 * (5867.0 - 2140.0) + 0.0014 * (34.0 - 27.0)
    assert (1.0 - breath) * 0.93 <= SHARE_TO_WATER <= 1.0 - breath


def test_slow_swimmer_by_oxygen() -> None:
    # 15 %: swimmers differ by that much in what a metre costs them.
    whole = heat_bather(SWIMMING_SLOWLY) / SHARE_TO_WATER
    assert whole == pytest.approx(1.5 / 60.0 * JOULE_PER_LITRE, rel=0.15)


def test_laps_by_calories() -> None:
    # 5.8 mets at that table's time (Compendium of 2011); 160 lb are 72.6 kg; 1 % of rounding.
    whole = heat_bather(5.8) / SHARE_TO_WATER * 72.6 / BODY_MASS
    assert whole == pytest.approx(423.0 * 4184.0 / 3600.0, rel=0.01)


def test_playing_stays_below_swimming_and_above_rest() -> None:
    # Quiet people in air give 100 to 130 W (handbooks of comfort, from memory).
    assert 130.0 < heat_bather(METS_PLAYING) < heat_bather(SWIMMING_SLOWLY)
