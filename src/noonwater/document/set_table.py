"""What pump and controller are set to: as designed, with room for what is left at the pad."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.expected_tables import degrees
from noonwater.document.language import Language, digits_set, mark
from noonwater.model.job import Job
from noonwater.model.plant import Period

PURPOSES = {
    "filter": mark("filter"),
    "clean": mark("cleaner"),
    "spa": mark("spa"),
}
FREEZE = {
    "none": mark("none"),
    "circulate": mark("circulate below {temp}"),
    "drain": mark("drain below {temp}"),
}


def set_table(job: Job, language: Language) -> block.Schedule:
    """Set a table of what is set.

    Parameters
    ----------
    job : Job
        With its pump speeds found.
    language : Language
        To write in.
    """
    say = language.say
    rows = [*_pump_rows(job, language), *_control_rows(job, language)]
    heads = (say("Setting"), say("As designed"), say("As left"))
    return block.Schedule(
        heads, tuple((name, value, "") for name, value in rows), ("left", "left", "left"), (2, 2, 1)
    )


def _pump_rows(job: Job, language: Language) -> list[tuple[str, str]]:
    say, pump = language.say, job.pump
    rows = [
        (
            say("pump, {start} to {stop}", start=period.start, stop=period.stop),
            _period_words(period, language),
        )
        for period in pump.program
    ]
    if pump.solar_speed is not None:
        rows.append((say("speed while solar runs"), _rpm(pump.solar_speed, language)))
    if pump.priming_speed is not None:
        minutes = language.number(pump.priming_time / 60.0)
        value = say(
            "{speed} for {minutes} min", speed=_rpm(pump.priming_speed, language), minutes=minutes
        )
        rows.append((say("speed at each start of solar"), value))
    return rows


def _period_words(period: Period, language: Language) -> str:
    words = f"{_rpm(period.rpm, language)}, {language.say(PURPOSES[period.purpose])}"
    return words + (language.say(", solar allowed") if period.heats else "")


def _control_rows(job: Job, language: Language) -> list[tuple[str, str]]:
    say, controls = language.say, job.controls
    rows = [(say("target"), language.setting(job.pool.target, "temperature"))]
    if job.pad.arrangement == "hand diverter":
        return [*rows, (say("control"), say("none: a hand turns the diverter"))]
    if controls.kind == "timer":
        return [(say("control"), say("by the clock alone"))]
    rows += [
        (say("solar on, sensor above pool"), _apart(controls.on_difference, language)),
        (say("solar off, sensor above pool"), _apart(controls.off_difference, language)),
    ]
    if controls.cooling_target is not None:
        warm = language.setting(controls.cooling_target, "temperature")
        rows.append((say("cool by night above"), warm))
    trip = language.setting(controls.freeze_trip, "temperature")
    rows.append((say("against frost"), say(FREEZE[controls.freeze], temp=trip)))
    return rows


def _apart(difference: float, language: Language) -> str:
    """Print a difference as exactly as it was set."""
    shown = difference * (1.8 if language.system == "US" else 1.0)
    return degrees(difference, language, digits_set(shown))


def _rpm(speed: float, language: Language) -> str:
    return f"{language.number(speed)} rpm"
