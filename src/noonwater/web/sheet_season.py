"""Season: the pool's year as a picture and a table."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View, without_words
from noonwater.app.desk_drawings import year_drawing
from noonwater.app.text import MONTH_NAMES
from noonwater.core.digits import about
from noonwater.core.units import in_system, unit_label
from noonwater.web.drawn import drawn
from noonwater.web.figures import KWH, plain
from noonwater.web.long_element import long_work
from noonwater.web.sheet import Sheet

_CARPET = h.Element("year-carpet")


def _body(view: View) -> h.Node:
    year, units, drawing = view.studied.year, view.system, year_drawing(view)
    if year is None or drawing is None:
        return h.p["There is no year to show: see below what hinders."]
    degrees = unit_label("temperature", units)

    def degree(value: float) -> str:
        return plain(in_system(value, "temperature", units), 1)

    state = view.state
    return h.fragment[
        _CARPET(
            id="carpet",
            source=f"/jobs/{state.job}/hours.f32?revision={state.number}",
            target=degree(year.target),
            unit=degrees,
            bare=without_words(view.job),
            hx_morph_skip_children=True,
        ),
        long_work(view, "ranges"),
        drawn(drawing),
        h.table(class_="ruled")[
            h.caption["The pool's year, month by month"],
            h.thead[
                h.tr[
                    h.th(scope="col")["month"],
                    h.th(scope="col")[f"with solar, {degrees}"],
                    h.th(scope="col")[f"{without_words(view.job)}, {degrees}"],
                    h.th(scope="col")["solar heat, kWh"],
                    h.th(scope="col")["pump, kWh"],
                ]
            ],
            h.tbody[
                [
                    h.tr[
                        h.th(scope="row")[MONTH_NAMES[month.month - 1]],
                        h.td[degree(month.pool)],
                        h.td[degree(month.pool_without_solar)],
                        h.td[plain(about(month.solar_heat / KWH))],
                        h.td[plain(about(month.pump_energy / KWH))],
                    ]
                    for month in year.months
                ]
            ],
        ],
    ]


SEASON = Sheet("season", "Season", "The pool’s year", _body, ("year-carpet.js", "long-work.js"))
