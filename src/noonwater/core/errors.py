"""The exceptions of Noonwater: raised only where there is no answer at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

Read = TypeVar("Read")


class NoonwaterError(Exception):
    """Base of every error that Noonwater raises on purpose; its text is for the user."""


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what was handed in: where, what it was, what is allowed, what to do."""

    field: str
    given: str
    allowed: str
    remedy: str = ""

    def __str__(self) -> str:
        text = f"{self.field}: {self.given}; allowed: {self.allowed}"
        return f"{text}; {self.remedy}" if self.remedy else text


class InputError(NoonwaterError):
    """All faults of one input at once."""

    def __init__(self, faults: Sequence[Fault], source: str = "") -> None:
        self.faults = tuple(faults)
        self.source = source
        head = f"{source}: " if source else ""
        super().__init__("\n".join(f"{head}{fault}" for fault in self.faults))


class Gathered:
    """Faults of several things that are read one after the other, to be told together.

    Attributes
    ----------
    errors : list of InputError
        What was refused so far.
    """

    def __init__(self) -> None:
        self.errors: list[InputError] = []

    def read(self, reader: Callable[[], Read]) -> Read | None:
        """Read one thing; None where it was refused."""
        try:
            return reader()
        except InputError as error:
            self.errors.append(error)
            return None

    def error(self) -> InputError:
        """Give one error of all that was refused, each fault with its own source."""
        if len(self.errors) == 1:
            return self.errors[0]
        every = InputError([fault for error in self.errors for fault in error.faults])
        every.args = ("\n".join(str(error) for error in self.errors),)
        return every


class WeatherError(InputError):
    """A weather file or table that can't be read as one."""


class NotConverged(NoonwaterError):
    """A solver that found no answer, with the residual it stopped at and the state it was in."""

    def __init__(self, what: str, residual: float, state: str) -> None:
        self.residual = residual
        self.state = state
        super().__init__(f"{what} found no answer in state '{state}': residual {residual:.3g}")
