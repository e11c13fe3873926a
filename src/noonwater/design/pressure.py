"""What pipes and filter bear, and what the pump takes at the wire."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.catalog import bank_panel, filter_named, pipe_named, pipe_pressure_max
from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, OURS, Rule, rpm, shown
from noonwater.hydraulics.flow import FlowResult
from noonwater.model.job import Job

STAGNATION = 60.0
"""[°C] Of pipe beside hot panels: the last row of the derating table, above which PVC has none."""
FILTER_PRESSURE = 50 * 6894.757
WATT_PER_AREA = 40.0

PIPE_PRESSURE_HOT = Rule(
    "pipe-pressure-hot",
    "fault",
    limit="pressure on the roof at most the pipe's rating at 140 °F (60 °C), 22 % of its cold one",
    source="Machinery's Handbook, 31st edition, table 14, read; published pipe table, read",
    remedy="thicker pipe, slower priming",
)
FILTER_PRESSURE_HIGH = Rule(
    "filter-pressure-high",
    "fault",
    limit="at most 50 psi (345 kPa) at the filter's inlet",
    source="usual rating of filter tanks, from memory: the maker's plate decides",
    remedy="run slower",
)
FILTER_RATE_HIGH = Rule(
    "filter-rate-high",
    "caution",
    limit="at most rate_max of the filter's catalog row, over its area",
    source="trade article, read: 15 gpm/ft² sand, 1 to 2 DE, 0.375 cartridge",
    remedy="a larger filter or a lower speed",
)
POWER_HIGH = Rule(
    "power-high",
    "caution",
    limit=f"pump with solar on at most {WATT_PER_AREA:.0f} W at the wire for each m² of panel",
    source=OURS,
    remedy="run solar slower, larger pipe, a smaller pump",
)
PUMP_AT_FLOOR = Rule(
    "pump-at-floor",
    "caution",
    limit="no period under 600 rpm, where the drive takes more than the water",
    source="ten measured settings of certified pumps, read: 2 to 5 % wire-to-water at 450 rpm; "
    + COMMON_PRACTICE,
    remedy="run faster for less time",
)
LEAST_SPEED = 600.0


def pipe_pressure_hot(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the roof's pipes against their rating in the sun."""
    rating = pipe_pressure_max(pipe_named(job.pad.pipe, job.pad.schedule), STAGNATION)
    state = max(flow.states, key=lambda state: state.pressure_array_high or 0.0)
    pressure = state.pressure_array_high or 0.0
    if pressure <= rating:
        return
    yield PIPE_PRESSURE_HOT.finding(
        "pad.pipe",
        value=f"{shown(job, pressure, 'pressure')} at {rpm(state.rpm)}",
        limit=shown(job, rating, "pressure"),
        text="Pipe softened by the sun gets more pressure on the roof than it then bears.",
        remedy="Lay thicker pipe on the roof, or prime and run slower.",
    )


def filter_pressure_high(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the filter's tank."""
    state = max(flow.states, key=lambda state: state.pressure_filter)
    if state.pressure_filter <= FILTER_PRESSURE:
        return
    yield FILTER_PRESSURE_HIGH.finding(
        "pump.pump",
        value=f"{shown(job, state.pressure_filter, 'pressure')} at {rpm(state.rpm)}",
        limit=shown(job, FILTER_PRESSURE, "pressure"),
        text="The filter's tank gets more pressure than such tanks usually bear.",
        remedy="Run slower, or take a weaker pump; a tank that bursts maims.",
    )


def filter_rate_high(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the flow over the filter's area, where the survey gives the area."""
    area, most = job.pad.filter_area, filter_named(job.pad.filter).rate_max
    if area is None or most <= 0.0:
        return
    running = [state for state in flow.states if not state.name.startswith("priming")]
    state = max(running, key=lambda state: state.flow)
    if state.flow <= most * area:
        return
    yield FILTER_RATE_HIGH.finding(
        "pad.filter_area",
        value=f"{shown(job, state.flow, 'flow')} at {rpm(state.rpm)}",
        limit=shown(job, most * area, "flow"),
        text="Water runs through the filter faster than it filters well.",
        remedy=f"Run slower, or take a filter of {shown(job, state.flow / most, 'area')}.",
    )


def power_high(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the pump's watts against the panels that they serve."""
    area = sum(len(bank.numbers) * bank_panel(bank, job.own_panel).area for bank in job.array.banks)
    running = [
        state for state in flow.states if state.solar and not state.name.startswith("priming")
    ]
    state = max(running, key=lambda state: state.power, default=None)
    if state is None or state.power <= WATT_PER_AREA * area:
        return
    yield POWER_HIGH.finding(
        "pump.solar_speed",
        value=f"{shown(job, state.power, 'power', 0)} at {rpm(state.rpm)}",
        limit=shown(job, WATT_PER_AREA * area, "power", 0),
        text="The pump takes many watts for the panels that it serves.",
        remedy="Run solar slower, lay larger pipe, or take a smaller pump.",
    )


def pump_at_floor(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check for periods so slow that the drive takes more than the water."""
    slow = [state for state in flow.states if 0.0 < state.rpm < LEAST_SPEED]
    if not slow:
        return
    state = min(slow, key=lambda state: state.rpm)
    yield PUMP_AT_FLOOR.finding(
        "pump.program",
        value=rpm(state.rpm),
        limit=f"{rpm(LEAST_SPEED)} or more",
        text="At this speed the pump's drive takes more than the water gets.",
        remedy="Run faster for less time.",
    )
