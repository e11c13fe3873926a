"""The backup heater beside solar: does it leave the sun room."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.core.finding import Finding
from noonwater.design.rule import OURS, Rule, shown
from noonwater.model.job import Job
from noonwater.year.heater_terms import SOLAR_ROOM, set_point

HEATER_LEAVES_SOLAR_NO_ROOM = Rule(
    "heater-leaves-solar-no-room",
    "caution",
    limit=f"the heater's set point at least {SOLAR_ROOM:g} K below solar's target",
    source=OURS,
    remedy="a lower set point of the heater, or a higher target of solar",
)


def heater_leaves_solar_no_room(job: Job) -> Iterator[Finding]:
    """Check that the heater is set below the temperature that solar stops at."""
    target, point = job.pool.target, set_point(job.heater, job.pool.target)
    if job.heater.kind == "none" or point <= target - SOLAR_ROOM:
        return
    highest = shown(job, target - SOLAR_ROOM, "temperature")
    yield HEATER_LEAVES_SOLAR_NO_ROOM.finding(
        "heater.target",
        value=shown(job, point, "temperature"),
        limit=f"{highest}, {shown(job, SOLAR_ROOM, 'temperature difference')} below solar's target",
        text="The heater keeps the pool so warm that the sun finds little left to do.",
        remedy=f"Set the heater to {highest}, or let solar heat to "
        f"{shown(job, point + SOLAR_ROOM, 'temperature')}.",
    )
