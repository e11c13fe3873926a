"""A batch's answer: how many rows are done, which were refused and why, how the figures spread."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.batch_run import Progress
from noonwater.app.batch_summary import Spread, Summary
from noonwater.app.text import number, table, wrapped
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label

if TYPE_CHECKING:
    from noonwater.drawing.batch_chart import BatchPicture

WORDS = {
    "season_pool_C": "season's mean, ",
    "season_days_at_target": "days at target",
    "solar_heat_kWh": "solar heat, kWh",
    "pump_kWh": "pump, kWh",
    "pump_cost": "pump, ",
    "days_to_target": "days to target",
}
FINDINGS_TOLD, REFUSALS_TOLD = 12, 20


@dataclass(frozen=True)
class BatchJob:
    """What the answer needs to know of the jobs: units of the base, else of the first."""

    units: System


@dataclass(frozen=True, eq=False)
class BatchAnswer:
    """What became of a batch.

    Attributes
    ----------
    job : BatchJob
        For the units.
    source : str
        The table.
    base : str
        Name of the base job, or its path; "" where there is none.
    progress : Progress
        What this run did.
    summary : Summary
        Of all results.
    written : tuple of Path
        Results and chart.
    picture : BatchPicture
        What the chart shows.
    """

    job: BatchJob
    source: str
    base: str
    progress: Progress
    summary: Summary
    written: tuple[Path, ...]
    picture: BatchPicture

    def chart(self, narrow: bool = False) -> str:
        """Draw the results as SVG, for the desk or for a telephone."""
        from noonwater.drawing.batch_chart import batch_chart
        from noonwater.drawing.sheet import DESK, POCKET

        return batch_chart(self.picture, POCKET if narrow else DESK)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """One caution where rows were refused."""
        refused = self.summary.rows - self.summary.done
        if not refused:
            return ()
        return (
            Finding(
                rule="rows-refused",
                severity="caution",
                where=self.source,
                value=f"{refused} of {self.summary.rows} rows",
                limit="none",
                text="Rows were refused and have no results; all others are done.",
                source="logic",
                remedy="Mend them in a table of their own and run that.",
            ),
        )

    def to_dict(self) -> dict[str, Any]:
        """Give counts, spread, findings and refusals for JSON."""
        summary, progress = self.summary, self.progress
        return {
            "table": self.source,
            "base": self.base,
            "rows": summary.rows,
            "done": summary.done,
            "refused": summary.rows - summary.done,
            "kept_from_before": progress.kept,
            "circuits_solved": progress.circuits,
            "written": [str(path) for path in self.written],
            "currency": summary.currency,
            "spread": {name: asdict(spread) for name, spread in summary.spread.items()},
            "varied": [varied.field for varied in summary.varied],
            "found": [
                {"rule": rule, "severity": severity, "rows": count}
                for rule, severity, count in summary.found
            ],
            "refusals": [asdict(refusal) for refusal in summary.refusals],
        }

    def lines(self, system: System) -> list[str]:
        """Tell counts, spread, what was found and what was refused."""
        summary = self.summary
        over = f" over {self.base}" if self.base else ""
        rows = "1 row" if summary.rows == 1 else f"{number(summary.rows)} rows"
        counts = f"{rows}, {number(summary.done)} done"
        if refused := summary.rows - summary.done:
            counts += f", {number(refused)} refused"
        lines = [f"Batch of {self.source}{over}: {counts}"]
        if self.progress.kept:
            lines.append(f"  {number(self.progress.kept)} of them were done before")
        if summary.spread:
            lines += ["", *_spread_lines(summary, system)]
        return [*lines, *_found_lines(summary), *_refusal_lines(summary)]


def _spread_lines(summary: Summary, system: System) -> list[str]:
    heads = [["over the rows", "lowest", "in row", "10 %", "middle", "90 %", "highest", "in row"]]
    return table(heads, [_spread_row(name, summary, system) for name in summary.spread])


def _spread_row(name: str, summary: Summary, system: System) -> list[str]:
    spread, warm = summary.spread[name], name == "season_pool_C"
    word = WORDS[name] + (unit_label("temperature", system) if warm else "")
    word += summary.currency if name == "pump_cost" else ""

    def shown(value: float) -> str:
        value = in_system(value, "temperature", system) if warm else value
        return number(value, 1 if warm else 2 if name == "pump_cost" else 0)

    ends = [shown(spread.low), shown(spread.middle), shown(spread.high), shown(spread.highest)]
    word += _share(spread, summary)
    return [word, shown(spread.lowest), str(spread.lowest_row), *ends, str(spread.highest_row)]


def _share(spread: Spread, summary: Summary) -> str:
    """Say how many rows have the figure, where not all have."""
    return "" if spread.count == summary.done else f" ({number(spread.count)} rows)"


def _found_lines(summary: Summary) -> list[str]:
    if not summary.found:
        return []
    rows = [
        [f"{severity.upper() if severity == 'fault' else severity} {rule}", number(count)]
        for rule, severity, count in summary.found[:FINDINGS_TOLD]
    ]
    more = len(summary.found) - FINDINGS_TOLD
    lines = ["", *table([["found", "rows"]], rows)]
    return [*lines, f"and {more} more, see --json"] if more > 0 else lines


def _refusal_lines(summary: Summary) -> list[str]:
    """Tell the bad rows; rows one after the other with the same fault share a line."""
    if not summary.refusals:
        return []
    lines = ["", "Refused"]

    def told(place: int) -> tuple[str, ...]:
        each = summary.refusals[place]
        return (each.field, each.given, each.allowed, each.remedy)

    for words, group in groupby(range(len(summary.refusals)), told):
        numbers = [summary.refusals[place].row for place in group]
        rows = f"row {numbers[0]}" if len(numbers) == 1 else f"rows {numbers[0]} to {numbers[-1]}"
        field, given, allowed, remedy = words
        text = f"{rows}, {field}: {given}; allowed: {allowed}" + (f"; {remedy}" if remedy else "")
        lines += wrapped(f"  {text}", "      ")
        if len(lines) > REFUSALS_TOLD:
            break
    told_rows = len({refusal.row for refusal in summary.refusals})
    if summary.rows - summary.done > told_rows or len(lines) > REFUSALS_TOLD:
        lines.append("  all refused rows are in the results, with their faults")
    return lines
