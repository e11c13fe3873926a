"""Pages to take along: one file each, which works without the desk and without a network."""

from __future__ import annotations

import base64
import datetime
import json
import re
import secrets
from collections.abc import Mapping
from pathlib import Path

import htpy as h
from markupsafe import Markup

from noonwater.app.bring_in import KIND, stand_in
from noonwater.app.desk import View
from noonwater.app.desk_paper import paper_html
from noonwater.app.job_file import tables_of_file
from noonwater.app.store import State
from noonwater.core.errors import Fault, InputError
from noonwater.web.fields import items, schedule
from noonwater.web.figures import moment
from noonwater.web.page import ROOM, STYLES, foot
from noonwater.web.plant_page import plant_fields

ALONE = (
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; font-src data:; "
    "img-src data: blob:; base-uri 'none'; form-action 'none'"
)
"""Policy of a page that asks nothing of anybody."""


def survey_page(view: View, notes: Mapping[str, str]) -> str:
    """Write the survey as a page that keeps what is typed and exports it.

    Parameters
    ----------
    view : View
        The job; its id is empty where it comes from a job file.
    notes : mapping of str to str
        Of the plant that is there.
    """
    state = view.state
    held = {
        "kind": KIND,
        "format": 1,
        "page": secrets.token_hex(8),
        "job": state.job,
        "base": state.number,
        "tables": state.tables,
        "seen": dict(notes),
    }
    return alone_page(
        f"{view.job.name}: survey page",
        view,
        h.div(id="kept", role="status", class_="kept")["nothing typed yet"],
        h.main(id="survey")[
            h.article(class_="sheet")[
                h.h1[f"Survey: {view.job.name}"],
                h.p[
                    "This page needs no network. It keeps what you type; at the end export it, and"
                    " bring the file in at the desk. A number may have its own unit: “12 m”."
                ],
                _fields(view),
                h.h2["The plant that is there"],
                plant_fields(notes),
                h.p(class_="line")[
                    h.button(type="button", id="export", class_="do")["Export what was typed"],
                    h.span(class_="note")["The file goes to the downloads of this phone."],
                ],
                h.details[
                    h.summary["Or copy it as text"],
                    h.textarea(id="text", readonly=True, rows="6", aria_label="What was typed"),
                ],
            ]
        ],
        held_data(held),
        away_script(),
    )


def write_survey_page(job: Path | str, out: Path | str) -> Path:
    """Write the survey page of a job file.

    Raises
    ------
    InputError
        When there is no such job file, or the page can't be written.
    """
    tables = tables_of_file(job)
    right, now = stand_in(tables), datetime.datetime.now(datetime.UTC)
    view = View(State("", 1, now.isoformat(), "a job file", tables, right))
    path = Path(out)
    try:
        path.write_text(survey_page(view, {}), encoding="utf-8", newline="\n")
    except OSError as error:
        given = f"{path}: {error.strerror or error}"
        raise InputError([Fault("--out", given, "a file that can be written")]) from None
    return path


def paper_alone(view: View, name: str, code: str) -> str:
    """Write a paper as a page that keeps what is ticked and written."""
    title, article = paper_html(view, name, code)
    state = view.state
    held = {"page": f"{state.job} {state.number} {name} {code}"}
    return alone_page(
        f"{view.job.name}: {title}",
        view,
        h.div(id="kept", role="status", class_="kept")["nothing ticked yet"],
        h.main(id="paper")[Markup(article)],
        held_data(held),
        away_script(),
        code=code,
    )


def _fields(view: View) -> h.Element:
    return h.div(class_="columns")[
        schedule(view, (), ("name", "units"), "Job"),
        schedule(view, ("site",), title="Place"),
        schedule(view, ("pool",), title="Pool"),
        schedule(view, ("pool", "cover"), title="Cover"),
        items(view, ("roof",), "Roof plane"),
        schedule(view, ("pad",), title="Pad and pipe"),
        schedule(view, ("pump",), ("pump", "solar_speed", "priming_speed"), "Pump"),
    ]


def alone_page(title: str, view: View, *body: h.Node, code: str = "en") -> str:
    """Write a page of one file: style and typeface inside, nothing asked of anybody."""
    state = view.state
    page = h.html(lang=code)[
        h.head[
            h.meta(charset="utf-8"),
            h.meta(name="viewport", content="width=device-width, initial-scale=1"),
            h.meta({"http-equiv": "Content-Security-Policy", "content": ALONE}),
            h.title[f"{title} · Noonwater"],
            h.style[Markup(_style())],
        ],
        h.body[
            body,
            foot(
                (
                    ("job", view.job.name),
                    ("made", moment(state.made)),
                    ("revision", str(state.number)),
                )
            ),
        ],
    ]
    return str(page)


def _style() -> str:
    """The desk's own style, its typeface inside the file."""
    desk = "".join(
        (ROOM / "static" / name).read_text(encoding="utf-8") for name in (*STYLES, "away.css")
    )
    font = (ROOM / "fetched" / "source-sans-3-regular.woff2").read_bytes()
    face = (
        '@font-face { font-family: "Source Sans 3"; src: url("data:font/woff2;base64,'
        f'{base64.b64encode(font).decode()}") format("woff2"); }}'
    )
    # What the desk loads from beside its style has no place in a file that stands alone.
    return face + re.sub(r"@font-face\s*\{[^}]*\}", "", desk)


def held_data(held: Mapping[str, object]) -> h.Element:
    """What the page's script has to know of it."""
    # "<" written otherwise: no text of a job can end the script that holds it.
    text = json.dumps(held, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return h.script(type="application/json", id="base")[Markup(text)]


def away_script(*more: str) -> h.Element:
    """What keeps what is typed, and further scripts of web/static after it."""
    names = ("toggles.js", "away.js", *more)
    text = "\n".join((ROOM / "static" / name).read_text(encoding="utf-8") for name in names)
    # A file of its own has no modules to load: what they give is put before what uses it.
    return h.script[Markup(re.sub(r"^export ", "", text, flags=re.MULTILINE))]
