"""Pad and pipe: the circuit in each state, and the parts it is made of."""

from __future__ import annotations

from urllib.parse import quote

import htpy as h
from markupsafe import Markup

from noonwater.app.desk import View
from noonwater.app.desk_drawings import pad_drawing
from noonwater.core.units import System, in_system, unit_label
from noonwater.web.fields import items, part, schedule
from noonwater.web.figures import plain
from noonwater.web.sheet import Sheet

PUMP = ("pump", "solar_speed", "solar_flow", "priming_speed", "priming_time")
PARTS = (
    "filter",
    "filter_area",
    "heater",
    "heater_place",
    "sanitizer",
    "sanitizer_place",
    "cleaner",
    "cleaner_booster",
    "booster",
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


def _body(view: View) -> h.Node:
    return h.fragment[
        _states(view),
        _drawn(view),
        h.div(class_="columns")[
            schedule(view, ("pump",), PUMP, "Pump"),
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
    system: System = view.system
    heads = [
        ("flow", "flow", 1),
        ("on the roof", "flow", 1),
        ("head", "head", 1),
        ("at the filter", "pressure", 1),
        ("power", "power", 0),
    ]
    shown = view.asked.get(STATE) or flow.states[0].name
    return h.table(class_="ruled states")[
        h.caption["Choose a state to see its water"],
        h.thead[
            h.tr[
                h.th(scope="col")["state"],
                [
                    h.th(scope="col")[f"{name}, {unit_label(kind, system)}"]
                    for name, kind, _ in heads
                ],
            ]
        ],
        h.tbody[
            [
                h.tr(class_="chosen" if state.name == shown else None)[
                    h.th(scope="row")[
                        h.a(
                            href=f"?{STATE}={quote(state.name)}",
                            aria_current="true" if state.name == shown else None,
                        )[state.name]
                    ],
                    [
                        h.td[plain(in_system(value, kind, system), digits)]
                        for value, (_, kind, digits) in zip(
                            (
                                state.flow,
                                state.array_flow,
                                state.head,
                                state.pressure_filter,
                                state.power,
                            ),
                            heads,
                            strict=True,
                        )
                    ],
                ]
                for state in flow.states
            ]
        ],
    ]


def _drawn(view: View) -> h.Node:
    drawn = pad_drawing(view, view.asked.get(STATE, ""))
    if drawn is None:
        return None
    return h.fragment[
        h.div(class_="drawing wide")[Markup(drawn.wide)],
        h.div(class_="drawing narrow")[Markup(drawn.narrow)],
    ]


PAD = Sheet(
    "pad",
    "Pad and pipe",
    "The pad, state by state",
    _body,
    holds=("pad", "pump", "own_pump", "heater"),
)
