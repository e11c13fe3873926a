"""Survey: the place, the pool, the owner's wishes."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.web.fields import schedule
from noonwater.web.sheet import Sheet


def _body(view: View) -> h.Node:
    return h.div(class_="columns")[
        schedule(view, (), ("name", "units"), "Job"),
        schedule(view, ("site",), title="Place"),
        schedule(view, ("weather",), title="Weather"),
        schedule(view, ("pool",), title="Pool"),
        schedule(view, ("pool", "cover"), title="Cover"),
    ]


SURVEY = Sheet("survey", "Survey", "Survey of pool and place", _body)
