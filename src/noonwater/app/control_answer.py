"""What the controls did in the year: program, priming, cooling, frost, sensor, dry panels."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING, Any

from noonwater.app.text import MONTH_NAMES, WIDTH, number
from noonwater.core.digits import about
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.hydraulics.flow import FlowResult, StateFlow
    from noonwater.year.result import Month, YearResult
    from noonwater.year.sensor_cost import SensorCost

KWH, HOUR = 3.6e6, 3600.0


def controls_dict(job: Job, flow: FlowResult, year: YearResult) -> dict[str, Any]:
    """Give the controls' year for JSON.

    Parameters
    ----------
    job : Job
        The job.
    flow : FlowResult
        Of its states.
    year : YearResult
        Its year.
    """
    controls, priming = job.controls, _priming(flow)
    return {
        "kind": controls.kind,
        "program": program_dicts(job),
        "starts": _sum(year, "starts"),
        "priming": None
        if priming is None
        else {
            "rpm": priming.rpm,
            "time_s": job.pump.priming_time,
            "pressure_array_high_Pa": priming.pressure_array_high,
            "power_W": priming.power,
        },
        "cooling": None
        if controls.cooling_target is None
        else {"target_C": controls.cooling_target, **_cost(year, "cooling")},
        "freeze": {"action": controls.freeze, **_cost(year, "freeze")},
        "sensor": {
            "kind": controls.sensor,
            "roof": controls.sensor_roof or job.array.banks[0].roof,
            "cost": None if year.sensor_cost is None else _sensor_cost(year.sensor_cost),
        },
    }


def program_dicts(job: Job) -> list[dict[str, Any]]:
    """Give the pump's day with the speeds and flows it comes to, for JSON."""
    from noonwater.hydraulics.flow import flow_at
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.hydraulics.states import purpose_of

    temp = job.pool.target
    known = with_speeds(job, temp)
    rows = []
    for period in known.pump.program:
        purpose = purpose_of(known, period)
        filtering = flow_at(known, period.rpm, False, temp, purpose)
        speed = known.pump.solar_speed or period.rpm
        solar = flow_at(known, speed, True, temp, purpose) if period.heats else None
        rows.append(
            {
                "start": period.start,
                "stop": period.stop,
                "purpose": period.purpose,
                "rpm": filtering.rpm,
                "flow_m3h": filtering.flow * HOUR,
                "power_W": filtering.power,
                "solar_rpm": None if solar is None else solar.rpm,
                "solar_flow_m3h": None if solar is None else solar.array_flow * HOUR,
                "solar_power_W": None if solar is None else solar.power,
            }
        )
    return rows


def month_dict(month: Month) -> dict[str, float]:
    """Give what the controls add to a month, for JSON."""
    return {
        "starts": month.starts,
        "cooling_kWh": month.cooling_heat / KWH,
        "cooling_pump_kWh": month.cooling_energy / KWH,
        "freeze_heat_kWh": month.freeze_heat / KWH,
        "freeze_hours": month.freeze_time / HOUR,
        "freeze_pump_kWh": month.freeze_energy / KWH,
        "stagnation_C": month.stagnation_highest,
        "dry_lowest_C": month.dry_lowest,
    }


def control_lines(job: Job, flow: FlowResult, year: YearResult, system: System) -> list[str]:
    """Tell the controls' year, a line for each thing that there is to tell.

    Parameters
    ----------
    job : Job
        The job.
    flow : FlowResult
        Of its states.
    year : YearResult
        Its year.
    system : {"US", "SI"}
        Units.
    """
    lines = [*_program_lines(job, system), *control_sentences(job, flow, year, system)]
    return [row for line in lines for row in wrap(line, WIDTH, subsequent_indent="  ")]


def control_sentences(
    job: Job, flow: FlowResult, year: YearResult, system: System
) -> tuple[str, ...]:
    """Tell priming, cooling, frost, sensor and dry panels, a sentence each; as `control_lines`."""
    return (
        *_priming_lines(job, flow, year, system),
        *_night_lines(job, year),
        *_sensor_lines(year),
        _dry_line(year, system),
    )


