"""Weighing and asking: reckoned by hand, and entropy against scipy."""

from __future__ import annotations

from math import exp, pi, sqrt

import numpy as np
import pytest
from scipy.stats import entropy as entropy_of_scipy

from noonwater.field.alike import alike
from noonwater.field.answers import answer_chances
from noonwater.field.ask import TIE, entropy, questions
from noonwater.field.expected import SLIP, Case, Normal, likelihoods
from noonwater.field.reading import Reading
from noonwater.field.weigh import NONE, SPEAKS, misfits, weigh, weights, word_of

BUBBLES = Reading("bubbles", "bubbles", "Bubbles?", 1, choices=("yes", "no"))
SOUND = Reading("sound", "sound", "A sound?", 4, choices=("yes", "no"))
NEEDLE = Reading("needle", "needle", "What does it show?", 2, "pressure", 0.0, 100.0)
READINGS = (BUBBLES, SOUND, NEEDLE)


def case(cause, weight, bubbles=(0.5, 0.5), needle=(50.0, 5.0), sound=(0.5, 0.5)):
    shows = {"bubbles": bubbles, "sound": sound, "needle": Normal(*needle)}
    return Case(cause, weight, shows)


def test_two_causes_as_reckoned_by_hand():
    """Weights 3 and 1; yes in 1 of 10 and 8 of 10; a slip of 0.02 to either side."""
    cases = [case("dry", 0.75, bubbles=(0.1, 0.9)), case("leak", 0.25, bubbles=(0.8, 0.2))]
    dry, leak = 0.98 * 0.1 + 0.01, 0.98 * 0.8 + 0.01
    expected = 0.25 * leak / (0.25 * leak + 0.75 * dry)
    ranked = weigh(cases, READINGS, {"bubbles": "yes"})
    assert ranked[0].cause == "leak"
    assert ranked[0].chance == pytest.approx(expected, rel=1e-12)
    assert ranked[0].speaks_for == ("bubbles",)
    assert ranked[1].speaks_against == ("bubbles",)
    assert leak / dry > SPEAKS


def test_a_number_as_reckoned_by_hand():
    """60 read where 50 ± 5 and 70 ± 10 are expected: two sigma off the one, one off the other."""
    cases = [case("low", 0.5, needle=(50.0, 5.0)), case("high", 0.5, needle=(70.0, 10.0))]
    low = 0.98 * exp(-2.0) / (5.0 * sqrt(2.0 * pi)) + 0.02 / 100.0
    high = 0.98 * exp(-0.5) / (10.0 * sqrt(2.0 * pi)) + 0.02 / 100.0
    found = {each.cause: each.chance for each in weigh(cases, READINGS, {"needle": 60.0})}
    assert found["high"] == pytest.approx(high / (low + high), rel=1e-12)


def test_the_degrees_of_a_cause_add_up():
    halves = [case("one", 0.25), case("one", 0.25), case("other", 0.5)]
    assert [each.chance for each in weigh(halves, READINGS, {})] == pytest.approx([0.5, 0.5])


def test_one_crazy_reading_makes_nothing_impossible():
    cases = [case("right", 0.5, bubbles=(0.0, 1.0)), case("leak", 0.5, bubbles=(1.0, 0.0))]
    found = {each.cause: each.chance for each in weigh(cases, READINGS, {"bubbles": "yes"})}
    assert found["right"] == pytest.approx(0.5 * SLIP, rel=0.05)
    told = {"bubbles": "yes", "needle": 1e9}
    assert all(each.chance > 0.0 for each in weigh(cases, READINGS, told))


def test_none_of_these_wins_where_nothing_explains_the_readings():
    """Twice off by ten sigma: each time the even spread of `none` is 1/SLIP times as likely."""
    second = Reading("second", "second", "And this?", 2, "pressure", 0.0, 100.0)
    shows = {"needle": Normal(20.0, 2.0), "second": Normal(20.0, 2.0)}
    cases = [Case("a", 0.98, shows), Case(NONE, 0.02, {})]
    once = weigh(cases, (NEEDLE, second), {"needle": 40.0})
    twice = weigh(cases, (NEEDLE, second), {"needle": 40.0, "second": 40.0})
    by_hand = 0.02 / (0.02 + 0.98 * SLIP**2)
    assert twice[0].cause == NONE
    assert twice[0].chance == pytest.approx(by_hand, rel=1e-9)
    assert next(e.chance for e in once if e.cause == NONE) < twice[0].chance
    fits = weigh(cases, (NEEDLE, second), {"needle": 20.0, "second": 21.0})
    assert fits[0].cause == "a"


def test_words_for_chances():
    assert [word_of(each) for each in (0.7, 0.3, 0.05)] == ["likely", "possible", "unlikely"]


def test_entropy_against_scipy():
    chance = np.random.default_rng(3).dirichlet(np.ones(6), size=20).T
    assert entropy(chance) == pytest.approx(entropy_of_scipy(chance, base=2), rel=1e-12)
    assert entropy(np.array([[1.0], [0.0]]))[0] == 0.0


