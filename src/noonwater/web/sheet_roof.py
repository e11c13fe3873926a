"""Sun and roof: the planes with their panels to scale, and the sun on each."""

from __future__ import annotations

import htpy as h
from markupsafe import Markup

from noonwater.app.desk import View
from noonwater.app.desk_roof import roof_drawing, sun_on_planes
from noonwater.app.text import MONTH_NAMES
from noonwater.web.fields import items, schedule
from noonwater.web.figures import KWH, plain
from noonwater.web.sheet import Sheet

CAUTION = (
    "Work on a roof: secured against a fall. Whether the roof carries the weight and the wind’s "
    "pull is for a structural engineer and the local code."
)
HOW = (
    "Drag a bank’s end to add or take away panels, drag the bank onto another plane to move it. "
    "Keys on a bank: arrows for a panel more or less, Page Up and Page Down for the next plane."
)
MOST_PANELS = 60
_PLAN = h.Element("roof-plan")


def _body(view: View) -> h.Node:
    drawn = roof_drawing(view)
    return h.fragment[
        _PLAN(id="roof-plan")[
            h.div(class_="drawing wide")[Markup(drawn.wide)],
            h.div(class_="drawing narrow")[Markup(drawn.narrow)],
        ],
        h.p(class_="note how")[HOW],
        h.div(class_="abreast")[_steps(view), _sun(view)],
        items(view, ("roof",)),
        items(view, ("array", "banks")),
        h.div(class_="columns")[schedule(view, ("array",), title="All banks")],
        items(view, ("own_panel",)),
        h.p(class_="caution")[CAUTION],
    ]


def _steps(view: View) -> h.Element:
    """Each bank with buttons for a panel less or more, and for another plane."""
    return h.table(class_="ruled steps")[
        h.caption["Banks in steps"],
        h.thead[
            h.tr[
                h.th(scope="col")["bank"],
                h.th(scope="col")["panels"],
                h.th(scope="col", class_="words")["on the plane"],
            ]
        ],
        h.tbody[
            [
                _step_row(view, number, bank.panels, bank.roof)
                for number, bank in enumerate(view.job.array.banks)
            ]
        ],
    ]


def _step_row(view: View, number: int, count: int, plane: str) -> h.Element:
    field, name = f"array.banks[{number}]", f"bank {number + 1}"
    return h.tr[
        h.th(scope="row")[str(number + 1)],
        h.td(class_="stepper")[
            _setter(f"{field}.panels", count - 1, "−", f"One panel less in {name}", count > 1),
            h.b[str(count)],
            _setter(
                f"{field}.panels", count + 1, "+", f"One panel more in {name}", count < MOST_PANELS
            ),
        ],
        h.td(class_="stepper words")[
            h.span(class_="paper-only")[plane],
            [
                h.button(
                    type="button",
                    data_set=f"{field}.roof",
                    data_text=roof.name,
                    aria_pressed="true" if roof.name == plane else "false",
                    aria_label=f"Put {name} on {roof.name}",
                )[roof.name]
                for roof in view.job.roof
            ],
        ],
    ]


def _setter(field: str, value: int, sign: str, words: str, possible: bool) -> h.Element:
    return h.button(
        type="button",
        data_set=field,
        data_text=str(value),
        aria_label=words,
        disabled=not possible,
    )[sign]


def _sun(view: View) -> h.Node:
    planes = sun_on_planes(view)
    if not planes:
        return None
    return h.div(class_="scroll", role="region", aria_label="Sun on each plane", tabindex="0")[
        h.table(class_="ruled")[
            h.caption["Sun on each plane, kWh/m² a day; shade on the roof is left aside"],
            h.thead[
                h.tr[
                    h.th(scope="col")["month"],
                    [h.th(scope="col")[plane.name] for plane in planes],
                ]
            ],
            h.tbody[
                [
                    h.tr[
                        h.th(scope="row")[name],
                        [h.td[plain(plane.daily[month] / KWH, 1)] for plane in planes],
                    ]
                    for month, name in enumerate(MONTH_NAMES)
                ],
                h.tr(class_="sum")[
                    h.th(scope="row")["year"],
                    [h.td[plain(plane.year / KWH, 1)] for plane in planes],
                ],
            ],
        ]
    ]


ROOF = Sheet(
    "roof",
    "Sun and roof",
    "Roof planes and banks of panels",
    _body,
    ("roof-plan.js",),
    holds=("roof", "array", "own_panel"),
)
