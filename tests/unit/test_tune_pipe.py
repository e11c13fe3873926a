"""Pipe to the roof by its cost over the life, and the price of any variant of a job."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.money_study import study_money
from noonwater.app.priced import prices_of
from noonwater.app.study import flows_by_period, run_year, surroundings_of
from noonwater.catalog import pipe_named
from noonwater.catalog.price import generic_prices
from noonwater.design.size_flow import flow_per_area
from noonwater.design.system_price import (
    PANEL_BY_AREA,
    cover_cost,
    price_factor,
    system_price,
)
from noonwater.design.tune_pipe import (
    PipeChoice,
    best_pipe,
    pipe_choices,
    pipe_reason,
    with_roof_pipe,
)
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.model.job import Job
from noonwater.model.own_part import OwnPanel, SteadyTest
from noonwater.model.plant import Array, Bank

DEMOS = ("almond-ranch", "lagoon-court", "orchard-hill")


@cache
def job_of(name: str) -> Job:
    return read_job(FOLDER / f"{name}.toml")


@cache
def hill_choices() -> tuple[PipeChoice, ...]:
    job = job_of("orchard-hill")
    return pipe_choices(job, surroundings_of(job), flows_by_period, prices_of(job, FOLDER).rows)


def test_only_the_pipes_to_the_roof_and_back_change() -> None:
    job = job_of("orchard-hill")
    size = pipe_named(0.0762, "40")
    laid = {pipe.name: pipe for pipe in fill_circuit(with_roof_pipe(job, size)).pipes}
    for pipe in fill_circuit(job).pipes:
        roof = pipe.name in ("feed", "roof return")
        assert laid[pipe.name].diameter == (size.diameter if roof else pipe.diameter)
        assert laid[pipe.name].length == pipe.length
    assert with_roof_pipe(job, pipe_named(job.pad.pipe, "40")) is job


def test_the_jobs_own_size_is_its_own_year() -> None:
    job = job_of("orchard-hill")
    (own,) = [choice for choice in hill_choices() if choice.own]
    year = run_year(job)
    assert own.nominal == job.pad.pipe
    assert own.energy == pytest.approx(sum(month.pump_energy for month in year.months))
    assert own.cost == pytest.approx(sum(month.pump_cost for month in year.months))


def test_cost_over_the_life_by_hand() -> None:
    terms = job_of("orchard-hill").money.terms
    rise = terms.inflation if terms.electricity_escalation is None else terms.electricity_escalation
    rate = terms.discount_rate
    factor = sum((1 + rise) ** (year - 1) / (1 + rate) ** year for year in range(1, terms.life + 1))
    for choice in hill_choices():
        assert choice.life_cost == pytest.approx(choice.price.total + factor * choice.cost)


def test_the_best_is_the_least_of_all_by_brute_force() -> None:
    choices = hill_choices()
    best = best_pipe(choices)
    assert best is not None
    assert not best.bounds
    assert all(c.bounds or c.life_cost >= best.life_cost for c in choices)
    assert best.name in pipe_reason(job_of("orchard-hill"), choices)


def test_water_slows_with_size_at_the_same_flow() -> None:
    velocities = [choice.velocity for choice in hill_choices()]
    assert velocities == sorted(velocities, reverse=True)
    assert "more than" in hill_choices()[0].bounds[0]
    job = job_of("orchard-hill")
    assert flow_per_area(job) > 0.0


def test_dear_electricity_on_a_long_low_run_asks_for_larger_pipe() -> None:
    job = job_of("lagoon-court")
    low = replace(
        job,
        roof=tuple(replace(roof, eave_height=0.3) for roof in job.roof),
        pad=replace(job.pad, breaker="feed", feed_length=90.0, roof_return_length=90.0),
        money=replace(job.money, electricity=0.9 / 3.6e6, windows=(), tiers=()),
    )
    best = best_pipe(pipe_choices(low, surroundings_of(low), flows_by_period, ()))
    assert best is not None
    assert best.nominal > job.pad.pipe


def test_a_listed_price_is_moneys_to_the_cent() -> None:
    for name in ("lagoon-court", "orchard-hill"):
        job = job_of(name)
        study = study_money(job, FOLDER)
        assert study.plain.price is not None
        found = system_price(job, prices_of(job, FOLDER).rows)
        assert found.total == pytest.approx(study.plain.price.total, abs=0.005)
        assert found.hours == pytest.approx(study.plain.price.hours)
        assert found.from_memory == 0.0
        assert found.unpriced == ()


def test_generic_prices_know_every_part_of_the_demos() -> None:
    for name in DEMOS:
        found = system_price(job_of(name))
        assert found.unpriced == ()
        assert found.from_memory == 1.0
        assert 2000.0 < found.total < 20000.0
    assert all(row.memory for row in generic_prices())


def test_a_price_told_whole_scales_the_variants() -> None:
    job = job_of("almond-ranch")
    factor = price_factor(job)
    assert factor * system_price(job).total == pytest.approx(job.money.offer.installed)
    assert prices_of(job_of("lagoon-court"), FOLDER).factor == 1.0


def test_more_panels_cost_more() -> None:
    job = job_of("almond-ranch")
    prices = [
        system_price(replace(job, array=Array((Bank("barn", count, "tube 4x10"),)))).total
        for count in range(1, 13)
    ]
    assert prices == sorted(prices)
    assert prices[0] < prices[-1]


def test_a_panel_of_ones_own_is_priced_by_its_area() -> None:
    job = job_of("almond-ranch")
    own = OwnPanel("mat", 1.0, 2.0, SteadyTest("steady", 0.85, 0.02, 12.0, 3.0))
    few = replace(job, own_panel=(own,), array=Array((Bank("barn", 4, "mat"),)))
    found = system_price(few)
    assert found.unpriced == ()
    without = system_price(replace(few, array=Array((Bank("barn", 3, "mat"),))))
    assert found.parts - without.parts >= PANEL_BY_AREA * 2.0


def test_a_new_cover_costs_by_the_pool_and_wears_out() -> None:
    job = job_of("almond-ranch")
    price, yearly = cover_cost(job, "bubble")
    assert price == pytest.approx(9.0 * job.pool.area)
    assert yearly == pytest.approx(price / 5.0)
    assert cover_cost(job, "liquid") == (0.0, 0.0)
    assert cover_cost(job, "none") == (0.0, 0.0)
