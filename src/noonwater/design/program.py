"""The pump's day: does solar get its hours, is priming sensible, is the pool turned over."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, SUCTION_CAUTION, Rule, roughly, rpm
from noonwater.hydraulics.flow import FlowResult, flow_at
from noonwater.hydraulics.states import purpose_of
from noonwater.model.job import Job
from noonwater.model.plant import Period
from noonwater.model.when import minutes_between

SECONDS_IN_MINUTE = 60.0
MINUTES_IN_DAY = 24 * 60
QUARTER_HOUR = 15

SOLAR_IN_NO_PERIOD = Rule(
    "solar-in-no-period",
    "fault",
    limit="one period of the pump's program with solar = true",
    source="logic",
    remedy="allow solar in the sunny hours",
)
PRIMING_SLOWER_THAN_SOLAR = Rule(
    "priming-slower-than-solar",
    "caution",
    limit="priming speed no less than solar speed",
    source=COMMON_PRACTICE,
    remedy="raise the priming speed",
)
TURNOVER_LOW = Rule(
    "turnover-low",
    "caution",
    limit="the pool's volume through the filter once a day",
    source=COMMON_PRACTICE,
    remedy="run the pump longer or faster",
)


def solar_in_no_period(job: Job) -> Iterator[Finding]:
    """Check that the program lets water on the roof at all."""
    if not any(period.heats for period in job.pump.program):
        yield SOLAR_IN_NO_PERIOD.finding(
            "pump.program[0].solar",
            value="solar = false in every period",
            limit="solar = true in one",
            text="The pump's program never lets water go to the roof.",
            remedy="Write solar = true in the periods of the sunny hours.",
        )


def priming_slower_than_solar(job: Job) -> Iterator[Finding]:
    """Check that a start is at least as fast as what follows."""
    speeds = solar_speeds(job)
    priming = job.pump.priming_speed
    if priming is not None and speeds and priming < max(speeds):
        yield PRIMING_SLOWER_THAN_SOLAR.finding(
            "pump.priming_speed",
            value=rpm(priming),
            limit=rpm(max(speeds)),
            text="The pump starts the array slower than it then runs it, though the start needs "
            "more head.",
            remedy=f"Prime at {rpm(max(speeds))} or more. {SUCTION_CAUTION}",
        )


def solar_speeds(job: Job) -> list[float]:
    """Speeds that solar runs at, by period that allows it. [rpm]."""
    return [job.pump.solar_speed or period.rpm for period in job.pump.program if period.heats]


def turnover_low(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check what the program puts through the filter in a day."""
    program = job.pump.program
    # In a spa's time the water goes round the spa.
    flows = [
        flow_at(job, period.rpm, False, flow.temp_water, purpose_of(job, period)).flow
        * (period.purpose != "spa")
        for period in program
    ]
    volume = sum(
        through * SECONDS_IN_MINUTE * minutes_of_period(period)
        for through, period in zip(flows, program, strict=True)
    )
    if volume >= job.pool.volume:
        return
    fastest = max(range(len(program)), key=lambda i: flows[i])
    minutes = (job.pool.volume - volume) / max(flows[fastest], 1e-9) / SECONDS_IN_MINUTE
    quarters = ceil(minutes / QUARTER_HOUR)
    remedy = f"Run the pump {quarters / 4:g} h a day more at {rpm(program[fastest].rpm)}."
    idle = MINUTES_IN_DAY - sum(minutes_of_period(period) for period in program)
    if quarters * QUARTER_HOUR > idle:
        remedy = f"Run the pump faster or take a stronger one. {SUCTION_CAUTION}"
    yield TURNOVER_LOW.finding(
        f"pump.program[{fastest}].stop",
        value=f"{roughly(job, volume, 'volume')} a day",
        limit=f"{roughly(job, job.pool.volume, 'volume')} a day",
        text="The pump's program puts less than the pool's volume through the filter in a day.",
        remedy=remedy,
    )


def minutes_of_period(period: Period) -> int:
    """Count the minutes of a period."""
    return len(minutes_between(period.start, period.stop))
