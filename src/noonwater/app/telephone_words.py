"""A call in words: expected against told, causes with their chance, what to ask next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from noonwater.app.telephone import Call
from noonwater.app.telephone_typed import RESISTANCE
from noonwater.core.units import System, in_system, unit_label

if TYPE_CHECKING:
    from noonwater.field.ask import Meaning, Question
    from noonwater.field.expected import Expected
    from noonwater.field.reading import Reading
    from noonwater.field.weigh import Ranked

DIGITS = {"flow": {"US": 0, "SI": 1}, "power": {"US": -1, "SI": -1}, "speed": {"US": -1, "SI": -1},
          "temperature difference": {"US": 1, "SI": 1}}  # fmt: skip
"""Places after the point that a band is told with; none for the rest."""
OFTEN = 0.25
"""[-] A choice at least so likely is expected."""
SELDOM = 0.12
"""[-] A choice less likely is not as it should be."""
FEWEST, MOST = 3, 6
"""Causes that are told."""
LEAST = 0.03
"""[-] Chance of a cause that is told beyond the fewest."""
CAUTION = (
    "A call finds likely causes, not proof: look before parts are bought. Pressure is released "
    "before a filter is opened; nobody climbs for a reading; wiring is a licensed electrician's. "
    "The makers' instructions and local codes decide."
)


@dataclass(frozen=True)
class RowTold:
    """A reading: what it should be, and whether what was told is so.

    Attributes
    ----------
    reading : Reading
        Which.
    unit : str
        Of its column; empty of a choice.
    expected : str
        A band, or choices.
    verdict : str
        "as it should be", "too low", "too high", "not as it should be"; whether no cause explains
        it; empty where untold.
    """

    reading: Reading
    unit: str
    expected: str
    verdict: str


@dataclass(frozen=True)
class CauseTold:
    """A cause: its name, its chance in words, the readings for and against it, and what to do."""

    name: str
    word: str
    about: str
    changes: str
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    check: str
    remedy: str
    caution: str


@dataclass(frozen=True)
class QuestionTold:
    """What to ask: the field it goes into, the question, what each answer would mean."""

    key: str
    question: str
    meanings: tuple[str, ...]
    caution: str


def rows_told(call: Call, system: System) -> tuple[RowTold, ...]:
    """Tell every reading."""
    return tuple(
        RowTold(
            reading,
            unit_of(reading, system),
            _ohms_expected(call)
            if reading.key == RESISTANCE
            else expected_words(reading, call.right.expected.get(reading.key), system),
            _verdict(reading, call),
        )
        for reading in call.known.readings
    )


def _ohms_expected(call: Call) -> str:
    """Resistance of the sensor at the temperatures that it should have, from its own table."""
    from noonwater.design.sensor_table import resistance_at
    from noonwater.field.cases import band_of
    from noonwater.field.expected import Normal

    expected = call.right.expected.get("sensor")
    points = call.known.subject.job.controls.sensor_ohms
    if not isinstance(expected, Normal):
        return ""
    found = [resistance_at(end, points) for end in band_of(expected)]
    ends = sorted(each for each in found if each is not None)
    return f"{ends[0]:,.0f} to {ends[1]:,.0f}" if len(ends) > 1 else ""


def causes_told(call: Call) -> tuple[CauseTold, ...]:
    """Tell the likeliest causes."""
    words = {reading.key: reading.words for reading in call.known.readings}
    found = []
    for place, each in enumerate(call.ranked[:MOST]):
        if place >= FEWEST and each.chance < LEAST:
            break
        cause = call.cause(each.cause)
        found.append(
            CauseTold(
                cause.name,
                each.word,
                tenths(each),
                cause.changes,
                tuple(words[key] for key in each.speaks_for),
                tuple(words[key] for key in each.speaks_against),
                cause.check,
                cause.remedy,
                cause.caution,
            )
        )
    return tuple(found)


def tenths(ranked: Ranked) -> str:
    """A chance without false digits."""
    count = round(10.0 * ranked.chance)
    if count >= 10:
        return "nearly sure"
    return f"about {count} in 10" if count else "less than 1 in 20"


def alike_told(call: Call) -> tuple[str, ...]:
    """Tell the causes that nothing more that can be told tells apart."""
    return tuple(
        f"“{call.cause(one).name}” and “{call.cause(other).name}” show the same in all that can "
        "still be told: only a look on site tells them apart."
        for one, other in call.alike
    )


def questions_told(call: Call, system: System) -> tuple[QuestionTold, ...]:
    """Tell what to ask next."""
    return tuple(
        QuestionTold(
            each.reading.key,
            each.reading.question,
            tuple(_meaning(call, each, meaning, system) for meaning in each.meanings),
            each.reading.caution,
        )
        for each in call.asked
    )


def sentence(text: str) -> str:
    """A text with a stop at its end, unless it has one."""
    return text if text.endswith(("?", ".")) else f"{text}."


def capital(text: str) -> str:
    """A text that begins a sentence."""
    return text[:1].upper() + text[1:]


def unit_of(reading: Reading, system: System) -> str:
    """Unit that a reading is typed in; empty of a choice."""
    if reading.choices:
        return ""
    return unit_label("resistance" if reading.key == RESISTANCE else reading.kind, system)


def expected_words(reading: Reading, expected: Expected | None, system: System) -> str:
    """What a reading should be, in the unit of its column; empty where nobody knows."""
    from noonwater.field.cases import band_of
    from noonwater.field.expected import Normal

    if expected is None or reading.key == RESISTANCE:
        return ""
    if isinstance(expected, Normal):
        low, high = (max(end, reading.low) for end in band_of(expected))
        least = 0.0 if reading.kind != "temperature" else low
        ends = [shown(max(each, least), reading.kind, system) for each in (low, high)]
        return ends[0] if ends[0] == ends[1] else " to ".join(ends)
    often = [
        choice for choice, chance in zip(reading.choices, expected, strict=True) if chance >= OFTEN
    ]
    return " or ".join(often)


def shown(value: float, kind: str, system: System) -> str:
    """Print a value in its unit without false digits."""
    digits = DIGITS.get(kind, {}).get(system, 0)
    rounded = round(in_system(value, kind, system), digits) + 0.0
    return f"{rounded:,.{max(digits, 0)}f}"


def _verdict(reading: Reading, call: Call) -> str:
    words = _held(reading, call.right.expected.get(reading.key), call.wish.told)
    if words and reading.key in call.misfits:
        return f"{words}, and no cause shows this: have it read again"
    return words


def _held(reading: Reading, expected: Expected | None, told: Mapping[str, float | str]) -> str:
    from noonwater.field.cases import band_of
    from noonwater.field.expected import Normal

    if reading.key not in told or expected is None:
        return ""
    value = told[reading.key]
    if isinstance(expected, Normal):
        low, high = band_of(expected)
        below, above = float(value) < low, float(value) > high
        return "too low" if below else "too high" if above else "as it should be"
    chance = expected[reading.choices.index(str(value))]
    return "as it should be" if chance >= SELDOM else "not as it should be"


def _meaning(call: Call, question: Question, meaning: Meaning, system: System) -> str:
    cause = call.cause(meaning.cause).name if meaning.cause != "none" else "something else"
    if meaning.choice:
        return f"{meaning.choice}: {cause}"
    words = _range(question.reading, meaning, system)
    if question.reading.key == RESISTANCE:
        words = f"by its table {words} off what is shown"
    return f"{words}: {cause}"


def _range(reading: Reading, meaning: Meaning, system: System) -> str:
    label = unit_label(reading.kind, system)

    def end(value: float) -> str:
        return f"{shown(value, reading.kind, system)}{'' if label == '°' else ' '}{label}"

    if meaning.low is None and meaning.high is None:
        return "any"
    if meaning.low is None:
        return f"below {end(meaning.high or 0.0)}"
    if meaning.high is None:
        return f"above {end(meaning.low)}"
    return f"{shown(meaning.low, reading.kind, system)} to {end(meaning.high)}"


def told_words(call: Call, texts: Sequence[tuple[str, str]], system: System) -> str:
    """One line of what was told, as typed: for the list of calls."""
    names = {reading.key: reading for reading in call.known.readings}
    parts = [
        f"{names[key].words} {text} {unit_of(names[key], system)}".strip()
        if text.replace(".", "").isdecimal()
        else f"{names[key].words}: {text}"
        for key, text in texts
        if key in names
    ]
    return "; ".join(parts)
