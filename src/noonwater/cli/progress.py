"""How far a long command is, on one line of a terminal; line by line, seldom, in a file."""

from __future__ import annotations

import sys
import time
from math import isfinite
from types import TracebackType
from typing import Protocol

import click

from noonwater.cli.told import say_if_not_compiled

SELDOM = 10.0
"""[s] Between two lines where no terminal shows them."""


class Progress(Protocol):
    """What a long verb tells on the way."""

    total: int
    kept: int
    done: int
    refused: int

    @property
    def rate(self) -> float:
        """Rows per second. [1/s]."""
        ...

    @property
    def left(self) -> float:
        """Time that the rest takes. [s]."""
        ...


class ProgressLine:
    """Writes progress to the error stream; leaves a line of its own when it ends."""

    def __init__(self) -> None:
        self._terminal = sys.stderr.isatty()
        self._width, self._told_at, self._begun = 0, -SELDOM, False

    def __enter__(self) -> ProgressLine:
        """Begin."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the line; say after a stop that nothing is lost."""
        if self._width:
            click.echo(err=True)
        if kind is not None and issubclass(kind, KeyboardInterrupt):
            click.echo("what is done is kept; the same command goes on from there", err=True)

    def tell(self, progress: Progress) -> None:
        """Write how far it is; the first time also why the first rows take longer."""
        if not self._begun:
            self._begun = True
            say_if_not_compiled()
        text = progress_text(progress)
        if self._terminal:
            click.echo(f"\r{text:<{self._width}}", err=True, nl=False)
            self._width = len(text)
        elif time.monotonic() - self._told_at >= SELDOM or not progress.left:
            self._told_at = time.monotonic()
            click.echo(text, err=True)


def progress_text(progress: Progress) -> str:
    """Say rows done and refused, the rate and the time left."""
    text = f"{progress.kept + progress.done:,} of {progress.total:,} rows"
    if progress.refused:
        text += f", {progress.refused:,} refused"
    if isfinite(progress.left):
        text += f", {progress.rate:.1f} rows/s, {_time(progress.left)} left"
    return text


def _time(seconds: float) -> str:
    if seconds < 100.0:
        return f"{seconds:.0f} s"
    return f"{seconds / 60.0:.0f} min" if seconds < 6000.0 else f"{seconds / 3600.0:.1f} h"
