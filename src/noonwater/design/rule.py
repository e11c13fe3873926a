"""What a check of the design is: a rule with its limit, and the words it is told in."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.core.digits import about
from noonwater.core.finding import Finding, Severity
from noonwater.model.job import Job

SUCTION_CAUTION = "Never raise suction flow past the covers' rating."
"""Stands on every remedy that raises flow."""

OURS = "our own limit, no source"
COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Rule:
    """One thing that is checked.

    Attributes
    ----------
    name : str
        Words joined by hyphens.
    severity : {"fault", "caution"}
        A fault has to be mended before it is built; a caution wants a look.
    limit : str
        What is allowed, in words and figures.
    source : str
        Where the limit comes from.
    remedy : str
        What to do, in general; a finding names the figures of its job.
    """

    name: str
    severity: Severity
    limit: str
    source: str
    remedy: str

    def finding(self, where: str, *, value: str, limit: str, text: str, remedy: str) -> Finding:
        """Tell that a job breaks this rule.

        Parameters
        ----------
        where : str
            Path of the job's field that causes it.
        value, limit : str
            Found and allowed, with their units.
        text : str
            One sentence.
        remedy : str
            What to do in this job.
        """
        return Finding(
            rule=self.name,
            severity=self.severity,
            where=where,
            value=value,
            limit=limit,
            text=text,
            source=self.source,
            remedy=remedy,
        )


def shown(job: Job, value: float, kind: str, digits: int = 1) -> str:
    """Print a quantity in the job's units.

    Parameters
    ----------
    job : Job
        For its units.
    value : float
        In the kind's SI unit.
    kind : str
        Key of `core.quantity.KINDS`.
    digits : int
        Places after the point.
    """
    from noonwater.core.units import show

    return show(value, kind, job.units, digits)


def roughly(job: Job, value: float, kind: str) -> str:
    """Print a large quantity in the job's units, with the digits that count.

    Parameters
    ----------
    job : Job
        For its units.
    value : float
        In the kind's SI unit.
    kind : str
        Key of `core.quantity.KINDS`.
    """
    from noonwater.core.units import in_system, unit_label

    return f"{about(in_system(value, kind, job.units)):,.0f} {unit_label(kind, job.units)}"


def counted(number: int, word: str) -> str:
    """Say "1 panel", "3 panels"."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def percent(share: float, digits: int = 0) -> str:
    """Print a share."""
    return f"{100.0 * share:.{digits}f} %"


def rpm(speed: float) -> str:
    """Print a pump's speed."""
    return f"{speed:.0f} rpm"
