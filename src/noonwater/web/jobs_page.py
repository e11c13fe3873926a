"""The list of jobs."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h

from noonwater.app.demos import demos
from noonwater.app.store import STAGES, Entry
from noonwater.core.errors import Fault
from noonwater.web.fault_words import fault_line
from noonwater.web.figures import moment
from noonwater.web.page import lone_page


def jobs_page(
    jobs: Sequence[Entry], search: str, archived: bool, faults: Sequence[Fault] = ()
) -> str:
    """Write the page: search, jobs, ways to begin."""
    name = "Archived jobs" if archived else "Jobs"
    cells = [("sheet", name), ("jobs", str(len(jobs)))]
    if jobs:
        cells.append(("last changed", moment(max(job.changed for job in jobs))))
    return lone_page(
        name,
        cells,
        h.h1[name],
        _search(search, archived),
        _table(jobs) if jobs else h.p["No job of this kind yet."],
        h.p(class_="ways")[
            h.a(href="/")["To the jobs at hand"]
            if archived
            else h.a(href="/?archived=true")["Archived jobs"]
        ],
        _bring_in(faults),
        h.section[
            h.h2["Begin"],
            h.p[
                h.a(href="/begin", class_="do")["A first job by six questions"],
                " Six lines lead to a first answer; the survey follows.",
            ],
            h.p["Or with a sample:"],
            h.ul(class_="samples")[
                [
                    h.li[
                        h.form(method="post", action="/jobs")[
                            h.button(name="sample", value=demo.name)[
                                demo.name.replace("-", " ").title()
                            ],
                            h.span[demo.summary],
                        ]
                    ]
                    for demo in demos()
                ]
            ],
        ],
        script="forms.js",
    )


def _search(search: str, archived: bool) -> h.Element:
    return h.form(method="get", action="/", role="search")[
        h.label(for_="search")["Find a job by name"],
        h.input(id="search", name="search", type="search", value=search),
        h.input(type="hidden", name="archived", value="true") if archived else None,
        h.button["Find"],
    ]


def _bring_in(faults: Sequence[Fault]) -> h.Element:
    return h.section[
        h.h2["Bring a file in"],
        h.form(
            id="bring", method="post", action="/jobs/file", enctype="multipart/form-data",
            class_="line",
        )[
            h.label(for_="file")["Job file, or what a survey page exported"],
            h.input(id="file", name="file", type="file", required=True,
                    accept=".toml,.json,application/json,text/plain"),
            h.button["Bring in"],
        ],
        [
            h.p(class_="wrong", role="alert")[
                fault_line(fault)
            ]
            for fault in faults
        ],
    ]  # fmt: skip


def _table(jobs: Sequence[Entry]) -> h.Element:
    heads = ("job", "stage of work", "changed", "")
    return h.table(class_="ruled jobs")[
        h.thead[
            h.tr[
                [
                    h.th(scope="col", class_="words")[head] if head else h.td
                    for head in heads
                ]
            ]
        ],
        h.tbody[[_row(job) for job in jobs]],
    ]  # fmt: skip


def _row(job: Entry) -> h.Element:
    act, name = f"/jobs/{job.id}", f"name-{job.id}"

    def button(words: str, **more: str) -> h.Element:
        return h.button(class_="quiet", aria_describedby=name, **more)[words]

    return h.tr[
        h.th(scope="row")[h.a(href=act, id=name)[job.name]],
        h.td(class_="words")[
            h.form(method="post", action=f"{act}/stage", data_sends="yes")[
                h.select(name="stage", aria_label=f"Stage of {job.name}")[
                    [h.option(value=stage, selected=stage == job.stage)[stage] for stage in STAGES]
                ],
                button("Set"),
            ]
        ],
        h.td(class_="words")[moment(job.changed)],
        h.td(class_="words acts")[
            h.form(method="post", action=f"{act}/copy")[button("Copy")],
            h.form(method="post", action=f"{act}/archive")[
                button("Bring back", name="archived", value="false")
                if job.archived
                else button("Archive", name="archived", value="true")
            ],
            h.a(href=f"{act}/telephone", aria_describedby=name)["Telephone"],
            h.a(href=f"{act}/file", aria_describedby=name)["Job file"],
        ],
    ]
