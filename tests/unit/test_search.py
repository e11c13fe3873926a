"""The search: brute force on small grids agrees, seeds repeat, options are what they say."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.priced import prices_of
from noonwater.app.search_pool import Question, judged_side_by_side
from noonwater.app.search_pool import judge_of as judge_here
from noonwater.app.size_answer import on_every_plane
from noonwater.app.study import check_job, flows_by_period, run_year, surroundings_of
from noonwater.design.choose_judge import counts
from noonwater.design.choose_list import HEAD_LINES, Listed, short_list
from noonwater.design.choose_option import Judge, Option, running_cost, shortfall
from noonwater.design.choose_search import WEIGHTS, Scalar, front, search_options
from noonwater.design.choose_space import Axis, Place, Space, space_of
from noonwater.design.money_tariff import electricity_cost
from noonwater.design.system_price import price_factor
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.money import Alternative
from noonwater.year import parameters as at

STEP = 1800


@cache
def court() -> Job:
    return read_job(FOLDER / "lagoon-court.toml")


@cache
def borne() -> frozenset[str]:
    return frozenset(f.rule for f in check_job(court()) if f.severity != "fault")


def judge_of(job: Job, space: Space | None = None) -> Judge:
    rows, around = prices_of(job, FOLDER).rows, surroundings_of(on_every_plane(job), STEP)
    space = space or space_of(job)
    return Judge(space, around, flows_by_period, rows, price_factor(job, rows), borne())


def small_space() -> Space:
    """96 places of the real space."""
    kept = {
        "south": (3, 5, 7), "west": (0, 4), "longest bank": (2,), "pipe": (1,), "breaker": (0, 1),
        "pace": (0, 2), "difference": (1,), "cover": (0, 1), "from": (2, 3), "until": (2,),
    }  # fmt: skip
    space = space_of(court())

    def fewer(axis: Axis) -> Axis:
        numbers = kept[axis.plane or axis.name]
        return replace(axis, values=tuple(axis.values[number] for number in numbers))

    return replace(space, axes=tuple(fewer(axis) for axis in space.axes))


@cache
def brute() -> dict[Place, Option]:
    """Every place of the small space, judged one by one."""
    judge = judge_of(court(), small_space())
    sizes = [range(len(axis.values)) for axis in judge.space.axes]
    return {place: judge.option(place) for place in product(*sizes)}


@cache
def searched() -> tuple[Judge, list[Option]]:
    judge = judge_of(court())
    return judge, search_options(judge, 1, 150)


@pytest.mark.parametrize("seed", [1, 7])
def test_the_search_finds_the_best_of_brute_force(seed: int) -> None:
    every = brute()
    valid = [option for option in every.values() if option.valid]
    assert len(every) == 96
    assert 3 < len(valid) < 96
    found = search_options(judge_of(court(), small_space()), seed, 48)
    assert len(found) <= 48
    for weight in (*WEIGHTS, (0.3, 0.9, 0.5), (0.9, 0.7, 0.1)):
        scale = Scalar(front(valid), weight)
        best, reached = (min(map(scale.of, options)) for options in (valid, found))
        assert reached == pytest.approx(best, abs=1e-9)


def test_no_valid_place_of_the_grid_beats_the_trade_off_of_the_search() -> None:
    found = front(search_options(judge_of(court(), small_space()), 3, 96))
    for option in brute().values():
        if option.valid:
            assert any(
                all(a <= b + 1e-9 for a, b in zip(mine.aims, option.aims, strict=True))
                for mine in found
            )


def test_the_same_seed_finds_the_same() -> None:
    first, second, other = (
        [(o.place, o.aims) for o in search_options(judge_of(court()), seed, 60)]
        for seed in (1, 1, 2)
    )
    assert first == second
    assert first != other


def test_processes_give_the_very_options_that_one_gives() -> None:
    question = Question(
        court(), on_every_plane(court()), prices_of(court(), FOLDER).rows, 1.0, borne()
    )
    judge = judge_here(question)
    with judged_side_by_side(question, judge) as side_by_side:
        beside = search_options(judge, 1, 80, side_by_side=side_by_side)
    alone = search_options(judge_here(question), 1, 80)
    assert [(o.place, o.aims) for o in beside] == [(o.place, o.aims) for o in alone]
    assert len(judge.known) == 80


def test_a_search_that_is_ended_keeps_what_it_has() -> None:
    judge = judge_of(court())
    heard: list[int] = []

    def hear(done: int, of: int, name: str) -> None:
        heard.append(done)
        assert (of, name) == (150, "options")

    found = search_options(judge, 1, 150, hear, lambda: len(judge.known) < 40)
    assert 40 <= len(judge.known) <= 48
    assert heard == sorted(heard)
    assert all(option.place in judge.known for option in found)
    # What was judged up to then is what the whole search judged first.
    assert {o.place for o in found} <= {o.place for o in searched()[1]}


def test_an_option_is_its_own_jobs_year_and_price() -> None:
    judge, options = searched()
    option = front(options)[0]
    record = run_year(option.job, STEP).record
    target = option.job.pool.target
    days = record[:, at.POOL_TEMP].reshape(365, 24).mean(axis=1)
    assert option.shortfall == pytest.approx(np.maximum(target - days, 0.0).mean(), abs=0.02)
    cost = electricity_cost(option.job.money, record[:, at.PUMP_ENERGY]).sum()
    assert option.running == pytest.approx(cost, rel=0.01)
    assert option.parts is not None
    assert option.price == judge.factor * option.parts.total


def test_shortfall_by_hand() -> None:
    pool = np.repeat(np.where(np.arange(365) < 100, 26.0, 30.0), 24)
    season = np.ones(365, dtype=np.int8)
    assert shortfall(pool, 28.0, season) == pytest.approx(2.0 * 100 / 365)
    season[100:] = 0
    assert shortfall(pool, 28.0, season) == pytest.approx(2.0)
    assert shortfall(pool, 25.0, season) == 0.0


def test_running_cost_holds_the_heaters_fuel() -> None:
    gas = Alternative("gas", price=0.05 / 3.6e6)
    money = replace(court().money, alternatives=(gas,), windows=(), tiers=())
    job = replace(court(), money=money, heater=Heater("gas", target=27.0))
    record = np.zeros((8760, at.RECORD))
    record[:, at.PUMP_ENERGY], record[:, at.HEATER_ENERGY] = 1e6, 2e6
    expected = 8760 * (1e6 * money.electricity + 2e6 * 0.05 / 3.6e6)
    assert running_cost(job, record) == pytest.approx(expected)


def test_the_trade_off_holds_what_nothing_beats() -> None:
    rng = np.random.default_rng(5)
    made = [
        Option((i,), court(), (), None, *(float(x) for x in rng.integers(0, 9, 3)))
        for i in range(200)
    ]
    kept = front(made)
    for option in made:
        beaten = any(
            all(a <= b for a, b in zip(other.aims, option.aims, strict=True))
            and other.aims != option.aims
            for other in made
        )
        assert (option.aims in [each.aims for each in kept]) == (not beaten)


@cache
def listed() -> tuple[tuple[Listed, ...], int]:
    judge, options = searched()
    bare = judge.bare_shortfall(court())
    return short_list(judge, options, bare, lambda option: check_job(option.job))


def test_the_short_list_is_valid_under_every_check() -> None:
    few, _ = listed()
    assert 2 <= len(few) <= 6
    for each in few:
        findings = check_job(each.option.job)
        assert not [finding.rule for finding in findings if counts(finding, borne())]
        assert {f.rule for f in findings} == {f.rule for f in each.findings}


def test_the_short_list_has_its_heads_and_each_says_what_bounds_it() -> None:
    few, _ = listed()
    words = {word for each in few for word in each.why}
    assert {"warmest", "balanced", "lowest price", "least to run"} <= words
    assert [e.option.shortfall for e in few] == sorted(e.option.shortfall for e in few)
    for each in few:
        assert each.bounds
        planes = " ".join(each.bounds)
        assert "'south'" in planes
        assert "'west'" in planes


def test_two_options_that_an_owner_cannot_tell_apart_are_listed_once() -> None:
    judge, _ = searched()
    warm, frugal = (
        next(each.option for each in listed()[0] if why in each.why)
        for why in ("warmest", "least to run")
    )
    *start, last = frugal.place
    spare = (*start, (last + 1) % 5)
    twin = replace(frugal, place=spare, running=frugal.running - 0.01, price=frugal.price + 0.01)
    both = replace(judge, known={**judge.known, spare: twin})
    bare = judge.bare_shortfall(court())
    few, _ = short_list(both, [warm, frugal, twin], bare, lambda option: ())
    assert len(few) == 2
    assert {word for each in few for word in each.why} == set(HEAD_LINES)


def test_an_option_that_a_late_check_refuses_is_not_listed() -> None:
    judge, options = searched()
    bare = judge.bare_shortfall(court())
    first = {each.option.place for each in listed()[0]}
    victim = min(first)
    fault = next(f for f in check_job(replace(court(), roof=tuple(
        replace(roof, width=2.0) for roof in court().roof))) if f.severity == "fault")  # fmt: skip

    def strict(option: Option) -> tuple[object, ...]:
        return (fault,) if option.place == victim else check_job(option.job)

    few, refused = short_list(judge, options, bare, strict)  # type: ignore[arg-type]
    assert refused >= 1
    assert victim not in {each.option.place for each in few}
