"""Routes of the pages to take along: files that work without the desk."""

from __future__ import annotations

import htpy as h
from fastapi import FastAPI
from fastapi.responses import HTMLResponse, Response

from noonwater.app.desk import View
from noonwater.app.desk_paper import paper_names
from noonwater.app.plant import plant_of
from noonwater.app.store import Entry, Store
from noonwater.app.store_files import file_stem
from noonwater.web.away_page import paper_alone, survey_page
from noonwater.web.away_telephone import telephone_page
from noonwater.web.page import beside_page
from noonwater.web.sheets import SHEETS

LANGUAGES = (("en", "English"), ("es", "Spanish"))


def add_along(app: FastAPI, store: Store) -> None:
    """Add the list of pages, and the pages."""

    @app.get("/jobs/{job}/along", response_class=HTMLResponse)
    def along(job: str) -> str:
        """List what can be taken along."""
        return along_page(store.entry(job))

    @app.get("/jobs/{job}/survey-page.html")
    def survey(job: str) -> Response:
        """Give the survey as a page that works alone."""
        view = View(store.state(job), shelf=store.shelf)
        return _file(survey_page(view, plant_of(store, job)), f"{file_stem(view.state)}-survey")

    @app.get("/jobs/{job}/telephone-page.html")
    def telephone(job: str) -> Response:
        """Give the telephone's sheet as a page that works alone."""
        view = View(store.state(job), shelf=store.shelf)
        return _file(telephone_page(view), f"{file_stem(view.state)}-telephone")

    @app.get("/jobs/{job}/along/{name}-{code}.html")
    def paper(job: str, name: str, code: str) -> Response:
        """Give a paper as a page that works alone."""
        view = View(store.state(job), shelf=store.shelf)
        return _file(paper_alone(view, name, code), f"{file_stem(view.state)}-{name}-{code}")


def along_page(entry: Entry) -> str:
    """Write the list."""
    job = entry.id
    return beside_page(
        entry,
        "along",
        SHEETS,
        h.h1["Take along"],
        h.p["Each is one file for the phone or a stick. It opens in a browser, needs no network,"
            " and keeps what is typed and ticked in it on that phone."],
        h.p[
            h.a(href=f"/jobs/{job}/survey-page.html", class_="do", download=True)["Survey page"],
            " Type at the house, export, and ",
            h.a(href="/#bring")["bring the file in"],
            " here: it is merged field by field, and what somebody else set otherwise is told.",
        ],
        h.p[
            h.a(href=f"/jobs/{job}/telephone-page.html", class_="do", download=True)[
                "Telephone page"
            ],
            " What this system should show, state by state, and what each cause would show.",
        ],
        h.table(class_="ruled")[
            h.thead[h.tr[h.th(scope="col")["to read and tick"],
                         [h.th(scope="col")[language] for _, language in LANGUAGES]]],
            h.tbody[
                [
                    h.tr[
                        h.th(scope="row")[title],
                        [
                            h.td[
                                h.a(
                                    href=f"/jobs/{job}/along/{name}-{code}.html",
                                    hreflang=code, download=True,
                                    aria_label=f"{title}, {language}",
                                )["page"]
                            ]
                            for code, language in LANGUAGES
                        ],
                    ]
                    for name, title in paper_names()
                ]
            ],
        ],
    )  # fmt: skip


def _file(page: str, stem: str) -> Response:
    held = {"Content-Disposition": f'attachment; filename="{stem}.html"'}
    return Response(page, media_type="text/html; charset=utf-8", headers=held)
