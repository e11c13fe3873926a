"""Routes of a job's states: listed, compared, gone back to."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from noonwater.app.bare_number import with_unit
from noonwater.app.bring_in import Brought
from noonwater.app.desk import View
from noonwater.app.job_edit import Change
from noonwater.app.plant import record_plant
from noonwater.app.revisions import lines_of
from noonwater.app.store import Store
from noonwater.web.brought_page import brought_page
from noonwater.web.revisions_page import compare_page, revisions_page
from noonwater.web.sheets import SHEETS

FIELD, NOTE = "take field ", "take note "


def add_revisions(app: FastAPI, store: Store) -> None:
    """Add the list of states and what is done with them."""

    @app.get("/jobs/{job}/revisions", response_class=HTMLResponse)
    def revisions(job: str) -> str:
        """List the states of a job."""
        lines, newest = lines_of(store.marks(job)), store.state(job)
        return revisions_page(store.entry(job), lines, newest.tables, SHEETS)

    @app.get("/jobs/{job}/compare", response_class=HTMLResponse)
    def compare(job: str, one: int, other: int) -> str:
        """Hold two states against each other."""
        before, after = (View(store.state(job, n), shelf=store.shelf) for n in (one, other))
        return compare_page(store.entry(job), before, after, SHEETS)

    @app.post("/jobs/{job}/back")
    def back(job: str, number: Annotated[int, Form()]) -> Response:
        """Make an old state the newest."""
        store.go_back(job, number)
        return RedirectResponse(f"/jobs/{job}/{SHEETS[0].key}", 303)

    @app.post("/jobs/{job}/take")
    async def take(job: str, request: Request) -> Response:
        """Set the fields and notes of a survey page that were ticked."""
        form = await request.form(max_files=0, max_fields=3000)
        typed = {key: str(value) for key, value in form.items()}
        told = typed.get("base", "0")[:9]
        base = int(told) if told.isdecimal() else 0
        view = View(store.state(job, base))
        fields = {k.removeprefix(FIELD): v for k, v in typed.items() if k.startswith(FIELD)}
        notes = {k.removeprefix(NOTE): v for k, v in typed.items() if k.startswith(NOTE)}
        changes = [
            Change(field, with_unit(field, text, view.state.tables, view.system))
            for field, text in fields.items()
        ]
        outcome = store.edit(job, base, changes)
        record_plant(store, job, notes)
        if outcome.conflicts or outcome.refused:
            left = Brought(outcome.state, conflicts=outcome.conflicts, refused=outcome.refused)
            return HTMLResponse(brought_page(store.entry(job), left, SHEETS))
        return RedirectResponse(f"/jobs/{job}/{SHEETS[0].key}", 303)
