"""Jobs for the checks of the design: one without a fault, to be broken in one way each."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import Any

from noonwater.app.study import run_year, weather_of
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.finding import Finding
from noonwater.design.checks import flow_findings, job_findings, year_findings
from noonwater.hydraulics.flow import FlowResult, solve_flow
from noonwater.model.job import Job
from noonwater.model.plant import Array, Bank, Controls, Pad, Period, Pump
from noonwater.model.pool import Cover, Pool
from noonwater.model.site import Roof, Site, WeatherShipped
from noonwater.year.result import YearResult

GOOD = Job(
    name="good",
    site=Site(latitude=25.8, longitude=-80.3, elevation=3.0),
    weather=WeatherShipped("shipped", "Miami"),
    pool=Pool(area=40.0, depth=1.4, target=28.0, cover=Cover("bubble")),
    roof=(
        Roof("south", pitch=18.0, bearing=180.0, width=16.0, slope_length=5.0, eave_height=2.4),
        Roof("west", pitch=18.0, bearing=270.0, width=10.0, slope_length=5.0, eave_height=2.4),
    ),
    array=Array((Bank("south", 6, "tube 4x12"), Bank("south", 6, "tube 4x12"))),
    pad=Pad(
        pipe=0.0635,
        suction_length=9.0,
        return_length=9.0,
        feed_length=18.0,
        roof_return_length=20.0,
        heater="gas",
    ),
    pump=Pump(
        "variable large",
        (
            Period("08:00", "09:00", 1700.0, solar=False),
            Period("09:00", "17:00", 1700.0),
        ),
        solar_speed=2350.0,
        priming_speed=3000.0,
    ),
    controls=Controls(sensor_roof="south"),
)
"""Twelve panels in two banks on a low roof at Miami, a variable pump: no rule finds anything."""


def changed(job: Job = GOOD, **parts: dict[str, Any]) -> Job:
    """Replace fields of a job's tables: `changed(pad={"breaker": "none"})`."""
    return replace(
        job, **{name: replace(getattr(job, name), **fields) for name, fields in parts.items()}
    )


def with_roofs(job: Job = GOOD, **fields: Any) -> Job:
    """Replace fields of every roof plane."""
    return replace(job, roof=tuple(replace(roof, **fields) for roof in job.roof))


def with_banks(*banks: Bank, job: Job = GOOD) -> Job:
    """Replace the array."""
    return replace(job, array=Array(banks))


@lru_cache(maxsize=64)
def flow_of(job: Job) -> FlowResult:
    """Flow of a job at its target temperature, solved once."""
    return solve_flow(job, job.pool.target)


@lru_cache(maxsize=16)
def year_of(job: Job) -> tuple[YearResult, WeatherYear]:
    """Year of a job and its weather, run once."""
    return run_year(job, step=900), weather_of(job)


def value_at(job: Job, where: str) -> Any:
    """What stands at a finding's field; an error where the job has no such field."""
    value: Any = job
    for name, number in re.findall(r"(\w+)(?:\[(\d+)\])?", where):
        value = getattr(value, name)
        value = value[int(number)] if number else value
    return value


def found_before_the_year(job: Job) -> list[Finding]:
    """Findings of the job and of its flow."""
    return [*job_findings(job), *flow_findings(job, flow_of(job))]


def found_in_the_year(job: Job) -> list[Finding]:
    """Findings of the job's year."""
    return year_findings(job, *year_of(job))
