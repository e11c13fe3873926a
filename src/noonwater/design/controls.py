"""The controls as set: the cleaner's hours, what the sensor costs, what is done against frost."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.climate.weather_year import WeatherYear
from noonwater.core.digits import about
from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, OURS, Rule, percent, shown
from noonwater.design.standing_water import FROST, standing_water
from noonwater.model.job import Job
from noonwater.model.when import minutes_between
from noonwater.year.result import JOULES_IN_KWH, YearResult

MOST_SENSOR_LOSS = 0.05
SHORTEST_RUN = 300.0

CLEANER_IN_SOLAR_TIME = Rule(
    "cleaner-in-solar-time",
    "caution",
    limit="no cleaner in a period that lets water go to the roof",
    source=COMMON_PRACTICE,
    remedy="solar = false while the cleaner runs, and the cleaner out of the sunny hours",
)
FREEZE_CIRCULATION_NEEDLESS = Rule(
    "freeze-circulation-needless",
    "caution",
    limit="no circulation against frost through an array that drains by itself",
    source="logic: an empty panel has nothing to freeze",
    remedy='freeze = "none"',
)
FREEZE_CIRCULATION_NEEDS_POWER = Rule(
    "freeze-circulation-needs-power",
    "caution",
    limit="an array that is safe when the power fails",
    source=COMMON_PRACTICE,
    remedy="an array that drains by itself",
)
FREEZE_TRIP_LOW = Rule(
    "freeze-trip-low",
    "fault",
    limit=f"a trip by the air of at least 42 °F ({FROST:.1f} °C)",
    source=f"{COMMON_PRACTICE}: under a clear sky a roof freezes with the air at 42 °F",
    remedy="a higher trip, or a trip by a sensor on a piece of panel",
)
SENSOR_IN_PIPE_HUNTS = Rule(
    "sensor-in-pipe-hunts",
    "caution",
    limit=f"a least run of {SHORTEST_RUN / 60.0:g} min with a sensor in the return's pipe",
    source=OURS,
    remedy="a longer least run, or the sensor on a piece of panel",
)
SENSOR_COSTS_HEAT = Rule(
    "sensor-costs-heat",
    "caution",
    limit=f"{percent(MOST_SENSOR_LOSS)} of the heat that a good sensor brings",
    source=OURS,
    remedy="the sensor on a piece of panel, in the panels' plane, unshaded",
)


def cleaner_in_solar_time(job: Job) -> Iterator[Finding]:
    """Check that cleaner and roof don't share the pump's flow."""
    for i, period in enumerate(job.pump.program):
        if period.purpose == "clean" and period.solar:
            hours = len(minutes_between(period.start, period.stop)) / 60.0
            yield CLEANER_IN_SOLAR_TIME.finding(
                f"pump.program[{i}].solar",
                value=f"cleaner and solar together for {hours:g} h from {period.start}",
                limit="one of the two at a time",
                text="The cleaner runs while water may go to the roof, and each takes the flow "
                "that the other needs.",
                remedy=f"Write solar = false in pump.program[{i}], and clean early or late.",
            )


def freeze_circulation_needless(job: Job) -> Iterator[Finding]:
    """Check that nothing is pumped through panels that are empty anyway."""
    if job.controls.freeze == "circulate" and not standing_water(job):
        yield FREEZE_CIRCULATION_NEEDLESS.finding(
            "controls.freeze",
            value='"circulate"',
            limit="nothing, the array drains at each stop",
            text="Water is pumped through panels that drain by themselves, which costs power and "
            "the pool's heat in every cold night.",
            remedy='Write freeze = "none", and make sure that panels and pipes do drain.',
        )


def freeze_circulation_needs_power(job: Job) -> Iterator[Finding]:
    """Check what an array does that only the pump keeps from freezing."""
    if job.controls.freeze == "circulate" and standing_water(job):
        yield FREEZE_CIRCULATION_NEEDS_POWER.finding(
            "controls.freeze",
            value='"circulate", water stands in the array',
            limit="no frost damage when power or pump fails",
            text="Only the running pump keeps the array from freezing, and a cold night is when "
            "power fails.",
            remedy="Let the array drain by itself, or drain it by hand before frost is forecast.",
        )


def freeze_trip_low(job: Job) -> Iterator[Finding]:
    """Check that the freeze action starts before panels under a clear sky freeze."""
    controls = job.controls
    low = controls.freeze_trip < FROST - 0.05 and controls.freeze_watch == "air"
    if controls.freeze != "none" and low and standing_water(job):
        yield FREEZE_TRIP_LOW.finding(
            "controls.freeze_trip",
            value=f"{shown(job, controls.freeze_trip, 'temperature')} of the air",
            limit=f"at least {shown(job, FROST, 'temperature')}",
            text="Panels under a clear sky get colder than the air and freeze before the freeze "
            "action starts.",
            remedy=f"Set it to {shown(job, FROST, 'temperature', 0)}, or watch a sensor on a "
            "piece of panel.",
        )


def sensor_in_pipe_hunts(job: Job) -> Iterator[Finding]:
    """Check that the cool water of a start doesn't stop it at the sensor."""
    controls = job.controls
    in_pipe = controls.sensor in ("return well", "loose in pipe")
    if controls.kind != "differential" or not in_pipe or controls.least_run >= SHORTEST_RUN:
        return
    yield SENSOR_IN_PIPE_HUNTS.finding(
        "controls.least_run",
        value=f"{controls.least_run / 60.0:g} min",
        limit=f"{SHORTEST_RUN / 60.0:g} min",
        text="The cool water of each start passes the sensor in the pipe and stops solar again.",
        remedy=f'Write least_run = "{SHORTEST_RUN / 60.0:g} min", or mount the sensor on a piece '
        "of panel beside the array.",
    )


def sensor_costs_heat(job: Job, year: YearResult, weather: WeatherYear) -> Iterator[Finding]:
    """Check what the sensor costs against a good one."""
    cost = year.sensor_cost
    if cost is None or cost.share_lost <= MOST_SENSOR_LOSS:
        return
    heat = (cost.solar_heat_good - cost.solar_heat) / JOULES_IN_KWH
    hours = (cost.solar_time_good - cost.solar_time) / 3600.0
    run = f"{abs(hours):.0f} h {'less' if hours >= 0.0 else 'more'} solar"
    yield SENSOR_COSTS_HEAT.finding(
        "controls.sensor",
        value=f"{about(heat):,.0f} kWh a year, {percent(cost.share_lost)}; {run}",
        limit=percent(MOST_SENSOR_LOSS),
        text="The sensor does not feel what the panels feel, and solar starts late or stops early.",
        remedy="Mount it on a piece of panel beside the array, in its plane, unshaded, held tight.",
    )
