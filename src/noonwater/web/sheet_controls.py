"""Controls: the program of the day, what decides, and the sensor."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.web.fields import items, schedule
from noonwater.web.sheet import Sheet

CAUTION = (
    "Wiring, bonding and the breaker are for a licensed electrician and the local electrical code."
)


def _body(view: View) -> h.Node:
    return h.fragment[
        items(view, ("pump", "program")),
        h.div(class_="columns")[
            schedule(view, ("controls",), title="Controller and sensor"),
            schedule(view, ("pump",), ("freeze_speed",), "Against frost"),
        ],
        items(view, ("controls", "sensor_ohms")),
        h.p(class_="caution")[CAUTION],
    ]


CONTROLS = Sheet(
    "controls",
    "Controls",
    "The day’s program and the controller",
    _body,
    holds=("controls", "pump.program", "pump.freeze_speed"),
)
