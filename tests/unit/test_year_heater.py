"""The heater's need in the loop against the heat pump's own formula, and what it never falls to."""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.model.heater import Heater
from noonwater.physics.heat_pump import LIFT_LEAST, cop_heat_pump, lift_own
from noonwater.year.backup import heater_energy
from noonwater.year.heater_terms import heater_terms
from noonwater.year.water_drivers import HeaterFigures

AIRS = np.repeat(np.array([8.0, 15.0, 22.0, 30.0, 41.0]), 1752)


def prepared(heater: Heater) -> tuple[HeaterFigures, np.ndarray, np.ndarray]:
    return heater_terms(heater, 28.0, AIRS, np.zeros(8760, dtype=np.int8), 300.0)


@pytest.mark.parametrize("temp", [12.0, 20.0, 28.0, 36.0])
@pytest.mark.parametrize("cool", [3e3, 4e3])
def test_heat_pump_needs_what_its_formula_says(temp: float, cool: float) -> None:
    """Up to the least lift; beyond it never less than at twice the rated COP."""
    heater = Heater("heat pump", capacity=20e3, power=3.4e3, capacity_cool=12e3, power_cool=cool)
    assert heater.cop is not None
    assert heater.cop_cool is not None
    figures, _, needs = prepared(heater)
    own = lift_own(heater.cop, heater.cop_cool)
    for air, need in dict(zip(AIRS, needs, strict=True)).items():
        energy = heater_energy(1.0, need, temp, figures)
        assert energy >= LIFT_LEAST / heater.cop
        if own + temp - air > LIFT_LEAST * own and own + 30.0 - air > LIFT_LEAST * own:
            expected = 1.0 / cop_heat_pump(air, temp, heater.cop, own)
            assert energy == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("kind", "need"), [("gas", 1.0 / 0.8), ("electric", 1.0)])
def test_other_heaters_need_the_same_at_any_water(kind: str, need: float) -> None:
    figures, _, needs = prepared(Heater(kind))
    for temp in (5.0, 38.0):
        assert heater_energy(2.0, needs[0], temp, figures) == pytest.approx(2.0 * need)
