"""Money: prices, what the owner pays, and what the sun is held against."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.web.fields import items, schedule
from noonwater.web.sheet import Sheet


def _body(view: View) -> h.Node:
    return h.fragment[
        h.div(class_="columns")[
            schedule(view, ("money", "offer"), title="What the owner pays"),
            schedule(view, ("money", "terms"), title="How the years ahead are counted"),
            schedule(view, ("money",), title="Electricity"),
        ],
        items(view, ("money", "alternatives")),
        items(view, ("money", "incentives")),
        items(view, ("money", "windows")),
        items(view, ("money", "tiers")),
    ]


MONEY = Sheet("money", "Money", "Prices and what the sun is held against", _body, holds=("money",))
