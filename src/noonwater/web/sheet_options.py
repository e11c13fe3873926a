"""Options: the job and variants of it side by side, what the next panel buys, which speed pays."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import htpy as h

from noonwater.app.compare_results import yearly
from noonwater.app.desk import View
from noonwater.app.desk_money import told_first
from noonwater.app.desk_options import (
    MOST_OPTIONS,
    Shown,
    fields_of,
    options_shown,
    suggestions,
)
from noonwater.app.field_words import field_called
from noonwater.app.text import MONTH_NAMES
from noonwater.app.work_kinds import KINDS
from noonwater.core.units import in_system, unit_label
from noonwater.web.fault_words import fault_line
from noonwater.web.figures import DASH, KWH, change_shown, plain
from noonwater.web.long_element import long_work, table_work
from noonwater.web.ruled import ruled
from noonwater.web.sheet import Sheet

LEFT_OUT = "left out"


def _body(view: View) -> h.Node:
    shown = options_shown(view)
    return h.fragment[
        _wish(view, shown),
        _settings(view, shown),
        _figures(view, shown) if len(shown) > 1 else None,
        _findings(shown),
        _months(view, shown) if len(shown) > 1 else None,
        _long("How many panels", long_work(view, "size")),
        _long("Which speed or valve setting", long_work(view, "tune")),
        _long("Which whole system", long_work(view, "search")),
        _long("A table of options", _table_form(view)),
    ]


def _long(title: str, body: h.Node) -> h.Element:
    """Long work under its heading, which paper leaves out until something has come of it."""
    return h.section(class_="long-part")[h.h2[title], body]


def _wish(view: View, shown: Sequence[Shown]) -> h.Node:
    at = f"/jobs/{view.state.job}/options"
    full = len(shown) > MOST_OPTIONS
    return h.section(class_="wish", aria_label="New option")[
        h.form(class_="bring", method="post", action=at, data_now=True)[
            h.label(for_="option-field")["Set otherwise"],
            h.input(
                id="option-field",
                name="field",
                list="option-fields",
                required=True,
                autocomplete="off",
                placeholder="a field: type a word of its name",
            ),
            h.datalist(id="option-fields", hx_morph_skip_children=True)[
                [h.option(value=name)[path] for path, name in fields_of(view)]
            ],
            h.label(for_="option-value")["to"],
            h.input(id="option-value", name="value", autocomplete="off"),
            h.label(for_="option-into")["in"],
            h.select(id="option-into", name="into")[
                None if full else h.option(value="")["a new option"],
                [
                    h.option(value=each.option.id)[f"option {each.label}"]
                    for each in shown
                    if each.option is not None
                ],
            ],
            h.button["Set"],
        ],
        None
        if full
        else h.form(class_="suggested", method="post", action=at, data_now=True)[
            h.span["Or try:"],
            [
                h.button(class_="quiet", name="try", value=f"{field}={text}")[words]
                for words, (field, text) in suggestions(view)
            ],
        ],
    ]


def _settings(view: View, shown: Sequence[Shown]) -> h.Node:
    return h.section(class_="options", aria_label="Options")[
        [_setting(view, each) for each in shown]
    ]


def _setting(view: View, shown: Shown) -> h.Node:
    if shown.option is None:
        return h.div(class_="option")[
            h.h2[f"{shown.label}: the job as it stands"],
            h.p(class_="note")[f"revision {view.state.number}"],
        ]
    at = f"/jobs/{view.state.job}/options/{shown.option.id}"
    return h.div(class_="option")[
        h.h2[f"Option {shown.label}"],
        h.ul[
            [
                h.li[
                    h.b[field_called(change.field, view.right)],
                    h.span(class_="note")[f" {change.field}"],
                    h.br,
                    f"{change.before or LEFT_OUT} → ",
                    h.span(class_="moved")[change.after or LEFT_OUT],
                ]
                for change in shown.changes
            ]
        ],
        [h.p(class_="wrong")[fault_line(fault)] for fault in shown.faults],
        h.p(class_="note")["It says the same as the job."]
        if shown.job is not None and not shown.changes
        else None,
        h.form(method="post", action=at, data_now=True)[
            h.button(
                formaction=f"{at}/take", aria_label=f"Take over into the job: option {shown.label}"
            )["Take over into the job"],
            " ",
            h.button(
                class_="quiet", formaction=f"{at}/drop", aria_label=f"Take out option {shown.label}"
            )["Take out"],
        ],
    ]


Row = tuple[str, Callable[[Shown], float | None], int]


def _figures(view: View, shown: Sequence[Shown]) -> h.Node:
    rows = [_figure_row(row, shown) for row in _wanted(view)]
    told = [row for row in rows if any(str(cell) not in (DASH, "0") for cell in row[1:])]
    heads = ["in the year", *(each.label for each in shown)]
    return ruled(heads, told, "What it moves; the difference from A in colour")


def _wanted(view: View) -> list[Row]:
    units, currency = view.system, view.job.money.currency
    degrees = unit_label("temperature", units)

    def in_units(kind: str, key: str) -> Callable[[Shown], float | None]:
        def value(shown: Shown) -> float | None:
            found = None if shown.headline is None else getattr(shown.headline, key)
            return None if found is None else in_system(found, kind, units)

        return value

    def of_year(key: str) -> Callable[[Shown], float | None]:
        def value(shown: Shown) -> float | None:
            year = shown.studied.year if shown.studied else None
            return None if year is None else yearly(year)[key]

        return value

    return [
        ("a clear day adds at least, " + unit_label("temperature difference", units),
         in_units("temperature difference", "clear_day"), 1),
        (f"water while open, {degrees}", in_units("temperature", "season_water"), 1),
        ("hours at the target", of_year("hours_at_target"), 0),
        ("days to the target", of_year("days_to_target"), 0),
        ("solar heat, kWh", of_year("solar_heat_kWh"), 0),
        ("on the roof, " + unit_label("flow", units), in_units("flow", "flow"), 1),
        ("pump with solar on, W", in_units("power", "power"), 0),
        ("pump, whole year, kWh", of_year("pump_kWh"), 0),
        (f"pump, whole year, {currency}", of_year("pump_cost"), 0),
        ("heater takes, kWh", of_year("heater_energy_kWh"), 0),
        (f"the owner pays, {currency}", lambda each: each.pays, 0),
        ("pays back after, years", _payback, 1),
    ]  # fmt: skip


def _payback(shown: Shown) -> float | None:
    best = told_first(shown.money) if shown.money else None
    return best.worth.payback_discounted if best else None


def _figure_row(row: Row, shown: Sequence[Shown]) -> list[h.Node]:
    name, value, digits = row
    first, *others = (value(each) for each in shown)
    return [name, plain(first, digits), *(_moved(first, other, digits) for other in others)]


def _moved(first: float | None, other: float | None, digits: int) -> h.Node:
    if first is None or other is None or plain(first, digits) == plain(other, digits):
        return plain(other, digits)
    change = change_shown(first, other, digits)
    sign = "+" if change > 0 else "−"
    return h.fragment[
        plain(other, digits), " ", h.span(class_="moved")[f"{sign}{plain(abs(change), digits)}"]
    ]


def _findings(shown: Sequence[Shown]) -> h.Node:
    first, *others = shown
    lines = []
    for each in others:
        new, gone = each.moved_findings(first)
        lines += [f"New in {each.label}: {finding.text}" for finding in new]
        lines += [f"Gone in {each.label}: {finding.text}" for finding in gone]
        trouble = each.studied.trouble if each.studied else ()
        lines += [f"No answer for {each.label}: {f.field}: {f.given}" for f in trouble]
    return h.ul(class_="finding-moves")[[h.li[line] for line in lines]] if lines else None


def _months(view: View, shown: Sequence[Shown]) -> h.Node:
    units = view.system
    years = [each.studied.year if each.studied else None for each in shown]
    rows: list[list[h.Node]] = []
    for number, name in enumerate(MONTH_NAMES):
        pools = [
            None if year is None else in_system(year.months[number].pool, "temperature", units)
            for year in years
        ]
        heats = [None if year is None else year.months[number].solar_heat / KWH for year in years]
        rows.append(
            [
                name,
                plain(pools[0], 1),
                *(_moved(pools[0], other, 1) for other in pools[1:]),
                plain(heats[0]),
                *(_moved(heats[0], other, 0) for other in heats[1:]),
            ]
        )
    degrees = unit_label("temperature", units)
    heads = ["month"]
    heads += [f"{each.label}: water, {degrees}" for each in shown]
    heads += [f"{each.label}: solar, kWh" for each in shown]
    return ruled(heads, rows, "Month by month")


def _table_form(view: View) -> h.Node:
    return h.fragment[
        h.p(class_="note")[
            "A CSV file whose heads are fields of the job, such as pump.solar_speed, and whose rows"
            " are options: each row is run as a job of its own."
        ],
        h.form(class_="bring", data_long="long-batch")[
            h.label(for_="batch-table")["Table (CSV)"],
            h.input(id="batch-table", name="table", type="file", accept=".csv", required=True),
            h.button[KINDS["batch"].ask],
        ],
        table_work(view),
    ]


OPTIONS = Sheet(
    "options",
    "Options",
    "Options side by side",
    _body,
    ("long-work.js", "now-forms.js"),
)
