"""The desk's server: pages, edits, files. Each route reads, asks one verb, and shows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from fastapi import FastAPI, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from pydantic import BaseModel, Field
from starlette.middleware.gzip import GZipMiddleware

from noonwater import __version__
from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.desk_paper import hours_csv, paper_pdf, parts_csv
from noonwater.app.job_edit import Change
from noonwater.app.store import NoSuchJob, Store
from noonwater.app.store_files import job_file, tables_from_text
from noonwater.core.errors import InputError, NoonwaterError
from noonwater.web.fields import typed_with_unit
from noonwater.web.guard import Guard
from noonwater.web.jobs_page import jobs_page
from noonwater.web.page import desk, job_page
from noonwater.web.sheet import Sheet
from noonwater.web.sheets import SHEETS, sheet_of

ROOM = Path(__file__).parent
LONGEST_TEXT = 20_000
"""[characters] Typed into one field."""


class SentChange(BaseModel):
    """One change as a page sends it."""

    field: str = Field(max_length=200)
    text: str = Field(default="", max_length=LONGEST_TEXT)
    act: Literal["set", "add", "remove"] = "set"


class SentEdit(BaseModel):
    """Changes that a page sends together, and the revision they were made on."""

    base: int
    changes: list[SentChange] = Field(max_length=500)
    tab: str = Field(default="", max_length=40)
    key: str = Field(default="", max_length=60)


def create_app(store: Store, guard: Guard | None = None) -> FastAPI:
    """Build the app.

    Parameters
    ----------
    store : Store
        The jobs.
    guard : Guard, optional
        Who may ask; this machine alone if left out.
    """
    app = FastAPI(title="Noonwater", version=__version__, docs_url=None, redoc_url=None)
    app.add_middleware(GZipMiddleware, minimum_size=800, compresslevel=5)
    app.middleware("http")(guard or Guard())
    app.mount("/static", StaticFiles(directory=ROOM / "static"), "static")
    app.mount("/fetched", StaticFiles(directory=ROOM / "fetched"), "fetched")
    _add_troubles(app)
    _add_list(app, store)
    _add_job(app, store)
    return app


def _add_troubles(app: FastAPI) -> None:
    @app.exception_handler(NoSuchJob)
    def nothing_there(request: Request, error: NoSuchJob) -> Response:
        return JSONResponse({"detail": str(error)}, 404)

    @app.exception_handler(InputError)
    def wrong_input(request: Request, error: InputError) -> Response:
        faults = [
            {"field": f.field, "given": f.given, "allowed": f.allowed, "remedy": f.remedy}
            for f in error.faults
        ]
        return JSONResponse({"detail": str(error), "faults": faults}, 422)

    @app.exception_handler(NoonwaterError)
    def no_answer(request: Request, error: NoonwaterError) -> Response:
        return JSONResponse({"detail": str(error)}, 409)


def _add_list(app: FastAPI, store: Store) -> None:
    @app.get("/", response_class=HTMLResponse)
    def jobs(search: str = "", archived: bool = False) -> str:
        """Show the list of jobs."""
        return jobs_page(store.jobs(search, archived), search, archived)

    @app.post("/jobs")
    def begin(sample: Annotated[str, Form()]) -> Response:
        """Begin a job from a sample."""
        state = store.add(tables_from_text(demo_text(sample)))
        return RedirectResponse(f"/jobs/{state.job}/{SHEETS[0].key}", 303)


def _add_job(app: FastAPI, store: Store) -> None:
    @app.get("/jobs/{job}")
    def first(job: str) -> Response:
        """Open a job at its first sheet."""
        return RedirectResponse(f"/jobs/{store.entry(job).id}/{SHEETS[0].key}", 303)

    @app.get("/jobs/{job}/head")
    def head(job: str) -> dict[str, int]:
        """Tell the newest revision."""
        return {"revision": store.entry(job).head}

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

    @app.post("/jobs/{job}/{sheet}/edit")
    def edit(job: str, sheet: str, sent: SentEdit, request: Request) -> dict[str, object]:
        """Apply changes and give the redrawn desk."""
        shown, view = _known(sheet), View(store.state(job))
        changes = [
            Change(each.field, typed_with_unit(each.field, each.text, view), each.act)
            for each in sent.changes
        ]
        outcome = store.edit(job, sent.base, changes, tab=sent.tab, key=sent.key)
        view = View(outcome.state, request.query_params)
        return {
            "revision": outcome.state.number,
            "conflicts": [vars(conflict) for conflict in outcome.conflicts],
            "refused": [vars(fault) for fault in outcome.refused],
            "html": str(desk(view, shown)),
        }

    @app.get("/jobs/{job}/{sheet}/desk")
    def redraw(job: str, sheet: str, request: Request) -> dict[str, object]:
        """Give the desk of a sheet as it is now."""
        view = View(store.state(job), request.query_params)
        return {"revision": view.state.number, "html": str(desk(view, _known(sheet)))}

    @app.get("/jobs/{job}/{sheet}", response_class=HTMLResponse)
    def show(job: str, sheet: str, request: Request) -> str:
        """Show a sheet of a job."""
        return job_page(View(store.state(job), request.query_params), _known(sheet), SHEETS)


def _known(key: str) -> Sheet:
    found = sheet_of(key)
    if found is None:
        raise HTTPException(404, f"there is no sheet '{key[:40]}'")
    return found
