"""Routes of a job's options: set, taken out, taken over."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form
from fastapi.responses import RedirectResponse, Response

from noonwater.app.desk import View
from noonwater.app.desk_options import OPTION, add_setting, changes_of
from noonwater.app.store import Store


def add_options(app: FastAPI, store: Store) -> None:
    """Add the ways to make and use an option."""

    def seen(job: str) -> View:
        return View(store.state(job), shelf=store.shelf)

    def back(job: str) -> Response:
        return RedirectResponse(f"/jobs/{job}/options", 303)

    @app.post("/jobs/{job}/options")
    def add(
        job: str,
        field: Annotated[str, Form(max_length=200)] = "",
        value: Annotated[str, Form(max_length=2000)] = "",
        into: Annotated[str, Form(max_length=60)] = "",
        tried: Annotated[str, Form(alias="try", max_length=400)] = "",
    ) -> Response:
        """Set a field otherwise in an option."""
        if tried:
            field, _, value = tried.partition("=")
        add_setting(store.shelf, seen(job), (field, value), into)
        return back(job)

    @app.post("/jobs/{job}/options/{option}/drop")
    def drop(job: str, option: str) -> Response:
        """Take an option out."""
        store.shelf.drop(store.entry(job).id, OPTION, option)
        return back(job)

    @app.post("/jobs/{job}/options/{option}/take")
    def take(job: str, option: str) -> Response:
        """Take an option over into the job, as an edit."""
        view = seen(job)
        store.edit(job, view.state.number, changes_of(view, option))
        store.shelf.drop(job, OPTION, option)
        return back(job)
