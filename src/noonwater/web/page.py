"""The frame of every page: bar, row of sheets, the sheet itself, findings, title block."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h

from noonwater import __version__
from noonwater.app.desk import View
from noonwater.core.finding import Finding
from noonwater.web.fields import anchor
from noonwater.web.figures import moment
from noonwater.web.headline import headline_line
from noonwater.web.sheet import Sheet
from noonwater.web.sheets import home_of

CAUTION = "It advises; local codes, the makers’ instructions and licensed practice decide."


def job_page(view: View, sheet: Sheet, sheets: Sequence[Sheet], photos: int = 0) -> str:
    """Write the whole page of one sheet of a job."""
    state = view.state
    return document(
        f"{view.job.name}: {sheet.name}",
        h.header(class_="bar")[
            h.a(href="/", class_="home")["Noonwater"],
            h.span(id="saved", role="status", aria_live="polite")["saved"],
        ],
        h.nav(class_="sheets", aria_label="Sheets of the job")[
            [
                h.a(
                    href=f"/jobs/{state.job}/{each.key}",
                    aria_current="page" if each.key == sheet.key else None,
                )[each.name]
                for each in sheets
            ]
        ],
        h.div(id="conflicts", role="alert"),
        h.main(
            id="desk",
            data_job=state.job,
            data_sheet=sheet.key,
        )[desk(view, sheet)],
        h.script(type="module", src="/static/desk.js"),
        [h.script(type="module", src=f"/static/{name}") for name in sheet.scripts],
    )


def desk(view: View, sheet: Sheet) -> h.Fragment:
    """What an edit redraws: figures in view, the sheet, findings, title block."""
    return h.fragment[
        headline_line(view),
        h.article(class_="sheet", id=f"sheet-{sheet.key}")[h.h1[sheet.title], sheet.body(view)],
        findings(view),
        title_block(view, sheet),
    ]


def findings(view: View) -> h.Element:
    """All findings, each leading to the field that causes it."""
    found = view.studied.findings
    return h.section(id="findings", aria_labelledby="findings-head")[
        h.h2(id="findings-head")[
            f"Findings ({len(found)})" if found else "Nothing to mend was found"
        ],
        h.ol[[_finding(view, each) for each in found]],
        [
            h.p(class_="wrong")[f"No answer: {fault.field}: {fault.given}. {fault.remedy}"]
            for fault in view.studied.trouble
        ],
    ]


def title_block(view: View, sheet: Sheet) -> h.Element:
    """The block at the foot: job, sheet, date, revision."""
    cells = (
        ("job", view.job.name),
        ("sheet", sheet.name),
        ("date", moment(view.state.made)),
        ("revision", str(view.state.number)),
    )
    return h.footer(class_="title-block", id="title-block", data_revision=str(view.state.number))[
        h.dl[[h.div[h.dt[name], h.dd[text]] for name, text in cells]],
        h.p[f"Noonwater {__version__}. {CAUTION}"],
    ]


def document(title: str, *body: h.Node) -> str:
    """Write a page of HTML."""
    page = h.html(lang="en")[
        h.head[
            h.meta(charset="utf-8"),
            h.meta(name="viewport", content="width=device-width, initial-scale=1"),
            h.title[f"{title} · Noonwater"],
            h.link(rel="icon", href="/static/mark.svg"),
            h.link(
                rel="preload",
                href="/fetched/source-sans-3-regular.woff2",
                as_="font",
                type="font/woff2",
                crossorigin="",
            ),
            h.link(rel="stylesheet", href="/static/desk.css"),
            h.script(src="/fetched/htmx.js", defer=True),
        ],
        h.body[body],
    ]
    return f"<!doctype html>{page}"


def _finding(view: View, finding: Finding) -> h.Element:
    home, place = home_of(finding.where), anchor(finding.where, view)
    where = h.a(href=f"/jobs/{view.state.job}/{home}#{place}")[finding.where]
    return h.li(class_=finding.severity)[
        h.p[h.b["Fault. "] if finding.severity == "fault" else None, finding.text],
        h.p(class_="note")[where, f": {finding.value}; allowed {finding.limit}"],
        h.p["Do: ", finding.remedy],
    ]
