"""Whatever is told: chances stay chances, nothing is impossible, the order does not matter."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.app.telephone import CallWish, answer_call
from noonwater.app.telephone_typed import readings_to_tell
from noonwater.field.ask import BEST, entropy
from noonwater.field.cases import band_of
from noonwater.field.expected import Normal
from noonwater.field.weigh import membership, weigh, weights
from tests.jobs import example_job

NOON = CallWish(month=4, hour=13, sky="clear", pool=22.0)
READINGS = readings_to_tell(example_job())


@cache
def rung():
    """A call of which nothing is told yet; solved when a test first asks."""
    return answer_call(example_job(), NOON)


def value_of(reading):
    if reading.choices:
        return st.sampled_from(reading.choices)
    return st.floats(reading.low, reading.high)


TOLD = st.fixed_dictionaries({}, optional={r.key: value_of(r) for r in READINGS})


@given(TOLD)
def test_chances_sum_to_one_and_nothing_is_impossible(told):
    ranked = weigh(rung().cases, READINGS, told)
    assert sum(each.chance for each in ranked) == pytest.approx(1.0)
    assert all(0.0 < each.chance <= 1.0 for each in ranked)
    assert [each.chance for each in ranked] == sorted((e.chance for e in ranked), reverse=True)
    for each in ranked:
        assert not set(each.speaks_for) & set(each.speaks_against)
        assert {*each.speaks_for, *each.speaks_against} <= set(told)


@given(TOLD, st.randoms())
def test_the_order_of_telling_is_nothing(told, chance):
    keys = list(told)
    chance.shuffle(keys)
    one, other = (
        weights(rung().cases, READINGS, each) for each in (told, {k: told[k] for k in keys})
    )
    assert one.tolist() == other.tolist()


@given(TOLD)
def test_a_question_never_gains_more_than_there_is_to_know(told):
    call = answer_call(example_job(), replace(NOON, told=told))
    chances = membership(call.cases) @ weights(call.cases, call.known.readings, told)
    left = float(entropy(chances[:, None])[0])
    assert left <= log2(len(chances)) + 1e-9
    assert len(call.asked) <= BEST
    for each in call.asked:
        assert each.reading.key not in told
        assert 0.0 < each.gain <= left + 1e-9
        ends = [meaning.high for meaning in each.meanings if meaning.high is not None]
        assert ends == sorted(ends)


@given(st.data())
def test_readings_inside_their_bands_never_speak_against_nothing_wrong(data):
    """Where all that is told lies in the middle of its band, nothing wrong is not unlikely."""
    numbers = {
        key: band_of(expected)
        for key, expected in rung().right.expected.items()
        if isinstance(expected, Normal) and key in ("gauge", "flow", "power", "speed", "rise")
    }
    told = {
        key: data.draw(st.floats(low + 0.35 * (high - low), high - 0.35 * (high - low)))
        for key, (low, high) in numbers.items()
    }
    ranked = weigh(rung().cases, READINGS, told)
    right = next(each for each in ranked if each.cause == "right")
    assert right.word != "unlikely"
    assert ranked.index(right) < 3
