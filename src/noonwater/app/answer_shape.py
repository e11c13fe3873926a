"""What every verb says in the end: one shape of JSON, or lines for a person."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from math import isfinite
from pathlib import Path
from typing import Any, Literal, Protocol

from noonwater import __version__
from noonwater.core.errors import InputError
from noonwater.core.finding import Finding


class AnsweredJob(Protocol):
    """What a command needs to know of the job."""

    @property
    def units(self) -> Literal["US", "SI"]:
        """Units that the job wants its results in."""
        ...


class Answer(Protocol):
    """What a verb gives back."""

    @property
    def job(self) -> AnsweredJob:
        """The job that was asked about."""
        ...

    @property
    def findings(self) -> Sequence[Finding]:
        """What is to be done on site or in the design."""
        ...

    def to_dict(self) -> dict[str, Any]:
        """Result as plain values, each key with its unit."""
        ...

    def lines(self, system: Literal["US", "SI"]) -> list[str]:
        """Findings and result as lines of text."""
        ...


class WritingAnswer(Answer, Protocol):
    """What a verb gives back that has files to write."""

    def write(self, folder: Path) -> list[Path]:
        """Write them and give their paths."""
        ...


def answer_text(answer: Answer) -> str:
    """Write an answer for a person."""
    return "\n".join(answer.lines(answer.job.units))


def answer_json(answer: Answer) -> str:
    """Write an answer in the one shape."""
    return _shaped(True, answer.to_dict(), answer.findings)


def refusal_json(findings: Iterable[Finding]) -> str:
    """Write in the one shape why there is no answer."""
    return _shaped(False, None, findings)


def input_findings(error: InputError) -> list[Finding]:
    """Faults of the input as findings, so that a program reads both alike."""
    return [
        Finding(
            rule="input",
            severity="fault",
            where=fault.field,
            value=fault.given,
            limit=fault.allowed,
            text=str(fault),
            source="",
            remedy=fault.remedy,
        )
        for fault in error.faults
    ]


def fault_finding(rule: str, text: str, remedy: str = "") -> Finding:
    """Something that left no answer and lies in no field of the job."""
    return Finding(rule, "fault", "", "", "", text, "", remedy)


def _shaped(ok: bool, result: dict[str, Any] | None, findings: Iterable[Finding]) -> str:
    import json

    shape = {
        "ok": ok,
        "result": plain_values(result),
        "findings": [asdict(finding) for finding in findings],
        "version": __version__,
    }
    return json.dumps(shape, ensure_ascii=False, indent=2, allow_nan=False)


def plain_values(value: Any) -> Any:
    """Value as JSON knows it: numbers that are none become null, numpy's become Python's."""
    if isinstance(value, dict):
        return {str(key): plain_values(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain_values(item) for item in value]
    if hasattr(value, "tolist"):
        return plain_values(value.tolist())
    if isinstance(value, float) and not isfinite(value):
        return None
    return value
