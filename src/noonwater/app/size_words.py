"""How many panels, told in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from noonwater.app.text import folded, marked, number, table, wrapped
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.design.rule import counted

if TYPE_CHECKING:
    from noonwater.design.size import SizeStudy
    from noonwater.design.size_curve import SizeCurve, SizePoint

KWH = 3.6e6
CAUTION = (
    "Room, roof load and wind uplift are not judged here: see the roof, a structural engineer and "
    "the local code. Never raise suction flow past the covers' rating."
)


def size_lines(
    study: SizeStudy, share: float, sources: tuple[str, ...], system: System
) -> list[str]:
    """Tell a study: the answer first, the curve, planes and covers, limits, sources.

    Parameters
    ----------
    study : SizeStudy
        Curves and limits.
    share : float
        Wanted, of the season's days at the target. [-]
    sources : tuple of str
        Where the weather comes from.
    system : {"US", "SI"}
        Units.
    """
    from noonwater.design.size_curve import KNEE_RULE, KNEE_SOURCE

    curve, pool = study.curves[0], study.job.pool
    target = show(pool.target, "temperature", system, 0)
    head = f"Size: {study.job.name}, {target} from {pool.opens} to {pool.closes}"
    lines = [head, "", *_answers(study, share, system), "", *_curve_lines(study, curve, system), ""]
    lines += _others(study, share)
    lines += ["", "What bounds the number of panels:"]
    for limit in study.limits:
        count = (
            f"at least {limit.panels}"
            if limit.name == "pump, fewest"
            else f"at most {limit.panels}"
        )
        name = limit.name.partition(",")[0]
        lines += wrapped(f"  {name}, {' + '.join(limit.planes)}: {count}: {limit.reason}", "      ")
    told = (
        *sources,
        "a day counts whose mean is at the target or above, in the season",
        KNEE_RULE,
        KNEE_SOURCE,
        "pipe lengths to every plane as the job has them",
        "price before incentives; a price told whole scales that of the parts",
    )
    return [*lines, "", *wrapped(folded("Sources", told), "  "), *wrapped(CAUTION, "  ")]


def _answers(study: SizeStudy, share: float, system: System) -> list[str]:
    """The sentences that the question asks for."""
    curve = study.curves[0]
    wanted = share * study.season_days
    percent = f"{100 * share:.0f} %"
    lines = [
        f"At the target on {percent} of the season's {study.season_days} days:"
        f" {_enough(curve, wanted, system)}."
    ]
    knee = None if curve.knee is None else curve.at(curve.knee)
    if knee is not None:
        lines.append(
            f"Knee of the curve: {_panels(knee, system)},"
            f" {counted(knee.year.days_at_target, 'day')} at the target,"
            f" {number(knee.year.solar_heat / KWH)} kWh"
            f"{', not to be had here' if knee.bounds else ''}."
        )
    lines += _own_words(study, system)
    return [row for line in lines for row in wrapped(line, "  ")]


def _enough(curve: SizeCurve, wanted: float, system: System) -> str:
    """Fewest panels for so many days at the target, or the most days that there are."""
    enough = curve.least_for(wanted)
    if enough is not None:
        without = "" if enough.panels else ", it is that warm without solar"
        return f"{_panels(enough, system)}{without}"
    had = [point for point in curve.points if not point.bounds]
    best = max(had, key=lambda point: point.year.days_at_target)
    if len(had) == 1:
        return "not here; no number of panels is to be had, see what bounds it"
    if not best.year.days_at_target:
        return "not here; no number of panels reaches it on any day"
    days = counted(best.year.days_at_target, "day")
    return f"not here; the most is {days}, with {_panels(best, system)}"


def _own_words(study: SizeStudy, system: System) -> list[str]:
    curve, own = study.curves[0], study.own
    if own is None:
        return []
    lines = []
    bought = curve.next_panel(curve.points.index(own))
    if bought is not None:
        warmer = show(bought.warmer, "temperature difference", system, 2)
        lines.append(
            f"The job has {_panels(own, system)}; the next one adds {warmer},"
            f" {number(bought.days, 1)} days and {number(bought.heat / KWH)} kWh for"
            f" {number(bought.price)} {study.job.money.currency}."
        )
    other = study.curves[1].at(own.panels) if study.curves[1].planes == curve.planes else None
    if other is not None:
        lines.append(_cover_words(study, own, other))
    return lines


def _cover_words(study: SizeStudy, own: SizePoint, other: SizePoint) -> str:
    """Cover against none at the job's own number of panels."""
    first, second = study.curves[0], study.curves[1]
    covered, bare = (own, other) if first.cover != "none" else (other, own)
    kind = first.cover if first.cover != "none" else second.cover
    bare_curve = second if first.cover != "none" else first
    equal = bare_curve.least_for(covered.year.days_at_target)
    more = covered.year.days_at_target - bare.year.days_at_target
    has = "The job's" if first.cover != "none" else "A"
    words = f"{has} {kind} cover is worth {counted(more, 'day')} at the target"
    if equal is not None and equal.panels > own.panels:
        return f"{words}: as much as {counted(equal.panels - own.panels, 'more panel')} without it."
    if more > 0 and equal is None:
        return f"{words}: more than all further panels that can be had bring without it."
    return f"{words}."


