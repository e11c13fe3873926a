"""Routes of the telephone: a call kept with its job, or taken out."""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import RedirectResponse, Response

from noonwater.app.desk import View
from noonwater.app.desk_telephone import keep_shown
from noonwater.app.store import Store
from noonwater.app.telephone_kept import drop_call

MOST_FIELDS = 80


def add_telephone(app: FastAPI, store: Store) -> None:
    """Add keeping and taking out."""

    @app.post("/jobs/{job}/telephone/keep")
    async def keep(job: str, request: Request) -> Response:
        """Keep a call as it is typed."""
        form = await request.form(max_files=0, max_fields=MOST_FIELDS)
        typed = {key: str(value) for key, value in form.items() if str(value)}
        view = View(store.state(job), shelf=store.shelf)
        texts = keep_shown(store.shelf, view, typed)
        return RedirectResponse(f"/jobs/{job}/telephone?{urlencode(dict(texts))}", 303)

    @app.post("/jobs/{job}/telephone/{call}/drop")
    def drop(job: str, call: str) -> Response:
        """Take a call out."""
        drop_call(store.shelf, store.entry(job).id, call)
        return RedirectResponse(f"/jobs/{job}/telephone", 303)
