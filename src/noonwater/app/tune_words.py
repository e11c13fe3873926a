"""Which speed or valve setting, told in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from noonwater.app.text import MONTH_NAMES, folded, marked, number, table, wrapped
from noonwater.core.units import System, in_system, unit_label

if TYPE_CHECKING:
    from noonwater.design.tune import Stretch, TuneStudy
    from noonwater.design.tune_pipe import PipeChoice
    from noonwater.design.tune_setting import Setting

KWH = 3.6e6
PER_HOUR = 3600.0
MOST_ROWS = 16
CAUTION = (
    "Never raise suction flow past the covers' rating. Release pressure before opening a filter or"
    " a pipe."
)
HEAT_RULE = (
    "heat: panels settled, in the hours in which the job's own year has water on the roof, the pool"
    " as warm as it then is; losses of pipes, filling and draining left out, alike at all settings"
)


def tune_lines(
    study: TuneStudy, pipes: tuple[PipeChoice, ...], sources: tuple[str, ...], system: System
) -> list[str]:
    """Tell a study: the reason, what start and breaker need, settings, seasons, tariff, years.

    Parameters
    ----------
    study : TuneStudy
        Settings and choice.
    pipes : tuple of PipeChoice
        Sizes to the roof and back.
    sources : tuple of str
        Where the weather comes from.
    system : {"US", "SI"}
        Units.
    """
    lines = [f"Tune: {study.job.name}", ""]
    lines += wrapped(study.choice.reason, "  ")
    lines += _binding(study)
    lines += [row for text in _speeds(study) for row in wrapped(text, "  ")]
    lines += ["", *_setting_lines(study, system), "", *_stretch_lines(study), "", *_years(study)]
    lines += ["", *_pipe_lines(study, pipes, system)]
    told = (*sources, f"heat valued at {study.worth.words}" if study.worth.heat is not None else
            f"heat not valued: {study.worth.words}", HEAT_RULE)  # fmt: skip
    return [*lines, "", *wrapped(folded("Sources", told), "  "), *wrapped(CAUTION, "  ")]


def _binding(study: TuneStudy) -> list[str]:
    choice, currency = study.choice, study.job.money.currency
    if choice.pays_best is None:
        return []
    best = _value(study, study.settings[choice.pays_best])
    loss = f", which costs {3600.0 * choice.lost:.3f} {currency} an hour" if choice.lost else ""
    return wrapped(f"What binds: {choice.binds}{loss}; by worth alone it would be {best}.", "  ")


def _speeds(study: TuneStudy) -> list[str]:
    """What breaker and start need."""
    least = study.least
    texts = []
    for word, clean, dirty in (
        ("The vacuum breaker stays shut", least.breaker_clean, least.breaker_dirty),
        ("A start primes", least.prime_clean, least.prime_dirty),
    ):
        if (study.handle == "speed") and (clean is not None or dirty is not None):
            first = "at no speed" if clean is None else f"from {clean:.0f} rpm"
            second = "at no speed" if dirty is None else f"from {dirty:.0f} rpm"
            texts.append(f"{word} {first}, with a filter due for cleaning {second}.")
    return texts


def _value(study: TuneStudy, setting: Setting) -> str:
    return (
        f"{setting.value:.0f} rpm"
        if study.handle == "speed"
        else f"{100.0 * setting.value:.0f} % open"
    )


def _setting_lines(study: TuneStudy, system: System) -> list[str]:
    currency = study.job.money.currency
    last = f"{currency}/h" if study.worth.heat is not None else "kWh/kWh"
    heads = [
        [study.handle, "on the roof", "heat", "pump", "added", "net" if study.worth.heat is not None
         else "heat for"],
        ["", "", "", "", "", "worth" if study.worth.heat is not None else "added"],
        ["rpm" if study.handle == "speed" else "% open", unit_label("flow", system), "kW", "W", "W",
         last],
    ]  # fmt: skip
    places = _shown(study)
    lines = table(heads, [_setting_row(study, place, system) for place in places])
    lines = marked(lines, [_mark(study, place) for place in places])
    return ["In the mean hour with water on the roof:", "", *lines]


def _setting_row(study: TuneStudy, place: int, system: System) -> list[str]:
    setting, each = study.settings[place], study.per_hour[place]
    value = setting.value if study.handle == "speed" else 100.0 * setting.value
    cells = [number(value), "-", "-", number(each.power), number(each.power_added), "-"]
    if not setting.state.primes:
        return cells
    cells[1] = number(in_system(setting.state.array_flow, "flow", system), 1)
    cells[2] = number(each.heat / 1e3, 2)
    if each.net is not None:
        cells[5] = number(each.net * PER_HOUR, 3)
    elif each.power_added > 0.0:
        cells[5] = number(each.heat / each.power_added, 1)
    return cells


def _mark(study: TuneStudy, place: int) -> str:
    words = []
    if place == study.choice.chosen:
        words.append("use this")
    if place == study.choice.pays_best and place != study.choice.chosen:
        words.append("pays best")
    if place == study.own:
        words.append("this job")
    words += [bound.name for bound in study.settings[place].bounds]
    return ", ".join(words)


def _shown(study: TuneStudy) -> list[int]:
    """Places that a table shows: evenly spread, and those that are talked of."""
    count = len(study.settings)
    step = max(1, -(-count // MOST_ROWS))
    places = {*range(0, count, step), count - 1, study.own, study.choice.chosen}
    if study.choice.pays_best is not None:
        places.add(study.choice.pays_best)
    return sorted(places)


def _stretch_lines(study: TuneStudy) -> list[str]:
    currency = study.job.money.currency
    priced = study.worth.heat is not None
    heads = [
        ["", "solar", "pays", "use", "what", "heat", "pump", "net at" if priced else "", "net as"
         if priced else ""],
        ["", "hours", "best", "", "binds", "", "", "this" if priced else "", "set" if priced
         else ""],
        ["", "h", "", "", "", "kW", "W", f"{currency}/h" if priced else "", f"{currency}/h"
         if priced else ""],
    ]  # fmt: skip
    rows = [_stretch_row(study, stretch) for stretch in (*study.seasons, *study.periods)]
    return ["By season" + (" and by price of electricity:" if study.periods else ":"), "",
            *table(heads, rows)]  # fmt: skip


def _stretch_row(study: TuneStudy, stretch: Stretch) -> list[str]:
    currency = study.job.money.currency
    ends = (stretch.months[0], stretch.months[-1]) if stretch.months else ()
    name = "-".join(dict.fromkeys(MONTH_NAMES[month - 1] for month in ends))
    if stretch.price is not None:
        name = f"at {stretch.price * KWH:.3f} {currency}/kWh"
    choice = stretch.choice
    best = "-" if choice.pays_best is None else _value(study, study.settings[choice.pays_best])
    nets = (
        "" if each.net is None else number(each.net * PER_HOUR, 3)
        for each in (stretch.chosen, stretch.own)
    )
    return [
        name,
        number(stretch.hours),
        best,
        _value(study, study.settings[choice.chosen]),
        choice.binds,
        number(stretch.chosen.heat / 1e3, 2),
        number(stretch.chosen.power),
        *nets,
    ]


def _years(study: TuneStudy) -> list[str]:
    """The year as set and as chosen."""
    currency = study.job.money.currency
    priced = study.worth.heat is not None
    heads = [
        ["", "days at", "solar", "pump", "pump", "heat" if priced else ""],
        ["in the year", "target", "heat", "energy", "cost", "worth" if priced else ""],
        ["", "d", "kWh", "kWh", currency, currency if priced else ""],
    ]
    names = ("as set", "as chosen")
    rows = []
    for name, year in zip(names, study.years, strict=False):
        value = f"{year.value:.0f} rpm" if study.handle == "speed" else f"{100 * year.value:.0f} %"
        rows.append(
            [
                f"{name}, {value}",
                str(year.year.days_at_target),
                number(year.year.solar_heat / KWH),
                number(year.year.pump_energy / KWH),
                number(year.cost, 2),
                "" if year.worth is None else number(year.worth, 2),
            ]
        )
    return table(heads, rows)


def _pipe_lines(study: TuneStudy, pipes: tuple[PipeChoice, ...], system: System) -> list[str]:
    """Sizes of pipe side by side, and the reason for one."""
    from noonwater.design.tune_pipe import best_pipe, pipe_reason

    money = study.job.money
    heads = [
        ["pipe to the roof", "water", "pump", "pump", "price of", "pump cost", "cost over"],
        ["and back", "runs at", "speed", "", "the system", "a year", f"{money.terms.life} years"],
        ["", unit_label("velocity", system), "rpm", "W", *[money.currency] * 3],
    ]
    rows = [
        [
            choice.name,
            number(in_system(choice.velocity, "velocity", system), 1),
            number(choice.rpm),
            number(choice.power),
            number(choice.price.total),
            number(choice.cost),
            number(choice.life_cost),
        ]
        for choice in pipes
    ]
    best = best_pipe(pipes)
    told = ((("lay this", choice is best), ("this job", choice.own),
             ("not to be had", bool(choice.bounds))) for choice in pipes)  # fmt: skip
    marks = [", ".join(word for word, there in words if there) for words in told]
    lines = marked(table(heads, rows), marks)
    memory = max((choice.price.from_memory for choice in pipes), default=0.0)
    note = (
        f"Up to {100 * memory:.0f} % of the parts' price is from memory (United States retail, not"
        " converted), where the price list has no row; a price told whole scales that of the parts."
        " Suction and return stay as they are; all sizes at the same flow on the roof where the"
        " pump gives it."
    )
    return [*wrapped(pipe_reason(study.job, pipes), "  "), "", *lines, *wrapped(note, "  ")]
