"""Commands that make what is handed to a crew or an owner."""

from __future__ import annotations

from typing import Any

import click

from noonwater.cli.told import (
    job_argument,
    json_option,
    say_if_compiling,
    show,
    show_and_write,
    told,
)


@click.command()
@job_argument
@json_option
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write parts.csv there.")
def parts(job: str, as_json: bool, out: str | None) -> None:
    """List the parts: pad, roof, pipe with waste, supports, and what is there.

    JOB is a job file.
    """
    from noonwater.app import verbs

    answer = verbs.parts(job)
    show_and_write(answer, as_json, out)


@click.command()
@job_argument
@json_option
@click.option("--out", metavar="DIR", type=click.Path(), required=True, help="Folder to write to.")
@click.option("--only", metavar="PAPER", multiple=True, help="Only this; may be repeated.")
@click.option(
    "--language", "languages", metavar="CODE", multiple=True, default=("en",), help="en or es."
)
@click.option(
    "--with",
    "options",
    metavar="OPTION",
    multiple=True,
    help="An option of the proposal: field=value; may be repeated once.",
)
@click.option("--prices", metavar="FILE", type=click.Path(), help="A price list, CSV or XLSX.")
@click.option("--size", metavar="SIZE", default="", help="letter or a4; else by the job's units.")
@click.option("--profile", metavar="FILE", type=click.Path(), help="The contractor's profile.")
@click.option("--date", "day", metavar="DAY", default="", help="On the papers; else today.")
@click.option("--revision", metavar="TEXT", default="", help="Revision on the papers.")
def pack(
    job: str,
    as_json: bool,
    out: str,
    *,
    profile: str | None,
    options: tuple[str, ...],
    prices: str | None,
    **wanted: Any,
) -> None:
    """Write the papers that a contractor hands over, as PDF with an index page.

    JOB is a job file.
    """
    from pathlib import Path

    from noonwater.app import verbs
    from noonwater.app.pack_answer import PackWish

    say_if_compiling(job)
    wish = PackWish(profile=Path(profile) if profile else None, **wanted)
    show(verbs.pack(job, Path(out), wish, options, told, prices), as_json)


COMMANDS = (parts, pack)
