"""A job's money: what it costs, what it saves, as JSON, as text and as tables."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.money_findings import money_findings
from noonwater.app.money_lines import money_lines
from noonwater.app.money_shape import money_dict
from noonwater.app.money_study import MoneyStudy, study_money
from noonwater.app.parts_words import size_words, spreadsheet_safe
from noonwater.app.text import finding_lines
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_parts import PriceRow
    from noonwater.design.parts_row import PartRow

LIST_HEADS = ("part", "size", "unit", "price", "hours", "quantity", "listed as", "row")
"""Heads of the written list; it reads as a price list again."""


@dataclass(frozen=True, eq=False)
class MoneyAnswer:
    """What a job costs and saves, with what is missing."""

    job: Job
    study: MoneyStudy
    findings: tuple[Finding, ...]

    def to_dict(self) -> dict[str, Any]:
        """Give the money for JSON."""
        return money_dict(self.study)

    def lines(self, system: System) -> list[str]:
        """Tell findings, price, year, savings, assumptions, caution."""
        return [*finding_lines(self.findings), "", *money_lines(self.study, system)]

    def write(self, folder: Path) -> list[Path]:
        """Write the years as money.csv and the parts as prices.csv, to be filled in.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        files = {"money.csv": self.years(), "prices.csv": self.prices()}
        try:
            folder.mkdir(parents=True, exist_ok=True)
            for name, text in files.items():
                (folder / name).write_text(text, encoding="utf-8", newline="")
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return [folder / name for name in files]

    def years(self) -> str:
        """Give what each year brings against each alternative, as comma-separated values."""
        currency = self.job.money.currency
        heads = [f"against {each.alternative.kind}, {currency}" for each in self.study.against]
        rows = [
            [str(year), *(f"{each.worth.flows[year]:.2f}" for each in self.study.against)]
            for year in range(self.job.money.terms.life + 1)
        ]
        return _table(("year", *heads), rows)

    def prices(self) -> str:
        """Give the parts with prices found, and room for those that aren't, in the same form."""
        priced = () if self.study.pricing is None else self.study.pricing.priced
        found = {id(each.part): each.row for each in priced if each.part is not None}
        rows: dict[tuple[str, str], list[str]] = {}
        for part in self.study.parts:
            cells = self._cells(part, found.get(id(part)))
            known = rows.setdefault((cells[0], cells[1]), cells)
            if known is not cells:
                known[5] = f"{float(known[5]) + float(cells[5]):.6g}"
        once = [_once(each.row) for each in priced if each.part is None]
        return _table(LIST_HEADS, [*rows.values(), *once])

    def _cells(self, part: PartRow, row: PriceRow | None) -> list[str]:
        each, units = part.unit == "each", self.job.units
        quantity = part.quantity if each else in_system(part.quantity, "length", units)
        name = spreadsheet_safe(part.name)
        size = size_words(part, self.job.pad.schedule, units)
        counted = f"{quantity:.6g}"
        if row is None:
            sold = "each" if each else unit_label("length", units)
            return [name, size, sold, "", "", counted, "", ""]
        return [name, size, *_sold(row), counted, spreadsheet_safe(row.text), str(row.line)]


def answer_money(job: Job, folder: Path, prices: Path | str | None = None) -> MoneyAnswer:
    """Tell what a job costs and saves.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Where the price list that it names is looked for.
    prices : Path or str, optional
        A price list that counts instead.

    Raises
    ------
    InputError
        When the price list or the weather can't be read.
    """
    study = study_money(job, folder, prices)
    return MoneyAnswer(study.job, study, money_findings(study))


def _sold(row: PriceRow) -> list[str]:
    """Unit, price and hours, as a list is read."""
    unit = {"job": "job", "length": f"{row.pack:.6g} m"}.get(row.per, f"{row.pack:g}")
    return ["each" if unit == "1" else unit, f"{row.price:.6g}", f"{row.hours / 3600.0:.4g}"]


def _once(row: PriceRow) -> list[str]:
    """Row of what every job has once."""
    text = spreadsheet_safe(row.text)
    return [text, "", *_sold(row), "", text, str(row.line)]


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows(rows)
    return text.getvalue()
