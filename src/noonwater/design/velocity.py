"""How fast the water runs in the pipes."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.catalog import pipe_named, pipes
from noonwater.core.finding import Finding
from noonwater.design.rule import SUCTION_CAUTION, Rule, rpm, shown
from noonwater.design.search import covers_bear, greatest_speed, runs_without_air, speed_field
from noonwater.hydraulics.flow import FlowResult, PipeVelocity, StateFlow
from noonwater.model.job import Job

FOOT = 0.3048
VELOCITY_SUCTION = 6.0 * FOOT
VELOCITY_RETURN = 8.0 * FOOT
PRESSURE_ROLES = ("pad", "feed", "roof return", "return")

SOURCE = (
    "ICC-15 as read in an engineering note: suction 6, return 8 ft/s at the greater of filtration "
    "and auxiliary flow"
)

SUCTION_TOO_FAST = Rule(
    "suction-too-fast",
    "caution",
    limit=f"at most 6 ft/s ({VELOCITY_SUCTION:.2f} m/s) in the suction; priming not counted",
    source=SOURCE,
    remedy="larger pipe or a lower speed",
)
RETURN_TOO_FAST = Rule(
    "return-too-fast",
    "caution",
    limit=f"at most 8 ft/s ({VELOCITY_RETURN:.2f} m/s) past the pump; priming not counted",
    source=SOURCE,
    remedy="larger pipe or a lower speed",
)
SUCTION_OVER_RATING = Rule(
    "suction-over-rating",
    "fault",
    limit="no more flow than the suction covers are rated for, a start counted as well",
    source="the covers' rating, as the job tells it",
    remedy="run slower: a cover that draws too hard holds hair and limbs",
)


def suction_over_rating(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the flow through the suction covers, where the survey gives their rating."""
    rating = job.pad.suction_rating
    over = [state for state in flow.states if not covers_bear(job, state)]
    state = max(over, key=lambda state: state.flow, default=None)
    if rating is None or state is None:
        return

    def within(tried: StateFlow) -> bool:
        return tried.flow <= rating

    speed = greatest_speed(job, state.solar, within, runs_without_air, flow.temp_water)
    remedy = "Take a smaller pump, or have a licensed contractor fit covers of a higher rating."
    if speed is not None:
        remedy = f"Run it at {rpm(speed)} or less."
    yield SUCTION_OVER_RATING.finding(
        speed_field(job, state),
        value=f"{shown(job, state.flow, 'flow')} at {rpm(state.rpm)}",
        limit=f"{shown(job, rating, 'flow')} or less",
        text="More water goes through the suction covers than they are rated for: they can hold a "
        "bather under water.",
        remedy=remedy,
    )


def suction_too_fast(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the water's velocity between pool and pump."""
    found = fastest_over(flow, ("suction",), VELOCITY_SUCTION)
    if found is None:
        return
    state, pipe = found
    yield SUCTION_TOO_FAST.finding(
        "pad.pipe",
        value=f"{shown(job, pipe.velocity, 'velocity')} at {rpm(state.rpm)}",
        limit=shown(job, VELOCITY_SUCTION, "velocity"),
        text="Water runs too fast in the suction pipe, which costs head and pulls hard at the "
        "suction covers.",
        remedy=f"{_slower(job, flow, found, VELOCITY_SUCTION)} {SUCTION_CAUTION}",
    )


def return_too_fast(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check the water's velocity past the pump: pad, feed, roof return and return."""
    found = fastest_over(flow, PRESSURE_ROLES, VELOCITY_RETURN)
    if found is None:
        return
    state, pipe = found
    yield RETURN_TOO_FAST.finding(
        "pad.pipe",
        value=f"{shown(job, pipe.velocity, 'velocity')} in the {pipe.role} at {rpm(state.rpm)}",
        limit=shown(job, VELOCITY_RETURN, "velocity"),
        text="Water runs too fast in the pipes past the pump, which costs pump power.",
        remedy=_slower(job, flow, found, VELOCITY_RETURN),
    )


def fastest_over(
    flow: FlowResult, roles: tuple[str, ...], limit: float
) -> tuple[StateFlow, PipeVelocity] | None:
    """Worst state and pipe over a limit, None where all are under it."""
    over = [
        (state, pipe)
        for state in flow.states
        if not state.name.startswith("priming")
        for pipe in state.velocities
        if pipe.role in roles and pipe.velocity > limit
    ]
    return max(over, key=lambda pair: pair[1].velocity, default=None)


def _slower(job: Job, flow: FlowResult, found: tuple[StateFlow, PipeVelocity], limit: float) -> str:
    """Size of pipe, and speed, at which the limit is kept."""
    state, pipe = found

    def slow(tried: StateFlow) -> bool:
        fastest = {entry.role: entry.velocity for entry in tried.velocities}
        return fastest[pipe.role] <= limit

    now = pipe_named(job.pad.pipe, job.pad.schedule)
    fits = [
        size
        for size in pipes()
        if size.schedule == job.pad.schedule
        and pipe.velocity * (now.diameter / size.diameter) ** 2 <= limit
    ]
    options = []
    if fits:
        size = min(fits, key=lambda size: size.diameter)
        options.append(f"lay {size.name} pipe there")
    speed = greatest_speed(job, state.solar, slow, runs_without_air, flow.temp_water)
    if speed is not None:
        word = "solar" if state.solar else "the filter"
        options.append(f"run {word} at {rpm(speed)} or less")
    text = " or ".join(options) or "take a smaller pump"
    return f"{text[0].upper()}{text[1:]}."
