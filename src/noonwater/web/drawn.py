"""Drawings on a sheet: the one for the screen's width, or both where that isn't known yet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import htpy as h
from markupsafe import Markup
from starlette.requests import Request

from noonwater.app.desk import View
from noonwater.app.desk_drawings import FORMS, WIDTH, Drawing

COOKIE = "noonwater-width"
"""The page says here how wide its screen is; a drawing that is hidden is not made."""


def asked_of(request: Request) -> Mapping[str, str]:
    """Tell what a page asks for: what its address says, and the width of its screen."""
    width = request.cookies.get(COOKIE, "")
    return {**request.query_params, WIDTH: width if width in FORMS else ""}


def drawn(drawing: Drawing, over: Drawing | None = None) -> h.Node:
    """Lay out a drawing.

    Parameters
    ----------
    drawing : Drawing
        For one width or for both.
    over : Drawing, optional
        What lies over it, to be touched.
    """
    made = [form for form in FORMS if getattr(drawing, form)]
    return [
        h.div(class_=_classes(form, len(made) == 1, over is not None))[
            Markup(getattr(drawing, form)),
            None if over is None else Markup(getattr(over, form)),
        ]
        for form in made
    ]


def chart_shown(view: View, result: Mapping[str, Any]) -> h.Node:
    """Lay out the chart of long work; what an older desk kept has none for a telephone."""
    asked = view.asked.get(WIDTH, "")
    kept = {"wide": result["chart"], "narrow": result.get("chart_narrow", "")}
    return drawn(Drawing(*(kept[form] if asked in ("", form) else "" for form in FORMS)))


def _classes(form: str, alone: bool, touched: bool) -> str:
    # The style sheet shows one of two drawings; one that is alone is shown on any screen.
    shown = "slim" if form == "narrow" else ""
    return " ".join(
        filter(None, ("drawing", shown if alone else form, "touched" if touched else ""))
    )
