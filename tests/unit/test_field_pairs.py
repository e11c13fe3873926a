"""Two causes at once: one circuit changed twice, weighed where one cause does not show it all."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from noonwater.app.telephone import CallWish, answer_call
from noonwater.field.change import filter_at, turned
from noonwater.field.together import can_be_together, together
from noonwater.hydraulics.flow import state_flow
from tests.hidden_faults import score_two
from tests.jobs import example_job

NOON = CallWish(month=4, hour=13, sky="clear", pool=22.0)
JOB = example_job()
OVERDUE = 3.0
TO_POOL = "to pool: diverter"


@pytest.fixture(scope="module")
def known():
    return answer_call(JOB, NOON).known


def alone(known, cause):
    return [each.situation for each in known.solved if each.situation.cause.key == cause][-1]


def gauge_with(known, *, load, opening=None, state=None):
    """What the gauge shows, the circuit changed here and not by the causes."""
    state = state or known.subject.state
    if opening is not None:
        state = replace(turned(state, "diverter", opening), solar=opening > 0.0)
    return state_flow(filter_at(known.subject.loop, load), state).pressure_filter


@pytest.mark.parametrize("turn", [1, -1])
def test_two_causes_are_one_circuit_changed_twice(known, turn):
    pair = (alone(known, "filter"), alone(known, TO_POOL))[::turn]
    both = together(known.subject, *pair)
    flow = state_flow(both.loop, both.state)
    assert flow.pressure_filter == pytest.approx(
        gauge_with(known, load=OVERDUE, opening=0.0), rel=1e-6
    )
    assert {"filter", TO_POOL} == set(both.cause.key.split(" + "))


@pytest.mark.parametrize("turn", [1, -1])
def test_a_clog_beside_a_dead_sensor_is_in_the_state_that_rests(known, turn):
    pair = (alone(known, "return"), alone(known, "sensor dead"))[::turn]
    both = together(known.subject, *pair)
    assert both.state == known.subject.resting
    assert both.loop == pair[::turn][0].loop
    assert not both.calls
    assert both.marks == {"dead"}


def test_a_slow_pump_is_as_slow_in_another_state(known):
    slow, settings = alone(known, "slow"), alone(known, "settings")
    both = together(known.subject, slow, settings)
    share = slow.speed / known.subject.state.speed
    assert both.speed == pytest.approx(share * settings.speed)
    assert both.state.speed == pytest.approx(share * settings.state.speed)


def test_what_is_one_fault_or_excludes_the_other_is_no_pair(known):
    can = {
        frozenset(each.cause.key for each in pair)
        for pair in combinations([each.situation for each in known.solved], 2)
        if can_be_together(known.subject, *pair)
    }
    assert {"filter", TO_POOL} in can
    assert {"filter", "no reason"} in can
    for none in (
        {"slow", "weak"},
        {"sensor dead", "settings"},
        {"stands", "other state"},
        {TO_POOL, "between: diverter"},
        {"right", "filter"},
        {"breaker open", "breaker shut"},
    ):
        assert none not in can


def test_an_overdue_filter_and_a_diverter_left_to_the_pool(known):
    """Neither alone shows this gauge and water that comes in cold."""
    told = {
        "gauge": gauge_with(known, load=OVERDUE, opening=0.0),
        "felt": "no warmer",
        "calls": "yes",
        "diverter": "to the pool",
        "panels": "hot",
    }
    call = answer_call(JOB, replace(NOON, told=told))
    assert set(call.ranked[0].cause.split(" + ")) == {"filter", TO_POOL}
    cause = call.cause(call.ranked[0].cause)
    assert cause.name.startswith("two at once: ")
    assert "backwash" in cause.remedy
    assert "actuator" in cause.remedy
    assert "air relief" in cause.caution
    single = {**told, "gauge": gauge_with(known, load=0.25, opening=0.0)}
    assert answer_call(JOB, replace(NOON, told=single)).ranked[0].cause == TO_POOL


def test_an_overdue_filter_where_solar_has_no_reason_to_run(known):
    rests = known.subject.resting
    told = {"gauge": gauge_with(known, load=OVERDUE, state=rests), "calls": "no"}
    call = answer_call(JOB, replace(NOON, pool=40.0, told=told))
    assert call.ranked[0].cause == "filter + no reason"
    assert "two at once" not in call.cause("filter + no reason").name


def test_one_reading_never_tells_two_causes_and_right_ones_tell_none():
    one = answer_call(JOB, replace(NOON, told={"gauge": 300e3}))
    assert not [each for each in one.ranked if " + " in each.cause]
    expected = answer_call(JOB, NOON).right.expected
    right = {key: expected[key].mean for key in ("gauge", "flow", "rise")}
    found = answer_call(JOB, replace(NOON, told=right)).ranked
    assert sum(each.chance for each in found if " + " in each.cause) < 0.1


def test_two_hidden_faults_are_named_more_often_where_pairs_are_weighed():
    """Measured with 60 calls: docs/decisions/0039-telephone.md."""
    single, two = (
        score_two("lagoon-court", 12, 3, answers=6, pairs=pairs) for pairs in (False, True)
    )
    assert two.named > single.named
    assert two.one >= single.one
