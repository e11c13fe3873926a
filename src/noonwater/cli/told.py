"""What commands share: the job, JSON, and how an answer and progress are shown."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from noonwater.app.answer_shape import Answer, WritingAnswer, answer_json, answer_text

job_argument = click.argument("job", type=click.Path())
json_option = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


def show(answer: Answer, as_json: bool) -> None:
    """Print an answer."""
    click.echo(answer_json(answer) if as_json else answer_text(answer))


def show_and_write(answer: WritingAnswer, as_json: bool, out: str | None) -> None:
    """Print an answer, and write its files where a folder is named."""
    from pathlib import Path

    written = answer.write(Path(out)) if out is not None else []
    show(answer, as_json)
    for path in written:
        click.echo(f"wrote {path}", err=as_json)


def say_if_compiling(job: str) -> None:
    """Say why the first answer takes longer."""
    from noonwater.core.jit import engine_is_compiled

    if not engine_is_compiled():
        from noonwater.app.job_file import read_job

        read_job(job)  # a wrong file is told first, and without this line
        say_if_not_compiled()


def say_if_not_compiled() -> None:
    """Say why the first answer takes longer, where no job is to be read before."""
    from noonwater.core.jit import engine_is_compiled

    if not engine_is_compiled():
        click.echo("compiling the engine, once for this version; about a minute", err=True)


def told(done: int, of: int, name: str) -> None:
    """Show progress to a person who waits."""
    if sys.stderr.isatty():
        click.echo(f"{done} of {of}: {name}", err=True)


@contextmanager
def ended_by_hand() -> Iterator[Callable[[], bool]]:
    """Let the first Ctrl-C end a search and keep what it has; a second one ends the program."""
    pressed: list[int] = []

    def press(number: int, frame: object) -> None:
        if pressed:
            raise KeyboardInterrupt
        pressed.append(number)
        click.echo("ending; once more to stop at once", err=True)

    before = signal.signal(signal.SIGINT, press)
    try:
        yield lambda: not pressed
    finally:
        signal.signal(signal.SIGINT, before)
