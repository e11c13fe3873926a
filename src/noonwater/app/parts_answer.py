"""The parts list as JSON, as text, and as a table for a spreadsheet."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.leaning import NAMED, leaning_dict, leaning_words, rows_leant_on
from noonwater.app.parts_words import (
    joined_safe,
    quantity_words,
    remark,
    size_words,
    spreadsheet_safe,
)
from noonwater.app.text import WIDTH, finding_lines, folded, number
from noonwater.app.trace_words import grouped
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.design.parts_row import length_bought
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.catalog import CatalogUse
    from noonwater.design.parts_row import CountRule, PartRow

CAUTION = (
    "Falls: work on the roof secured. The roof's load, wind uplift and penetrations are for a "
    "structural engineer, the roof's warranty and local code. Release pressure at the filter "
    "before pipe is cut or a lid is opened. Controller, actuator, pump and bonding: pump off at "
    "the breaker, a licensed electrician. Cement and primer burn and give off fumes: air and "
    "gloves. The makers' instructions decide what fits what."
)

TITLES = {
    "pad": "At the pad",
    "roof": "On the roof and on the way up",
    "pipe": "Pipe and fittings",
    "supports": "Supports, cement and primer",
    "already there": "Already there, not bought",
}

THERE = (
    "Taken as already there, for the job doesn't say: pool, spa, filter pump, filter, heater, "
    "sanitizer and cleaner, with suction, return, the cleaner's and the spa's lines and valves; "
    "and panels with plugged tubes."
)

SIZED = ("pipe", "panel")
"""Tables of the catalog whose sizes the list is counted with."""

COLUMNS = (
    "group",
    "part",
    "kind",
    "size",
    "quantity",
    "unit",
    "net_length",
    "stock_lengths",
    "stock_length",
    "spacing",
    "where",
    "counted",
    "rule",
    "source",
)


@dataclass(frozen=True, eq=False)
class PartsAnswer:
    """What a job's circuit is made of."""

    job: Job
    rows: tuple[PartRow, ...]
    findings: tuple[Finding, ...]
    leans_on: tuple[CatalogUse, ...]

    @property
    def rules(self) -> tuple[CountRule, ...]:
        """Rules that rows are counted by, in the order of the list."""
        return tuple(dict.fromkeys(row.rule for row in self.rows if row.rule is not None))

    def to_dict(self) -> dict[str, Any]:
        """Give the list for JSON."""
        from noonwater.design.parts_list import fixings_by_plane
        from noonwater.design.parts_roof import roof_penetrations

        schedule = self.job.pad.schedule
        return {
            "job": self.job.name,
            "schedule": schedule,
            "parts": [_row_dict(row, schedule) for row in self.rows],
            "rules": [
                {"name": rule.name, "text": rule.text, "source": rule.source} for rule in self.rules
            ],
            "taken_as_there": THERE,
            "roof_penetrations": roof_penetrations(self.rows),
            "roof_penetrations_by_plane": fixings_by_plane(self.job),
            "leans_on": leaning_dict(self.leans_on),
        }

    def lines(self, system: System) -> list[str]:
        """Tell the list by group, then the rules."""
        marks = {rule: number for number, rule in enumerate(self.rules, start=1)}
        lines = [*finding_lines(self.findings), "", f"Parts: {self.job.name}"]
        for group, title in TITLES.items():
            rows = [row for row in self.rows if row.group == group]
            if rows:
                lines += ["", title, *_table(rows, self.job.pad.schedule, marks, system)]
        lines += ["", *textwrap.wrap(THERE, WIDTH)]
        lines += ["", "Counted from the circuit; where a number in brackets stands, by rule:"]
        for rule, mark in marks.items():
            text = f"[{mark}] {rule.text} ({rule.source})"
            lines += textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="      ")
        sources = folded("Sources", (leaning_words(self.leans_on), NAMED))
        lines += ["", *self._fixed()]
        return [*lines, "", *textwrap.wrap(CAUTION, WIDTH), "", sources]

    def _fixed(self) -> list[str]:
        """Tell what is screwed to the roof, by plane where there are several."""
        from noonwater.design.parts_list import fixings_by_plane

        planes = {roof: sum(counts.values()) for roof, counts in fixings_by_plane(self.job).items()}
        text = (
            f"Fixed to the roof: {sum(planes.values())} anchors, clamps and guides, besides the"
            " pipe's"
        )
        if len(planes) > 1:
            text += ": " + ", ".join(f"{count} on {roof}" for roof, count in planes.items())
        return textwrap.wrap(f"{text}.", WIDTH)

    def table(self) -> str:
        """Give the list as comma-separated values after RFC 4180, in the job's units."""
        text = io.StringIO(newline="")
        writer = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
        writer.writerow(COLUMNS)
        for row in self.rows:
            writer.writerow(_cells(row, self.job.pad.schedule, self.job.units))
        return text.getvalue()

    def write(self, folder: Path) -> list[Path]:
        """Write the list as parts.csv; return what was written.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        path = folder / "parts.csv"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            path.write_text(self.table(), encoding="utf-8", newline="")
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return [path]


def answer_parts(job: Job) -> PartsAnswer:
    """List a job's parts, and what is wrong with the job before they are bought.

    Parameters
    ----------
    job : Job
        The whole job.

    Raises
    ------
    InputError
        A name that neither the catalog nor the job knows; an edit that can't be made; a flow of the
        program that the pump does not reach.
    """
    from noonwater.design.checks import job_findings
    from noonwater.design.parts_list import parts_list
    from noonwater.design.parts_support import support_uses
    from noonwater.hydraulics.arrangement import fill_circuit
    from noonwater.hydraulics.speeds import with_speeds

    job = with_speeds(job, job.pool.target)
    rows = parts_list(job)
    sized = tuple(use for use in rows_leant_on(fill_circuit(job)) if use.table in SIZED)
    leans_on = (*sized, *support_uses(rows, job.pad.schedule))
    return PartsAnswer(job, rows, tuple(job_findings(job)), leans_on)


def _table(
    rows: Sequence[PartRow], schedule: str, marks: dict[CountRule, int], system: System
) -> Iterator[str]:
    heads = ("part", "size", "quantity", "where")
    cells = [
        (
            row.name if row.rule is None else f"{row.name} [{marks[row.rule]}]",
            size_words(row, schedule, system),
            quantity_words(row, system),
            "; ".join(text for text in (remark(row, system), grouped(row.where)) if text),
        )
        for row in rows
    ]
    columns = list(zip(heads, *cells, strict=True))
    name, size, quantity = (max(len(cell) for cell in column) for column in columns[:3])
    name = min(name, 40)
    rest = WIDTH - name - size - quantity - 6
    yield _line(heads, (name, size, quantity))
    yield "  ".join("-" * width for width in (name, size, quantity, rest))
    for row_cells in cells:
        names = textwrap.wrap(row_cells[0], name, subsequent_indent="  ")
        places = textwrap.wrap(row_cells[3], rest) or [""]
        for i in range(max(len(names), len(places))):
            first = i == 0
            line = (
                names[i] if i < len(names) else "",
                row_cells[1] if first else "",
                row_cells[2] if first else "",
                places[i] if i < len(places) else "",
            )
            yield _line(line, (name, size, quantity))


def _line(cells: Sequence[str], widths: tuple[int, int, int]) -> str:
    name, size, quantity = widths
    shown = (cells[0].ljust(name), cells[1].ljust(size), cells[2].rjust(quantity), cells[3])
    return "  ".join(shown).rstrip()


def _row_dict(row: PartRow, schedule: str) -> dict[str, Any]:
    return {
        "group": row.group,
        "part": row.name,
        "kind": row.kind,
        "size": size_words(row, schedule, "SI"),
        "sizes_m": list(row.sizes),
        "quantity": int(row.quantity) if row.unit == "each" else row.quantity,
        "unit": "each" if row.unit == "each" else "m",
        "net_m": row.net if row.unit == "length" else None,
        "stock_lengths": row.stock or None,
        "stock_length_m": row.stock_length or None,
        "spacing_m": row.spacing or None,
        "where": list(row.where),
        "counted": "from the circuit" if row.rule is None else "by rule",
        "rule": None if row.rule is None else row.rule.name,
        "source": None if row.rule is None else row.rule.source,
    }


def _cells(row: PartRow, schedule: str, system: System) -> list[str]:
    def length(value: float) -> str:
        return f"{in_system(value, 'length', system):.1f}" if value else ""

    each = row.unit == "each"
    quantity = number(row.quantity).replace(",", "")
    if not each:
        quantity = f"{length_bought(row.quantity, system):g}"
    words = [
        row.group,
        row.name,
        row.kind,
        size_words(row, schedule, system),
        quantity,
        "each" if each else unit_label("length", system),
        length(row.net),
        str(row.stock or ""),
        length(row.stock_length),
        length(row.spacing),
    ]
    how = ["from the circuit", "", ""]
    if row.rule is not None:
        how = ["by rule", row.rule.text, row.rule.source]
    cells = [spreadsheet_safe(word) for word in (*words, *how)]
    return [*cells[:10], joined_safe(row.where), *cells[10:]]
