"""Figures for the eye: a value with its unit, or a dash where there is none."""

from __future__ import annotations

import datetime

import htpy as h

from noonwater.core.units import System, in_system, unit_label

KWH = 3.6e6
DASH = "–"


def plain(value: float | None, digits: int = 0) -> str:
    """Print a number; never '-0'."""
    if value is None:
        return DASH
    rounded = round(value, digits) + 0.0
    return f"{rounded:,.{digits}f}"


def shown(value: float | None, kind: str, system: System, digits: int = 0) -> str:
    """Print a quantity of SI with its unit, in one text."""
    if value is None:
        return DASH
    label = unit_label(kind, system)
    return f"{plain(in_system(value, kind, system), digits)}{'' if label == '°' else ' '}{label}"


def figure(name: str, value: str, unit: str = "", note: str = "", kind: str = "") -> h.Element:
    """A named figure of the line that is always in view.

    Parameters
    ----------
    name, value, unit, note : str
        What it is, how much, of what, and a word more.
    kind : str
        "water", "heat", "bad" or empty: how it is coloured.
    """
    return h.div(class_=f"figure {kind}".strip())[
        h.dt[name],
        h.dd[h.b[value], h.span(class_="unit")[f" {unit}"] if unit else None, note and f" {note}"],
    ]


def change_shown(was: float, now: float, digits: int) -> float:
    """Change between two figures as they are shown, so that a row adds up for who reads it."""
    return round(round(now, digits) - round(was, digits), digits)


def moment(text: str) -> str:
    """Print an ISO moment as this machine's date and time."""
    return f"{datetime.datetime.fromisoformat(text).astimezone():%Y-%m-%d %H:%M}"
