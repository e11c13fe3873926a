"""What a hand does at the pad and what must be seen: the trace's moves in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from noonwater.core.units import in_system
from noonwater.document.language import Language, mark

if TYPE_CHECKING:
    from noonwater.hydraulics.trace_moves import Move
    from noonwater.hydraulics.trace_replay import Step

BETWEEN = "between"
"""A diverter's handle between its ways; as `hydraulics.trace_moves` has it."""

LEAST = 0.5
"""[L] Less is not told at a step."""

TURNED = {
    "pool": mark("turn the {part} to the pool"),
    "spa": mark("turn the {part} to the spa"),
    "solar": mark("turn the {part} to solar"),
    "shut": mark("turn the {part} to shut"),
    "open": mark("turn the {part} to open"),
    BETWEEN: mark("turn the {part} between its two ways"),
}
ACTS = {
    "start": mark("switch the {part}'s breaker on and start it at {speed} rpm"),
    "bring": mark("bring the {part} to {speed} rpm"),
    "stop": mark("stop the {part}, and switch it off at the breaker"),
    "fill": mark("fill the {part}'s pot with water by hand"),
    "plug": mark("put a plug into {part}"),
    "unplug": mark("take the plug out of {part}"),
    "open": mark("open the {part}"),
    "shut": mark("shut the {part}"),
}
VESSELS = {
    "open": mark("open the {part}: lid or air relief, then drain plug"),
    "shut": mark("shut the {part}: plug and lid"),
}
QUIET = {
    "fill": mark("the pot stays full and its lid is tight"),
    "plug": mark("nothing drips"),
    "shut": mark("nothing drips"),
}
NOTHING = mark("little or nothing runs out")
PASSED = {
    "filter": mark("the filter"),
    "heater": mark("the heater"),
    "panel": mark("the panels"),
    "sanitizer": mark("the sanitizer"),
}


def volume(litres: float, language: Language) -> str:
    """Print a small volume: gallons or litres, in two digits or three that count."""
    if language.system == "US":
        gallons = in_system(litres / 1000.0, "volume", "US")
        return language.quantity(litres / 1000.0, "volume", 0 if gallons >= 9.95 else 1)
    return f"{language.number(litres, 0 if litres >= 9.95 else 1)} L"


def moves_words(steps: Iterable[Step], language: Language) -> list[str]:
    """Tell the moves of steps in their order; a pump that runs already is not started again."""
    running: set[str] = set()
    told = []
    for move in (step.move for step in steps):
        told.append(move_words(move, language, runs=move.part in running))
        if move.act == "start":
            running.add(move.part)
        elif move.act == "stop":
            running.discard(move.part)
    return told


def move_words(move: Move, language: Language, *, runs: bool = False) -> str:
    """Tell a move; `runs` where its pump was started before."""
    part = language.part(move.part)
    if move.act == "turn":
        turned = TURNED.get(move.toward, mark("turn the {part} to {way}"))
        return language.say(turned, part=part, way=language.part(move.toward))
    if move.act in VESSELS and not move.toward:
        return language.say(VESSELS[move.act], part=part)
    act = "bring" if runs and move.act == "start" else move.act
    return language.say(ACTS[act], part=part, speed=language.number(move.position))


def seen_words(step: Step, language: Language) -> str:
    """Tell what must be seen before the next step."""
    say, act = language.say, step.move.act
    if act in QUIET:
        return say(QUIET[act])
    if act == "unplug":
        comes = mark("{amount} of pool water come in")
        text = comes if step.runs_out < -LEAST else mark("nothing moves")
        return say(text, amount=volume(-step.runs_out, language))
    gone = _gone(step, language)
    if act == "stop":
        return say("the gauge falls to zero") + (f"; {gone}" if gone else "")
    passes = say("water passes {parts}", parts=_listed(step.carries, language))
    if act == "start":
        return say("the gauge rises; {passes}; in the end no air comes to the pool", passes=passes)
    if step.scene.state.speed > 0.0:
        dry = "" if "panel" in step.carries else say(", none the panels")
        return say("the gauge stays below its limit; {passes}", passes=passes) + dry
    return say(mark("about {gone}, then nothing more") if gone else NOTHING, gone=gone)


def _gone(step: Step, language: Language) -> str:
    if step.runs_out <= LEAST:
        return ""
    drains = step.scene.setting.opened or step.move.act == "open"
    text = mark("{amount} run out") if drains else mark("{amount} run back to the pool")
    return language.say(text, amount=volume(step.runs_out, language))


def _listed(kinds: Sequence[str], language: Language) -> str:
    named = [language.say(PASSED[kind]) for kind in kinds]
    if not named:
        return language.say("nothing")
    return language.say(" and ").join(filter(None, (", ".join(named[:-1]), named[-1])))
