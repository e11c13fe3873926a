"""The pad for the desk: a part in every state, what can be touched, pump and system curves."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from noonwater.app.desk import View, studied
from noonwater.app.desk_drawings import Drawing, drawing_of
from noonwater.app.pad_answer import PadAnswer, answer_pad, part_stands, part_told
from noonwater.app.study import solve_flow
from noonwater.core.errors import NoonwaterError
from noonwater.core.units import System, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.drawing.pad_touch import Touch

FIELDS = {
    "pump": "pump.pump",
    "filter": "pad.filter",
    "heater": "pad.heater",
    "sanitizer": "pad.sanitizer",
    "suction cleaner": "pad.cleaner",
    "pressure cleaner": "pad.cleaner",
    "booster pump": "pad.booster",
    "check valve": "pad.check_valve",
    "diverter": "pad.arrangement",
    "bypass valve": "pad.bypass_open",
    "vacuum breaker": "pad.breaker",
    "isolation valve": "pad.isolation_valves",
    "drain": "pad.drains",
}
"""Where a kind of part is chosen or set."""


@dataclass(frozen=True)
class PadShown:
    """The pad in a state.

    Attributes
    ----------
    state : str
        Which.
    drawing, touch : Drawing
        The pad, and what can be touched over it.
    """

    state: str
    drawing: Drawing
    touch: Drawing


@dataclass(frozen=True)
class PartTold:
    """A part in every state.

    Attributes
    ----------
    name : str
        Of the part.
    field : str
        Of the job, where it is chosen or set; empty where there is none.
    heads : tuple of str
        Of the figures.
    rows : tuple of (str, tuple of str)
        Each state with how the part stands, flow, pressure before and after it.
    """

    name: str
    field: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


def pad_shown(view: View, state: str, part: str) -> PadShown | None:
    """Draw the pad in a state, the first where the name is none; None where nothing flows."""
    answer = _answer(view.job)
    if answer is None:
        return None
    names = [water.name for water in answer.waters]
    number = names.index(state) if state in names else 0
    drawing = drawing_of(view, lambda form: _pad_svgs(view.job, number, part, form)[0])
    touch = drawing_of(view, lambda form: _pad_svgs(view.job, number, part, form)[1])
    return PadShown(names[number], drawing, touch)


@lru_cache(maxsize=64)
def _pad_svgs(job: Job, number: int, part: str, form: str) -> tuple[str, str]:
    """The pad in a state for one width, and what can be touched over it."""
    from noonwater.drawing.pad_diagram import pad_diagram, pad_diagram_narrow
    from noonwater.drawing.pad_touch import pad_touch

    answer = _answer(job)
    if answer is None:
        return "", ""
    draw = pad_diagram if form == "wide" else pad_diagram_narrow
    drawing = draw(answer.circuit, answer.waters[number], answer.title, units=job.units)
    return drawing.svg, pad_touch(drawing, _touches(answer, number, part))


def part_in_states(view: View, part: str) -> PartTold | None:
    """Tell a part in every state; None where no such part is on the pad."""
    answer = _answer(view.job)
    if answer is None or part not in _parts(answer):
        return None
    system: System = view.system
    kind = answer.circuit.part(part).kind
    flow, pressure = unit_label("flow", system), unit_label("pressure", system)
    heads = ("stands", f"flow, {flow}", f"before, {pressure}", f"after, {pressure}")
    rows = tuple(
        (subject.water.name, tuple(part_told(subject, part, system))) for subject in answer.subjects
    )
    return PartTold(part, FIELDS.get(kind, ""), heads, rows)


def part_names(view: View) -> tuple[str, ...]:
    """List the parts of the pad that can be told."""
    answer = _answer(view.job)
    return tuple(_parts(answer)) if answer is not None else ()


def pump_drawing(view: View) -> Drawing | None:
    """Draw pump and system curves with the points of all states; None where nothing flows."""
    from noonwater.hydraulics.plumbed import plumbed
    from noonwater.hydraulics.speeds import with_speeds

    if view.studied.flow is None:
        return None
    # An edit that moves no water leaves the curves as they are.
    job = plumbed(with_speeds(view.job, view.job.pool.target))
    drawing = drawing_of(view, lambda form: _pump_svg(job, view.system, form))
    return drawing if drawing.wide or drawing.narrow else None


@lru_cache(maxsize=64)
def _pump_svg(job: Job, system: System, form: str) -> str:
    from noonwater.drawing.pump_chart import PHONE, SCREEN, OperatingPoint, pump_chart
    from noonwater.hydraulics.curves import pump_curves, system_curves

    flow, temp = solve_flow(job), job.pool.target
    try:
        pumps, systems = pump_curves(job, temp), system_curves(job, temp)
    except NoonwaterError:
        return ""
    points = [
        OperatingPoint(count, state.name, state.flow, state.head)
        for count, state in enumerate(flow.states, start=1)
        if state.rpm > 0.0
    ]
    sheet = SCREEN if form == "wide" else PHONE
    return pump_chart(pumps, systems, points, units=system, form=sheet)


def pad_caution() -> str:
    """What hurts at the pad."""
    from noonwater.drawing.pad_side import CAUTION

    return CAUTION


def _answer(job: Job) -> PadAnswer | None:
    if studied(job).flow is None:
        return None
    return _answered(job)


@lru_cache(maxsize=16)
def _answered(job: Job) -> PadAnswer | None:
    try:
        return answer_pad(job)
    except NoonwaterError:
        return None


def _parts(answer: PadAnswer) -> list[str]:
    untold = ("pool", "spa", "tee", "plug", "panel")
    return [part.name for part in answer.circuit.parts if part.kind not in untold]


def _touches(answer: PadAnswer, number: int, chosen: str) -> list[Touch]:
    from noonwater.drawing.pad_touch import Touch

    return [
        Touch(
            name,
            part_stands(answer.subjects[number], name) or "its water",
            "?" + urlencode({"state": _turned_in(answer, number, name), "part": name}),
            name == chosen,
        )
        for name in _parts(answer)
    ]


def _turned_in(answer: PadAnswer, number: int, name: str) -> str:
    """The next state in which a valve is turned otherwise; the shown one where none is."""
    states = len(answer.waters)
    part = answer.circuit.part(name)
    if part.facts.settable:
        here = answer.waters[number].position_of(part)
        for step in range(1, states):
            other = answer.waters[(number + step) % states]
            if other.position_of(part) != here:
                return other.name
    return answer.waters[number].name
