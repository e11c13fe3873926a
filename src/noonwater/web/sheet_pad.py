"""Pad and pipe: the circuit in each state, and the parts it is made of."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_pad import (
    PartTold,
    pad_caution,
    pad_shown,
    part_in_states,
    part_names,
    pump_drawing,
)
from noonwater.core.units import in_system, unit_label
from noonwater.web.drawn import drawn
from noonwater.web.fields import anchor, items, part, schedule
from noonwater.web.figures import plain
from noonwater.web.sheet import Sheet

PUMP = ("pump", "solar_speed", "solar_flow", "priming_speed", "priming_time")
SWAPPED = ("filter", "heater", "sanitizer", "cleaner", "booster")
PARTS = (
    "filter_area",
    "heater_place",
    "sanitizer_place",
    "cleaner_booster",
    "suction_rating",
)
VALVES = (
    "arrangement",
    "diverter_open",
    "diverter_seal",
    "bypass_open",
    "breaker",
    "check_valves",
    "check_valve",
    "sight_windows",
    "isolation_valves",
    "drains",
)
PIPES = (
    "pipe",
    "schedule",
    "suction_length",
    "return_length",
    "feed_length",
    "roof_return_length",
    "filter_to_heater",
    "straight_before_pump",
    "elbows",
    "slope",
    "elevation",
)
STATE = "state"
"""What the address calls the state that is shown."""


PART = "part"
"""What it calls the part that is told."""
HOW = (
    "Touch a valve to see the next state in which it is turned, another part to see its water; or "
    "choose it here:"
)
HEADS = (
    ("flow", "flow", 1),
    ("on the roof", "flow", 1),
    ("head", "head", 1),
    ("at the filter", "pressure", 1),
    ("power", "power", 0),
)


def _body(view: View) -> h.Node:
    return h.fragment[
        h.div(class_="abreast")[_states(view), _curves(view)],
        h.div(class_="item parts")[
            schedule(view, ("pump",), PUMP, "Pump"),
            schedule(view, ("pad",), SWAPPED, "Parts to swap"),
        ],
        _drawn(view),
        h.p(class_="caution")[pad_caution()],
        h.div(class_="columns")[
            schedule(view, ("pad",), PARTS, "Parts of the pad"),
            schedule(view, ("pad",), VALVES, "Tie-in and valves"),
            schedule(view, ("pad",), PIPES, "Pipes"),
            schedule(view, ("heater",), title="Backup heater"),
        ],
        part(view, ("pad", "spa")),
        items(view, ("pad", "edit")),
        items(view, ("own_pump",)),
    ]


def _states(view: View) -> h.Node:
    flow = view.studied.flow
    if flow is None:
        return h.p["Nothing flows yet: see below what hinders."]
    shown = view.asked.get(STATE) or flow.states[0].name
    return h.div(class_="scroll", role="region", aria_label="States of the pad", tabindex="0")[
        h.table(class_="ruled states")[
            h.caption["Choose a state to see its water"],
            h.thead[
                h.tr[
                    h.th(scope="col")["state"],
                    [
                        h.th(scope="col")[f"{name}, {unit_label(kind, view.system)}"]
                        for name, kind, _ in HEADS
                    ],
                ]
            ],
            h.tbody[
                [
                    _state_row(view, f"{count} {state.name}", state.name, shown, figures)
                    for count, (state, figures) in enumerate(_figures(flow.states), start=1)
                ]
            ],
        ]
    ]


def _figures(states: Sequence[Any]) -> list[tuple[Any, tuple[float, ...]]]:
    return [
        (each, (each.flow, each.array_flow, each.head, each.pressure_filter, each.power))
        for each in states
    ]


def _state_row(
    view: View, words: str, name: str, shown: str, figures: tuple[float, ...]
) -> h.Element:
    current = name == shown
    return h.tr(class_="chosen" if current else None)[
        h.th(scope="row")[_ask(view, words, {STATE: name}, current=current)],
        [
            h.td[plain(in_system(value, kind, view.system), digits)]
            for value, (_, kind, digits) in zip(figures, HEADS, strict=True)
        ],
    ]


def _ask(view: View, words: str, asked: dict[str, str], *, current: bool) -> h.Element:
    """A link that shows something else of the pad and leaves the page where it is."""
    wanted = {key: view.asked[key] for key in (STATE, PART) if view.asked.get(key)}
    return h.a(
        href="?" + urlencode({**wanted, **asked}),
        data_ask="",
        aria_current="true" if current else None,
    )[words]


def _curves(view: View) -> h.Node:
    drawing = pump_drawing(view)
    if drawing is None:
        return None
    return h.figure(class_="curves")[
        drawn(drawing),
        h.figcaption(class_="note")[
            "Black: the pump at its speeds, dotted beyond what was measured. Blue: what the "
            "circuit asks for, whole with water on the roof, with a gap where the vacuum breaker "
            "opens or shuts; dashed without. The numbers are those of the states."
        ],
    ]


def _drawn(view: View) -> h.Node:
    shown = pad_shown(view, view.asked.get(STATE, ""), view.asked.get(PART, ""))
    if shown is None:
        return None
    return h.fragment[
        drawn(shown.drawing, shown.touch),
        _part(view, shown.state),
    ]


def _part(view: View, state: str) -> h.Element:
    """The chosen part in every state, and the parts to choose from."""
    told = part_in_states(view, view.asked.get(PART, ""))
    names = part_names(view)
    return h.section(aria_label="A part in every state")[
        h.p(class_="note how")[HOW],
        h.p(class_="chooser")[
            [
                _ask(view, name, {PART: name}, current=told is not None and name == told.name)
                for name in names
            ]
        ],
        _part_table(view, told, state) if told is not None else None,
    ]


def _part_table(view: View, told: PartTold, state: str) -> h.Element:
    place = told.field and anchor(told.field, view)
    return h.div(class_="scroll", role="region", aria_label=told.name, tabindex="0")[
        h.table(class_="ruled")[
            h.caption[
                h.b[told.name],
                " in every state",
                [". ", h.a(href=f"#{place}")["Choose or set it"]] if place else None,
            ],
            h.thead[
                h.tr[
                    h.th(scope="col")["state"],
                    [h.th(scope="col")[head] for head in told.heads],
                ]
            ],
            h.tbody[
                [
                    h.tr(class_="chosen" if name == state else None)[
                        h.th(scope="row")[_ask(view, name, {STATE: name}, current=name == state)],
                        [h.td[cell] for cell in cells],
                    ]
                    for name, cells in told.rows
                ]
            ],
        ]
    ]


PAD = Sheet(
    "pad",
    "Pad and pipe",
    "The pad, state by state",
    _body,
    holds=("pad", "pump", "own_pump", "heater"),
)
