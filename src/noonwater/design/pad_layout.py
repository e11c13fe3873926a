"""How the pad is laid out: pipe before the pump and the heater, fall of the roof's pipes."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, Rule, percent, shown
from noonwater.model.job import Job
from noonwater.model.pad_option import SetPipe

DIAMETERS_BEFORE_PUMP = 4.0
FILTER_TO_HEATER = 36 * 0.0254
SLOPE_TO_DRAIN = 0.021
CIRCULATED = "Title 24 section 150.0(p), read as a third-party summary: 4 pipe diameters"

STRAIGHT_PIPE_SHORT = Rule(
    "straight-pipe-short",
    "caution",
    limit="straight pipe of at least 4 nominal diameters right before the pump",
    source=CIRCULATED,
    remedy="move the last elbow away from the pump",
)
FILTER_HEATER_PIPE_SHORT = Rule(
    "filter-heater-pipe-short",
    "caution",
    limit="at least 36 in (914 mm) of pipe between filter and heater, for solar to tie in",
    source="Cal. Title 24 section 110.4(b)1 (2019), read",
    remedy="leave the length, or tie solar in where lines of its own begin",
)
SLOPE_TOO_FLAT = Rule(
    "slope-too-flat",
    "caution",
    limit="roof pipes fall at least 1/4 in a foot (21 mm/m) toward their drain",
    source="drainback article, read; not pool-specific",
    remedy="lay them with more fall, and support long runs against sag",
)
SLOPE_BACKWARDS = Rule(
    "slope-backwards",
    "fault",
    limit="roof pipes fall toward their drain, not away from it",
    source=COMMON_PRACTICE,
    remedy="turn the fall: water that stays in them freezes, and air that stays blocks them",
)
HEADERS_FALL_AWAY = Rule(
    "headers-fall-away",
    "fault",
    limit="headers level or falling toward the feed's end",
    source=COMMON_PRACTICE,
    remedy="lift the far end: water drains out at the feed's corner, air leaves at the return's",
)


def straight_pipe_short(job: Job) -> Iterator[Finding]:
    """Check the straight pipe before the pump, where the survey says how long it is."""
    length, needed = job.pad.straight_before_pump, DIAMETERS_BEFORE_PUMP * job.pad.pipe
    if length is None or length >= needed - 1e-9:
        return
    yield STRAIGHT_PIPE_SHORT.finding(
        "pad.straight_before_pump",
        value=shown(job, length, "diameter"),
        limit=f"{shown(job, needed, 'diameter')} or more",
        text="Water reaches the pump straight out of a bend, which makes it noisy and weak.",
        remedy=f"Leave {shown(job, needed, 'diameter')} of straight pipe before the pump.",
    )


def filter_heater_pipe_short(job: Job) -> Iterator[Finding]:
    """Check the pipe between filter and heater, where there is a heater and a measure."""
    length = job.pad.filter_to_heater
    if length is None or job.pad.heater == "none" or length >= FILTER_TO_HEATER - 1e-9:
        return
    yield FILTER_HEATER_PIPE_SHORT.finding(
        "pad.filter_to_heater",
        value=shown(job, length, "length", 2),
        limit=f"{shown(job, FILTER_TO_HEATER, 'length', 2)} or more",
        text="There is too little pipe between filter and heater for solar to tie in.",
        remedy="Move the heater, or give solar suction and return lines of its own.",
    )


def slope_too_flat(job: Job) -> Iterator[Finding]:
    """Check the fall of the roof's pipes."""
    slope = job.pad.slope
    if not 0.0 <= slope < SLOPE_TO_DRAIN - 1e-9:
        return
    yield SLOPE_TOO_FLAT.finding(
        "pad.slope",
        value=percent(slope, 1),
        limit=f"{percent(SLOPE_TO_DRAIN, 1)} or more",
        text="The roof's pipes lie too flat to drain.",
        remedy="Lay them with a fall of 1/4 in a foot (21 mm/m) toward the drain, well supported.",
    )


def slope_backwards(job: Job) -> Iterator[Finding]:
    """Check that the roof's pipes, and those set one by one, do not fall away from their drain."""
    slopes = [("pad.slope", "The roof's pipes fall", job.pad.slope)]
    slopes += [
        (f"pad.edit[{number}].slope", f"The pipe '{edit.pipe}' falls", edit.slope)
        for number, edit in enumerate(job.pad.edit)
        if isinstance(edit, SetPipe) and edit.slope is not None
    ]
    for where, what, slope in slopes:
        if slope < 0.0:
            yield SLOPE_BACKWARDS.finding(
                where,
                value=percent(slope, 1),
                limit="0 % or more, better 2.1 %",
                text=f"{what} away from the drain, so water stays there.",
                remedy="Turn the fall toward the drain: 1/4 in a foot (21 mm/m).",
            )


def headers_fall_away(job: Job) -> Iterator[Finding]:
    """Check that no bank's headers fall away from where they drain."""
    for number, bank in enumerate(job.array.banks):
        if bank.slope < 0.0:
            yield HEADERS_FALL_AWAY.finding(
                f"array.banks[{number}].slope",
                value=percent(bank.slope, 1),
                limit="0 % or more",
                text="The headers fall away from the feed's corner: water stays in their far end "
                "and freezes there, and air stays at the near end of the upper one.",
                remedy="Lift the far end until the headers fall toward the feed, or feed the bank "
                "from its low end.",
            )
