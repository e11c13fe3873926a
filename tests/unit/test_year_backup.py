"""The heater in a step, and a heater and a spa made ready for the loop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.model.heater import Heater
from noonwater.year import parameters as at
from noonwater.year.backup import NEVER, heater_heat, point_beside_solar, spa_heat
from noonwater.year.command import CIRCULATING, COOLING, HEATING, RESTING
from noonwater.year.heater_terms import NEVER_SHORT, SOLAR_ROOM, heater_terms, set_point
from noonwater.year.parameters import PoolFigures, resting_state
from noonwater.year.run import run
from noonwater.year.water_drivers import NO_HEATER, HeaterFigures
from tests.years import made_inputs, with_heater, with_spa, with_terms

STEPS = 8760
AIR = np.full(STEPS, 10.0)
PERIOD = np.where(np.arange(STEPS) % 24 < 12, 0, -1).astype(np.int8)
PER_DAY = 288


def test_solar_first() -> None:
    heater = HeaterFigures(27.0, 0.0, 1.5, 0.0)
    assert point_beside_solar(HEATING, heater) == 25.5
    assert point_beside_solar(RESTING, heater) == point_beside_solar(CIRCULATING, heater) == 27.0
    assert point_beside_solar(COOLING, heater) == NEVER


@pytest.mark.parametrize(("temp", "given"), [(27.0, 0.0), (26.9, 1e7), (20.0, 3e7)])
def test_it_gives_what_is_lacking_up_to_its_power(temp: float, given: float) -> None:
    state, ledger = resting_state(temp, 10.0, 1), np.zeros(at.LEDGER)
    heat = heater_heat(state, ledger, at.POOL, 27.0, 3e7, 1e8)
    assert heat == pytest.approx(given)
    assert state[at.POOL] == pytest.approx(temp + given / 1e8)
    assert ledger[at.HEATED] == heat


def test_a_spa_is_warmed_when_it_begins_and_spills_when_it_ends() -> None:
    pool = PoolFigures(40.0, 2e8, 1e5, 1.0, 1.0, 0.0, spa_capacity=2e7, spa_target=38.0)
    state, ledger = resting_state(28.0, 10.0, 1), np.zeros(at.LEDGER)
    assert spa_heat(state, ledger, at.POOL, pool, True, False, 2e8) == 2e8
    assert state[at.POOL] == 28.0
    assert spa_heat(state, ledger, at.POOL, pool, False, True, 2e8) == 0.0
    assert state[at.POOL] == pytest.approx(29.0)
    assert ledger[at.SPA] == pytest.approx(2e8)


def test_no_heater_gives_nothing_and_a_spa_of_its_own_takes_what_it_gives() -> None:
    figures, power, need = heater_terms(Heater(), 28.0, AIR, PERIOD, 300.0)
    assert figures == NO_HEATER
    assert not power.any()
    assert (need == 1.0).all()


def test_gas_by_its_efficiency_hours_and_months() -> None:
    heater = Heater("gas", capacity=8e4, efficiency=0.84, months=(1,), on_from="06:00")
    figures, power, need = heater_terms(heater, 28.0, AIR, PERIOD, 300.0)
    assert figures.target == 28.0 - SOLAR_ROOM == set_point(heater, 28.0)
    assert figures.pump_power == 300.0
    assert need[0] == pytest.approx(1.0 / 0.84)
    assert (power > 0.0).sum() == 31 * 18
    tied = replace(heater, calls_pump=False, target=26.0)
    figures, power, _ = heater_terms(tied, 28.0, AIR, PERIOD, 300.0)
    assert figures.target == 26.0
    assert figures.pump_power == 0.0
    assert (power > 0.0).sum() == 31 * 6, "the program runs from midnight to noon"


def test_a_heat_pump_goes_through_both_ratings_and_rests_in_the_cold() -> None:
    heater = Heater("heat pump", capacity=3e4, power=5e3, capacity_cool=2e4, power_cool=5e3)
    air = np.where(np.arange(STEPS) % 2 == 0, 26.7, 10.0)
    figures, power, need = heater_terms(heater, 28.0, air, PERIOD, 300.0)
    assert power[:2] == pytest.approx([3e4, 2e4], rel=1e-3)
    cop = 1.0 / (need[:2] + figures.need_slope * 26.7)
    assert cop == pytest.approx([6.0, 4.0], rel=1e-3)
    assert figures.need_slope > 0.0, "warmer water, more electricity"
    assert not heater_terms(heater, 28.0, AIR - 4.0, PERIOD, 300.0)[1].any()


def test_a_heater_of_no_size_is_never_too_small() -> None:
    for kind in ("gas", "heat pump", "electric"):
        _, power, _ = heater_terms(Heater(kind), 28.0, AIR, PERIOD, 300.0)
        assert (power == NEVER_SHORT).all()


def test_a_heated_day_is_booked_twice_over() -> None:
    """Record and ledger agree on heat, spa and the twin; energy follows the need."""
    inputs = with_spa(with_heater(with_terms(made_inputs()), 27.0, 8e3, 1.0))
    done = run(inputs, resting_state(24.0, 18.0, 2), 20 * PER_DAY, 3 * PER_DAY)
    record, ledger = done.record.sum(axis=0), done.ledger
    assert record[at.HEATER_HEAT] == pytest.approx(ledger[at.HEATED], rel=1e-12)
    twin = ledger[at.KINDS * at.HEATER_ONLY + at.HEATED]
    assert record[at.HEATER_ONLY_HEAT] == pytest.approx(twin, rel=1e-12)
    assert record[at.HEATER_HEAT] > 0.0
    assert record[at.HEATER_ENERGY] == pytest.approx(0.2 * record[at.HEATER_HEAT], rel=1e-12)
    assert record[at.SPA_ENERGY] == pytest.approx(0.2 * record[at.SPA_HEAT], rel=1e-12)
    called = record[at.HEATER_PUMP_ENERGY]
    assert 0.0 < called < 300.0 * record[at.HEATER_HEAT] / 8e3
    spilled, lost = ledger[at.SPA], 3 * 2 * 3600.0 * 4e3
    # The pool moves by less than half a kelvin while the spa is apart from it.
    assert abs(record[at.SPA_HEAT] - spilled - lost) < 3 * 0.5 * inputs.pool.spa_capacity
