"""The pool's year, as JSON, as text and as files."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from noonwater.app.control_answer import control_lines, controls_dict, month_dict
from noonwater.app.flow_answer import FlowAnswer, state_lines
from noonwater.app.leaning import leaning_dict, leaning_words, rows_leant_on
from noonwater.app.pool_answer import month_pools, pool_lines, year_pools
from noonwater.app.sureness import range_lines, ranges_dict
from noonwater.app.text import MONTH_NAMES, finding_lines, folded, number, table
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.sure import Sureness
    from noonwater.hydraulics.flow import FlowResult
    from noonwater.year.result import Month, YearResult

KWH = 3.6e6


@dataclass(frozen=True, eq=False)
class YearAnswer:
    """The year of a job, with its flow and findings."""

    job: Job
    flow: FlowResult
    year: YearResult
    findings: tuple[Finding, ...]
    sure: Sureness

    def to_dict(self) -> dict[str, Any]:
        """Give the year for JSON."""
        year = self.year
        return {
            "job": self.job.name,
            "months": [_month(month) for month in year.months],
            "closure": year.closure,
            "settled_K": year.settled,
            "target_C": year.target,
            "opens": self.job.pool.opens,
            "closes": self.job.pool.closes,
            "opening_C": year.opening_temp,
            "days_to_target": year.days_to_target,
            "solar_heat_kWh": sum(month.solar_heat for month in year.months) / KWH,
            "pump_kWh": sum(month.pump_energy for month in year.months) / KWH,
            "pump_cost": sum(month.pump_cost for month in year.months),
            "currency": self.job.money.currency,
            **year_pools(year, self.job),
            "ranges": ranges_dict(self.sure, year.pump_price),
            "controls": controls_dict(self.job, self.flow, year),
            "weather": {
                key: value for key, value in asdict(year.weather).items() if key != "findings"
            },
            "states": FlowAnswer(self.job, self.flow, ()).to_dict()["states"],
            "leans_on": leaning_dict(rows_leant_on(self.flow.circuit)),
            "inputs_hash": year.inputs_hash,
        }

    def lines(self, system: System) -> list[str]:
        """Tell findings, months, opening, flow and sources."""
        return [
            *finding_lines(self.findings),
            "",
            f"The pool's year: {self.job.name}",
            "",
            *month_lines(self.year, self.job, system),
            "",
            _opening(self.year, self.job, system),
            *range_lines(self.sure, self.job, system),
            "",
            *pool_lines(self.year, self.job, system),
            "",
            *control_lines(self.job, self.flow, self.year, system),
            "",
            *state_lines(self.flow, system),
            "",
            _sources(self.year, self.flow),
        ]

    def write(self, folder: Path) -> list[Path]:
        """Write the hours as CSV and the year as an SVG chart; return what was written.

        Raises
        ------
        InputError
            When the folder can't be written to.
        """
        from noonwater.drawing.year_chart import year_chart

        pool = self.job.pool
        chart = year_chart(self.year, units=self.job.units, opens=pool.opens, closes=pool.closes)
        hours, picture = folder / "hours.csv", folder / "year.svg"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self.year.frame().round(4).to_csv(hours)
            picture.write_text(chart, encoding="utf-8")
        except OSError as error:
            fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
            raise InputError([fault]) from None
        return [hours, picture]


def month_lines(year: YearResult, job: Job, system: System) -> list[str]:
    """Tell the twelve months and their sum in a table."""
    target = show(year.target, "temperature", system, 0)
    degrees = unit_label("temperature", system)
    heads = [
        [
            "",
            "pool with",
            "without",
            "clear day",
            "hours at",
            "without",
            "solar",
            "on the",
            "pump",
            "pump",
        ],
        ["", "solar", "solar", "adds", target, "solar", "heat", "roof", "energy", "cost"],
        ["", degrees, degrees, degrees, "h", "h", "kWh", "h", "kWh", job.money.currency],
    ]
    rows = [_month_row(month, system) for month in year.months]
    sums = [
        sum(getattr(month, name) for month in year.months)
        for name in (
            "hours_at_target",
            "hours_at_target_without_solar",
            "solar_heat",
            "solar_time",
            "pump_energy",
            "pump_cost",
        )
    ]
    scales = (1.0, 1.0, KWH, 3600.0, KWH, 1.0)
    total = [number(value / scale) for value, scale in zip(sums, scales, strict=True)]
    return table(heads, [*rows, ["year", "", "", "", *total]])


def _month_row(month: Month, system: System) -> list[str]:
    return [
        MONTH_NAMES[month.month - 1],
        number(in_system(month.pool, "temperature", system), 1),
        number(in_system(month.pool_without_solar, "temperature", system), 1),
        number(in_system(month.clear_day_rise, "temperature difference", system), 1),
        number(month.hours_at_target),
        number(month.hours_at_target_without_solar),
        number(month.solar_heat / KWH),
        number(month.solar_time / 3600.0),
        number(month.pump_energy / KWH),
        number(month.pump_cost, 2),
    ]


def _opening(year: YearResult, job: Job, system: System) -> str:
    start = show(year.opening_temp, "temperature", system, 0)
    target = show(year.target, "temperature", system, 0)
    if year.days_to_target is None:
        return f"Opened on {job.pool.opens} at {start}, it does not reach {target} in the season."
    days = number(year.days_to_target, 1 if year.days_to_target < 10 else 0)
    by = "" if job.heater.kind == "none" else " by sun and heater"
    return f"Opened on {job.pool.opens} at {start}, it reaches {target}{by} after {days} days."


def _sources(year: YearResult, flow: FlowResult) -> str:
    weather = year.weather
    return folded(
        "Sources",
        (
            f"weather {weather.source}",
            f"sun closes to {weather.closure:.1f} W/m²",
            weather.uncertainty,
            *weather.notes,
            f"heat balance closes to {year.closure:.0e}",
            leaning_words(rows_leant_on(flow.circuit)),
            f"inputs {year.inputs_hash}",
        ),
    )


def _month(month: Month) -> dict[str, Any]:
    return {
        "month": month.month,
        "pool_C": month.pool,
        "pool_without_solar_C": month.pool_without_solar,
        "clear_day_rise_K": month.clear_day_rise,
        "hours_at_target": month.hours_at_target,
        "hours_at_target_without_solar": month.hours_at_target_without_solar,
        "solar_heat_kWh": month.solar_heat / KWH,
        "solar_hours": month.solar_time / 3600.0,
        "pump_kWh": month.pump_energy / KWH,
        "pump_without_solar_kWh": month.pump_energy_without_solar / KWH,
        "pump_cost": month.pump_cost,
        **month_dict(month),
        **month_pools(month),
    }
