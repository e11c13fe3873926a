"""Commands about job files themselves."""

from __future__ import annotations

import click

from noonwater.cli.told import job_argument


@click.command("demos")
def list_demos() -> None:
    """List the demo jobs."""
    from noonwater.app.demos import demos

    known = demos()
    width = max(len(demo.name) for demo in known)
    for demo in known:
        click.echo(f"{demo.name:{width}}  {demo.summary}")


@click.command("new")
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


@click.command()
def schema() -> None:
    """Print the JSON Schema of job files."""
    import json

    from noonwater.app.schema import job_schema

    click.echo(json.dumps(job_schema(), ensure_ascii=False, indent=2))


@click.command()
@click.option("--port", default=8520, show_default=True, help="Port on this machine.")
@click.option("--host", metavar="ADDRESS", default="", help="Also answer a phone at this address.")
@click.option("--data", metavar="DIR", type=click.Path(), help="Where the jobs are kept.")
@click.option("--quiet", is_flag=True, help="Don't open the browser.")
def serve(port: int, host: str, data: str | None, quiet: bool) -> None:
    """Open the desk: the app in the browser, on this machine alone.

    With --host a phone in the same network gets in by the printed code.
    """
    from noonwater.web.serve import serve_desk

    serve_desk(port=port, host=host, data=data, open_browser=not quiet)


@click.command()
@job_argument
@click.option("--out", metavar="FILE", type=click.Path(), required=True, help="Page to write.")
def survey(job: str, out: str) -> None:
    """Write a survey page: one HTML file to type in at the house, without a network.

    JOB is a job file. What the page exports is brought in at the desk.
    """
    from noonwater.web.away_page import write_survey_page

    click.echo(f"wrote {write_survey_page(job, out)}")
    click.echo('next: open it in a browser, type, export; then "noonwater serve" and bring it in')


COMMANDS = (list_demos, write_new, schema, serve, survey)
