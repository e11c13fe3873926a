"""What came of long work, laid out."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import Any

import htpy as h

from noonwater.app.desk import View
from noonwater.app.sureness import cold_month
from noonwater.app.text import MONTH_NAMES
from noonwater.app.work import Piece, Stand
from noonwater.app.work_kinds import KINDS
from noonwater.core.digits import about
from noonwater.core.jit import engine_is_compiled
from noonwater.core.units import in_system, unit_label
from noonwater.web.drawn import chart_shown
from noonwater.web.figures import plain
from noonwater.web.long_money import money_shown
from noonwater.web.long_search import search_shown
from noonwater.web.ruled import ruled

LEAST_SHARE = 0.02
"""[-] Of the spread; what makes less is not named."""
IN_A_MINUTE = 90.0
"""[s] Longer times are told in minutes."""
Result = dict[str, Any]


def result_shown(view: View, piece: Piece, result: Result) -> h.Node:
    """Lay out what a piece of long work gave."""
    if piece.kind == "batch":
        return _batch(view, piece, result)
    if piece.kind == "search":
        return search_shown(view, piece, result)
    return SHOWN[piece.kind](view, result)


def stand_words(kind: str, stand: Stand) -> str:
    """Say how far a piece is."""
    if stand.stage == "failed":
        return stand.words
    if stand.stage == "waits":
        return "It waits for another piece of work of its kind."
    if stand.stage != "runs":
        return ""
    doing = KINDS[kind].doing
    if not stand.of:
        first = "" if engine_is_compiled() else "; the engine is compiled, once on this machine"
        return f"{doing}: it begins{first}."
    left = "" if stand.left is None else f", {time_words(stand.left)} left"
    return f"{doing}: {stand.done} of {stand.of} {stand.name}{left}"


def time_words(seconds: float) -> str:
    """Say about how long something takes."""
    if seconds < IN_A_MINUTE:
        return f"about {ceil(seconds)} s"
    return f"about {ceil(seconds / 60.0)} min"


def _ranges(view: View, result: Result) -> h.Node:
    """The owner's sentence, the months, and what matters most."""
    units = view.system
    degrees = unit_label("temperature", units)

    def span(found: dict[str, float]) -> str:
        ends = [plain(in_system(found[end], "temperature", units)) for end in ("low", "high")]
        return ends[0] if ends[0] == ends[1] else " to ".join(ends)

    left_out, months = result["weather_left_out"], result["pool_C"]
    month = cold_month([each["middle"] for each in months], view.job.pool)
    cold = plain(in_system(months[month - 1]["low"], "temperature", units))
    days, heat = result["days_at_target"], result["solar_heat_kWh"]
    often, rare = (
        ("Four times in five", "one time in ten")
        if left_out
        else ("In most years (four of five)", "in one year of ten")
    )
    return h.div(class_="ranges")[
        h.p(class_="said")[
            h.b[f"{often} {span(result['season_pool_C'])} {degrees}"],
            f" over the open season; {rare} {MONTH_NAMES[month - 1]} is at {cold} {degrees}"
            " or less.",
        ],
        h.p[
            f"{plain(days['low'])} to {plain(days['high'])} days at the target,"
            f" {plain(about(heat['low']))} to {plain(about(heat['high']))} kWh of solar heat,"
            f" {result['samples']} years run.",
            h.span(class_="note")[
                f" Not in it: weather from year to year, for {left_out}."
                if left_out
                else " Weather from year to year is in it."
            ],
        ],
        h.div(class_="side")[
            _weights(result["what_matters"]),
            ruled(
                ["month", f"low, {degrees}", f"middle, {degrees}", f"high, {degrees}"],
                [
                    [MONTH_NAMES[number]]
                    + [
                        plain(in_system(month[end], "temperature", units), 1)
                        for end in ("low", "middle", "high")
                    ]
                    for number, month in enumerate(result["pool_C"])
                ],
                "Water by month: one in ten below low, one in ten above high",
            ),
        ],
    ]


def _weights(weights: list[dict[str, Any]]) -> h.Node:
    told = [weight for weight in weights if weight["share"] >= LEAST_SHARE]
    return h.section[
        h.h2["What matters most to it"],
        h.ol(class_="weights")[
            [
                h.li[
                    h.span[weight["name"]],
                    h.span(class_="bar-of", style=f"--share:{100 * weight['share']:.0f}%"),
                    h.b[f"{100 * weight['share']:.0f} %"],
                ]
                for weight in told
            ]
        ],
        h.p(class_="note")["Measure the first, and the range gets narrower."],
    ]


