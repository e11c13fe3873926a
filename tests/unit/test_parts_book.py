"""The spreadsheet reopened: its formulas, evaluated here, come to the parts list's price."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import lru_cache
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from noonwater.app.demos import FOLDER
from noonwater.app.offering_study import OfferSource
from noonwater.app.pack_answer import material_of
from noonwater.design.money_parts import bought
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.parts_book import parts_book
from noonwater.model.own_part import OwnPanel, SteadyTest
from tests.papers import DEMOS, material

HEADS, LAST_COLUMN = 1, "K"
SPITEFUL = '=HYPERLINK("http://example.org","click")'


@lru_cache(maxsize=8)
def sheet_of(demo: str, code: str = "en") -> Worksheet:
    return reopened(material(demo), code)


def reopened(found: Material, code: str = "en") -> Worksheet:
    made = parts_book(found, language_of(code, found.job.units))
    return load_workbook(io.BytesIO(made)).active


def evaluated(sheet: Worksheet, place: str) -> float:
    """An evaluator of its own: sums, products, cells; an empty cell is 0, as in any spreadsheet."""
    value: Any = sheet[place].value
    if not isinstance(value, str):
        return float(value or 0.0)
    assert value.startswith("=")
    cells = r"([A-Z])(\d+):\1(\d+)"

    def total(match: re.Match[str]) -> str:
        column, first, last = match.groups()
        return repr(sum(evaluated(sheet, f"{column}{n}") for n in range(int(first), int(last) + 1)))

    text = re.sub(rf"SUM\({cells}\)", total, value[1:])
    text = re.sub(r"\b([A-Z]\d+)\b", lambda m: f"({evaluated(sheet, m[1])!r})", text)
    assert re.fullmatch(r"[\d.e+*()\- ]+", text), text
    return float(eval(text))


def row_named(sheet: Worksheet, name: str) -> int:
    return next(row for row in range(1, sheet.max_row + 1) if sheet[f"B{row}"].value == name)


@pytest.mark.parametrize("demo", ["orchard-hill", "lagoon-court"])
def test_sums_are_the_priced_list_s(demo: str) -> None:
    sheet, found = sheet_of(demo), material(demo)
    price, pricing = found.offering.designed.price, found.pricing
    assert price is not None
    assert pricing is not None
    by_name = {
        "parts": price.parts,
        "hours in all": price.hours / 3600.0,
        "labour": price.labour,
        "overhead and profit": price.overhead,
        "sales tax": price.tax,
        "price": price.total,
    }
    for name, value in by_name.items():
        assert evaluated(sheet, f"H{row_named(sheet, name)}") == pytest.approx(value, rel=1e-9)
    costs = [evaluated(sheet, f"H{row}") for row in range(2, 2 + len(pricing.priced))]
    assert costs == pytest.approx([each.cost for each in pricing.priced])


@pytest.mark.parametrize("demo", DEMOS)
def test_every_bought_part_is_on_it_with_its_quantity(demo: str) -> None:
    sheet, found = sheet_of(demo), material(demo)
    rows = bought(found.parts)
    for number, row in enumerate(rows, start=2):
        quantity = sheet[f"D{number}"].value
        if row.unit == "each":
            assert quantity == row.quantity
        else:
            unit = 0.3048 if found.job.units == "US" else 1.0
            step = 1.0 if found.job.units == "US" else 0.1
            assert 0.0 <= quantity * unit - row.quantity + 1e-6 <= step * unit + 2e-6


def test_without_a_price_list_prices_are_empty_and_the_sum_is_nothing() -> None:
    sheet = sheet_of("almond-ranch")
    rows = len(bought(material("almond-ranch").parts))
    assert [sheet[f"G{row}"].value for row in range(2, 2 + rows)] == [None] * rows
    assert evaluated(sheet, f"H{row_named(sheet, 'price')}") == 0.0
    assert "9,400" in str(sheet[f"B{row_named(sheet, 'price') + 1}"].value)


def test_what_a_job_calls_a_part_is_never_a_formula() -> None:
    job = material("orchard-hill").job
    own = OwnPanel(SPITEFUL, 1.2, 3.0, SteadyTest("steady", 0.8, 0.04, 15.0, 2.0), drop=2000.0)
    banks = tuple(replace(bank, panel=SPITEFUL) for bank in job.array.banks)
    job = replace(job, own_panel=(own,), array=replace(job.array, banks=banks))
    sheet = reopened(material_of(job, OfferSource(FOLDER)))
    texts = [cell for row in sheet.iter_rows() for cell in row if "HYPERLINK" in str(cell.value)]
    assert texts
    assert {cell.data_type for cell in texts} == {"s"}
    formulas = [cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    allowed = re.compile(r"=(SUM\([A-Z]\d+:[A-Z]\d+\)|[A-Z]\d+|[-+*()\d]|\+)+")
    assert all(allowed.fullmatch(str(cell.value)) for cell in formulas)


def test_names_are_in_the_reader_s_language() -> None:
    sheet = sheet_of("orchard-hill", "es")
    names = [sheet[f"B{row}"].value for row in range(2, sheet.max_row + 1)]
    assert "Válvula de retención, de clapeta" in names
    assert "precio" in names


def test_it_prints_on_the_reader_s_sheet_with_its_heads_whole() -> None:
    for demo, size in (("lagoon-court", 1), ("almond-ranch", 9)):
        sheet = sheet_of(demo)
        assert int(sheet.page_setup.paperSize) == size
        assert sheet.print_area == f"'{sheet.title}'!$A$1:${LAST_COLUMN}${sheet.max_row}"
        for cell in sheet[HEADS]:
            assert cell.alignment.wrap_text
            # No word of a head is wider than its column, and two lines hold it.
            width = sheet.column_dimensions[cell.column_letter].width
            assert max(len(word) for word in str(cell.value).split()) <= width
            assert len(str(cell.value)) <= 2 * width
        places = [sheet[f"A{row}"].value or "" for row in range(2, sheet.max_row + 1)]
        assert max(len(place) for place in places) <= sheet.column_dimensions["A"].width


def test_only_a_list_with_gaps_says_that_it_has_some() -> None:
    note = "Without the prices that are left empty."

    def told(demo: str) -> bool:
        sheet = sheet_of(demo)
        return note in str(sheet[f"B{sheet.max_row}"].value)

    assert not told("lagoon-court")
    assert told("almond-ranch")
