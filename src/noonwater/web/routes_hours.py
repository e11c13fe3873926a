"""Routes that give numbers by the thousand."""

from __future__ import annotations

from fastapi import FastAPI
from fastapi.responses import Response

from noonwater.app.desk import View
from noonwater.app.desk_controls import day_of
from noonwater.app.desk_hours import hours_of
from noonwater.app.store import Store


def add_hours(app: FastAPI, store: Store) -> None:
    """Add the year's hours, and a day's steps."""

    @app.get("/jobs/{job}/day.f32")
    def day(job: str, day: int = 0, revision: int | None = None) -> Response:
        """Give a day's steps as raw 32-bit floats."""
        held = {"Cache-Control": "private, max-age=3600"} if revision else {}
        return Response(
            day_of(View(store.state(job, revision)), day),
            media_type="application/octet-stream",
            headers=held,
        )

    @app.get("/jobs/{job}/hours.f32")
    def hours(job: str, revision: int | None = None) -> Response:
        """Give the year's hours as raw 32-bit floats."""
        held = {"Cache-Control": "private, max-age=3600"} if revision else {}
        return Response(
            hours_of(View(store.state(job, revision))),
            media_type="application/octet-stream",
            headers=held,
        )
