"""The money of a job with its ranges, laid out."""

from __future__ import annotations

from typing import Any

import htpy as h

from noonwater.app.desk import View
from noonwater.app.money_lines import about
from noonwater.web.figures import plain
from noonwater.web.ruled import ruled


def money_shown(view: View, result: dict[str, Any]) -> h.Node:
    """Lay out what each alternative costs, and how sure that is.

    Parameters
    ----------
    view : View
        The job.
    result : dict
        As the command line gives it for JSON.
    """
    currency, life = result["currency"], result["terms"]["life"]
    heat = result["solar"]["heat_range_kWh"]
    return h.fragment[
        h.p[
            f"In four cases of five solar brings {about(heat['low'])} to {about(heat['high'])} kWh"
            " in a year."
        ],
        ruled(
            ["against", f"saves in year 1, {currency}", "pays back after, years",
             f"gain over {life} years, {currency}"],
            [
                [
                    "own heater, saved" if each["own_heater"] else each["kind"],
                    _span(each["saved_first_year_range"]),
                    _years(each, life),
                    _span(each["net_present_value_range"]),
                ]
                for each in result["against"]
            ],
            "In four cases of five",
        ),
        h.p(class_="note")["Not in the ranges: " + "; ".join(result["not_in_ranges"]) + "."],
    ]  # fmt: skip


def _span(found: dict[str, float] | None) -> str:
    return "" if found is None else f"{about(found['low'])} to {about(found['high'])}"


def _years(each: dict[str, Any], life: int) -> str:
    if each["net_present_value"] is None:
        return ""
    low, high = each["payback_discounted_low_years"], each["payback_discounted_high_years"]
    if low is None:
        return f"over {life}"
    return f"{plain(low, 1)} to " + (f"over {life}" if high is None else plain(high, 1))
