"""A call as JSON: what each reading should be, the causes, what to ask next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from noonwater.app.telephone import Call
from noonwater.app.telephone_words import (
    alike_told,
    causes_told,
    questions_told,
    rows_told,
    unit_of,
)
from noonwater.core.finding import Finding
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.field.ask import Meaning, Question
    from noonwater.field.expected import Expected
    from noonwater.field.reading import Reading
    from noonwater.field.weigh import Ranked

UNITS = {
    "pressure": ("Pa", 1.0),
    "flow": ("m3h", 3600.0),
    "speed": ("rpm", 1.0),
    "power": ("W", 1.0),
    "temperature": ("C", 1.0),
    "temperature difference": ("K", 1.0),
}
"""What a key ends in, and how many of it make one of SI."""


@dataclass(frozen=True, eq=False)
class CallAnswer:
    """A call of a job."""

    job: Job
    call: Call
    findings: tuple[Finding, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give the call for JSON."""
        call = self.call
        return {
            "job": self.job.name,
            "state": call.state,
            "solar_runs_in_such_hours": round(call.called, 2),
            "readings": [
                {
                    "reading": each.key,
                    "words": each.words,
                    **_expected(each, call.right.expected.get(each.key)),
                }
                for each in call.known.readings
            ],
            "causes": [_cause(call, each) for each in call.ranked],
            "alike": [list(pair) for pair in call.alike],
            "ask": [_question(each) for each in call.asked],
        }

    def lines(self, system: System) -> list[str]:
        """Tell the call."""
        rows = [
            f"{row.reading.words}: {row.expected} {unit_of(row.reading, system)}".rstrip()
            + (f" ({row.verdict})" if row.verdict else "")
            for row in rows_told(self.call, system)
            if row.expected
        ]
        causes = [f"{each.name}: {each.word}, {each.about}" for each in causes_told(self.call)]
        asked = [each.question for each in questions_told(self.call, system)]
        return [*rows, "", *causes, *alike_told(self.call), "", *asked]


def _expected(reading: Reading, expected: Expected | None) -> dict[str, Any]:
    from noonwater.field.cases import band_of
    from noonwater.field.expected import Normal

    if isinstance(expected, Normal):
        unit, scale = UNITS[reading.kind]
        low, high = (scale * end for end in band_of(expected))
        return {f"low_{unit}": low, f"high_{unit}": high}
    if expected is None:
        return {}
    chances = zip(reading.choices, expected, strict=True)
    return {"chances": {choice: round(chance, 2) for choice, chance in chances}}


def _cause(call: Call, ranked: Ranked) -> dict[str, Any]:
    cause = call.cause(ranked.cause)
    return {
        "cause": cause.key,
        "name": cause.name,
        "chance": round(ranked.chance, 2),
        "word": ranked.word,
        "speaks_for": list(ranked.speaks_for),
        "speaks_against": list(ranked.speaks_against),
        "check": cause.check,
        "remedy": cause.remedy,
        "caution": cause.caution,
    }


def _question(question: Question) -> dict[str, Any]:
    return {
        "reading": question.reading.key,
        "question": question.reading.question,
        "caution": question.reading.caution,
        "gain_bit": round(question.gain, 2),
        "meanings": [_meaning(question.reading, each) for each in question.meanings],
    }


def _meaning(reading: Reading, meaning: Meaning) -> dict[str, Any]:
    if reading.choices:
        return {"choice": meaning.choice, "cause": meaning.cause}
    unit, scale = UNITS[reading.kind]
    ends = {f"from_{unit}": meaning.low, f"to_{unit}": meaning.high}
    scaled = {key: None if end is None else scale * end for key, end in ends.items()}
    return {**scaled, "cause": meaning.cause}
