"""What is offered beside the design: the rule, its limits, prices from the list alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.money_study import study_money
from noonwater.app.offering_study import OfferSource, offer_source, study_offering
from noonwater.core.errors import InputError
from noonwater.design.offering import open_months, usual_options
from noonwater.model.job import Job
from noonwater.year.calendar import season_of_step
from tests.papers import DEMOS, material


def counts(job: Job) -> list[int]:
    return [len(bank.numbers) for bank in job.array.banks]


def test_the_smallest_bank_goes_and_the_cover_lies_all_year() -> None:
    job = material("orchard-hill").job
    (_, fewer), (_, covered) = usual_options(job)
    assert counts(fewer) == [8]
    assert counts(covered) == [8, 4]
    assert set(covered.pool.cover.months) == set(range(1, 13))
    assert covered.pool.cover.kind == "solid"


def test_a_pool_without_a_cover_is_offered_one() -> None:
    job = material("almond-ranch").job
    options = dict(usual_options(job))
    assert counts(options["fewer panels"]) == [4, 4]
    assert options["cover"].pool.cover.kind == "bubble"


def test_a_pool_with_a_cover_all_year_is_offered_more_panels() -> None:
    job = material("orchard-hill").job
    pool = replace(job.pool, cover=replace(job.pool.cover, months=tuple(range(1, 13))))
    options = dict(usual_options(replace(job, pool=pool)))
    assert "cover" not in options
    assert sum(counts(options["more panels"])) == 16


@pytest.mark.parametrize(
    ("opens", "closes", "months"),
    [
        ("04-15", "10-15", (4, 5, 6, 7, 8, 9, 10)),
        ("01-01", "12-31", tuple(range(1, 13))),
        ("10-01", "02-28", (1, 2, 10, 11, 12)),
    ],
)
def test_open_months(opens: str, closes: str, months: tuple[int, ...]) -> None:
    job = material("orchard-hill").job
    job = replace(job, pool=replace(job.pool, opens=opens, closes=closes))
    assert open_months(job) == months


@pytest.mark.parametrize("demo", DEMOS)
def test_the_design_costs_and_saves_what_the_money_answer_says(demo: str) -> None:
    found = material(demo)
    study = study_money(found.job, FOLDER)
    offering = found.offering
    assert study.plain.price is not None
    assert offering.designed.price is not None
    assert offering.designed.price.total == pytest.approx(study.plain.price.total, rel=1e-12)
    saved = [each.worth.saved for each in offering.against]
    assert saved == pytest.approx([each.worth.saved for each in study.against], rel=1e-9)


@pytest.mark.parametrize("demo", DEMOS)
def test_days_are_those_of_the_year(demo: str) -> None:
    found = material(demo)
    pool = found.job.pool
    season = season_of_step(pool.opens, pool.closes, 1).reshape(365, 24)[:, 0] == 1
    for option in found.offering.options:
        daily = option.year.pool.reshape(365, 24).mean(axis=1)
        assert option.days == int(np.count_nonzero((daily >= pool.target) & season))


def test_without_a_list_only_a_told_price_counts() -> None:
    found = material("orchard-hill")
    bare = study_offering(found.job, found.year, found.sureness, OfferSource())
    assert [option.price for option in bare.options] == [None] * len(bare.options)
    assert bare.pricing is None
    offer = replace(found.job.money.offer, installed=9000.0, file="")
    told = replace(found.job, money=replace(found.job.money, offer=offer))
    priced = study_offering(told, found.year, found.sureness, OfferSource(FOLDER))
    totals = [None if o.price is None else o.price.total for o in priced.options]
    assert totals == [9000.0, None, None]


def test_a_cover_that_is_there_is_not_bought() -> None:
    covers = {demo: [o.new_cover for o in material(demo).offering.options] for demo in DEMOS}
    assert covers == {
        "almond-ranch": [False, False, True],
        "lagoon-court": [False, False, False],
        "orchard-hill": [False, False, False],
    }


def test_tax_of_the_profile_counts_where_the_job_tells_none() -> None:
    found = material("orchard-hill")
    offer = replace(found.job.money.offer, sales_tax=0.0)
    job = replace(found.job, money=replace(found.job.money, offer=offer))
    source = OfferSource(FOLDER, tax=0.0675)
    price = study_offering(job, found.year, found.sureness, source).designed.price
    designed = found.offering.designed.price
    assert price is not None
    assert designed is not None
    assert price.tax == pytest.approx(designed.tax)
    kept = study_offering(found.job, found.year, found.sureness, OfferSource(FOLDER, tax=0.2))
    assert kept.designed.price == designed


def test_options_that_are_told_come_instead() -> None:
    path = FOLDER / "orchard-hill.toml"
    source = offer_source(path, ["pool.target=80 °F"])
    found = material("orchard-hill")
    offering = study_offering(found.job, found.year, found.sureness, source)
    assert [option.told for option in offering.options] == ["", "pool.target=80 °F"]
    with pytest.raises(InputError, match="at most 2"):
        offer_source(path, ["pool.target=80 °F"] * 3)
