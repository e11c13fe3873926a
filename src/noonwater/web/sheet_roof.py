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
        h.div(class_="columns")[
            items(view, ("roof",), "Roof plane"),
            items(view, ("array", "banks"), "Bank"),
            schedule(view, ("array",), title="All banks"),
        ],
        h.p(class_="caution")[CAUTION],
    ]


ROOF = Sheet("roof", "Sun and roof", "Roof planes and banks of panels", _body)
