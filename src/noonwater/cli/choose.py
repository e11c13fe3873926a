"""Commands that help to choose: how much, how, and whether it is worth it."""

from __future__ import annotations

import click

from noonwater.cli.told import (
    ended_by_hand,
    job_argument,
    json_option,
    say_if_compiling,
    show_and_write,
    told,
)


@click.command()
@job_argument
@json_option
@click.option("--target", metavar="TEMP", help="Wanted temperature; the job's if left out.")
@click.option("--months", metavar="M-M", help='Season, such as "4-10"; the job\'s if left out.')
@click.option("--flow", metavar="FLOW", help="Through each panel; as the job is set if left out.")
@click.option("--share", metavar="SHARE", help="Wanted share of days at the target; 90 %.")
@click.option("--roof", "roofs", metavar="NAME", multiple=True, help="Look at this plane alone.")
@click.option("--budget", metavar="PRICE", help="That may be paid, in the job's currency.")
@click.option("--prices", metavar="FILE", type=click.Path(), help="Price list, CSV or XLSX.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write the chart there.")
def size(
    job: str, as_json: bool, roofs: tuple[str, ...], out: str | None, **wish: str | None
) -> None:
    """Tell what each number of panels gives, the knee, and what bounds it.

    JOB is a job file.
    """
    from noonwater.app import verbs
    from noonwater.app.size_answer import wish_of

    say_if_compiling(job)
    answer = verbs.size(job, wish_of(wish, roofs))
    show_and_write(answer, as_json, out)


@click.command()
@job_argument
@json_option
@click.option("--heat-price", metavar="PRICE", default="", help="Of heat that solar displaces.")
@click.option("--prices", metavar="FILE", type=click.Path(), help="A price list, CSV or XLSX.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write the chart there.")
def tune(job: str, as_json: bool, heat_price: str, prices: str | None, out: str | None) -> None:
    """Tell which pump speed or valve setting pays best, what binds it, which pipe.

    JOB is a job file.
    """
    from noonwater.app import verbs

    say_if_compiling(job)
    show_and_write(verbs.tune(job, heat_price, prices), as_json, out)


@click.command()
@job_argument
@json_option
@click.option("--prices", metavar="FILE", type=click.Path(), help="Price list, CSV or XLSX.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write the years and prices.")
def money(job: str, as_json: bool, prices: str | None, out: str | None) -> None:
    """Tell price, savings, payback and carbon against other heat.

    JOB is a job file. A price list has a row of heads such as part, size, unit, price, hours.
    """
    from noonwater.app import verbs

    say_if_compiling(job)
    show_and_write(verbs.money(job, prices), as_json, out)


@click.command()
@job_argument
@json_option
@click.option("--seed", metavar="N", type=int, default=1, help="The same seed finds the same; 1.")
@click.option("--tries", metavar="N", type=int, default=1200, help="Options judged; 1200.")
@click.option("--prices", metavar="FILE", type=click.Path(), help="Price list, CSV or XLSX.")
@click.option("--out", metavar="DIR", type=click.Path(), help="Also write chart and job files.")
def search(
    job: str, as_json: bool, seed: int, tries: int, prices: str | None, out: str | None
) -> None:
    """Search whole systems: a short list on price, warmth and running cost.

    JOB is a job file. Ctrl-C ends the search and tells what it has found so far.
    """
    from noonwater.app import verbs

    say_if_compiling(job)
    with ended_by_hand() as going:
        answer = verbs.search(
            job,
            told,
            going,
            seed=seed,
            tries=tries,
            prices=prices,
        )
    show_and_write(answer, as_json, out)


COMMANDS = (size, tune, money, search)
