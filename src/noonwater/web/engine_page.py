"""The page that a newcomer sees while the engine is compiled, once on a machine."""

from __future__ import annotations

import htpy as h
from starlette.datastructures import Headers
from starlette.responses import HTMLResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from noonwater.app.engine_start import EngineStart, Making
from noonwater.web.long_shown import time_words
from noonwater.web.page import bar, document

HEAD = "Noonwater gets ready"
WHY = (
    "Once on this machine and for this version the engine is compiled. That takes up to a minute, "
    "and this page goes on by itself when it is done."
)


class WhileCompiling:
    """Answers for the sheets until the engine is there.

    Parameters
    ----------
    app : ASGI app
        That is asked from then on.
    start : EngineStart
        Tells when.
    """

    def __init__(self, app: ASGIApp, start: EngineStart) -> None:
        self._app, self._start = app, start

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Show the page where a sheet is opened too early; let all else through."""
        if _opens_sheet(scope) and not self._start.ready:
            self._start.begin()
            page = HTMLResponse(engine_page(self._start.stand()))
            await page(scope, receive, send)
            return
        await self._app(scope, receive, send)


def engine_page(stand: Making) -> str:
    """Write the page."""
    return document(
        HEAD,
        bar(),
        h.main(class_="list")[
            h.h1[HEAD],
            h.p[WHY],
            h.div(class_="long")[
                h.progress(id="made", max=str(stand.of), value=str(stand.done), aria_label=HEAD),
                h.p(class_="note", id="said", role="status")[stand_words(stand)],
            ],
        ],
        h.script(type="module", src="/static/engine.js"),
    )


def stand_words(stand: Making) -> str:
    """Say how far it is."""
    if stand.ready:
        return "Done."
    left = "" if stand.left is None else f", {time_words(stand.left)} left"
    return f"{stand.done} of about {stand.of} functions{left}"


def _opens_sheet(scope: Scope) -> bool:
    if scope["type"] != "http" or scope["method"] != "GET":
        return False
    accepted = Headers(scope=scope).get("accept", "")
    return scope["path"].startswith("/jobs/") and "text/html" in accepted
