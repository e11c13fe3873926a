"""Routes of what is handed over: job file, papers, spreadsheets."""

from __future__ import annotations

from fastapi import FastAPI
from fastapi.responses import Response

from noonwater.app.desk import View
from noonwater.app.desk_paper import hours_csv, paper_pdf, parts_csv
from noonwater.app.store import Store
from noonwater.app.store_files import job_file


def add_paper(app: FastAPI, store: Store) -> None:
    """Add files that are made from a job as it stands."""

    @app.get("/jobs/{job}/file")
    def file(job: str) -> Response:
        """Give the job as a job file."""
        name, text = job_file(store.state(job))
        held = {"Content-Disposition": f'attachment; filename="{name}"'}
        return Response(text, media_type="application/toml", headers=held)

    @app.get("/jobs/{job}/papers/{name}-{code}.pdf")
    def paper(job: str, name: str, code: str) -> Response:
        """Give a paper as PDF."""
        return Response(paper_pdf(View(store.state(job)), name, code), media_type="application/pdf")

    @app.get("/jobs/{job}/parts.csv")
    def parts(job: str) -> Response:
        """Give the parts list for a spreadsheet."""
        return Response(parts_csv(View(store.state(job))), media_type="text/csv")

    @app.get("/jobs/{job}/hours.csv")
    def hours(job: str) -> Response:
        """Give the year's hours."""
        return Response(hours_csv(View(store.state(job))), media_type="text/csv")
