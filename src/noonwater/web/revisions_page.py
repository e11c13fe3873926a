"""The states of a job: the list, and two of them held against each other."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h

from noonwater.app.desk import Headline, View
from noonwater.app.field_words import field_called
from noonwater.app.revisions import Line, Moved, moved_between
from noonwater.app.store import Entry
from noonwater.core.finding import Finding
from noonwater.core.units import System, in_system, unit_label
from noonwater.web.figures import KWH, change_shown, moment, plain
from noonwater.web.page import beside_page, field_address, go_back
from noonwater.web.sheet import Sheet

MOST_FIELDS = 4
"""Named in a line of the list; of the others their number."""


def revisions_page(
    entry: Entry, lines: Sequence[Line], tables: object, sheets: Sequence[Sheet]
) -> str:
    """Write the list of states, the newest first; the newest tables name what was changed."""
    choices = [line.last.number for line in lines]
    return beside_page(
        entry,
        "revisions",
        sheets,
        h.h1[f"Revisions of {entry.name}"],
        h.p["Each change keeps the state before it. Edits of one page within ten minutes are one"
            " line. Going back makes an old state the newest; nothing is lost."],
        _choose(entry.id, choices) if len(choices) > 1 else None,
        h.table(class_="ruled revisions")[
            h.thead[h.tr[[h.th(scope="col", class_="words")[head] if head else h.td
                          for head in ("revision", "when", "what was changed", "")]]],
            h.tbody[[_line(entry, line, tables) for line in lines]],
        ],
    )  # fmt: skip


def compare_page(entry: Entry, before: View, after: View, sheets: Sequence[Sheet]) -> str:
    """Write what differs between two states, and what came of it."""
    job, moved = entry.id, moved_between(before, after)
    one, other = before.state.number, after.state.number
    return beside_page(
        entry,
        "revisions",
        sheets,
        h.h1[f"Revision {one} against {other}"],
        h.p(class_="note")[
            f"{moment(before.state.made)} and {moment(after.state.made)}. ",
            h.a(href=f"/jobs/{job}/revisions")["All revisions"],
        ],
        _fields(after, moved, one, other) if moved.fields else h.p["No field differs."],
        h.h2["What that moved"],
        _figures(moved, after, one, other),
        _findings("Come", moved.new),
        _findings("Gone", moved.gone),
        go_back(job, one),
    )


def _choose(job: str, numbers: Sequence[int]) -> h.Element:
    def choice(name: str, words: str, chosen: int) -> h.Fragment:
        return h.fragment[
            h.label(for_=f"c-{name}")[words],
            h.select(id=f"c-{name}", name=name)[
                [h.option(value=str(n), selected=n == chosen)[str(n)] for n in numbers]
            ],
        ]

    return h.form(method="get", action=f"/jobs/{job}/compare", class_="line")[
        choice("one", "Hold revision", numbers[1]),
        choice("other", "against", numbers[0]),
        h.button["Compare"],
    ]


def _line(entry: Entry, line: Line, tables: object) -> h.Element:
    first, last = line.first.number, line.last.number
    name = str(last) if first == last else f"{first} to {last}"
    fields = ", ".join(field_called(each, tables) for each in line.fields[:MOST_FIELDS])
    more = len(line.fields) - MOST_FIELDS
    newest = last == entry.head
    compare = f"/jobs/{entry.id}/compare?one={max(first - 1, 1)}&other={last}"
    return h.tr(class_="chosen" if newest else None)[
        h.th(scope="row")[name],
        h.td(class_="words")[moment(line.last.made)],
        h.td(class_="words")[fields, f" and {more} more" if more > 0 else None],
        h.td(class_="words acts")[
            h.a(href=f"/jobs/{entry.id}/survey?revision={last}", aria_label=f"Look at {last}")[
                "Look"
            ],
            h.a(href=compare, aria_label=f"What revision {last} changed")["Changed"]
            if first > 1
            else None,
            h.b["newest"] if newest else go_back(entry.id, last),
        ],
    ]


def _fields(view: View, moved: Moved, one: int, other: int) -> h.Element:
    return h.table(class_="ruled")[
        h.thead[h.tr[[h.th(scope="col", class_="words")[head]
                      for head in ("field", f"revision {one}", f"revision {other}")]]],
        h.tbody[
            [
                h.tr[
                    h.th(scope="row")[
                        h.a(href=field_address(view, each.field), title=each.field)[each.name]
                    ],
                    h.td(class_="words")[each.before or "–"],
                    h.td(class_="words")[each.after or "–"],
                ]
                for each in moved.fields
            ]
        ],
    ]  # fmt: skip


def _figures(moved: Moved, view: View, one: int, other: int) -> h.Element:
    heads = ("figure", "unit", f"revision {one}", f"revision {other}", "change")
    before, after = (
        _rows(line, days, view.system, view.job.money.currency)
        for line, days in zip((moved.before, moved.after), moved.days, strict=True)
    )
    return h.table(class_="ruled")[
        h.thead[
            h.tr[
                [
                    h.th(scope="col", class_="words" if head == "unit" else None)[head]
                    for head in heads
                ]
            ]
        ],
        h.tbody[
            [
                h.tr[
                    h.th(scope="row")[name],
                    h.td(class_="unit")[unit],
                    h.td[plain(was, digits)],
                    h.td[plain(now, digits)],
                    h.td[_change(was, now, digits)],
                ]
                for (name, unit, was, digits), (_, _, now, _) in zip(before, after, strict=True)
            ]
        ],
    ]


def _rows(
    line: Headline, days: float | None, system: System, currency: str
) -> list[tuple[str, str, float | None, int]]:
    """Name, unit, value and digits of each figure."""

    def of(value: float | None, kind: str) -> float | None:
        return None if value is None else in_system(value, kind, system)

    rise, warm = "temperature difference", "temperature"
    heat = None if line.solar_heat is None else line.solar_heat / KWH
    return [
        ("a clear day adds at least", unit_label(rise, system), of(line.clear_day, rise), 1),
        ("water while open", unit_label(warm, system), of(line.season_water, warm), 1),
        ("unheated", unit_label(warm, system), of(line.season_without, warm), 1),
        ("at the wanted warmth", "days a year", days, 0),
        ("on the roof", unit_label("flow", system), of(line.flow, "flow"), 1),
        ("pump with solar on", "W", line.power, 0),
        ("solar heat", "kWh a year", heat, 0),
        ("pump, whole year", f"{currency} a year", line.pump_cost, 0),
        ("findings", "", float(line.findings), 0),
    ]


def _change(was: float | None, now: float | None, digits: int) -> str:
    if was is None or now is None:
        return "–"
    change = change_shown(was, now, digits)
    text = plain(change, digits)
    return "same" if change == 0.0 else text.replace("-", "−") if change < 0.0 else f"+{text}"


def _findings(title: str, found: Sequence[Finding]) -> h.Element | None:
    if not found:
        return None
    return h.section[
        h.h2[f"{title} ({len(found)})"],
        h.ul[[h.li[each.text] for each in found]],
    ]
