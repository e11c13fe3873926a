"""Routes of what is handed over: job file, papers, spreadsheets."""

from __future__ import annotations

from fastapi import FastAPI
from fastapi.responses import Response

from noonwater.app.bring_in import brought_file
from noonwater.app.desk import View
from noonwater.app.desk_paper import hours_csv, paper_pdf, parts_csv, parts_xlsx
from noonwater.app.store import NoSuchJob, Store
from noonwater.app.store_files import job_file

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def add_paper(app: FastAPI, store: Store) -> None:
    """Add files that are made from a job as it stands."""

    @app.get("/jobs/{job}/file")
    def file(job: str) -> Response:
        """Give the job as a job file."""
        name, text = job_file(store.state(job))
        return _toml(name, text.encode())

    @app.get("/jobs/{job}/brought")
    def brought(job: str) -> Response:
        """Give the job file as it was brought in, with its comments."""
        kept = brought_file(store.shelf, store.entry(job).id)
        if kept is None:
            raise NoSuchJob("this job was not brought in as a file")
        return _toml(*kept)

    @app.get("/jobs/{job}/papers/{name}-{code}.pdf")
    def paper(job: str, name: str, code: str) -> Response:
        """Give a paper as PDF."""
        view = View(store.state(job), shelf=store.shelf)
        return Response(paper_pdf(view, name, code), media_type="application/pdf")

    @app.get("/jobs/{job}/parts.xlsx")
    def priced_parts(job: str) -> Response:
        """Give the parts list with its prices as a workbook."""
        view = View(store.state(job), shelf=store.shelf)
        return Response(parts_xlsx(view), media_type=WORKBOOK)

    @app.get("/jobs/{job}/parts.csv")
    def parts(job: str) -> Response:
        """Give the parts list for a spreadsheet."""
        return Response(parts_csv(View(store.state(job))), media_type="text/csv")

    @app.get("/jobs/{job}/hours.csv")
    def hours(job: str) -> Response:
        """Give the year's hours."""
        return Response(hours_csv(View(store.state(job))), media_type="text/csv")


def _toml(name: str, body: bytes) -> Response:
    held = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(body, media_type="application/toml", headers=held)
