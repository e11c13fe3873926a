"""Routes of the list of jobs."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from noonwater.app.demos import demo_text
from noonwater.app.store import Store
from noonwater.app.store_files import tables_from_text
from noonwater.web.jobs_page import jobs_page
from noonwater.web.sheets import SHEETS


def add_jobs(app: FastAPI, store: Store) -> None:
    """Add the list, and the ways to begin a job."""

    @app.get("/", response_class=HTMLResponse)
    def jobs(search: str = "", archived: bool = False) -> str:
        """Show the list of jobs."""
        return jobs_page(store.jobs(search, archived), search, archived)

    @app.post("/jobs")
    def begin(sample: Annotated[str, Form()]) -> Response:
        """Begin a job from a sample."""
        state = store.add(tables_from_text(demo_text(sample)))
        return RedirectResponse(f"/jobs/{state.job}/{SHEETS[0].key}", 303)
