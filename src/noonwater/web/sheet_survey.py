"""Survey: the place, the pool, the owner's wishes."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.web.fields import items, part, schedule
from noonwater.web.sheet import Sheet


def _body(view: View) -> h.Node:
    return h.fragment[
        h.div(class_="columns")[
            schedule(view, (), ("name", "units"), "Job"),
            schedule(view, ("site",), title="Place"),
            schedule(view, ("weather",), title="Weather"),
            schedule(view, ("pool",), title="Pool"),
            schedule(view, ("pool", "cover"), title="Cover"),
            schedule(view, ("pool", "bathing"), title="Bathing"),
        ],
        items(view, ("pool", "feature")),
        items(view, ("pool", "obstruction")),
        part(view, ("pool", "spa")),
    ]


SURVEY = Sheet(
    "survey",
    "Survey",
    "Survey of pool and place",
    _body,
    holds=("name", "units", "site", "weather", "pool"),
)
