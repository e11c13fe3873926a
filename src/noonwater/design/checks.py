"""All checks: each a rule and the function that looks for it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from noonwater.climate.weather_year import WeatherYear
from noonwater.core.finding import Finding
from noonwater.design import (
    array_layout,
    backup,
    controls,
    lift,
    pad_layout,
    pad_valves,
    panel_flow,
    part_limits,
    place,
    pressure,
    program,
    season,
    standing_water,
    start,
    velocity,
)
from noonwater.design.rule import Rule
from noonwater.hydraulics.flow import FlowResult
from noonwater.model.job import Job
from noonwater.year.result import YearResult

JobCheck = Callable[[Job], Iterator[Finding]]
FlowCheck = Callable[[Job, FlowResult], Iterator[Finding]]
YearCheck = Callable[[Job, YearResult, WeatherYear], Iterator[Finding]]

JOB_CHECKS: dict[Rule, JobCheck] = {
    array_layout.PANELS_WIDER_THAN_ROOF: array_layout.panels_wider_than_roof,
    array_layout.PANELS_LONGER_THAN_ROOF: array_layout.panels_longer_than_roof,
    array_layout.BANK_TOO_LONG: array_layout.bank_too_long,
    array_layout.ARRAY_TOO_SMALL: array_layout.array_too_small,
    array_layout.SENSOR_OFF_THE_PANELS: array_layout.sensor_off_the_panels,
    pad_valves.CHECK_VALVE_AFTER_FILTER: pad_valves.check_valve_after_filter,
    pad_valves.CHECK_VALVE_ROOF_RETURN: pad_valves.check_valve_roof_return,
    pad_valves.BREAKER_MISSING: pad_valves.breaker_missing,
    pad_layout.STRAIGHT_PIPE_SHORT: pad_layout.straight_pipe_short,
    pad_layout.FILTER_HEATER_PIPE_SHORT: pad_layout.filter_heater_pipe_short,
    pad_layout.SLOPE_TOO_FLAT: pad_layout.slope_too_flat,
    pad_layout.SLOPE_BACKWARDS: pad_layout.slope_backwards,
    pad_layout.HEADERS_FALL_AWAY: pad_layout.headers_fall_away,
    program.SOLAR_IN_NO_PERIOD: program.solar_in_no_period,
    program.PRIMING_SLOWER_THAN_SOLAR: program.priming_slower_than_solar,
    controls.CLEANER_IN_SOLAR_TIME: controls.cleaner_in_solar_time,
    controls.FREEZE_CIRCULATION_NEEDLESS: controls.freeze_circulation_needless,
    controls.FREEZE_CIRCULATION_NEEDS_POWER: controls.freeze_circulation_needs_power,
    controls.FREEZE_TRIP_LOW: controls.freeze_trip_low,
    controls.SENSOR_IN_PIPE_HUNTS: controls.sensor_in_pipe_hunts,
    backup.HEATERS_DISAGREE: backup.heaters_disagree,
    backup.HEATER_LEAVES_SOLAR_NO_ROOM: backup.heater_leaves_solar_no_room,
}
FLOW_CHECKS: dict[Rule, FlowCheck] = {
    start.START_DOES_NOT_PRIME: start.start_does_not_prime,
    start.DIRTY_FILTER_DOES_NOT_PRIME: start.dirty_filter_does_not_prime,
    lift.SOLAR_DOES_NOT_HOLD: lift.solar_does_not_hold,
    lift.BREAKER_DRAWS_AIR: lift.breaker_draws_air,
    lift.BREAKER_MARGIN_SMALL: lift.breaker_margin_small,
    lift.ARRAY_UNDER_VACUUM: lift.array_under_vacuum,
    velocity.SUCTION_OVER_RATING: velocity.suction_over_rating,
    velocity.SUCTION_TOO_FAST: velocity.suction_too_fast,
    velocity.RETURN_TOO_FAST: velocity.return_too_fast,
    panel_flow.PANEL_FLOW_LOW: panel_flow.panel_flow_low,
    panel_flow.PANEL_FLOW_HIGH: panel_flow.panel_flow_high,
    panel_flow.PANEL_STARVED: panel_flow.panel_starved,
    part_limits.PANEL_PRESSURE_HIGH: part_limits.panel_pressure_high,
    part_limits.HEATER_FLOW_LOW: part_limits.heater_flow_low,
    pressure.PIPE_PRESSURE_HOT: pressure.pipe_pressure_hot,
    pressure.FILTER_PRESSURE_HIGH: pressure.filter_pressure_high,
    pressure.FILTER_RATE_HIGH: pressure.filter_rate_high,
    pressure.POWER_HIGH: pressure.power_high,
    pressure.PUMP_AT_FLOOR: pressure.pump_at_floor,
    program.TURNOVER_LOW: program.turnover_low,
}
YEAR_CHECKS: dict[Rule, YearCheck] = {
    place.WEATHER_FAR: place.weather_far,
    place.WEATHER_HEIGHT: place.weather_height,
    season.TARGET_SELDOM_REACHED: season.target_seldom_reached,
    season.SEASON_IN_THE_COLD: season.season_in_the_cold,
    season.SOLAR_NEVER_RUNS: season.solar_never_runs,
    season.SOLAR_HOURS_SHORT: season.solar_hours_short,
    season.TIMER_OVERHEATS: season.timer_overheats,
    season.TIMER_COOLS_POOL: season.timer_cools_pool,
    controls.SENSOR_COSTS_HEAT: controls.sensor_costs_heat,
    backup.HEATER_OUT_OF_SEASON: backup.heater_out_of_season,
    standing_water.FROST_WITHOUT_DRAINING: standing_water.frost_without_draining,
    standing_water.STANDING_WATER_TOO_HOT: standing_water.standing_water_too_hot,
    standing_water.PVC_TOO_HOT: standing_water.pvc_too_hot,
}


def job_findings(job: Job) -> list[Finding]:
    """List what a job shows before anything is solved.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    list of Finding
        In the order of `JOB_CHECKS`.
    """
    return [finding for check in JOB_CHECKS.values() for finding in check(job)]


def flow_findings(job: Job, flow: FlowResult) -> list[Finding]:
    """List what its solved flows show.

    Parameters
    ----------
    job : Job
        The job.
    flow : FlowResult
        Of this job.

    Returns
    -------
    list of Finding
        In the order of `FLOW_CHECKS`.
    """
    return [finding for check in FLOW_CHECKS.values() for finding in check(job, flow)]


def year_findings(job: Job, year: YearResult, weather: WeatherYear) -> list[Finding]:
    """List what its year shows.

    Parameters
    ----------
    job : Job
        The job.
    year : YearResult
        Of this job.
    weather : WeatherYear
        That the year was computed from.

    Returns
    -------
    list of Finding
        In the order of `YEAR_CHECKS`.
    """
    return [finding for check in YEAR_CHECKS.values() for finding in check(job, year, weather)]
