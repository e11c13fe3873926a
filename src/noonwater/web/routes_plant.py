"""Routes of the plant that is there: notes and photos."""

from __future__ import annotations

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import UploadFile

from noonwater.app.plant import (
    LARGEST_PHOTO,
    add_photo,
    photo_of,
    photos,
    plant_of,
    record_plant,
    remove_photo,
)
from noonwater.app.store import Store
from noonwater.core.errors import Fault, InputError
from noonwater.web.plant_page import plant_page
from noonwater.web.sheets import SHEETS

MOST_AT_ONCE = 12
SEEN = "seen "


def add_plant(app: FastAPI, store: Store) -> None:
    """Add the notes and the photos."""

    @app.get("/jobs/{job}/plant", response_class=HTMLResponse)
    def plant(job: str) -> str:
        """Show what was noted of the plant."""
        return _page(store, job)

    @app.post("/jobs/{job}/plant")
    async def note(job: str, request: Request) -> Response:
        """Write down what is there."""
        form = await request.form(max_files=0, max_fields=200)
        typed = {key: str(value) for key, value in form.items()}
        seen = {key.removeprefix(SEEN): text for key, text in typed.items() if key.startswith(SEEN)}
        notes = {key: text for key, text in typed.items() if not key.startswith(SEEN)}
        changed = {key: text for key, text in notes.items() if text != seen.get(key, "")}
        try:
            others = record_plant(store, job, changed, seen)
        except InputError as error:
            return HTMLResponse(_page(store, job, error.faults, notes), 422)
        if not others:
            return RedirectResponse(f"/jobs/{job}/plant", 303)
        faults = [
            Fault(other.key, f"written otherwise meanwhile: “{other.theirs}”", "one of the two",
                  "yours stands in its field again: save to take it")
            for other in others
        ]  # fmt: skip
        mine = {other.key: other.yours for other in others}
        return HTMLResponse(_page(store, job, faults, mine), 409)

    @app.post("/jobs/{job}/photos")
    async def add(job: str, request: Request) -> Response:
        """Keep photos."""
        async with request.form(max_files=MOST_AT_ONCE, max_fields=4) as form:
            part = str(form.get("part", ""))
            try:
                for sent in form.getlist("photo"):
                    if isinstance(sent, UploadFile):
                        add_photo(store, job, part, await sent.read(LARGEST_PHOTO + 1))
            except InputError as error:
                return HTMLResponse(_page(store, job, error.faults), 422)
        return RedirectResponse(f"/jobs/{job}/plant", 303)

    @app.get("/jobs/{job}/photos/{photo}")
    def show(job: str, photo: str) -> Response:
        """Give a photo."""
        kind, picture = photo_of(store, job, photo)
        return Response(picture, media_type=kind, headers={"Cache-Control": "private"})

    @app.post("/jobs/{job}/photos/{photo}/remove")
    def remove(job: str, photo: str) -> Response:
        """Take a photo out."""
        remove_photo(store, job, photo)
        return RedirectResponse(f"/jobs/{job}/plant", 303)


def _page(
    store: Store,
    job: str,
    faults: tuple[Fault, ...] | list[Fault] = (),
    typed: dict[str, str] | None = None,
) -> str:
    entry, seen = store.entry(job), plant_of(store, job)
    notes = {**seen, **(typed or {})}
    return plant_page(entry, seen, notes, photos(store, job), sheets=SHEETS, faults=faults)
