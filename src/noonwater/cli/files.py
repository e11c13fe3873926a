"""Commands about job files themselves."""

from __future__ import annotations

import click


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


COMMANDS = (list_demos, write_new, schema)
