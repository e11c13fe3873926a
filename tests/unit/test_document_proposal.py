"""The proposal says what year, ranges and money say; what nobody priced is left to write."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.money_study import MoneyStudy, study_money
from noonwater.app.offering_study import OfferSource
from noonwater.app.pack_answer import material_of
from noonwater.app.price_list import read_price_list
from noonwater.core.units import System
from noonwater.document.language import language_of
from noonwater.document.profile import Profile
from noonwater.document.proposal import proposal_paper
from noonwater.document.proposal_words import about
from noonwater.document.typeset import pdf
from noonwater.model.heater import Heater
from noonwater.year import parameters as at
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
    assert "on top" not in text  # its price list has every part of every option
    assert "and the cover" not in text  # this pool has its cover already


@pytest.mark.parametrize("code", CODES)
def test_parts_without_a_price_are_named_in_the_reader_s_words(code: str, tmp_path: Path) -> None:
    path = tmp_path / "short.csv"
    path.write_text('Part,Size,Sold by,Price\n"panel, sheet 4x10",,each,100\n')
    source = OfferSource(listed=read_price_list(path, "USD"))
    job = material("orchard-hill").job
    paper = proposal_paper(material_of(job, source), language_of(code, "US"))
    text = str(paper.data())
    words = {"en": "controller, differential", "es": "controlador diferencial"}
    assert words[code] in text
    assert (" more." if code == "en" else " más.") in text
    assert ("No price is known yet in A, C for: " in text) == (code == "en")
    facts = [b for each in paper.blocks for b in getattr(each, "blocks", ()) if b.block == "facts"]
    # A name as long as a line would leave its value no room on the sheet.
    assert max(len(name) for fact in facts for name, _ in fact.rows) < 50


def test_energy_is_priced_as_the_bill_has_it() -> None:
    text = text_of("proposal", "lagoon-court", "en", "US")
    assert (
        "Heat pump heater: it gives 5 kWh of heat for each that it draws; a kWh costs $0.15" in text
    )
    assert "Gas heater: 82 % of its energy reaches the water; a therm costs $1.90" in text
    assert "a gallon costs $2.90" in text_of("proposal", "orchard-hill", "en", "US")
    assert "a kWh costs $0.062" in text_of("proposal", "almond-ranch", "en", "SI")
    assert "a typical year made from many, Miami." in text


def test_a_price_of_energy_has_no_more_digits_than_a_bill() -> None:
    found = material("lagoon-court")
    (gas,) = [each for each in found.offering.against if each.alternative.kind == "gas"]
    dearer = replace(gas, fuel=replace(gas.fuel, cost=1.0031 * gas.fuel.cost))
    offering = replace(found.offering, against=(dearer,))
    paper = replace(found, on_demand=replace(found.on_demand, offering=lambda: offering))
    text = str(proposal_paper(paper, language_of("en", "US")).data())
    assert "a therm costs $1.91, " in text


def test_an_own_heater_has_no_share_that_the_job_did_not_tell() -> None:
    found = material("orchard-hill")
    heated = replace(found.job, heater=Heater("heat pump", capacity=20e3, power=4e3))
    text = str(proposal_paper(material_of(heated), language_of("en", "US")).data())
    assert "Your own heat pump heater: a kWh costs $" in text
    assert "with the pump where the heater calls it" in text
    assert "Your own heat pump heater: it gives" not in text


def test_upkeep_that_is_nothing_is_not_told() -> None:
    found = material("lagoon-court")
    assert "and upkeep (" in text_of("proposal", "lagoon-court")
    terms = replace(found.job.money.terms, maintenance=0.0)
    free = replace(found, job=replace(found.job, money=replace(found.job.money, terms=terms)))
    assert "upkeep (" not in str(proposal_paper(free, language_of("en", "US")).data())


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


@pytest.mark.parametrize("code", CODES)
def test_a_heater_of_the_job_is_told_beside_what_solar_gains(code: str) -> None:
    found = material("orchard-hill")
    assert "heater alone" not in text_of("proposal", "orchard-hill", "en", "US")
    record = found.year.record.copy()
    record[:, at.POOL_TEMP_HEATER_ONLY] = found.job.pool.target + 0.1
    record[: 24 * 120, at.POOL_TEMP_HEATER_ONLY] = 0.0
    heated = replace(
        found,
        job=replace(found.job, heater=Heater("gas")),
        year=replace(found.year, record=record),
    )
    # Open from 15 April, day 104, to 15 October, day 287; warm from day 120 on.
    warm = 287 - 120 + 1
    text = str(proposal_paper(heated, language_of(code, "US")))
    said = {"en": f"alone holds 82 °F on {warm} days", "es": f"mantiene 82 °F en {warm} días"}
    assert said[code] in text.replace("\u00a0", " ")
