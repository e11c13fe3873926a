"""The commands of Noonwater. Whatever is heavy is loaded inside the command that needs it."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

import click

from noonwater import __version__
from noonwater.app.answer_shape import (
    fault_finding,
    input_findings,
    refusal_json,
)
from noonwater.cli import ask, choose, files, hand_over, many
from noonwater.core.errors import InputError, NoonwaterError

BAD_INPUT, OWN_FAULT, NO_ANSWER, STOPPED = 2, 1, 3, 130
"""Exit codes; 0 is an answer."""


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="noonwater", message="%(prog)s %(version)s")
@click.option("--debug", is_flag=True, help="Show where in the program a fault of Noonwater lies.")
def noonwater(debug: bool) -> None:
    """Engineering for pools heated by unglazed solar panels.

    A job file describes pool, roof, panels, pad and pump. Start one with
    "noonwater new my.toml --from NAME", then ask "noonwater year my.toml".
    """


for room in (ask, choose, many, hand_over, files):
    for command in room.COMMANDS:
        noonwater.add_command(command)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and turn whatever happens into words and an exit code."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    _speak_utf8()
    try:
        code = noonwater.main(args=words, prog_name="noonwater", standalone_mode=False)
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader (head, less) has gone: nothing left to say, and no complaint at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OWN_FAULT
    except (Exception, KeyboardInterrupt) as error:
        return _tell(error, words)
    return code if isinstance(code, int) else 0


def _tell(error: BaseException, words: Sequence[str]) -> int:
    """Say why there is no answer, in text or JSON; gives the exit code."""
    if isinstance(error, click.Abort | KeyboardInterrupt):
        click.echo("stopped", err=True)
        return STOPPED
    if isinstance(error, InputError):
        return _refuse(str(error), refusal_json(input_findings(error)), words, BAD_INPUT)
    if isinstance(error, NoonwaterError):
        shape = refusal_json([fault_finding("no-answer", str(error))])
        return _refuse(str(error), shape, words, NO_ANSWER)
    if isinstance(error, click.ClickException):
        return _refuse_usage(error, words)
    return _own_fault(error, words)


def _speak_utf8() -> None:
    # A Windows console, or a pipe from one, has another encoding than what °, ² and · need.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _refuse(text: str, shape: str, words: Sequence[str], code: int) -> int:
    if "--json" in words:
        click.echo(shape)
    else:
        click.echo(text, err=True)
    return code


def _refuse_usage(error: click.ClickException, words: Sequence[str]) -> int:
    if "--json" in words:
        text = error.format_message()
        click.echo(refusal_json([fault_finding("input", text, "see noonwater --help")]))
    else:
        error.show()
    return error.exit_code


def _own_fault(error: BaseException, words: Sequence[str]) -> int:
    if "--debug" in words:
        import traceback

        traceback.print_exception(error)
    name = " ".join(f"{type(error).__name__}: {error}".split())[:200]
    text = f"this is a fault of Noonwater, please report it: {name}"
    remedy = f'"noonwater --debug {" ".join(words)}" shows where'
    shape = refusal_json([fault_finding("fault-of-noonwater", text, remedy)])
    return _refuse(f"{text}\n{remedy}", shape, words, OWN_FAULT)