def _size(view: View, result: Result) -> h.Node:
    units, curve, own = view.system, result["curves"][0], result["own_panels"]
    rise = unit_label("temperature difference", units)
    degrees = unit_label("temperature", units)
    rows: list[list[h.Node]] = []
    marked = []
    for point in curve["points"]:
        bought = point["next_panel"]
        if point["panels"] == own:
            marked.append(len(rows))
        mark = "this job" if point["panels"] == own else ""
        mark = mark or ("knee" if point["panels"] == curve["knee_panels"] else "")
        rows.append(
            [
                f"{point['panels']} {mark}".strip(),
                plain(point["days_at_target"]),
                plain(in_system(point["season_pool_C"], "temperature", units), 1),
                plain(point["solar_heat_kWh"]),
                *(
                    ("", "", "")
                    if bought is None
                    else (
                        plain(
                            in_system(bought["warmer_K"], "temperature difference", units),
                            2,
                        ),
                        plain(bought["days"]),
                        plain(bought["solar_heat_kWh"]),
                    )
                ),
                "; ".join(point["bounds"]) or "",
            ]
        )
    heads = ["panels", "days at target", f"season, {degrees}", "solar heat, kWh"]
    heads += [f"the next adds, {rise}", "days", "kWh", "not to be had because"]
    return h.fragment[
        chart_shown(view, result),
        ruled(heads, rows, f"Panels on {' + '.join(curve['planes'])}", marked, words=True),
        h.ul[
            [
                h.li[f"{limit['name']}, {' + '.join(limit['planes'])}: {limit['reason']}"]
                for limit in result["limits"]
            ]
        ],
        h.p(class_="caution")[
            "Room, roof load and wind uplift are not judged here: see the roof, a structural"
            " engineer and the local code."
        ],
    ]


def _tune(view: View, result: Result) -> h.Node:
    money, units = result["currency"], view.system
    flow = unit_label("flow", units)
    places = _worth_showing(result)
    percent = 1.0 if result["handle"] == "speed" else 100.0
    heads = ["rpm" if percent == 1.0 else "% open", f"on the roof, {flow}", "heat, kW"]
    heads += ["pump, W", f"worth, {money} an hour", ""]
    rows = []
    for each in places:
        net = each["net_per_hour"]
        words = [
            word
            for word, value in (
                ("use this", result["chosen"]),
                ("this job", result["own"]),
                ("pays best", result["pays_best"]),
            )
            if value == each["value"]
        ]
        words += [bound["name"] for bound in each["bounds"]]
        rows.append(
            [
                plain(each["value"] * percent),
                plain(in_system(each["array_flow_m3h"] / 3600.0, "flow", units), 1),
                plain(each["heat_kW"], 1),
                plain(each["power_W"]),
                plain(net, 3) if each["primes"] else "",
                ", ".join(words),
            ]
        )
    chosen = [n for n, each in enumerate(places) if each["value"] == result["chosen"]]
    return h.fragment[
        h.p(class_="said")[h.b[result["reason"]]],
        chart_shown(view, result),
        ruled(heads, rows, "In the mean hour with water on the roof", chosen, words=True),
        h.p[result["pipe_reason"]],
        h.p(class_="note")[f"Heat is valued at {result['heat_valued_at']}."],
    ]


def _worth_showing(result: Result) -> list[dict[str, Any]]:
    """A dozen settings, those with a name among them."""
    found = result["settings"]
    named = {result["chosen"], result["own"], result["pays_best"]}
    step = max(len(found) // 12, 1)
    return [each for n, each in enumerate(found) if n % step == 0 or each["value"] in named]


def _batch(view: View, piece: Piece, result: Result) -> h.Node:
    units = view.system
    heads = ["over the rows", "lowest", "in row", "middle", "highest", "in row"]
    rows = []
    for name, spread in result["spread"].items():
        warm = name == "season_pool_C"

        def told(value: float, warm: bool = warm, name: str = name) -> str:
            shown = in_system(value, "temperature", units) if warm else value
            return plain(shown, 1 if warm else 2 if name == "pump_cost" else 0)

        words = {"season_pool_C": f"season’s mean, {unit_label('temperature', units)}"}
        words["pump_cost"] = f"pump, {result['currency']}"
        rows.append(
            [
                words.get(name, name.replace("_kWh", ", kWh").replace("_", " ")),
                told(spread["lowest"]),
                str(spread["lowest_row"]),
                told(spread["middle"]),
                told(spread["highest"]),
                str(spread["highest_row"]),
            ]
        )
    at = f"/jobs/{view.state.job}/long/batch/{piece.key}"
    return h.fragment[
        h.p[f"{result['rows']} rows, {result['done']} done, {result['refused']} refused."],
        h.ul(class_="wrong")[
            [
                h.li[
                    f"row {each['row']}, {each['field']}: {each['given']}; allowed:"
                    f" {each['allowed']}"
                ]
                for each in result["refusals"]
            ]
        ],
        ruled(heads, rows, "How the rows differ") if rows else None,
        chart_shown(view, result),
        h.p[h.a(href=f"{at}/{_results_name(result)}")["All rows’ results"]],
    ]


def _results_name(result: Result) -> str:
    return str(result["written"][0]).replace("\\", "/").rpartition("/")[2]


SHOWN: dict[str, Callable[[View, Result], h.Node]] = {
    "ranges": _ranges,
    "size": _size,
    "tune": _tune,
    "money": money_shown,
}
