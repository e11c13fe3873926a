"""The telephone as a page to take along: bands to hold readings against, what each cause shows."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.app.telephone_along import Along, AlongCause, AlongRow, along_of
from noonwater.app.telephone_words import CAUTION, capital, sentence
from noonwater.core.errors import Fault, InputError
from noonwater.web.away_page import alone_page, away_script, held_data
from noonwater.web.ruled import ruled


def telephone_page(view: View) -> str:
    """Write the page.

    Raises
    ------
    InputError
        Where the job has no flow or no year to hold readings against.
    """
    along = along_of(view)
    if along is None:
        given = "it has no flow or no year"
        remedy = "mend what the desk says below its sheets"
        raise InputError([Fault("the job", given, "a job that can be computed", remedy)])
    state = view.state
    return alone_page(
        f"{view.job.name}: telephone page",
        view,
        h.div(id="kept", role="status", class_="kept")["nothing written yet"],
        h.main(id="telephone")[
            h.article(class_="sheet")[
                h.h1[f"Is my solar working? {view.job.name}"],
                h.p(class_="caution")[CAUTION],
                h.p[
                    "This page needs no network and keeps what is written in it. It says of each"
                    " reading whether it is as it should be, and what is likely wrong, over the"
                    " open season. The desk also knows month and hour, weighs two causes at once,"
                    " and says what to ask next."
                ],
                _skies(along.skies),
                [_state(n, name, rows) for n, (name, rows) in enumerate(along.states)],
                _months(along),
                _causes(along),
            ]
        ],
        held_data({"page": f"{state.job} {state.number} telephone", **along.held}),
        away_script("away-weigh.js", "away-call.js"),
    )


def _skies(skies: tuple[str, ...]) -> h.Element:
    return h.p(class_="line")[
        h.label(for_="sky")["sun now"],
        h.select(id="sky", name="sky")[
            h.option(value="")["not told"], [h.option(value=each)[each] for each in skies]
        ],
    ]


def _state(place: int, name: str, rows: tuple[AlongRow, ...]) -> h.Fragment:
    return h.fragment[
        h.fieldset(class_="schedule call")[
            h.legend[f"While it should run: {name}"],
            h.p(class_="note heads", aria_hidden="true")[
                h.span["reading"], h.span["should be"], h.span["told"], h.span["unit"]
            ],
            [_row(place, f"{name} {row.key}", row) for row in rows],
        ],
        h.section(id=f"wrong-{place}", hidden=True, aria_label=f"What can be wrong: {name}")[
            h.h2["What can be wrong"], h.ol(class_="causes", id=f"causes-{place}")
        ],
    ]


def _row(place: int, name: str, row: AlongRow) -> h.Element:
    key = name.replace(" ", "-")
    common = {"id": f"a-{key}", "name": name, "aria-describedby": f"e-{key} n-{key}",
              "data-said": f"n-{key}", "data-expected": f"w-{key}", "data-unit": row.unit,
              "data-state": str(place), "data-key": row.key}  # fmt: skip
    control: h.Element | h.VoidElement
    if row.choices:
        control = h.select(common)[
            h.option(value="")["not told"], [h.option(value=each)[each] for each in row.choices]
        ]
    else:
        control = h.input(common, autocomplete="off", inputmode="decimal")
    return h.div(class_="row plain" if row.choices else "row")[
        h.label(for_=f"a-{key}")[row.words],
        h.span(class_="expected", id=f"e-{key}")[
            h.span(class_="unseen")["should be "], h.span(id=f"w-{key}")[row.expected]
        ],
        control,
        h.span(class_="unit")[row.unit] if not row.choices else None,
        h.span(class_="note verdict", id=f"n-{key}", role="status"),
    ]


def _months(along: Along) -> h.Element:
    return h.section[
        h.h2["On a clear day at 13:00, standard time, solar on"],
        ruled(("month", *along.month_heads), along.months, "What hangs on the sun"),
    ]


def _causes(along: Along) -> h.Element:
    return h.section(aria_label="What each cause would show")[
        h.h2["What each cause would show"],
        h.p(class_="note")[
            f"While “{along.states[0][0]}” should run, a clear sun, from little of it to much."
        ],
        h.ul(class_="causes")[[_cause(along, each) for each in along.causes]],
    ]


def _cause(along: Along, cause: AlongCause) -> h.Element:
    pairs = zip(along.cause_heads, cause.shows, strict=True)
    return h.li[
        h.p[h.b[capital(cause.name)], f": {cause.changes}."],
        h.p["; ".join(f"{head}: {text}" for head, text in pairs)],
        h.p(class_="note")[f"Look: {sentence(cause.check)} Do: {sentence(cause.remedy)}"],
        h.p(class_="caution")[cause.caution] if cause.caution else None,
    ]
