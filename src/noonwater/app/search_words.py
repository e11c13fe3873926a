"""Which whole system, told in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from noonwater.app.text import folded, number, table, wrapped
from noonwater.catalog import pipes
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.app.search_answer import SearchAnswer
    from noonwater.design.choose_option import Option

LETTERS = "ABCDEFGH"
CAUTION = (
    "Roof load and wind uplift are not judged here: structural engineer and local code. Prices and"
    " tariffs are those of the job; look at each option with noonwater check before it is built."
)


def search_lines(answer: SearchAnswer, system: System) -> list[str]:
    """Tell a search.

    Parameters
    ----------
    answer : SearchAnswer
        The short list and how it was found.
    system : {"US", "SI"}
        Units.
    """
    pool = answer.job.pool
    target = show(pool.target, "temperature", system, 0)
    lines = [f"Search: {answer.job.name}, {target} from {pool.opens} to {pool.closes}", ""]
    lines += wrapped(_how(answer), "  ")
    if not answer.listed:
        return [*lines, "", *wrapped(_none(answer), "  ")]
    lines += ["", *_side_by_side(answer, system), ""]
    for letter, listed in zip(LETTERS, answer.listed, strict=False):
        lines += wrapped(
            f"{letter}  {', '.join(listed.why)}: {system_words(listed.option.job, system)}", "   "
        )
        for bound in listed.bounds:
            lines += wrapped(f"     bound: {bound}", "       ")
        left = sorted({finding.rule for finding in listed.findings})
        if left:
            lines += wrapped(f"     still to do, as now: {', '.join(left)}", "       ")
    told = (
        *answer.sources,
        "below the target: mean over the season's days, warmer days count as none",
        "running cost: the pump's electricity, the backup heater's energy, renewal of a new cover",
        "price before incentives; a price told whole scales those of the parts",
    )
    return [*lines, "", *wrapped(folded("Sources", told), "  "), *wrapped(CAUTION, "  ")]


def _none(answer: SearchAnswer) -> str:
    """Why there is no option."""
    if answer.bare <= 0.0:
        return (
            "The pool is at its target on every day of the season without solar, so there is"
            " nothing to choose. Raise the target if the owner wants more."
        )
    from noonwater.design.choose_list import OTHERS, rule_words

    broke = "; ".join(
        f"{count} {'because' if rule in OTHERS else 'broke'} {rule_words(rule)}"
        for rule, count in answer.broken[:3]
    )
    told = "; ".join(filter(None, (broke, _refused(answer))))
    return (
        f"No option is valid under every check: {told}. Mend first what noonwater check asks for."
    )


def _refused(answer: SearchAnswer) -> str:
    """How many the last check refused, and by which rules."""
    if not answer.refused:
        return ""
    rules = ", ".join(f"'{rule}'" for rule, _ in answer.refused_by[:3])
    were = "was" if answer.refused == 1 else "were"
    return f"{answer.refused} {were} refused in the end, by {rules}"


def _how(answer: SearchAnswer) -> str:
    early = ", ended early" if answer.stopped else ""
    if not answer.listed:
        return f"{answer.judged} options judged with seed {answer.seed}{early}."
    borne = (
        f" Each is valid under every check, but for cautions that the job has already"
        f" ({', '.join(answer.borne)})."
        if answer.borne
        else " Each is valid under every check."
    )
    refused = f" Of those {_refused(answer)}." if answer.refused else ""
    return (
        f"{answer.judged} options judged with seed {answer.seed}{early}, {answer.valid} of them"
        f" valid, {len(answer.trade_off)} on the trade-off of price, warmth and running cost."
        f"{refused}{borne}"
    )


def _side_by_side(answer: SearchAnswer, system: System) -> list[str]:
    currency = answer.job.money.currency
    degrees = unit_label("temperature difference", system)
    heads = [
        ["", "", "", "price", "days at", "below the", "running", "solar", ""],
        ["", "panels", "area", "", "target", "target", "cost", "heat", ""],
        ["", "", unit_label("area", system), currency, "d", degrees, f"{currency}/a", "kWh", ""],
    ]
    rows = [
        [*_row(letter, listed.option, system), ", ".join(listed.why)]
        for letter, listed in zip(LETTERS, answer.listed, strict=False)
    ]
    rows.append([*_row("as it stands", answer.own, system), ""])
    return table(heads, rows)


def _row(name: str, option: Option, system: System) -> list[str]:
    from noonwater.design.size_array import array_area

    year = option.year
    return [
        name,
        str(option.job.array.panels),
        number(in_system(array_area(option.job), "area", system)),
        number(option.price),
        "-" if year is None else str(year.days_at_target),
        number(in_system(option.shortfall, "temperature difference", system), 2),
        number(option.running),
        "-" if year is None else number(year.solar_heat / 3.6e6),
    ]


def system_words(job: Job, system: System) -> str:
    """Say what a job's system is, in one sentence's length."""
    parts = [_bank_words(job), f"{_pipe_words(job)} to the roof"]
    parts.append(f"breaker at the {job.pad.breaker}" if job.pad.breaker != "none" else "no breaker")
    if job.pump.solar_speed is not None:
        parts.append(f"solar at {job.pump.solar_speed:.0f} rpm")
    elif job.pad.arrangement == "diverter with bypass":
        parts.append(f"bypass {100 * job.pad.bypass_open:.0f} % open")
    elif job.pad.arrangement in ("diverter with stops", "hand diverter"):
        parts.append(f"diverter {100 * job.pad.diverter_open:.0f} % open")
    on, off = (
        show(value, "temperature difference", system)
        for value in (job.controls.on_difference, job.controls.off_difference)
    )
    timer = job.controls.kind == "timer"
    parts.append("by timer" if timer else f"starts at {on}, stops at {off}")
    cover = job.pool.cover
    months = "all year" if len(cover.months) == 12 else f"in {len(cover.months)} months"
    parts.append("no cover" if cover.kind == "none" else f"{cover.kind} cover {months}")
    hours = ", ".join(f"{p.start}-{p.stop}" for p in job.pump.program if p.heats)
    parts.append(f"solar {hours}")
    return ", ".join(parts)


def _bank_words(job: Job) -> str:
    by_plane: dict[str, list[str]] = {}
    for bank in job.array.banks:
        by_plane.setdefault(bank.roof, []).append(str(len(bank.numbers)))
    planes = (f"{' + '.join(counts)} on {name}" for name, counts in by_plane.items())
    return f"{job.array.panels} panels ({'; '.join(planes)})"


def _pipe_words(job: Job) -> str:
    from noonwater.hydraulics.arrangement import fill_circuit

    bore = next(pipe.diameter for pipe in fill_circuit(job).pipes if pipe.role == "feed")
    size = next((size for size in pipes() if size.diameter == bore), None)
    return "pipe" if size is None else f"{size.name} pipe"
