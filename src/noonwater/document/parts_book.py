"""The parts list as a spreadsheet: quantities as counted, prices as told, the rest by formulas."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.core.spreadsheet import starts_like_formula
from noonwater.design.money_parts import PricedPart, bought
from noonwater.design.parts_row import PartRow, length_bought
from noonwater.document.language import Language, sentence
from noonwater.document.material import Material
from noonwater.document.part_words import part_size, part_words, remark_words

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

HOUR = 3600.0
WIDTHS = (30, 44, 18, 10, 8, 10, 12, 12, 12, 10, 30)
SHEET_CODES = {"US": 1, "SI": 9}
"""Letter and A4, as the file's format numbers them."""
LONGEST = 32_000
"""[characters] A cell holds 32,767."""
HEAD_HEIGHT = 32.0
"""[pt] Two lines: the heads are longer than their figures."""
MONEY, COUNT = "#,##0.00", "#,##0.##"


@dataclass(frozen=True)
class Line:
    """A row of the sheet.

    Attributes
    ----------
    group, name, size, remark : str
        In the reader's language.
    quantity : float
        Pieces, or the length in the reader's unit.
    unit : str
        Of the quantity.
    packs : float
        That are bought, or the quantity where no price is known.
    price, hours : float or None
        Of one of those [currency], [h]; None where nobody told.
    """

    group: str
    name: str
    size: str
    quantity: float
    unit: str
    packs: float
    price: float | None
    hours: float | None
    remark: str


