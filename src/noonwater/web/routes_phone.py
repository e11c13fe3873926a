"""The page that lets a phone in: a code with a one-time token."""

from __future__ import annotations

import htpy as h
from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from noonwater.app.store import Store
from noonwater.web.address import EXAMPLE, own_address
from noonwater.web.guard import Guard, from_here
from noonwater.web.page import lone_page


def add_phone(app: FastAPI, store: Store) -> None:
    """Add the page of the code, and the button for a new one."""

    @app.get("/phone", response_class=HTMLResponse)
    def phone(request: Request) -> str:
        """Show the code."""
        guard: Guard = app.state.guard
        return phone_page(guard, request.url.port or 80, here=from_here(request))

    @app.post("/phone/code")
    def new_code(request: Request) -> Response:
        """Make a new code; only at the desk itself."""
        if not from_here(request):
            return Response("Make a new code at the desk itself.", 403, media_type="text/plain")
        guard: Guard = app.state.guard
        if guard.outside:
            guard.new_token()
        return RedirectResponse("/phone", 303)


def phone_page(guard: Guard, port: int, *, here: bool) -> str:
    """Write the page."""
    return lone_page(
        "On the phone",
        (("sheet", "On the phone"), ("lets in", "one phone" if guard.outside else "nobody")),
        h.h1["On the phone"],
        _body(guard, port, here=here),
    )


def code_address(host: str, port: int, token: str) -> str:
    """What the code says."""
    return f"http://{host}:{port}/?token={token}"


def _body(guard: Guard, port: int, *, here: bool) -> h.Node:
    if not here:
        return h.p["This phone is let in. A new code is made at the desk itself."]
    if not guard.outside:
        own = own_address()
        return h.fragment[
            h.p["The desk answers this machine alone. To let a phone in, stop it and start:"],
            h.pre[f"noonwater serve --host {own or 'ADDRESS'}"],
            h.p[f"{own or 'ADDRESS'} is this machine’s own address in the network that the phone"
                " must be in too"
                f"{'.' if own else f'; the settings of the network show it, as {EXAMPLE}.'}"],
            h.p["With no network at hand, take a survey page along: it is on each job’s page"
                " “Take along”."],
        ]  # fmt: skip
    return h.fragment[
        _code(guard, port) if guard.token else h.p["The code has been used: a phone is let in."],
        h.form(method="post", action="/phone/code")[h.button["Make a new code"]],
        h.p(class_="note")["Making a new code shuts out the phone that used the old one."],
        h.p(class_="caution")["The link is not encrypted: use it in a network that you trust."],
    ]


def _code(guard: Guard, port: int) -> h.Node:
    import segno

    address = code_address(guard.outside[0], port, guard.token)
    drawn = segno.make(address, micro=False).svg_inline(
        omitsize=True, border=4, title="Code to scan"
    )
    return h.fragment[
        h.p["In the same network, scan this with the phone. It lets one phone in, once."],
        h.div(class_="code")[Markup(drawn)],
        h.p(class_="note")["Or type: ", h.span(class_="address")[address]],
    ]
