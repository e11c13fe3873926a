"""Pages that say what is wrong: no such job, an input that can’t be, a caller not let in."""

from __future__ import annotations

import re
from collections.abc import Sequence

import htpy as h
from markupsafe import Markup
from starlette.requests import Request

from noonwater.web.page import ROOM, STYLES, foot, lone_page

TITLES = {
    404: "Nothing stands at this address",
    409: "There is no answer",
    422: "That can’t be taken",
}
WAY = "What was typed and saved is safe in the list of jobs."


def wants_page(request: Request) -> bool:
    """Whether a person's browser asks, not a script: only the first takes HTML by name."""
    return "text/html" in request.headers.get("accept", "")


def trouble_page(status: int, words: Sequence[str]) -> str:
    """Write the page of a trouble.

    Parameters
    ----------
    status : int
        Of the answer.
    words : sequence of str
        What is wrong and what to do, a paragraph each.
    """
    title = TITLES.get(status, "That did not work")
    return lone_page(
        title,
        (("sheet", "Trouble"), ("number", str(status))),
        h.h1[title],
        [h.p[line] for line in words],
        h.p[WAY],
        h.p[h.a(href="/", class_="do")["To the list of jobs"]],
    )


def refused_page(words: str) -> str:
    """Write the page for a caller that is not let in: its style is in it, for it can load none."""
    style = "".join((ROOM / "static" / name).read_text(encoding="utf-8") for name in STYLES)
    page = h.html(lang="en")[
        h.head[
            h.meta(charset="utf-8"),
            h.meta(name="viewport", content="width=device-width, initial-scale=1"),
            h.title["Not let in · Noonwater"],
            h.style[Markup(re.sub(r"@font-face\s*\{[^}]*\}", "", style))],
        ],
        h.body[
            h.main[
                h.article(class_="sheet lone")[h.h1["Not let in"], h.p[words]],
                foot((("sheet", "Not let in"),)),
            ]
        ],
    ]
    return str(page)
