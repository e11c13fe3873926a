"""The commands of Noonwater. Whatever is heavy is loaded inside the command that needs it."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import Any

import click

from noonwater import __version__
from noonwater.cli.shape import (
    Answer,
    answer_json,
    answer_text,
    fault_finding,
    input_findings,
    refusal_json,
)
from noonwater.core.errors import InputError, NoonwaterError

BAD_INPUT, OWN_FAULT, NO_ANSWER, STOPPED = 2, 1, 3, 130
"""Exit codes; 0 is an answer."""

job_argument = click.argument("job", type=click.Path())
json_option = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="noonwater", message="%(prog)s %(version)s")
@click.option("--debug", is_flag=True, help="Show where in the program a fault of Noonwater lies.")
def noonwater(debug: bool) -> None:
    """Engineering for pools heated by unglazed solar panels.

    A job file describes pool, roof, panels, pad and pump. Start one with
    "noonwater new my.toml --from NAME", then ask "noonwater year my.toml".
    """


@noonwater.command()
@job_argument
@json_option
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write hours and chart there.")
def year(job: str, as_json: bool, out: str | None) -> None:
    """Tell the pool's year: months, heat, watts, cost, and what is wrong.

    JOB is a job file.
    """
    from pathlib import Path

    from noonwater.app import verbs

    _say_if_compiling(job)
    answer = verbs.year(job)
    written = answer.write(Path(out)) if out is not None else []
    _show(answer, as_json)
    for path in written:
        click.echo(f"wrote {path}", err=as_json)


@noonwater.command()
@job_argument
@json_option
def flow(job: str, as_json: bool) -> None:
    """Tell flow, head, pressures and watts in each operating state.

    JOB is a job file.
    """
    from noonwater.app import verbs

    _show(verbs.flow(job), as_json)


@noonwater.command()
@job_argument
@json_option
@click.option("--state", metavar="NAME", help="Tell only this state, named as flow names it.")
@click.option("--without", metavar="PART", help="Tell what changes if this part is left out.")
def trace(job: str, as_json: bool, state: str | None, without: str | None) -> None:
    """Tell where water is and could run, and the steps to winterize.

    JOB is a job file.
    """
    from noonwater.app import verbs

    _show(verbs.trace(job, state, without), as_json)


@noonwater.command()
@job_argument
@json_option
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write parts.csv there.")
def parts(job: str, as_json: bool, out: str | None) -> None:
    """List the parts: pad, roof, pipe with waste, supports, and what is there.

    JOB is a job file.
    """
    from pathlib import Path

    from noonwater.app import verbs

    answer = verbs.parts(job)
    written = answer.write(Path(out)) if out is not None else []
    _show(answer, as_json)
    for path in written:
        click.echo(f"wrote {path}", err=as_json)


@noonwater.command()
@job_argument
@json_option
def night(job: str, as_json: bool) -> None:
    """Tell how cold the roof gets at night, when to drain and when to reopen.

    JOB is a job file.
    """
    from noonwater.app import verbs

    _show(verbs.night(job), as_json)


@noonwater.command()
@job_argument
@json_option
def check(job: str, as_json: bool) -> None:
    """Tell what is wrong with the design.

    JOB is a job file.
    """
    from noonwater.app import verbs

    _say_if_compiling(job)
    _show(verbs.check(job), as_json)


@noonwater.command()
@job_argument
@json_option
@click.option("--log", metavar="FILE", type=click.Path(), help="A logger's CSV: time, pool °F.")
@click.option("--drop", metavar="LENGTH", help="Bucket test: how far the level sank.")
@click.option("--over", metavar="TIME", help="Bucket test: how long it took.")
@click.option("--water", metavar="TEMP", help="Bucket test: mean water temperature.")
@click.option("--air", metavar="TEMP", help="Bucket test: mean air temperature.")
@click.option("--dew-point", metavar="TEMP", help="Bucket test: mean dew point.")
@click.option("--wind", metavar="SPEED", help="Bucket test: mean wind at the weather station.")
def calibrate(job: str, as_json: bool, log: str | None, **bucket: str) -> None:
    """Narrow the year's ranges by a bucket test or a logger's file.

    JOB is a job file. A bucket of pool water floats in the open pool; give how far its level sank,
    and the means of the weather meanwhile, each with its unit.
    """
    from noonwater.app import verbs

    _say_if_compiling(job)
    _show(verbs.calibrate(job, bucket, log), as_json)


@noonwater.command()
@click.argument("jobs", type=click.Path(), nargs=-1, required=True)
@click.option("--with", "options", metavar="FIELDS", multiple=True, help="Fields set otherwise.")
@json_option
def compare(jobs: tuple[str, ...], options: tuple[str, ...], as_json: bool) -> None:
    """Set jobs, or options of one, side by side: what differs, what it moves.

    JOBS are two job files or more, or one with options of it, such as
    --with "pump.solar_speed=2600 rpm; pool.target=84 °F". All are held against the first.
    """
    from noonwater.app import verbs

    _say_if_compiling(jobs[0])
    _show(verbs.compare(jobs, options), as_json)


@noonwater.command()
@job_argument
@json_option
@click.option("--target", metavar="TEMP", help="Wanted temperature; the job's if left out.")
@click.option("--months", metavar="M-M", help='Season, such as "4-10"; the job\'s if left out.')
@click.option("--flow", metavar="FLOW", help="Through each panel; as the job is set if left out.")
@click.option("--share", metavar="SHARE", help="Wanted share of days at the target; 90 %.")
@click.option("--roof", "roofs", metavar="NAME", multiple=True, help="Look at this plane alone.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write the chart there.")
def size(job: str, as_json: bool, out: str | None, **wish: Any) -> None:
    """Tell what each number of panels gives, the knee, and what bounds it.

    JOB is a job file.
    """
    from pathlib import Path

    from noonwater.app import verbs
    from noonwater.app.size_answer import wish_of

    _say_if_compiling(job)
    answer = verbs.size(job, wish_of(**wish))
    written = answer.write(Path(out)) if out is not None else []
    _show(answer, as_json)
    for path in written:
        click.echo(f"wrote {path}", err=as_json)


@noonwater.command("demos")
def list_demos() -> None:
    """List the demo jobs."""
    from noonwater.app.demos import demos

    known = demos()
    width = max(len(demo.name) for demo in known)
    for demo in known:
        click.echo(f"{demo.name:{width}}  {demo.summary}")


@noonwater.command("new")
@click.argument("path", type=click.Path())
@click.option("--from", "demo", required=True, metavar="NAME", help="Demo job to start from.")
def write_new(path: str, demo: str) -> None:
    """Write a demo job as the start of your own.

    PATH is the file to write; a file that is there stays as it is.
    """
    from noonwater.app.demos import new_job

    written = new_job(path, demo)
    shown = f'"{written}"' if " " in str(written) else str(written)
    click.echo(f"wrote {written}, a copy of the demo job {demo}")
    click.echo(f"next: noonwater year {shown}")


@noonwater.command()
def schema() -> None:
    """Print the JSON Schema of job files."""
    import json

    from noonwater.app.schema import job_schema

    click.echo(json.dumps(job_schema(), ensure_ascii=False, indent=2))


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


def _show(answer: Answer, as_json: bool) -> None:
    click.echo(answer_json(answer) if as_json else answer_text(answer))


def _say_if_compiling(job: str) -> None:
    from noonwater.core.jit import engine_is_compiled

    if not engine_is_compiled():
        from noonwater.app.job_file import read_job

        read_job(job)  # a wrong file is told first, and without this line
        click.echo("compiling the engine, once for this version; about a minute", err=True)


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
