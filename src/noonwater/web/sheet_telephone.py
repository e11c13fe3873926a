"""Telephone: two or three readings against what this job should show, and what to ask next."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_telephone import NOW, CallShown, call_shown, choices_of
from noonwater.app.telephone_kept import KeptCall, kept_calls
from noonwater.app.telephone_typed import POOL
from noonwater.app.telephone_words import (
    CAUTION,
    CauseTold,
    QuestionTold,
    RowTold,
    capital,
    sentence,
)
from noonwater.core.errors import Fault
from noonwater.core.units import unit_label
from noonwater.web.fault_words import fault_words
from noonwater.web.figures import moment
from noonwater.web.sheet import Sheet

NOT_TOLD = "not told"
ANSWER = "call-answer"
"""Id of what the readings say."""


def _body(view: View) -> h.Node:
    shown = call_shown(view)
    if shown is None:
        return h.p["There is nothing to hold a call against: see below what hinders."]
    return h.fragment[
        h.p(class_="caution")[CAUTION],
        h.div(class_="call-sides")[
            _form(view, shown),
            h.div[_causes(shown), _questions(shown)],
        ],
        _kept(view),
    ]


def _form(view: View, shown: CallShown) -> h.Element:
    at = f"/jobs/{view.state.job}/telephone"
    # The answer is what is read next: on a phone it lies below all the fields.
    form = h.form(id="call", method="get", action=f"{at}#{ANSWER}", aria_label="What is told")
    return form[
        h.fieldset(class_="schedule call")[
            h.legend["When"],
            [_chosen(shown, *each) for each in choices_of(shown)],
            _line(
                POOL,
                "pool's temperature",
                shown,
                "",
                unit_label("temperature", view.system),
            ),
            h.p(class_="note")[shown.called],
        ],
        h.fieldset(class_="schedule call")[
            h.legend["What is told"],
            h.p(class_="note heads", aria_hidden="true")[
                h.span["reading"], h.span["should be"], h.span["told"], h.span["unit"]
            ],
            [_reading(shown, row) for row in shown.rows],
        ],
        h.p(class_="line")[
            h.button(class_="do")["Hold against the job"],
            h.button(class_="quiet", name=NOW, value="yes")["As of this hour"],
            h.button(class_="quiet", formmethod="post", formaction=f"{at}/keep")["Keep this call"],
            h.a(href=at)["Start again"],
        ],
    ]


def _chosen(shown: CallShown, key: str, words: str, choices: Sequence[str]) -> h.Element:
    value = shown.typed.texts.get(key, "") or (shown.state if key == "state" else "")
    fault = shown.typed.faults.get(key)
    first = None if key == "state" else h.option(value="")[NOT_TOLD]
    return h.div(class_="row plain wrong" if fault else "row plain")[
        h.label(for_=f"t-{key}")[words],
        h.select(id=f"t-{key}", name=key, hx_morph_skip=True)[
            first, [h.option(value=each, selected=each == value)[each] for each in choices]
        ],
        _said(fault),
    ]


def _reading(shown: CallShown, row: RowTold) -> h.Element:
    reading = row.reading
    if not reading.choices:
        return _line(reading.key, reading.words, shown, row.expected, row.unit, row.verdict)
    key, value = _id(reading.key), shown.typed.texts.get(reading.key, "")
    fault = shown.typed.faults.get(reading.key)
    return h.div(class_="row plain wrong" if fault else "row plain")[
        h.label(for_=key)[reading.words],
        _expected(key, row.expected),
        h.select(id=key, name=reading.key, aria_describedby=f"e-{key}", hx_morph_skip=True)[
            h.option(value="")[NOT_TOLD],
            [h.option(value=each, selected=each == value)[each] for each in reading.choices],
        ],
        _verdict(row.verdict),
        _said(fault),
    ]


def _line(
    name: str, words: str, shown: CallShown, expected: str, unit: str, verdict: str = ""
) -> h.Element:
    key, fault = _id(name), shown.typed.faults.get(name)
    return h.div(class_="row wrong" if fault else "row")[
        h.label(for_=key)[words],
        _expected(key, expected),
        h.input(
            id=key,
            name=name,
            value=shown.typed.texts.get(name, ""),
            autocomplete="off",
            spellcheck="false",
            inputmode="decimal",
            aria_describedby=f"e-{key} n-{key}",
            aria_invalid="true" if fault else None,
            hx_morph_skip=True,
        ),
        h.span(class_="unit")[unit],
        _verdict(verdict),
        _said(fault, f"n-{key}"),
    ]


def _id(key: str) -> str:
    return f"t-{key.replace(' ', '-')}"


def _expected(key: str, words: str) -> h.Element:
    return h.span(class_="expected", id=f"e-{key}")[
        h.span(class_="unseen")["should be "] if words else None, words
    ]


def _verdict(words: str) -> h.Node:
    if not words:
        return None
    right = words == "as it should be"
    return h.span(class_="note verdict" if right else "note verdict off")[words]


def _said(fault: Fault | None, identity: str = "") -> h.Element:
    words = fault_words(fault) if fault is not None else None
    return h.span(class_="note", id=identity or None, role="status" if fault else None)[words]


def _causes(shown: CallShown) -> h.Node:
    if not shown.told:
        return h.section[
            h.h2["What can be wrong"],
            h.p["Type one reading: what it says is told here."],
        ]
    return h.section(id=ANSWER, tabindex="-1", aria_label="What can be wrong")[
        h.h2["What can be wrong"],
        h.ol(class_="causes")[[_cause(each) for each in shown.causes]],
        [h.p(class_="note")[line] for line in shown.alike],
    ]


def _cause(cause: CauseTold) -> h.Element:
    lines = [("for it", cause.speaks_for), ("against it", cause.speaks_against)]
    return h.li(class_=cause.word)[
        h.p[h.b[capital(cause.name)], f": {cause.word}, {cause.about}"],
        h.p(class_="note")[
            capital(cause.changes),
            [f"; {words}: {', '.join(told)}" for words, told in lines if told],
            ".",
        ],
        None
        if cause.word == "unlikely"
        else h.p[f"Look: {sentence(cause.check)} Do: {sentence(cause.remedy)}"],
        h.p(class_="caution")[cause.caution]
        if cause.caution and cause.word != "unlikely"
        else None,
    ]


def _questions(shown: CallShown) -> h.Node:
    if not shown.questions:
        return h.section[h.h2["Ask next"], h.p["Nothing more that can be told narrows it."]]
    return h.section(aria_label="Ask next")[
        h.h2["Ask next"],
        h.ol(class_="ask-next")[[_question(each) for each in shown.questions]],
    ]


def _question(question: QuestionTold) -> h.Element:
    return h.li[
        h.p(class_="ways")[h.a(href=f"#{_id(question.key)}")[question.question]],
        h.ul(class_="note")[[h.li[line] for line in question.meanings]],
        h.p(class_="caution")[question.caution] if question.caution else None,
    ]


def _kept(view: View) -> h.Node:
    calls = kept_calls(view.shelf, view.state.job)
    if not calls:
        return None
    return h.section(aria_label="Calls")[
        h.h2["Calls that were kept"],
        h.ul(class_="calls")[[_call(view, each) for each in calls]],
    ]


def _call(view: View, call: KeptCall) -> h.Element:
    at = f"/jobs/{view.state.job}/telephone"
    when = moment(call.made)
    return h.li[
        h.a(href=f"{at}?{urlencode(dict(call.texts))}")[f"Call of {when}"],
        f": {call.told}. ",
        h.b[capital(call.found)],
        h.form(method="post", action=f"{at}/{call.id}/drop")[
            h.button(class_="quiet", aria_label=f"Take out the call of {when}")["Take out"]
        ],
    ]


TELEPHONE = Sheet("telephone", "Telephone", "Is my solar working?", _body)
