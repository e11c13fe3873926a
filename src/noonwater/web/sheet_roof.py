"""Sun and roof: the planes and the banks of panels on them."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.web.fields import items, schedule
from noonwater.web.sheet import Sheet

CAUTION = (
    "Work on a roof: secured against a fall. Whether the roof carries the weight and the wind’s "
    "pull is for a structural engineer and the local code."
)


def _body(view: View) -> h.Node:
    return h.fragment[
        items(view, ("roof",)),
        items(view, ("array", "banks")),
        h.div(class_="columns")[schedule(view, ("array",), title="All banks")],
        items(view, ("own_panel",)),
        h.p(class_="caution")[CAUTION],
    ]


ROOF = Sheet(
    "roof",
    "Sun and roof",
    "Roof planes and banks of panels",
    _body,
    holds=("roof", "array", "own_panel"),
)
