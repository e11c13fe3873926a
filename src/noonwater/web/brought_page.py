"""What a survey page brought that could not be merged: both texts, and which to take."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h

from noonwater.app.bring_in import Brought
from noonwater.app.desk import View
from noonwater.app.field_words import field_called
from noonwater.app.store import Entry
from noonwater.web.page import beside_page, field_address
from noonwater.web.sheet import Sheet


def brought_page(entry: Entry, brought: Brought, sheets: Sequence[Sheet]) -> str:
    """Write the page: conflicts with a choice each, and what has no place in the job."""
    state = brought.state
    return beside_page(
        entry,
        "",
        sheets,
        h.h1["Brought in, all but what follows"],
        _conflicts(brought) if brought.conflicts or brought.others else None,
        [
            h.p(class_="wrong")[f"{fault.field}: {fault.given}. Allowed: {fault.allowed}."]
            for fault in brought.refused
        ],
        h.p[h.a(href=f"/jobs/{state.job}", class_="do")["To the survey"]],
    )


def _conflicts(brought: Brought) -> h.Element:
    state, view = brought.state, View(brought.state)
    told = [("field", c.field, c.yours, c.theirs) for c in brought.conflicts]
    told += [("note", o.key, o.yours, o.theirs) for o in brought.others]
    return h.form(method="post", action=f"/jobs/{state.job}/take")[
        h.p["Somebody wrote these otherwise since. Tick what the survey page shall set."],
        h.input(type="hidden", name="base", value=str(state.number)),
        h.table(class_="ruled")[
            h.thead[h.tr[[h.th(scope="col", class_="words")[head]
                          for head in ("field", "on the survey page", "in the job")]]],
            h.tbody[
                [
                    h.tr[
                        h.th(scope="row")[
                            h.a(href=field_address(view, name), title=name)[
                                field_called(name, state.tables)
                            ]
                            if kind == "field" else name
                        ],
                        h.td(class_="words")[
                            h.label(class_="tick")[
                                h.input(type="checkbox", name=f"take {kind} {name}", value=yours),
                                yours or "(empty)",
                            ]
                        ],
                        h.td(class_="words")[theirs or "(empty)"],
                    ]
                    for kind, name, yours, theirs in told
                ]
            ],
        ],
        h.button["Take what is ticked"],
    ]  # fmt: skip
