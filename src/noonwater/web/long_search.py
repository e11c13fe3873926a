"""The short list of a search over whole systems, laid out."""

from __future__ import annotations

from typing import Any

import htpy as h

from noonwater.app.desk import View
from noonwater.app.work import Piece
from noonwater.core.units import in_system, unit_label
from noonwater.web.drawn import chart_shown
from noonwater.web.figures import plain
from noonwater.web.ruled import ruled


def search_shown(view: View, piece: Piece, result: dict[str, Any]) -> h.Node:
    """Lay out what a search found: figures side by side, then each system and what bounds it.

    Parameters
    ----------
    view : View
        The job.
    piece : Piece
        For the job files that it wrote.
    result : dict
        As the command line gives it for JSON.
    """
    units, currency = view.system, result["currency"]
    heads = ["system", f"price, {currency}", f"runs for, {currency} a year", "days at target",
             f"season, {unit_label('temperature', units)}", "solar heat, kWh", "why"]  # fmt: skip
    options = result["options"]
    rows = [["as it stands", *_figures(view, result["as_it_stands"]), ""]]
    rows += [[each["letter"], *_figures(view, each), ", ".join(each["why"])] for each in options]
    return h.fragment[
        h.p[
            f"{result['judged']} systems judged, {result['valid']} valid under every check; on the"
            " trade-off of price, warmth and running cost:"
        ],
        ruled(heads, rows, "Whole systems, the warmest first", [0], words=True),
        chart_shown(view, result),
        h.section(class_="options")[
            [
                _system(view, piece, each, file)
                for each, file in zip(options, result["files"], strict=True)
            ]
        ],
        h.p(class_="note")["; ".join(result["sources"])],
    ]


def _figures(view: View, option: dict[str, Any]) -> list[str]:
    water = option["season_pool_C"]
    return [
        plain(option["price"]),
        plain(option["running_cost"]),
        plain(option["days_at_target"]),
        plain(None if water is None else in_system(water, "temperature", view.system), 1),
        plain(option["solar_heat_kWh"]),
    ]


def _system(view: View, piece: Piece, option: dict[str, Any], file: str) -> h.Node:
    at = f"/jobs/{view.state.job}/long/search/{piece.key}/{file}"
    letter = option["letter"]
    return h.div(class_="option")[
        h.h3[f"System {letter}"],
        h.ul[
            [
                h.li[
                    h.span(class_="note")[change["field"]],
                    f" {change['before'] or 'left out'} → ",
                    h.span(class_="moved")[change["after"] or "left out"],
                ]
                for change in option["changes"]
            ]
        ],
        h.p(class_="note")["; ".join(option["bounds"])],
        h.form(method="post", action=f"{at}/begin")[
            h.button(aria_label=f"Begin a job with system {letter}")["Begin a job with it"],
            " ",
            h.a(href=at, aria_label=f"Job file of system {letter}")["Job file"],
        ],
    ]
