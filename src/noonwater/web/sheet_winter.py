"""Winter: when to drain, the steps of this very system, and the steps back."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_winter import WinterSteps, winter_of
from noonwater.web.sheet import Sheet


def _body(view: View) -> h.Node:
    winter = winter_of(view)
    if winter is None:
        return h.p["There are no steps to show: see below what hinders."]
    return h.fragment[
        h.p(class_="caution")[winter.caution],
        [h.p[line] for line in winter.dates],
        [_steps(steps) for steps in winter.parts],
    ]


def _steps(steps: WinterSteps) -> h.Element:
    return h.section[
        h.h2[steps.title],
        h.ol(class_="steps")[
            [h.li[h.b[each.do], h.span(class_="note")[f" See: {each.see}"]] for each in steps.steps]
        ],
        h.p[steps.after],
    ]


WINTER = Sheet("winter", "Winter", "Winterizing and reopening", _body)
