"""Commands that answer a question about a job: what is, and what would be."""

from __future__ import annotations

import click

from noonwater.cli.told import job_argument, json_option, say_if_compiling, show, show_and_write


@click.command()
@job_argument
@json_option
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write hours and chart there.")
def year(job: str, as_json: bool, out: str | None) -> None:
    """Tell the pool's year: months, heat, watts, cost, and what is wrong.

    JOB is a job file.
    """
    from noonwater.app import verbs

    say_if_compiling(job)
    answer = verbs.year(job)
    show_and_write(answer, as_json, out)


@click.command()
@job_argument
@json_option
def flow(job: str, as_json: bool) -> None:
    """Tell flow, head, pressures and watts in each operating state.

    JOB is a job file.
    """
    from noonwater.app import verbs

    show(verbs.flow(job), as_json)


@click.command()
@job_argument
@json_option
@click.option("--state", metavar="NAME", help="Tell only this state, named as flow names it.")
@click.option("--without", metavar="PART", help="Tell what changes if this part is left out.")
def trace(job: str, as_json: bool, state: str | None, without: str | None) -> None:
    """Tell where water is and could run, and the steps to winterize.

    JOB is a job file.
    """
    from noonwater.app import verbs

    show(verbs.trace(job, state, without), as_json)


@click.command()
@job_argument
@json_option
@click.option("--state", metavar="NAME", help="Only this state, named as flow names it.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write the drawings there.")
def pad(job: str, as_json: bool, state: str | None, out: str | None) -> None:
    """Tell and draw the pad in each state: parts, flows, pressures, valves.

    JOB is a job file.
    """
    from noonwater.app import verbs

    show_and_write(verbs.pad(job, state), as_json, out)


@click.command()
@job_argument
@json_option
def night(job: str, as_json: bool) -> None:
    """Tell how cold the roof gets at night, when to drain and when to reopen.

    JOB is a job file.
    """
    from noonwater.app import verbs

    show(verbs.night(job), as_json)


@click.command()
@job_argument
@json_option
def check(job: str, as_json: bool) -> None:
    """Tell what is wrong with the design.

    JOB is a job file.
    """
    from noonwater.app import verbs

    say_if_compiling(job)
    show(verbs.check(job), as_json)


@click.command()
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

    say_if_compiling(job)
    show(verbs.calibrate(job, bucket, log), as_json)


@click.command()
@click.argument("jobs", type=click.Path(), nargs=-1, required=True)
@click.option("--with", "options", metavar="FIELDS", multiple=True, help="Fields set otherwise.")
@json_option
def compare(jobs: tuple[str, ...], options: tuple[str, ...], as_json: bool) -> None:
    """Set jobs, or options of one, side by side: what differs, what it moves.

    JOBS are two job files or more, or one with options of it, such as
    --with "pump.solar_speed=2600 rpm; pool.target=84 °F". All are held against the first.
    """
    from noonwater.app import verbs

    say_if_compiling(jobs[0])
    show(verbs.compare(jobs, options), as_json)


COMMANDS = (year, flow, trace, pad, night, check, calibrate, compare)
