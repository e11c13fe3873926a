"""Paper: the parts list, the papers to hand over, the job file."""

from __future__ import annotations

import htpy as h

from noonwater.app.bring_in import brought_file
from noonwater.app.desk import View
from noonwater.app.desk_money import price_trouble
from noonwater.app.desk_paper import paper_lacks, paper_names
from noonwater.web.sheet import Sheet


def _body(view: View) -> h.Node:
    job = view.state.job
    return h.fragment[
        h.p["Each paper is made from the job as it stands, when you ask for it."],
        _told(view),
        h.table(class_="ruled")[
            h.thead[
                h.tr[
                    h.th(scope="col")["paper"],
                    h.th(scope="col")["English"],
                    h.th(scope="col")["Spanish"],
                ]
            ],
            h.tbody[
                [
                    h.tr[
                        h.th(scope="row")[title],
                        [
                            h.td[
                                h.a(href=f"/jobs/{job}/papers/{name}-{code}.pdf", hreflang=code)[
                                    f"PDF ({code})"
                                ]
                            ]
                            for code in ("en", "es")
                        ],
                    ]
                    for name, title in paper_names()
                ]
            ],
        ],
        h.ul(class_="ways")[
            h.li[h.a(href=f"/jobs/{job}/parts.xlsx")["Parts list with prices and formulas (XLSX)"]],
            h.li[h.a(href=f"/jobs/{job}/parts.csv")["Parts list as a spreadsheet file (CSV)"]],
            h.li[h.a(href=f"/jobs/{job}/hours.csv")["The year’s hours (CSV)"]],
            h.li[h.a(href=f"/jobs/{job}/file")["Job file"]],
            h.li[
                h.a(href=f"/jobs/{job}/brought")["Job file as it was brought in"],
                ", with its comments",
            ]
            if brought_file(view.shelf, job)
            else None,
        ],
    ]


def _told(view: View) -> h.Node:
    """What a paper would not say as it was typed."""
    count, lacks, trouble = len(view.faults), paper_lacks(view), price_trouble(view)
    return h.fragment[
        h.p(class_="wrong", role="status")[
            f"{count} field{'s are' if count > 1 else ' is'} typed and not yet right, see below:"
            " the papers say what was right last."
        ]
        if count
        else None,
        h.p(class_="wrong", role="status")[f"The proposal goes without a price list: {trouble}"]
        if trouble
        else None,
        h.p(class_="note")[f"The papers’ typeface lacks {lacks}: an empty box stands there."]
        if lacks
        else None,
    ]


PAPER = Sheet("paper", "Paper", "What is handed over", _body)
