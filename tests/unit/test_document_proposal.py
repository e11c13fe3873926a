"""The proposal says what year, ranges and money say; what nobody priced is left to write."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.money_study import MoneyStudy, study_money
from noonwater.core.units import System
from noonwater.document.language import language_of
from noonwater.document.profile import Profile
from noonwater.document.proposal import proposal_paper
from noonwater.document.proposal_words import about
from noonwater.document.typeset import pdf
from tests.papers import CODES, DEMOS, manner, material, pages_of, text_of


def fahrenheit(temp: float) -> str:
    return f"{temp * 1.8 + 32.0:.0f}"


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_it_has_two_to_four_pages(demo: str, code: str) -> None:
    for system, size in (("US", "letter"), ("SI", "a4")):
        assert 2 <= len(pages_of("proposal", demo, code, system, size)) <= 4  # type: ignore[arg-type]


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("system", ["US", "SI"])
def test_the_year_s_ranges_and_days_are_on_it(demo: str, system: System) -> None:
    found = material(demo)
    text = text_of("proposal", demo, "en", system)
    season, days = found.sureness.season_pool, found.sureness.days_at_target
    ends = [season.low, season.high]
    shown = [fahrenheit(x) if system == "US" else f"{x:.0f}" for x in ends]
    assert f": {shown[0]} to {shown[1]} °{'F' if system == 'US' else 'C'} over the season" in text
    offering = found.offering
    assert f"on {offering.days_without} days of its season" in text
    assert f"with solar on about {offering.designed.days}: " in text
    assert f"{days.low:.0f} to {days.high:.0f} days" in text
    months = (offering.designed.days - offering.days_without) / (365.0 / 12.0)
    assert f"{months:.1f} months more" in text


@cache
def money_of(demo: str) -> MoneyStudy:
    return study_money(material(demo).job, FOLDER)


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_money_is_that_of_the_money_answer(demo: str, code: str) -> None:
    found = material(demo)
    study = money_of(demo)
    text = text_of("proposal", demo, code, found.job.units)
    assert study.plain.price is not None
    assert f"${study.plain.price.total:,.0f}" in text
    for each in study.against:
        assert f"${about(each.worth.saved):,.0f}" in text
        assert f"${about(each.span.saved.low):,.0f}" in text
        assert f"${about(each.fuel.cost):,.0f}" in text
    assert len(found.offering.options) == 3


def test_what_nobody_priced_is_on_request() -> None:
    text = text_of("proposal", "almond-ranch", "en", "SI")
    assert text.count("on request") == 2
    assert "price of option B" in text
    assert "price of option C" in text
    text = text_of("proposal", "orchard-hill")
    assert "option B, on top: cap" in text
    assert "and the cover" not in text  # this pool has its cover already


def test_it_is_an_estimate_with_its_assumptions_and_a_place_to_sign() -> None:
    text = text_of("proposal", "lagoon-court")
    for words in (
        "An estimate, not a guarantee.",
        "What this assumes",
        "Not included",
        "Caution.",
        "owner, date",
    ):
        assert words in text


@pytest.mark.parametrize("terms", ["#set text(red) *half* at <order>", "שלום", "y" * 10_000])
def test_terms_print_as_typed(terms: str) -> None:
    found = replace(material("orchard-hill"), profile=Profile(terms=terms))
    paper = proposal_paper(found, language_of("en", "US"))
    assert any(getattr(each, "text", "") == terms for each in paper.blocks)
    assert pdf(paper, manner("orchard-hill"))


@pytest.mark.parametrize(
    ("value", "shown"), [(1234.0, 1200.0), (-67.4, -67.0), (0.0, 0.0), (0.0456, 0.046)]
)
def test_estimates_carry_two_digits(value: float, shown: float) -> None:
    assert about(value) == pytest.approx(shown)
