"""A job studied: its weather, its flows, its year, its findings."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater import __version__
from noonwater.app.weather import weather_of, weather_years_of
from noonwater.core import jit
from noonwater.model.job import Job
from noonwater.model.pool import day_of_year

if TYPE_CHECKING:
    from noonwater.climate.weather_year import WeatherYear
    from noonwater.core.finding import Finding
    from noonwater.hydraulics.flow import FlowResult
    from noonwater.year.flows import PeriodFlows
    from noonwater.year.night import NightResult
    from noonwater.year.result import YearResult
    from noonwater.year.surroundings import Surroundings

HOUR = 3600
"""[s] Step of the other real years, whose dates alone are wanted."""

TOLD_BY = {
    "media-to-pool": "check-valve-after-filter",
    "season-freezes": "frost-without-draining",
}
"""A finding of the trace or the nights, and the one of job or year that says the same."""


def solve_flow(job: Job) -> FlowResult:
    """Solve every operating state of a job's circuit.

    Parameters
    ----------
    job : Job
        The job; its water is taken at the target temperature.

    Returns
    -------
    FlowResult
        States with flows [m³/s], head [m], pressures [Pa] and power [W].

    Raises
    ------
    NotConverged
        When a state has no answer.
    """
    from noonwater.hydraulics.plumbed import plumbed
    from noonwater.hydraulics.speeds import with_speeds

    return _flow(plumbed(with_speeds(job, job.pool.target)))


@lru_cache(maxsize=64)
def _flow(job: Job) -> FlowResult:
    from noonwater.hydraulics.flow import solve_flow as solve

    return solve(job, job.pool.target)


def circuits_solved() -> int:
    """Count the circuits whose states this process has solved."""
    return _flow.cache_info().misses


def run_year(job: Job, step: int = 300) -> YearResult:
    """Compute the pool's year as designed, and without solar, heater or cover.

    Parameters
    ----------
    job : Job
        The job.
    step : int
        Of the loop. [s]

    Returns
    -------
    YearResult
        Hourly arrays, months, closure; `.frame()` gives the hours as a pandas frame.

    Raises
    ------
    InputError
        When the weather can't be read or made.
    """
    from noonwater.design.money_tariff import electricity_cost
    from noonwater.year.dry_panels import dry_panel_extremes
    from noonwater.year.parameters import POOL_TEMP_WITHOUT, PUMP_ENERGY, only_designed
    from noonwater.year.prepare import prepare
    from noonwater.year.result import YearResult, months_of_record
    from noonwater.year.run import clear_day_rise, days_to_target, drift, settled_year
    from noonwater.year.sensor import with_good_sensor
    from noonwater.year.sensor_cost import sensor_cost
    from noonwater.year.twins import filled

    weather = weather_of(job)
    around = surroundings_of(job, step)
    flows = flows_by_period(job)
    inputs = prepare(job, around, flows)
    year = settled_year(inputs)
    jit.note_engine_compiled()
    record = filled(year.record, inputs.twins)
    without = record[:, POOL_TEMP_WITHOUT]
    first, last = day_of_year(job.pool.opens, "opens"), day_of_year(job.pool.closes, "closes")
    days, opening = days_to_target(inputs, without, first, (last - first) % 365 + 1)
    rise = clear_day_rise(inputs, without, weather.sun_global)
    dry = dry_panel_extremes(inputs.drivers, 3600 // step)
    cost = None
    if (good := with_good_sensor(job)) is not job and job.controls.kind == "differential":
        alone = prepare(good, around, flows)._replace(twins=only_designed())
        cost = sensor_cost(record, settled_year(alone).record, job.pool.target)
    pump_cost = electricity_cost(job.money, record[:, PUMP_ENERGY])
    target = job.pool.target
    return YearResult(
        job=job.name,
        months=months_of_record(record, year.ledgers, target, rise, dry, pump_cost),
        record=record,
        air=around.air.temp_air.reshape(len(record), -1).mean(axis=1),
        sun=weather.sun_global,
        closure=year.closure,
        ledger=year.ledger,
        settled=drift(year),
        days_to_target=days,
        opening_temp=opening,
        weather=weather.provenance,
        target=target,
        sensor_cost=cost,
        inputs_hash=inputs_hash(job, weather),
        version=__version__,
    )


def study_flow(job: Job) -> tuple[FlowResult, tuple[Finding, ...]]:
    """Solve a job's flow and gather what is wrong with it, the faults first."""
    from noonwater.design.checks import job_findings
    from noonwater.hydraulics.plumbed import plant_only
    from noonwater.hydraulics.speeds import with_speeds

    job = with_speeds(job, job.pool.target)
    flow = solve_flow(job)
    return flow, _ordered([*job_findings(job), *_flow_findings(plant_only(job))])


@lru_cache(maxsize=64)
def _flow_findings(job: Job) -> tuple[Finding, ...]:
    from noonwater.design.checks import flow_findings

    return tuple(flow_findings(job, solve_flow(job)))