def parts_book(material: Material, language: Language) -> bytes:
    """Write the parts list as a workbook.

    Parameters
    ----------
    material : Material
        Its parts, with their prices.
    language : Language
        To write in.

    Returns
    -------
    bytes
        Of an .xlsx file. Text is always text, whatever it begins with; only this module's own
        formulas are formulas.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.properties.creator = "Noonwater"
    sheet = book.active
    sheet.title = "parts"
    lines = list(_lines(material, language))
    last = _table(sheet, lines, material, language)
    _total(sheet, last, material, language)
    for number, width in enumerate(WIDTHS):
        sheet.column_dimensions["ABCDEFGHIJK"[number]].width = width
    sheet.freeze_panes = "C2"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation, sheet.page_setup.fitToWidth = "landscape", 1
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.page_setup.fitToHeight = 0
    sheet.page_setup.paperSize = SHEET_CODES[language.system]
    sheet.print_area = f"A1:K{sheet.max_row}"
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _lines(material: Material, language: Language) -> list[Line]:
    from noonwater.document.build_parts import TITLES

    pricing = material.pricing
    priced = [] if pricing is None else list(pricing.priced)
    found = {id(each.part): each for each in priced if each.part is not None}
    lines = [
        _line(
            row, found.get(id(row)) or _same(row, priced), language.say(TITLES[row.group]), language
        )
        for row in bought(material.parts)
    ]
    once = language.say("once a job")
    for each in priced:
        if each.part is None:
            hours = each.row.hours / HOUR
            lines.append(Line(once, each.row.text, "", 1.0, "", 1.0, each.row.price, hours, ""))
    return lines


def _same(row: PartRow, priced: Sequence[PricedPart]) -> PricedPart | None:
    return next((each for each in priced if each.part == row), None)


def _line(row: PartRow, priced: PricedPart | None, group: str, language: Language) -> Line:
    name, size = sentence(part_words(row, language)), part_size(row, language)
    each = row.unit == "each"
    quantity = row.quantity if each else length_bought(row.quantity, language.system)
    unit = language.say("each") if each else language.unit("length")
    remark = remark_words(row, language)
    if priced is None:
        return Line(group, name, size, quantity, unit, quantity, None, None, remark)
    hours = priced.hours / HOUR / priced.packs if priced.packs else 0.0
    return Line(group, name, size, quantity, unit, priced.packs, priced.row.price, hours, remark)


def _table(sheet: Worksheet, lines: Sequence[Line], material: Material, language: Language) -> int:
    from openpyxl.styles import Alignment, Font

    say, currency = language.say, material.job.money.currency
    heads = (
        say("Place"), say("Part"), say("Size"), say("Quantity"), say("Unit"),
        say("Packs bought"), say("Price of a pack, {currency}", currency=currency),
        say("Cost, {currency}", currency=currency), say("Hours of a pack"), say("Hours"),
        say("Note"),
    )  # fmt: skip
    for column, head in zip("ABCDEFGHIJK", heads, strict=True):
        _text(sheet, f"{column}1", head)
        sheet[f"{column}1"].font = Font(bold=True)
        sheet[f"{column}1"].alignment = Alignment(wrap_text=True, vertical="top")
    sheet.row_dimensions[1].height = HEAD_HEIGHT
    for number, line in enumerate(lines, start=2):
        for column, text in zip("ABCEK", (line.group, line.name, line.size, line.unit, line.remark),
                                strict=True):  # fmt: skip
            _text(sheet, f"{column}{number}", text)
        figures = {"D": line.quantity, "F": line.packs, "G": line.price, "I": line.hours}
        for column, value in figures.items():
            _figure(sheet, f"{column}{number}", value, MONEY if column == "G" else COUNT)
        _figure(sheet, f"H{number}", f"=F{number}*G{number}", MONEY)
        _figure(sheet, f"J{number}", f"=F{number}*I{number}", COUNT)
    return len(lines) + 1


def _total(sheet: Worksheet, last: int, material: Material, language: Language) -> None:
    """Sum up by formulas, in the way of the job's offer."""
    from openpyxl.styles import Font

    say, offer = language.say, material.offering.designed.job.money.offer
    at = last + 2
    extra, hours, rate, parts = f"H{at}", f"H{at + 1}", f"H{at + 2}", f"H{at + 3}"
    labour, overhead, tax = f"H{at + 4}", f"H{at + 6}", f"H{at + 8}"
    taxed = parts if offer.tax_on == "parts" else f"({parts}+{labour})"
    labour_rate = None if offer.labour_rate is None else offer.labour_rate * HOUR
    rows: tuple[tuple[str, Any, str], ...] = (
        (say("other work, hours"), offer.extra_hours / HOUR, COUNT),
        (say("hours in all"), f"=SUM(J2:J{last})+{extra}", COUNT),
        (say("an hour of one worker"), labour_rate, MONEY),
        (say("parts"), f"=SUM(H2:H{last})", MONEY),
        (say("labour"), f"={hours}*{rate}", MONEY),
        (say("overhead and profit, share"), offer.overhead, "0.0 %"),
        (say("overhead and profit"), f"=H{at + 5}*({parts}+{labour})", MONEY),
        (say("sales tax, share"), offer.sales_tax, "0.00 %"),
        (say("sales tax"), f"=H{at + 7}*{taxed}*(1+H{at + 5})", MONEY),
        (say("price"), f"={parts}+{labour}+{overhead}+{tax}", MONEY),
    )
    for number, (name, value, form) in enumerate(rows, start=at):
        _text(sheet, f"B{number}", name)
        _figure(sheet, f"H{number}", value, form)
    end = at + len(rows) - 1
    for column in "BH":
        sheet[f"{column}{end}"].font = Font(bold=True)
    notes = []
    if material.pricing is None or material.pricing.unpriced:
        notes.append(say("Without the prices that are left empty."))
    if offer.installed is not None:
        whole = language.money(offer.installed, material.job.money.currency)
        notes.append(say("The job tells a whole price of its own: {price}.", price=whole))
    _text(sheet, f"B{end + 1}", " ".join(notes))


def _text(sheet: Worksheet, place: str, text: str) -> None:
    """Write text that stays text, whatever it begins with."""
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    cell = sheet[place]
    cell.value = ILLEGAL_CHARACTERS_RE.sub("", text)[:LONGEST]
    cell.data_type = "s"
    cell.quotePrefix = starts_like_formula(text)


def _figure(sheet: Worksheet, place: str, value: Any, form: str) -> None:
    cell = sheet[place]
    cell.value = value
    cell.number_format = form
