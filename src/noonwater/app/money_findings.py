"""What is missing or wrong before the money of a job can be told to an owner."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.app.money_study import MoneyStudy
from noonwater.app.price_list import PriceList
from noonwater.core.finding import Finding
from noonwater.design.rule import counted

NAMED = 3
"""So many rows or parts a finding names; the answer lists them all."""


def money_findings(study: MoneyStudy) -> tuple[Finding, ...]:
    """List what is to be done before the answer is whole."""
    return (*_price(study), *_energy(study))


def _caution(rule: str, where: str, given: tuple[str, str], text: str, remedy: str) -> Finding:
    value, limit = given
    return Finding(rule, "caution", where, value, limit, text, "logic", remedy)


def _price(study: MoneyStudy) -> Iterator[Finding]:
    money, pricing = study.job.money, study.plain.pricing
    if study.plain.price is None:
        yield _caution(
            "price-not-told", "money.offer", ("none", "a price or a price list"),
            "Without a price nothing says when solar pays back.",
            'Give money.offer.installed or money.offer.file, or "--prices FILE".',
        )  # fmt: skip
    if pricing is not None and pricing.unpriced:
        names = ", ".join(part.part.name for part in pricing.unpriced[:NAMED])
        more = len(pricing.unpriced) - NAMED
        yield _caution(
            "parts-without-price", "price list", (counted(len(pricing.unpriced), "part"), "none"),
            f"The price is too low by what these cost: {names}"
            + (f" and {more} more." if more > 0 else "."),
            'Give them a row of this name; "--out DIR" writes a list with the names and sizes.',
        )  # fmt: skip
    yield from list_findings(study.plain.listed)
    if (
        study.plain.price is not None
        and study.plain.price.hours > 0.0
        and money.offer.labour_rate is None
    ):
        yield _caution(
            "labour-without-rate", "money.offer.labour_rate", ("none", "a labour rate"),
            "Hours of labour are counted, and cost nothing.", "Give money.offer.labour_rate.",
        )  # fmt: skip


def list_findings(listed: PriceList | None) -> Iterator[Finding]:
    """Say which rows of a price list are not used, and why."""
    if listed is not None and listed.faults:
        rows = "; ".join(f"row {fault.line}: {fault.why}" for fault in listed.faults[:NAMED])
        if len(listed.faults) > NAMED:
            rows += f"; and {len(listed.faults) - NAMED} more"
        yield _caution(
            "price-rows-not-used", "price list", (counted(len(listed.faults), "row"), "none"),
            f"Rows of the price list that are not used: {rows}.",
            "Mend them, or leave them where they are no parts.",
        )  # fmt: skip


def _energy(study: MoneyStudy) -> Iterator[Finding]:
    money = study.job.money
    if money.electricity == 0.0 and not money.windows:
        yield _caution(
            "electricity-not-told", "money.electricity", ("0", "what a kWh costs"),
            "The pump's electricity is counted as free.", "Give money.electricity.",
        )  # fmt: skip
    heated = study.job.heater.kind == "gas"
    if heated and not any(alternative.burns for alternative in money.alternatives):
        yield _caution(
            "own-heater-without-price", "money.alternatives", ("none", "gas or propane"),
            "What solar saves of the own heater's gas can't be told in money.",
            "Give [[money.alternatives]] with kind gas or propane and its price.",
        )  # fmt: skip
    if study.plain.solar.heat <= 0.0:
        yield _caution(
            "solar-brings-no-heat", "the year", ("0 kWh in the year", "more than none"),
            "Solar brings this pool no heat, so that it saves nothing of any other heater.",
            "See what noonwater check says of it, before anything is proposed.",
        )  # fmt: skip
    elif not study.against:
        yield _caution(
            "nothing-to-hold-against", "money.alternatives", ("none", "one or more"),
            "Solar is held against doing nothing alone, which costs nothing.",
            "Give [[money.alternatives]] with kind and price.",
        )  # fmt: skip
    values = [each.worth.net_present_value for each in study.against]
    if values and all(value is not None and value < 0.0 for value in values):
        yield _caution(
            "pays-against-none", "money", ("a loss", "a gain against one alternative"),
            "Over its life solar costs more than each alternative on these terms.",
            "See what a cover, fewer panels or a lower pump speed give, before it is proposed.",
        )  # fmt: skip