def study_year(job: Job) -> tuple[FlowResult, YearResult, tuple[Finding, ...]]:
    """Solve a job's flow and year and gather what is wrong with them, the faults first."""
    from noonwater.design.checks import year_findings
    from noonwater.hydraulics.speeds import with_speeds

    job = with_speeds(job, job.pool.target)
    flow, findings = study_flow(job)
    year = run_year(job)
    found = [*findings, *year.weather.findings, *year_findings(job, year, weather_of(job))]
    return flow, year, _ordered(found)


def check_job(job: Job) -> tuple[Finding, ...]:
    """Tell what is wrong with a design: its flow, its trace, its year, its nights; faults first.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of Finding

    Raises
    ------
    NoonwaterError
        When there is no answer at all.
    """
    from noonwater.design.traced import trace_findings
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.hydraulics.trace import trace_job

    found = study_year(job)[2]
    temp = job.pool.target
    traced = trace_findings(job, trace_job(with_speeds(job, temp), temp))
    told = {finding.rule for finding in found}
    more = [*traced, *nights_of_job(job)[1]]
    return _ordered([*found, *(f for f in more if TOLD_BY.get(f.rule) not in told)])


def nights_of_job(job: Job) -> tuple[NightResult, tuple[Finding, ...]]:
    """Reckon a job's nights and gather what they ask for."""
    from noonwater.design.night import night_findings
    from noonwater.year.night import nights_of

    nights = nights_of(job, surroundings_of(job), weather_of(job), _other_years(job))
    return nights, tuple(night_findings(job, nights))


def _other_years(job: Job) -> tuple[Surroundings, ...]:
    from noonwater.year.prepare import roofs_in_use
    from noonwater.year.surroundings import surroundings

    years = weather_years_of(job)
    if len(years) < 2:
        return ()
    planes = tuple((roof.pitch, roof.bearing) for roof in roofs_in_use(job))
    return tuple(surroundings(year, planes, job.site.ground, HOUR) for year in years)


def _ordered(findings: list[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda finding: finding.severity != "fault"))


def surroundings_of(job: Job, step: int = 300, weather: WeatherYear | None = None) -> Surroundings:
    """Sun and weather in steps on the job's planes, kept for the next edit of the same place.

    ``weather`` is one of the job's years, else the one that stands for all.
    """
    from noonwater.year.prepare import roofs_in_use

    roofs = tuple((roof.pitch, roof.bearing) for roof in roofs_in_use(job))
    return _surroundings(weather or weather_of(job), roofs, job.site.ground, step)


@lru_cache(maxsize=4)
def _surroundings(
    weather: WeatherYear, planes: tuple[tuple[float, float], ...], ground: str, step: int
) -> Surroundings:
    from noonwater.year.surroundings import surroundings

    return surroundings(weather, planes, ground, step)


def flows_by_period(job: Job) -> PeriodFlows:
    """Flow and watts in each period of the pump's program, from the solved circuit."""
    from noonwater.hydraulics.plumbed import plumbed
    from noonwater.hydraulics.speeds import with_speeds

    job = with_speeds(job, job.pool.target)
    return _period_flows(plumbed(job), job.controls.freeze == "circulate")


@lru_cache(maxsize=64)
def _period_flows(job: Job, circulates: bool) -> PeriodFlows:
    from noonwater.hydraulics.flow import flow_at
    from noonwater.hydraulics.states import purpose_of
    from noonwater.year.flows import period_flows

    temp, pump = job.pool.target, job.pump
    purposes = [purpose_of(job, period) for period in pump.program]
    filtering = [
        flow_at(job, period.rpm, False, temp, purpose)
        for period, purpose in zip(pump.program, purposes, strict=True)
    ]
    # A spa's period never heats the pool, and its flow on the roof is not asked for.
    solar = [
        flow_at(
            job,
            pump.solar_speed or period.rpm,
            True,
            temp,
            purpose if period.heats else "filter",
        )
        for period, purpose in zip(pump.program, purposes, strict=True)
    ]
    priming = pump.priming_speed or max(state.rpm for state in solar)
    freeze = None
    if circulates:
        slow = flow_at(job, pump.freeze_speed or min(state.rpm for state in solar), True, temp)
        freeze = (list(slow.bank_flows), slow.power)
    return period_flows(
        [list(state.bank_flows) for state in solar],
        [state.power for state in filtering],
        [state.power for state in solar],
        flow_at(job, priming, True, temp).power,
        [period.heats for period in pump.program],
        freeze,
    )


def content_print(job: Job) -> str:
    """Tell one state of a job from another: eight letters and digits of its content."""
    return hashlib.sha256(repr(job).encode()).hexdigest()[:8]


def inputs_hash(job: Job, weather: WeatherYear) -> str:
    """Fingerprint of what a result was computed from."""
    digest = hashlib.sha256(repr(job).encode())
    for series in (weather.sun_global, weather.sun_beam, weather.temp_air, weather.wind_speed):
        digest.update(series.tobytes())
    return digest.hexdigest()[:16]
