"""A job's money: what it costs, what it saves, as JSON, as text and as tables."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.money_findings import money_findings
from noonwater.app.money_lines import money_lines
from noonwater.app.money_shape import money_dict
from noonwater.app.money_study import MoneyStudy, study_money
from noonwater.app.money_tables import csv_table, priced_parts
from noonwater.app.text import below_findings
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told, untold
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    pass


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
        return below_findings(self.findings, money_lines(self.study, system))

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
        return csv_table(("year", *heads), rows)

    def prices(self) -> str:
        """Give the parts with prices found, and room for those that aren't, in the same form."""
        return priced_parts(self.job, self.study.plain.parts, self.study.plain.pricing)


def answer_money(
    job: Job, folder: Path, prices: Path | str | None = None, told: Told = untold
) -> MoneyAnswer:
    """Tell what a job costs and saves.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Where the price list that it names is looked for.
    prices : Path or str, optional
        A price list that counts instead.
    told : callable, optional
        Is told how far it is.

    Raises
    ------
    InputError
        When the price list or the weather can't be read.
    """
    study = study_money(job, folder, prices, told)
    return MoneyAnswer(study.job, study, money_findings(study))
