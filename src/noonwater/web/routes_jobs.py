"""Routes of the list of jobs: found, begun, brought in, copied, archived."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from noonwater.app.bring_in import Brought, begin, bring_in
from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.first_answer import first_range
from noonwater.app.job_file import LARGEST
from noonwater.app.plant import copy_plant
from noonwater.app.six_questions import first_job
from noonwater.app.store import Store
from noonwater.app.store_files import tables_from_text
from noonwater.core.errors import Fault, InputError
from noonwater.web.begin_page import RANGE_WORDS, begin_page, first_page, range_rows
from noonwater.web.brought_page import brought_page
from noonwater.web.jobs_page import jobs_page
from noonwater.web.sheets import SHEETS

BY_QUESTIONS = "begun by six questions"


def add_jobs(app: FastAPI, store: Store) -> None:
    """Add the list, and the ways to begin a job."""

    @app.get("/", response_class=HTMLResponse)
    def jobs(search: str = "", archived: bool = False) -> str:
        """Show the list of jobs."""
        return jobs_page(store.jobs(search, archived), search, archived)

    @app.post("/jobs")
    def begin_sample(sample: Annotated[str, Form()]) -> Response:
        """Begin a job from a sample."""
        state = store.add(tables_from_text(demo_text(sample)))
        return _opened(state.job)

    @app.post("/jobs/file")
    def file_in(file: UploadFile) -> Response:
        """Bring a file in."""
        raw = file.file.read(LARGEST + 1)
        try:
            if len(raw) > LARGEST:
                raise InputError([Fault("the file", "too large", f"at most {LARGEST // 1000} kB")])
            brought = bring_in(store, raw)
        except InputError as error:
            page = jobs_page(store.jobs(), "", archived=False, faults=error.faults)
            return HTMLResponse(page, 422)
        return _told(store, brought)

    @app.post("/jobs/{job}/stage")
    def stage(job: str, stage: Annotated[str, Form()]) -> Response:
        """Say how far the work is."""
        store.set_stage(job, stage)
        return RedirectResponse("/", 303)

    @app.post("/jobs/{job}/copy")
    def copy(job: str) -> Response:
        """Copy a job, with what is noted of the plant and what is kept with it."""
        state = store.copy(job)
        copy_plant(store, job, state.job)
        store.shelf.copy(job, state.job)
        return RedirectResponse("/", 303)

    @app.post("/jobs/{job}/archive")
    def archive(job: str, archived: Annotated[bool, Form()]) -> Response:
        """Take a job out of the list, or back into it."""
        store.archive(job, archived)
        return RedirectResponse("/" if archived else "/?archived=true", 303)


def add_begin(app: FastAPI, store: Store) -> None:
    """Add the six questions and the first answer."""

    @app.get("/begin", response_class=HTMLResponse)
    def ask(units: str = "US") -> str:
        """Ask the six questions."""
        return begin_page({"units": units})

    @app.post("/begin")
    async def answer(request: Request) -> Response:
        """Make a job of six answers."""
        form = await request.form(max_files=0, max_fields=40)
        typed = {key: str(value)[:200] for key, value in form.items()}
        try:
            tables, _ = first_job(typed)
        except InputError as error:
            return HTMLResponse(begin_page(typed, error.faults), 422)
        state = begin(store, tables, BY_QUESTIONS)
        return RedirectResponse(f"/jobs/{state.job}/first", 303)

    @app.get("/jobs/{job}/first", response_class=HTMLResponse)
    def first(job: str) -> str:
        """Show the first answer."""
        return first_page(_first(store, job), store.entry(job).head)

    @app.get("/jobs/{job}/first/range")
    def first_answer_range(job: str) -> Response:
        """State how far the survey may move the first answer."""
        view = _first(store, job)
        found = first_range(view.job)
        return JSONResponse(
            {"rows": range_rows(view, found), "words": RANGE_WORDS.format(draws=found.draws)}
        )


def _first(store: Store, job: str) -> View:
    state = store.state(job, 1)
    if state.words != BY_QUESTIONS:
        fault = Fault("the job", f"was {state.words}", "a job that six questions began")
        raise InputError([fault])
    return View(state)


def _opened(job: str) -> Response:
    return RedirectResponse(f"/jobs/{job}/{SHEETS[0].key}", 303)


def _told(store: Store, brought: Brought) -> Response:
    if brought.conflicts or brought.refused or brought.others:
        return HTMLResponse(brought_page(store.entry(brought.state.job), brought, SHEETS))
    return _opened(brought.state.job)
