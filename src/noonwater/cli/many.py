"""The command for many jobs at once."""

from __future__ import annotations

import click

from noonwater.cli.told import json_option, show


@click.command()
@click.argument("file", type=click.Path())
@click.option("--base", metavar="JOB", type=click.Path(), help="Job file that the rows change.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Folder of the results.")
@click.option("--scheduler", metavar="ADDRESS", help="Work on a Dask cluster.")
@click.option("--cores", metavar="N", type=click.IntRange(1), help="Cores of this machine to use.")
@json_option
def batch(
    file: str,
    base: str | None,
    out: str | None,
    *,
    scheduler: str | None,
    cores: int | None,
    as_json: bool,
) -> None:
    """Run thousands of options or jobs: each row of a table a job of its own.

    FILE is CSV or Parquet. Its heads are fields of a job, such as pump.solar_speed, and perhaps
    "job", the row's own job file; an empty cell leaves what the job says, "-" takes it out.
    A run that was stopped goes on where it was when the same command is given again.
    """
    from noonwater.app import verbs
    from noonwater.cli.progress import ProgressLine

    with ProgressLine() as line:
        answer = verbs.batch(file, base, out, scheduler=scheduler, cores=cores, tell=line.tell)
    show(answer, as_json)
    for path in answer.written:
        click.echo(f"wrote {path}", err=as_json)


COMMANDS = (batch,)