def _program_lines(job: Job, system: System) -> list[str]:
    unit = unit_label("flow", system)

    def flow(cubic_metres: float) -> str:
        return f"{number(in_system(cubic_metres / HOUR, 'flow', system), 1)} {unit}"

    lines = []
    for row in program_dicts(job):
        line = f"{row['start']}-{row['stop']} {row['purpose']} at {row['rpm']:.0f} rpm, "
        line += flow(row["flow_m3h"])
        if row["solar_rpm"] is not None:
            line += (
                f"; solar at {row['solar_rpm']:.0f} rpm, {flow(row['solar_flow_m3h'])} on the roof"
            )
        lines.append(line)
    return [f"Program: {line}" for line in lines]


def _priming_lines(job: Job, flow: FlowResult, year: YearResult, system: System) -> list[str]:
    state = _priming(flow)
    if state is None:
        return []
    minutes = f"{job.pump.priming_time / 60.0:.3g}"
    line = f"Priming: {state.rpm:.0f} rpm for {minutes} min at each of "
    line += f"{number(_sum(year, 'starts'))} starts a year"
    if state.pressure_array_high is not None:
        line += f"; up to {show(state.pressure_array_high, 'pressure', system)} at the panels"
    return [f"{line}."]


def _night_lines(job: Job, year: YearResult) -> list[str]:
    lines = []
    if job.controls.cooling_target is not None:
        lines.append(f"Cooling: {_cost_words(job, year, 'cooling')}.")
    if job.controls.freeze == "circulate":
        lines.append(f"Against frost: {_cost_words(job, year, 'freeze')}.")
    return lines


def _cost_words(job: Job, year: YearResult, what: str) -> str:
    cost = _cost(year, what)
    return (
        f"{number(about(cost['hours']))} h a year took "
        f"{number(about(cost['heat_kWh']))} kWh out of the pool, "
        f"for {number(about(cost['pump_kWh']))} kWh of the pump beyond its program, "
        f"{number(cost['pump_cost'], 2)} {job.money.currency}"
    )


def _sensor_lines(year: YearResult) -> list[str]:
    cost = year.sensor_cost
    if cost is None:
        return []
    hours, good_hours = number(cost.solar_time / HOUR), number(cost.solar_time_good / HOUR)
    heat, good_heat = number(cost.solar_heat / KWH), number(cost.solar_heat_good / KWH)
    return [
        f"Sensor: against a good one solar runs {hours} h instead of {good_hours} h, brings {heat} "
        f"kWh instead of {good_heat} kWh, and starts {number(cost.starts)} times instead of "
        f"{number(cost.starts_good)}."
    ]


def _dry_line(year: YearResult, system: System) -> str:
    hot = max(year.months, key=lambda month: month.stagnation_highest)
    cold = min(year.months, key=lambda month: month.dry_lowest)
    highest = show(hot.stagnation_highest, "temperature", system, 0)
    lowest = show(cold.dry_lowest, "temperature", system, 0)
    return (
        f"Dry panels: up to {highest} in {MONTH_NAMES[hot.month - 1]}, "
        f"down to {lowest} in {MONTH_NAMES[cold.month - 1]}."
    )


def _priming(flow: FlowResult) -> StateFlow | None:
    return next((state for state in flow.states if state.name.startswith("priming")), None)


def _sum(year: YearResult, field: str) -> float:
    return float(sum(getattr(month, field) for month in year.months))


def _cost(year: YearResult, what: str) -> dict[str, float]:
    energy = _sum(year, f"{what}_energy")
    return {
        "hours": _sum(year, f"{what}_time") / HOUR,
        "heat_kWh": _sum(year, f"{what}_heat") / KWH,
        "pump_kWh": energy / KWH,
        "pump_cost": energy * year.pump_price,
    }


def _sensor_cost(cost: SensorCost) -> dict[str, float]:
    return {
        "solar_heat_kWh": cost.solar_heat / KWH,
        "solar_heat_good_kWh": cost.solar_heat_good / KWH,
        "solar_hours": cost.solar_time / HOUR,
        "solar_hours_good": cost.solar_time_good / HOUR,
        "pump_kWh": cost.pump_energy / KWH,
        "pump_good_kWh": cost.pump_energy_good / KWH,
        "hours_at_target": cost.hours_at_target,
        "hours_at_target_good": cost.hours_at_target_good,
        "starts": cost.starts,
        "starts_good": cost.starts_good,
        "share_lost": cost.share_lost,
    }
