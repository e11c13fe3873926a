"""The controller rule by rule, on hand-made traces of pool, sensor and air."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from noonwater.year.command import (
    CIRCULATING,
    COOLING,
    FREEZE_DEADBAND,
    HEATING,
    RESTING,
    Command,
    mode_in_frost,
    mode_wanted,
    solar_wanted,
)

ON_COMMON = 9.0 / 1.8
"""[K] A controller's usual switch-on difference, 9 °F: common practice, no source."""

USUAL = Command(
    timer=0.0,
    target=28.0,
    deadband=0.3,
    on_difference=ON_COMMON,
    off_difference=2.0,
    cooling_target=99.0,
    least_run=0.0,
    least_rest=0.0,
)
MINUTE = 60.0


@dataclass
class Trace:
    """A controller led through a row of pools and sensors, five minutes each."""

    command: Command
    may_heat: bool = True
    may_cool: bool = False
    mode: float = RESTING
    since: float = 1e9
    modes: list[float] = field(default_factory=list)

    def lead(self, pool: float, *sensors: float) -> Trace:
        for sensor in sensors:
            wanted = mode_wanted(
                self.mode, self.since, pool, sensor, self.may_heat, self.may_cool, self.command
            )
            if (wanted == RESTING) != (self.mode == RESTING):
                self.since = 0.0
            self.mode = wanted
            self.since += 5.0 * MINUTE
            self.modes.append(wanted)
        return self


def test_on_at_the_difference_of_common_practice_and_off_at_the_smaller_one() -> None:
    trace = Trace(USUAL).lead(25.0, 29.9, 30.0, 28.0, 27.1, 27.0, 29.0, 30.1)
    assert trace.modes == [RESTING, HEATING, HEATING, HEATING, RESTING, RESTING, HEATING]


def test_target_with_its_deadband() -> None:
    assert Trace(USUAL).lead(27.9, 60.0).mode == HEATING
    assert Trace(USUAL).lead(28.0, 60.0).mode == RESTING, "it starts below the target only"
    running = Trace(USUAL).lead(27.9, 60.0)
    assert running.lead(28.29, 60.0).mode == HEATING
    assert running.lead(28.3, 60.0).mode == RESTING
    assert running.lead(28.1, 60.0).mode == RESTING, "between the two it stays at rest"


def test_least_run_outlasts_sensor_and_target() -> None:
    slow = USUAL._replace(least_run=15.0 * MINUTE)
    trace = Trace(slow).lead(25.0, 31.0, 20.0, 20.0, 20.0)
    assert trace.modes == [HEATING, HEATING, HEATING, RESTING]
    assert Trace(slow).lead(27.9, 60.0).lead(29.0, 60.0).mode == HEATING


def test_least_run_ends_with_the_program() -> None:
    trace = Trace(USUAL._replace(least_run=3600.0)).lead(25.0, 31.0)
    trace.may_heat = False
    assert trace.lead(25.0, 40.0).mode == RESTING


def test_least_rest_holds_a_start() -> None:
    slow = USUAL._replace(least_rest=15.0 * MINUTE)
    trace = Trace(slow).lead(25.0, 31.0, 26.0, 31.0, 31.0, 31.0)
    assert trace.modes == [HEATING, RESTING, RESTING, RESTING, HEATING]
    assert Trace(slow).lead(25.0, 31.0).mode == HEATING, "the first start waits for nothing"


def test_no_heat_outside_program_and_season() -> None:
    assert Trace(USUAL, may_heat=False).lead(20.0, 60.0).mode == RESTING


def test_a_timer_looks_at_nothing() -> None:
    timer = USUAL._replace(timer=1.0, least_rest=3600.0)
    trace = Trace(timer).lead(35.0, 5.0, 5.0)
    assert trace.modes == [HEATING, HEATING]
    trace.may_heat = False
    assert trace.lead(20.0, 60.0).mode == RESTING


COOL = USUAL._replace(cooling_target=30.0)


def test_cooling_at_night_is_heating_upside_down() -> None:
    trace = Trace(COOL, may_heat=False, may_cool=True)
    assert trace.lead(31.0, 26.1).mode == RESTING, "not enough below the pool"
    assert trace.lead(31.0, 26.0).mode == COOLING
    assert trace.lead(31.0, 28.9).mode == COOLING
    assert trace.lead(29.8, 20.0).mode == COOLING, "in the deadband"
    assert trace.lead(29.7, 20.0).mode == RESTING
    assert trace.lead(30.0, 20.0).mode == RESTING, "it starts above the target only"
    assert trace.lead(30.1, 20.0).mode == COOLING
    assert trace.lead(31.0, 29.0).mode == RESTING, "the difference has gone"


def test_a_hot_roof_never_cools_and_a_cold_one_never_heats() -> None:
    for pool, sensor in ((31.0, 60.0), (31.0, 33.0), (20.0, 10.0)):
        assert Trace(COOL, may_cool=True).lead(pool, sensor).mode == RESTING


def test_cooling_keeps_the_least_run_too() -> None:
    slow = COOL._replace(least_run=10.0 * MINUTE)
    trace = Trace(slow, may_heat=False, may_cool=True).lead(31.0, 25.0, 31.0, 31.0)
    assert trace.modes == [COOLING, COOLING, RESTING]


@pytest.mark.parametrize(
    ("mode", "watched", "expected"),
    [
        (RESTING, 5.5, CIRCULATING),
        (RESTING, 5.6, RESTING),
        (CIRCULATING, 5.6 + 0.99 * FREEZE_DEADBAND, CIRCULATING),
        (CIRCULATING, 5.6 + FREEZE_DEADBAND, RESTING),
        (HEATING, 5.5, CIRCULATING),
    ],
)
def test_circulation_against_frost(mode: float, watched: float, expected: float) -> None:
    assert mode_in_frost(mode, 1e6, watched, 5.6, USUAL) == expected


def test_circulation_keeps_the_least_run_but_no_rest() -> None:
    slow = USUAL._replace(least_run=600.0, least_rest=3600.0)
    assert mode_in_frost(CIRCULATING, 599.0, 15.0, 5.6, slow) == CIRCULATING
    assert mode_in_frost(CIRCULATING, 600.0, 15.0, 5.6, slow) == RESTING
    assert mode_in_frost(RESTING, 0.0, 5.0, 5.6, slow) == CIRCULATING


def test_solar_wanted_of_a_pool_at_its_limits() -> None:
    assert not solar_wanted(False, 28.0, 80.0, 28.0, 0.3, 5.0, 2.0)
    assert not solar_wanted(True, 25.0, 27.0, 28.0, 0.3, 5.0, 2.0)
