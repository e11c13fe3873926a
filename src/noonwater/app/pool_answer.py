"""The same water as designed, with the heater alone, with the cover alone and bare; its heat."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from noonwater.app.text import MONTH_NAMES, number, table, wrapped
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.year.month_terms import MonthBackup
    from noonwater.year.result import Month, YearResult

KWH = 3.6e6
CARRIER = {"gas": "gas", "heat pump": "electricity", "electric": "electricity"}
"""What a kind of heater burns or draws."""


def month_pools(month: Month) -> dict[str, Any]:
    """Give what a month adds on pools, heat and heater, for JSON."""
    return {
        "pool_heater_only_C": month.pool_heater_only,
        "pool_bare_C": month.pool_bare,
        "make_up_m3": month.make_up,
        "heat": {f"{name}_kWh": heat / KWH for name, heat in asdict(month.heat).items()},
        "backup": _backup(month.backup),
    }


def year_pools(year: YearResult, job: Job) -> dict[str, Any]:
    """Give what the year adds on pools, heat and heater, for JSON.

    Parameters
    ----------
    year : YearResult
        The job's year.
    job : Job
        The job.

    Returns
    -------
    dict
        `pools` tells of each pool whether it was run: one that nothing tells from the pool without
        solar has that one's temperatures.
    """
    heater, heat = job.heater, [asdict(month.heat) for month in year.months]
    return {
        "pools": {
            "without_solar": True,
            "heater_only": heater.kind != "none",
            "bare": job.pool.cover.kind != "none",
        },
        "make_up_m3": sum(month.make_up for month in year.months),
        "heat": {f"{name}_kWh": sum(each[name] for each in heat) / KWH for name in heat[0]},
        "backup": {
            "kind": heater.kind,
            "carrier": CARRIER.get(heater.kind),
            **_backup(*(month.backup for month in year.months)),
        },
    }


COVER_HABIT = (
    "Cover: forgotten one night in ten (common practice, no source); pool.cover.forgotten tells"
    " another habit, 0 for never."
)


def pool_lines(year: YearResult, job: Job, system: System) -> list[str]:
    """Tell the pools beside the designed one, the heater and where the water's heat goes.

    Parameters
    ----------
    year : YearResult
        The job's year.
    job : Job
        The job.
    system : {"US", "SI"}
        Units.
    """
    lines = [_heat_line(year)]
    if job.pool.cover.kind != "none" and job.pool.cover.forgotten is None:
        lines.insert(0, COVER_HABIT)
    if job.heater.kind != "none":
        lines = [_heater_line(year, job, system), *lines]
    if job.pool.spa is not None and _total(year, "spa_heat") > 0.0:
        lines.append(_spa_line(year, job))
    told = [row for line in lines for row in wrapped(line, "  ")]
    columns = _columns(job, system)
    if not columns:
        return told
    heads = [["", *(column[row] for column in columns)] for row in range(3)]
    rows = [
        [MONTH_NAMES[month.month - 1], *(column[3](month) for column in columns)]
        for month in year.months
    ]
    return [*table(heads, rows), "", *told]


def _columns(job: Job, system: System) -> list[tuple[Any, ...]]:
    """Three heads and the cell of a month, for each column that there is something to tell in."""
    unit = unit_label("temperature", system)

    def degrees(name: str) -> Any:
        return lambda month: number(in_system(getattr(month, name), "temperature", system), 1)

    def energy(name: str) -> Any:
        return lambda month: number(getattr(month.backup, name) / KWH)

    heated, covered = job.heater.kind != "none", job.pool.cover.kind != "none"
    found: list[tuple[Any, ...]] = []
    if heated or covered:
        found.append(("pool as", "designed", unit, degrees("pool")))
    if heated:
        found.append(("heater", "alone", unit, degrees("pool_heater_only")))
    if covered:
        found.append(("cover", "alone", unit, degrees("pool_without_solar")))
        found.append(("", "bare", unit, degrees("pool_bare")))
    elif heated:
        found.append(("", "bare", unit, degrees("pool_without_solar")))
    if heated:
        carrier = CARRIER[job.heater.kind]
        found.append(("heater", "gives", "kWh", energy("heat")))
        found.append(("", carrier, "kWh", energy("energy")))
        found.append(("alone it", "gives", "kWh", energy("only_heat")))
        found.append(("and takes", carrier, "kWh", energy("only_energy")))
    return found


def _heater_line(year: YearResult, job: Job, system: System) -> str:
    heater, carrier = job.heater, CARRIER[job.heater.kind]
    takes, alone = _total(year, "energy"), _total(year, "only_energy")
    point = heater_target(job)
    line = f"Heater: {heater.kind}, set to {show(point, 'temperature', system, 1)}, takes "
    line += (
        f"{number(takes / KWH)} kWh of {carrier} a year; without solar {number(alone / KWH)} kWh"
    )
    saved = alone - takes
    word = "saves" if saved >= 0.0 else "adds"
    return f"{line}: solar {word} {number(abs(saved) / KWH)} kWh."


def heater_target(job: Job) -> float:
    """Set point of the backup heater. [°C]."""
    from noonwater.year.heater_terms import set_point

    return set_point(job.heater, job.pool.target)


def _spa_line(year: YearResult, job: Job) -> str:
    carrier = CARRIER.get(job.heater.kind, "electricity")
    heat, energy = _total(year, "spa_heat"), _total(year, "spa_energy")
    return f"Spa: {number(heat / KWH)} kWh of heat a year, {number(energy / KWH)} kWh of {carrier}."


def _heat_line(year: YearResult) -> str:
    sums = {
        name.replace("_", " "): sum(asdict(month.heat)[name] for month in year.months) / KWH
        for name in asdict(year.months[0].heat)
    }
    told = {name: heat for name, heat in sums.items() if abs(heat) >= 0.5}
    words = [
        f"{name} {number(heat)}" for name, heat in sorted(told.items(), key=lambda each: -each[1])
    ]
    return f"Heat of the water in the year, kWh: {', '.join(words)}."


def _total(year: YearResult, name: str) -> float:
    return float(sum(getattr(month.backup, name) for month in year.months))


def _backup(*months: MonthBackup) -> dict[str, float]:
    names = asdict(months[0])
    return {f"{name}_kWh": sum(getattr(each, name) for each in months) / KWH for name in names}