def _panels(point: SizePoint, system: System) -> str:
    area = show(point.area, "area", system, 0)
    panels = counted(point.panels, "panel")
    planes = ", ".join(f"{count} on {name}" for name, count in point.split)
    return f"{panels} ({planes}; {area})" if planes else "no panels"


def _curve_lines(study: SizeStudy, curve: SizeCurve, system: System) -> list[str]:
    degrees = unit_label("temperature", system)
    bypass = any(point.bypass_open is not None for point in curve.points)
    currency = study.job.money.currency
    heads = [
        ["", "", "bypass" if bypass else "pump", "a panel", "days at", "season", "solar",
         "", "next", "next", "next", "next"],
        ["panels", "area", "open" if bypass else "speed", "gets", "target", "mean", "heat",
         "price", "adds", "adds", "adds", "costs"],
        ["", unit_label("area", system), "%" if bypass else "rpm", unit_label("flow", system),
         "d", degrees, "kWh", currency, unit_label("temperature difference", system), "d", "kWh",
         currency],
    ]  # fmt: skip
    rows = [_row(curve, place, system) for place in range(len(curve.points))]
    lines = marked(table(heads, rows), [_marks(study, curve, place) for place in range(len(rows))])
    return [f"Panels on {' + '.join(curve.planes)}, {_cover_name(curve)}:", "", *lines]


def _marks(study: SizeStudy, curve: SizeCurve, place: int) -> str:
    point = curve.points[place]
    from noonwater.design.size import OVER_BUDGET
    from noonwater.design.size_limit import OVER_ROOM

    marks = []
    if point.panels == curve.knee:
        marks.append("knee")
    if point is study.own:
        marks.append("this job")
    if set(point.bounds) - {OVER_BUDGET, OVER_ROOM}:
        marks.append("pump")
    marks += [word for bound, word in ((OVER_ROOM, "roof"), (OVER_BUDGET, "budget"))
              if bound in point.bounds]  # fmt: skip
    return ", ".join(marks)


def _row(curve: SizeCurve, place: int, system: System) -> list[str]:
    point, bought = curve.points[place], curve.next_panel(place)
    setting = point.rpm if point.bypass_open is None else 100.0 * point.bypass_open
    each = point.flow / point.panels if point.panels else 0.0
    added = ["", "", "", ""]
    if bought is not None:
        warmer = in_system(bought.warmer, "temperature difference", system)
        heat, price = number(bought.heat / KWH), number(bought.price)
        added = [number(warmer, 2), number(bought.days, 1), heat, price]
    return [
        str(point.panels),
        number(in_system(point.area, "area", system)),
        number(setting) if point.panels else "",
        number(in_system(each, "flow", system), 1 if system == "US" else 2) if point.panels else "",
        str(point.year.days_at_target),
        number(in_system(point.year.season_pool, "temperature", system), 1),
        number(point.year.solar_heat / KWH),
        number(point.price) if point.panels else "",
        *added,
    ]


def _cover_name(curve: SizeCurve) -> str:
    return "no cover" if curve.cover == "none" else f"{curve.cover} cover"


def _others(study: SizeStudy, share: float) -> list[str]:
    """All curves side by side, a line each."""
    heads = [
        ["", "", "at the", "days", "heat", "most to", "days", "heat"],
        ["planes", "cover", "knee", "then", "then", "be had", "then", "then"],
        ["", "", "panels", "d", "kWh", "panels", "d", "kWh"],
    ]
    rows = []
    for curve in study.curves:
        knee = None if curve.knee is None else curve.at(curve.knee)
        had = [point for point in curve.points if not point.bounds]
        cells = [" + ".join(curve.planes), curve.cover]
        for point in (knee, had[-1]):
            cells += (
                ["-", "-", "-"]
                if point is None
                else [
                    str(point.panels),
                    str(point.year.days_at_target),
                    number(point.year.solar_heat / KWH),
                ]
            )
        rows.append(cells)
    return table(heads, rows)
