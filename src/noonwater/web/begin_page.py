"""A first job: the six questions, and the first answer with its stated range."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import htpy as h

from noonwater.app.desk import View
from noonwater.app.field_words import field_called
from noonwater.app.first_answer import FirstRange, Span, first_answer
from noonwater.app.first_open import open_fields
from noonwater.app.job_place import place_of
from noonwater.app.job_tables import slot_at
from noonwater.app.six_place import MONTHLY, station_names
from noonwater.app.six_questions import Asked, Question, questions
from noonwater.core.errors import Fault
from noonwater.core.quantity import Quantity
from noonwater.core.units import System, in_system, unit_label
from noonwater.web.fault_words import fault_line, fault_words
from noonwater.web.figures import KWH, moment, plain, shown
from noonwater.web.page import field_address, lone_page


def begin_page(typed: Mapping[str, str], faults: Sequence[Fault] = ()) -> str:
    """Write the form: one question a line, each with what it may be if nothing is typed."""
    units: System = "SI" if typed.get("units") == "SI" else "US"
    asked = questions(units)
    known = {each.key for question in asked for each in question.all}
    told = {key: [f for f in faults if f.field == key] for key in known}
    return lone_page(
        "A first job",
        (("sheet", "Six questions"), ("job", "new"), ("units", units)),
        h.h1["A first job by six questions"],
        _units(units),
        h.form(id="six", method="post", action="/begin", data_keep=f"six questions {units}")[
            h.input(type="hidden", name="units", value=units),
            h.ol(class_="questions")[
                [_question(question, typed, told, units) for question in asked]
            ],
            h.p(class_="line")[
                h.label(for_="q-name")["What the job is called"],
                h.input(id="q-name", name="name", value=typed.get("name", "First job"),
                        autocomplete="off"),
                h.button(class_="do")["First answer"],
            ],
            _elsewhere([fault for fault in faults if fault.field not in known]),
        ],
        h.datalist(id="stations")[[h.option(value=name) for name in station_names()]],
        script="forms.js",
    )  # fmt: skip


def first_page(view: View, head: int) -> str:
    """Write the first answer; its range is asked for when the page is there."""
    line, system, job = view.headline, view.system, view.state.job
    return lone_page(
        f"{view.job.name}: first answer",
        (
            ("job", view.job.name),
            ("sheet", "First answer"),
            ("date", moment(view.state.made)),
            ("revision", str(view.state.number)),
        ),
        h.h1[f"{view.job.name}: a first answer"],
        h.table(class_="ruled first")[
            h.thead[h.tr[
                h.th(scope="col")["from six answers"],
                h.th(scope="col")["as it stands"],
                h.th(scope="col")["the survey may move it to"],
            ]],
            h.tbody(id="figures")[_figures(view, None)],
        ],
        h.p(id="range", role="status", data_range=f"/jobs/{job}/first/range")[
            "Working out how far the survey may still move it: some ten seconds.",
        ],
        h.noscript[h.p[h.a(href=f"/jobs/{job}/first/range")["The range"]]],
        h.p[
            "Without solar the water would be "
            f"{shown(line.season_without, 'temperature', system)} on the mean while open."
        ],
        h.p[h.a(href=f"/jobs/{job}/survey", class_="do")["Go on to the survey"]],
        h.p(class_="note")[f"The job stands at revision {head}."] if head > 1 else None,
        h.p(class_="note")[WEATHER_WORDS[source]]
        if (source := view.job.weather.source) in WEATHER_WORDS
        else None,
        h.h2["What the six answers leave open"],
        h.p["Each of these had a plain default. Set them, and the answer moves in its range."],
        h.ul(class_="open ways")[[_open(view, each.field) for each in open_fields(view.job)
                           if each.field != CHANCE]],
        script="first.js",
    )  # fmt: skip


def range_rows(view: View, found: FirstRange) -> str:
    """Write the figures with their ranges."""
    return str(h.fragment[_figures(view, found)])


OF_MONTHS = (
    " The dew point is told by the rain, within some 4 K, and the wind is taken as usual; both are"
    " in the range. A weather file, or a typical year fetched online, narrows it most."
)
WEATHER_WORDS = {
    "rough": "The sun is estimated from the months’ rain and warmth, within some 15 %." + OF_MONTHS,
    "months": "The weather is made of the months that were typed." + OF_MONTHS,
}
"""What is told of weather that no station stands behind."""

CHANCE = "weather.seed"
"""No survey settles it."""

RANGE_WORDS = (
    "The full survey moves these figures inside their ranges nine times in ten: the job was run in"
    " {draws} ways that it may turn out. Not in it: weather from year to year."
)


def _figures(view: View, found: FirstRange | None) -> list[h.Element]:
    line, system = first_answer(view.job), view.system
    degrees = unit_label("temperature", system)
    rise = unit_label("temperature difference", system)
    rows = (
        ("a clear day adds at least", _rise(line.clear_day, system), rise,
         found and _span(found.clear_day, lambda v: _rise(v, system))),
        ("water while open, mean", _warm(line.season_water, system), degrees,
         found and _span(found.season_water, lambda v: _warm(v, system))),
        ("days at the wanted warmth", plain(line.days_at_target), "days a year",
         found and _span(found.days_at_target, plain)),
        ("heat from the sun", _heat(line.solar_heat), "kWh a year",
         found and _span(found.solar_heat, _heat)),
    )  # fmt: skip
    return [
        h.tr[
            h.th(scope="row")[name],
            h.td[h.b[value], f" {unit}"],
            h.td[f"{span} {unit}" if span else "…"],
        ]
        for name, value, unit, span in rows
    ]


def _warm(value: float | None, system: System) -> str:
    return plain(None if value is None else in_system(value, "temperature", system), 0)


def _rise(value: float | None, system: System) -> str:
    return plain(None if value is None else in_system(value, "temperature difference", system), 1)


def _heat(value: float | None) -> str:
    """Heat in kWh to two digits: it is a first answer."""
    return plain(None if value is None else float(f"{value / KWH:.2g}"))


def _span(span: Span, write: Callable[[float], str]) -> str:
    return f"{write(span.low)} to {write(span.high)}"


def _units(units: System) -> h.Element:
    return h.p(class_="line")[
        "Units:",
        [
            h.a(href=f"/begin?units={each}", aria_current="true" if each == units else None)[name]
            for each, name in (("US", "US: feet, °F"), ("SI", "SI: metres, °C"))
        ],
        h.span(class_="note")["A number may have its own unit: “12 m” is understood in both."],
    ]


def _question(
    question: Question,
    typed: Mapping[str, str],
    told: Mapping[str, Sequence[Fault]],
    units: System,
) -> h.Element:
    return h.li[
        h.fieldset[
            h.legend[question.words],
            [_asked(each, typed, told[each.key], units) for each in question.asked],
            _more(question, typed, told, units),
        ]
    ]


def _more(
    question: Question,
    typed: Mapping[str, str],
    told: Mapping[str, Sequence[Fault]],
    units: System,
) -> h.Node:
    """What only some are asked; open where it holds something or lacks it."""
    if not question.more:
        return None
    keys = [each.key for each in question.more]
    needed = any(typed.get(key) or told[key] for key in keys) or bool(told["place"])
    return h.details(class_="asked-more", open=needed)[
        h.summary[question.heading],
        [_asked(each, typed, told[each.key], units) for each in question.more],
    ]


def _asked(
    asked: Asked, typed: Mapping[str, str], faults: Sequence[Fault], units: System
) -> h.Element:
    value = typed.get(asked.key, asked.default)
    common = {
        "id": f"q-{asked.key}",
        "name": asked.key,
        "aria-describedby": f"n-{asked.key}",
        "aria-invalid": "true" if faults else None,
    }
    control: h.Element | h.VoidElement = (
        h.select(common)[[h.option(selected=each == value)[each] for each in asked.choices]]
        if asked.choices
        else h.input(
            common,
            value=value,
            autocomplete="off",
            list="stations" if asked.key == "place" else None,
        )
    )
    return h.div(class_="asked wrong" if faults else "asked")[
        h.label(for_=f"q-{asked.key}")[asked.words],
        control,
        h.span(class_="unit")[_unit(asked, units)],
        h.span(class_="note", id=f"n-{asked.key}", role="alert" if faults else None)[
            [fault_words(fault) for fault in faults]
        ],
    ]


def _unit(asked: Asked, units: System) -> str:
    place = place_of(asked.field)
    slot = slot_at(place, {"weather": {"source": MONTHLY.get(asked.key)}}) if place else None
    mark = slot and (slot.item or slot).mark
    return unit_label(mark.kind, units) if isinstance(mark, Quantity) else ""


def _elsewhere(faults: Sequence[Fault]) -> list[h.Element]:
    return [h.p(class_="wrong", role="alert")[fault_line(fault)] for fault in faults]


def _open(view: View, field: str) -> h.Element:
    words = field_called(field, view.state.tables)
    return h.li[h.a(href=field_address(view, field))[words]]
