"""Controls: the program of the day, a day replayed, what decides, and the sensor."""

from __future__ import annotations

import json

import htpy as h
from markupsafe import Markup

from noonwater.app.desk import View
from noonwater.app.desk_controls import controls_told, day_drawing, days_told, program_told
from noonwater.core.units import unit_label
from noonwater.web.fields import items, schedule
from noonwater.web.sheet import Sheet

CAUTION = (
    "Wiring, bonding and the breaker are for a licensed electrician and the local electrical code."
)
HOW = (
    "Drag an end of a period, or focus it and use the arrow keys: a quarter of an hour a step, "
    "Page Up and Page Down an hour."
)
_STRIP = h.Element("day-strip")
_REPLAY = h.Element("day-replay")


def _body(view: View) -> h.Node:
    drawn = day_drawing(view)
    return h.fragment[
        h.h2["The pump’s day"],
        _STRIP(id="day-strip")[
            h.div(class_="drawing wide")[Markup(drawn.wide)],
            h.div(class_="drawing narrow")[Markup(drawn.narrow)],
        ],
        h.p(class_="note how")[HOW],
        _program(view),
        items(view, ("pump", "program")),
        _replay(view),
        h.h2["Controller and sensor"],
        [h.p(class_="told")[line] for line in controls_told(view)],
        h.div(class_="columns")[
            schedule(view, ("controls",), DECIDES, "What decides"),
            schedule(view, ("controls",), SENSOR, "Sensor"),
            schedule(view, ("controls",), NIGHT, "Cooling and frost"),
            schedule(view, ("pump",), ("freeze_speed",), "Pump against frost"),
        ],
        items(view, ("controls", "sensor_ohms")),
        h.p(class_="caution")[CAUTION],
    ]


def _program(view: View) -> h.Node:
    heads, rows = program_told(view)
    if not rows:
        return None
    return h.div(class_="scroll", role="region", aria_label="What comes of the day", tabindex="0")[
        h.table(class_="ruled")[
            h.caption["What the program comes to"],
            h.thead[h.tr[[h.th(scope="col")[head] for head in heads]]],
            h.tbody[
                [
                    h.tr[h.th(scope="row")[cells[0]], [h.td[cell] for cell in cells[1:]]]
                    for cells in rows
                ]
            ],
        ]
    ]


def _replay(view: View) -> h.Node:
    days, state = days_told(view), view.state
    if not days or view.studied.year is None:
        return None
    return h.section(aria_labelledby="replay-head")[
        h.h2(id="replay-head")["A day of the weather, in steps of five minutes"],
        _REPLAY(
            id="day-replay",
            source=f"/jobs/{state.job}/day.f32?revision={state.number}",
            days=json.dumps(days),
            unit=unit_label("temperature", view.system),
            hx_morph_skip_children=True,
        ),
    ]


DECIDES = (
    "kind",
    "on_difference",
    "off_difference",
    "deadband",
    "valve_travel",
    "least_run",
    "least_rest",
)
SENSOR = ("sensor", "sensor_roof", "sensor_shade", "sensor_contact")
NIGHT = ("cooling_target", "cooling_months", "freeze", "freeze_trip", "freeze_watch")
CONTROLS = Sheet(
    "controls",
    "Controls",
    "The day’s program and the controller",
    _body,
    ("day-strip.js", "day-replay.js"),
    holds=("controls", "pump.program", "pump.freeze_speed"),
)