def test_the_gain_of_a_question_as_reckoned_with_scipy():
    """Entropy before, less the mean entropy after each answer."""
    cases = [
        case("a", 0.5, bubbles=(0.9, 0.1)),
        case("b", 0.3, bubbles=(0.4, 0.6)),
        case("c", 0.2, bubbles=(0.1, 0.9)),
    ]
    before = np.array([0.5, 0.3, 0.2])
    yes = (1.0 - SLIP) * np.array([0.9, 0.4, 0.1]) + 0.5 * SLIP
    after = [before * yes, before * (1.0 - yes)]
    left = sum(each.sum() * entropy_of_scipy(each, base=2) for each in after)
    asked = questions(cases, READINGS, {})
    assert asked[0].reading is BUBBLES
    assert asked[0].gain == pytest.approx(entropy_of_scipy(before, base=2) - left, rel=1e-9)


def test_of_questions_that_gain_alike_the_easier_comes_first():
    both = {"bubbles": (0.9, 0.1), "sound": (0.9, 0.1)}
    other = {"bubbles": (0.1, 0.9), "sound": (0.1, 0.9)}
    cases = [case("a", 0.5, **both), case("b", 0.5, **other)]
    order = [each.reading.key for each in questions(cases, (SOUND, BUBBLES), {})]
    assert order == ["bubbles", "sound"]
    assert TIE > 0.0


def test_nothing_told_is_asked_again_and_nothing_useless():
    cases = [case("a", 0.5, bubbles=(0.9, 0.1)), case("b", 0.5, bubbles=(0.1, 0.9))]
    assert [each.reading.key for each in questions(cases, READINGS, {})] == ["bubbles"]
    assert questions(cases, READINGS, {"bubbles": "yes"}) == ()


def test_what_an_answer_would_mean():
    cases = [
        case("suction", 0.3, needle=(12.0, 2.0)),
        case("right", 0.4, needle=(30.0, 2.0)),
        case("filter", 0.3, needle=(50.0, 2.0)),
    ]
    (asked,) = questions(cases, (NEEDLE,), {})
    assert [each.cause for each in asked.meanings] == ["suction", "right", "filter"]
    low, middle, high = asked.meanings
    assert low.low is None
    assert high.high is None
    assert 18.0 < low.high == middle.low < 24.0
    assert 36.0 < middle.high == high.low < 44.0


def test_the_chances_of_answers_sum_to_one_even_of_narrow_readings():
    cases = [case("narrow", 0.5, needle=(20.0, 0.01)), case("wide", 0.5, needle=(60.0, 20.0))]
    for reading in READINGS:
        _, chance = answer_chances(cases, reading)
        assert chance.sum(axis=1) == pytest.approx([1.0, 1.0])
    answers, chance = answer_chances(cases, NEEDLE)
    near = [n for n, value in enumerate(answers) if abs(value - 20.0) < 0.05]
    assert chance[0][near].sum() > 0.9


def test_causes_that_show_the_same_are_told():
    cases = [
        case("one", 0.4, bubbles=(0.9, 0.1)),
        case("twin", 0.3, bubbles=(0.9, 0.1)),
        case("other", 0.3, bubbles=(0.1, 0.9)),
    ]
    assert alike(cases, READINGS, {}, ("one", "twin", "other")) == (("one", "twin"),)
    told = {"bubbles": "yes"}
    pairs = alike(cases, READINGS, told, ("one", "other"))
    assert pairs == (("one", "other"),)


def test_what_is_not_expected_is_even():
    found = likelihoods([Case(NONE, 1.0, {})], BUBBLES, ["yes", "no"])
    assert found.tolist() == [[0.5, 0.5]]
    assert weights([Case(NONE, 1.0, {})], READINGS, {"needle": 3.0}).tolist() == [1.0]


def test_a_reading_that_no_cause_shows_is_named_and_the_others_are_not():
    """100 where 20 or 40 are expected is a slip under either; 41 is not."""
    cases = [case("low", 0.5, needle=(20.0, 2.0)), case("high", 0.4, needle=(40.0, 2.0)),
             Case(NONE, 0.1, {})]  # fmt: skip
    assert misfits(cases, READINGS, {"needle": 100.0, "bubbles": "yes"}) == ("needle",)
    assert misfits(cases, READINGS, {"needle": 41.0, "bubbles": "yes"}) == ()


def test_a_question_whose_answers_all_mean_one_cause_is_not_asked():
    cases = [case("sure", 0.9), case("rare", 0.1, bubbles=(0.55, 0.45))]
    assert questions(cases, READINGS, {}) == ()


def test_what_a_rare_answer_would_mean_is_told_where_it_is_why_the_question_is_asked():
    """Yes comes in some 3 of 100, and then it is the leak."""
    cases = [case("right", 0.97, bubbles=(0.0, 1.0)), case("leak", 0.03, bubbles=(1.0, 0.0))]
    asked = next(each for each in questions(cases, READINGS, {}) if each.reading == BUBBLES)
    assert [(each.choice, each.cause) for each in asked.meanings] == [
        ("yes", "leak"),
        ("no", "right"),
    ]
