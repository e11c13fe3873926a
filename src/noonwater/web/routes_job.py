"""Routes of a job's sheets: shown, edited, redrawn."""

from __future__ import annotations

from typing import Literal

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, Field

from noonwater.app.desk import View
from noonwater.app.field_words import field_called
from noonwater.app.job_edit import Change
from noonwater.app.sent_text import SentText
from noonwater.app.store import Store
from noonwater.web.drawn import asked_of
from noonwater.web.fields import typed_with_unit
from noonwater.web.page import desk, job_page, old_page
from noonwater.web.sheet import Sheet
from noonwater.web.sheets import SHEETS, sheet_of

LONGEST_TEXT = 20_000
"""[characters] Typed into one field."""


class SentChange(BaseModel):
    """One change as a page sends it."""

    field: SentText = Field(max_length=200)
    text: SentText = Field(default="", max_length=LONGEST_TEXT)
    act: Literal["set", "add", "remove"] = "set"


class SentEdit(BaseModel):
    """Changes that a page sends together, and the revision they were made on."""

    base: int
    changes: list[SentChange] = Field(max_length=500)
    tab: str = Field(default="", max_length=40)
    key: str = Field(default="", max_length=60)


def add_job(app: FastAPI, store: Store) -> None:
    """Add the sheets of a job."""

    @app.get("/jobs/{job}")
    def first(job: str) -> Response:
        """Open a job at its first sheet."""
        return RedirectResponse(f"/jobs/{store.entry(job).id}/{SHEETS[0].key}", 303)

    @app.get("/jobs/{job}/head")
    def head(job: str) -> dict[str, int]:
        """Tell the newest revision."""
        return {"revision": store.entry(job).head}

    @app.post("/jobs/{job}/{sheet}/edit")
    def edit(job: str, sheet: str, sent: SentEdit, request: Request) -> dict[str, object]:
        """Apply changes and give the redrawn desk."""
        shown, view = _known(sheet), View(store.state(job), shelf=store.shelf)
        changes = [
            Change(each.field, typed_with_unit(each.field, each.text, view), each.act)
            for each in sent.changes
        ]
        outcome = store.edit(job, sent.base, changes, tab=sent.tab, key=sent.key)
        view = View(outcome.state, asked_of(request), store.shelf)
        return {
            "revision": outcome.state.number,
            "alone": outcome.alone,
            "conflicts": [
                {**vars(conflict), "name": field_called(conflict.field, view.state.tables)}
                for conflict in outcome.conflicts
            ],
            "refused": [vars(fault) for fault in outcome.refused],
            "html": str(desk(view, shown)),
        }

    @app.get("/jobs/{job}/{sheet}/desk")
    def redraw(job: str, sheet: str, request: Request) -> dict[str, object]:
        """Give the desk of a sheet as it is now."""
        view = View(store.state(job), asked_of(request), store.shelf)
        return {"revision": view.state.number, "html": str(desk(view, _known(sheet)))}

    @app.get("/jobs/{job}/{sheet}", response_class=HTMLResponse)
    def show(job: str, sheet: str, request: Request, revision: int | None = None) -> str:
        """Show a sheet of a job, as it is or as it was."""
        if revision is not None and revision != (head := store.entry(job).head):
            old = View(store.state(job, revision), asked_of(request), store.shelf)
            return old_page(old, _known(sheet), SHEETS, head)
        view = View(store.state(job), asked_of(request), store.shelf)
        return job_page(view, _known(sheet), SHEETS)


def _known(key: str) -> Sheet:
    found = sheet_of(key)
    if found is None:
        raise HTTPException(404, f"there is no sheet '{key[:40]}'")
    return found
