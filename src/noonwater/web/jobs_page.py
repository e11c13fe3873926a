"""The list of jobs."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h

from noonwater.app.demos import demos
from noonwater.app.store import Entry
from noonwater.web.figures import moment
from noonwater.web.page import document


def jobs_page(jobs: Sequence[Entry], search: str, archived: bool) -> str:
    """Write the page: search, jobs, samples to begin with."""
    return document(
        "Jobs",
        h.header(class_="bar")[h.a(href="/", class_="home")["Noonwater"]],
        h.main(class_="list")[
            h.h1["Archived jobs" if archived else "Jobs"],
            h.form(method="get", action="/", role="search")[
                h.label(for_="search")["Find a job by name"],
                h.input(id="search", name="search", type="search", value=search),
                h.button["Find"],
            ],
            _table(jobs) if jobs else h.p["No job of this kind yet."],
            h.section[
                h.h2["Begin with a sample"],
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
        ],
    )


def _table(jobs: Sequence[Entry]) -> h.Element:
    return h.table(class_="ruled")[
        h.thead[
            h.tr[h.th(scope="col")["job"], h.th(scope="col")["stage"], h.th(scope="col")["changed"]]
        ],
        h.tbody[
            [
                h.tr[
                    h.th(scope="row")[h.a(href=f"/jobs/{job.id}")[job.name]],
                    h.td[job.stage],
                    h.td[moment(job.changed)],
                ]
                for job in jobs
            ]
        ],
    ]
