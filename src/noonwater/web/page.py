"""The frame of every page: bar, row of sheets, the sheet itself, findings, title block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import htpy as h

from noonwater import __version__
from noonwater.app.desk import View
from noonwater.app.field_words import field_called, fields_named
from noonwater.app.store import Entry
from noonwater.core.errors import Fault
from noonwater.core.finding import Finding
from noonwater.web.fault_words import fault_words
from noonwater.web.fields import anchor, has_row
from noonwater.web.figures import moment
from noonwater.web.headline import headline_line
from noonwater.web.sheet import Sheet
from noonwater.web.sheets import home_of

ROOM = Path(__file__).parent
CAUTION = "It advises; local codes, the makers’ instructions and licensed practice decide."


STYLES = (
    "desk.css",
    "fields.css",
    "drawings.css",
    "pages.css",
    "work.css",
    "telephone.css",
    "phone.css",
    "print.css",
)
"""In this order: what a telephone and paper need overrules what stands before."""

BESIDE = (("plant", "Plant"), ("revisions", "Revisions"), ("along", "Take along"))
"""Pages of a job beside its sheets: key and name."""


def job_page(view: View, sheet: Sheet, sheets: Sequence[Sheet]) -> str:
    """Write the whole page of one sheet of a job."""
    state = view.state
    return document(
        f"{view.job.name}: {sheet.name}",
        bar(h.span(id="saved", role="status", aria_live="polite")["saved"]),
        sheet_row(state.job, sheet.key, sheets),
        h.div(id="conflicts", role="alert"),
        h.main(
            id="desk",
            data_job=state.job,
            data_sheet=sheet.key,
        )[desk(view, sheet)],
        h.script(type="module", src="/static/desk.js"),
        [h.script(type="module", src=f"/static/{name}") for name in sheet.scripts],
    )


def old_page(view: View, sheet: Sheet, sheets: Sequence[Sheet], head: int) -> str:
    """Write the page of one sheet as it was in an old state: to look at, not to type in."""
    state = view.state
    asked = f"?revision={state.number}"
    others = f"/jobs/{state.job}/compare?one={state.number}&other={head}"
    return document(
        f"{view.job.name}: {sheet.name}, revision {state.number}",
        bar(),
        sheet_row(state.job, sheet.key, sheets, asked),
        h.section(class_="old", aria_label="Old state")[
            h.p[
                h.b[f"Revision {state.number} of {moment(state.made)}"],
                f", to look at; the newest is {head}. ",
                h.a(href=others)["What differs from the newest"],
                " · ",
                h.a(href=f"/jobs/{state.job}/{sheet.key}")["To the newest"],
            ],
            go_back(state.job, state.number),
        ],
        h.main(id="desk")[
            h.fieldset(class_="look", disabled=True, aria_label="Fields as they were")[
                desk(view, sheet)
            ]
        ],
    )


def beside_page(entry: Entry, here: str, sheets: Sequence[Sheet], *main: h.Node) -> str:
    """Write a page of a job that is no sheet."""
    name = dict(BESIDE).get(here, "Brought in")
    cells = (
        ("job", entry.name),
        ("sheet", name),
        ("date", moment(entry.changed)),
        ("revision", str(entry.head)),
    )
    return document(
        f"{entry.name}: {name}",
        bar(),
        sheet_row(entry.id, here, sheets),
        h.main[h.article(class_="sheet loose")[main], foot(cells)],
        h.script(type="module", src="/static/forms.js"),
    )


def lone_page(title: str, cells: Sequence[tuple[str, str]], *main: h.Node, script: str = "") -> str:
    """Write a page that stands on no job's sheets, with its title block."""
    return document(
        title,
        bar(),
        h.main[h.article(class_="sheet lone")[main], foot(cells)],
        h.script(type="module", src=f"/static/{script}") if script else None,
    )


def bar(*more: h.Node) -> h.Element:
    """The line at the top: home, the phone, what is being saved."""
    return h.header(class_="bar")[
        h.a(href="/", class_="home")["Noonwater"],
        h.a(href="/phone", class_="phone")["On the phone"],
        more,
    ]


def sheet_row(job: str, here: str, sheets: Sequence[Sheet], asked: str = "") -> h.Element:
    """The row of sheets, and the pages beside them."""
    places = [(each.key, each.name, asked) for each in sheets]
    places += [(key, name, "") for key, name in BESIDE]
    return h.nav(class_="sheets", aria_label="Sheets of the job")[
        h.script(type="module", src="/static/sheet-row.js"),
        [
            h.a(
                href=f"/jobs/{job}/{key}{more}",
                aria_current="page" if key == here else None,
                class_="beside" if (key, name) in BESIDE else None,
            )[name]
            for key, name, more in places
        ],
    ]


def go_back(job: str, number: int) -> h.Element:
    """A button that makes an old state the newest."""
    return h.form(method="post", action=f"/jobs/{job}/back")[
        h.button(name="number", value=str(number))[f"Go back to revision {number}"]
    ]


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
            h.p(class_="wrong")[f"No answer: {_hindrance(view, fault)}"]
            for fault in view.studied.trouble
        ],
        _typed_wrong(view),
    ]


def _hindrance(view: View, fault: Fault) -> str:
    tables = view.state.tables
    return f"{field_called(fault.field, tables)}: {fault_words(replace(fault, allowed=''), tables)}"


def _typed_wrong(view: View) -> h.Element | None:
    """Every fault of what was typed, those too whose field has no row of its own."""
    if not view.faults:
        return None
    return h.section(class_="typed-wrong", aria_labelledby="wrong-head")[
        h.h2(id="wrong-head")[f"Typed, and not yet right ({len(view.faults)})"],
        h.p(class_="note")["Until it is, its last right value is computed with."],
        h.ul[
            [
                h.li[
                    _leads_to(view, fault.field),
                    f": {fault.given}."
                    if has_row(fault.field, view)
                    else f": {fault_words(fault, view.state.tables)}",
                ]
                for fault in view.faults
            ]
        ],
    ]


def field_address(view: View, field: str) -> str:
    """Where a field of a job is typed."""
    return f"/jobs/{view.state.job}/{home_of(field)}#{anchor(field, view)}"


def title_block(view: View, sheet: Sheet) -> h.Element:
    """The block at the foot: job, sheet, date, revision."""
    cells = (
        ("job", view.job.name),
        ("sheet", sheet.name),
        ("date", moment(view.state.made)),
        ("revision", str(view.state.number)),
    )
    return foot(cells, id="title-block", data_revision=str(view.state.number))


def foot(cells: Sequence[tuple[str, str]], **marks: str) -> h.Element:
    """A title block: names and texts, the version, the caution."""
    return h.footer(class_="title-block", **marks)[
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
            h.link(rel="stylesheet", href="/fetched/uplot.css"),
            [h.link(rel="stylesheet", href=f"/static/{name}") for name in STYLES],
            h.script(src="/fetched/htmx.js", defer=True),
        ],
        h.body[body],
    ]
    return str(page)


def _leads_to(view: View, field: str) -> h.Element:
    """A link to a field by its name; its path in a job file shows under the pointer."""
    words = field_called(field, view.state.tables)
    return h.a(href=field_address(view, field), title=field)[words]


def _finding(view: View, finding: Finding) -> h.Element:
    where = _leads_to(view, finding.where)
    return h.li(class_=finding.severity)[
        h.p[h.b["Fault. "] if finding.severity == "fault" else None, finding.text],
        h.p(class_="note")[where, f": {finding.value}; allowed {finding.limit}"],
        h.p["Do: ", fields_named(finding.remedy, view.state.tables)],
    ]
