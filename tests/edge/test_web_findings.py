"""Every finding leads to the field that causes it, where it is typed, and says the remedy."""

from __future__ import annotations

import random
import re
from functools import cache
from html import unescape
from pathlib import Path

import noonwater
from noonwater.app.desk import View
from noonwater.app.field_words import field_called, fields_named
from noonwater.app.job_file import job_text
from noonwater.app.job_place import place_of
from noonwater.app.job_tables import slot_at
from noonwater.app.store import State
from noonwater.app.store_files import tables_from_text
from noonwater.app.study import study_flow
from noonwater.core.errors import NoonwaterError
from noonwater.core.finding import Finding
from noonwater.model.job import Job
from noonwater.web.fields import anchor
from noonwater.web.page import findings
from noonwater.web.sheets import home_of, sheet_of
from tests.broken_pads import BREAKS, SEED, correct_pads
from tests.edge.test_web_fields import Fields, full_view

ROOT = Path(noonwater.__file__).parent
PATH = re.compile(
    r'"((?:site|weather|pool|roof|array|pad|pump|controls|heater|money)\.[a-z_.]*[a-z])"'
)


def view_of(job: Job) -> View:
    tables = tables_from_text(job_text(job))
    return View(State("d", 1, "2003-01-01T00:00:00+00:00", "", tables, tables))


@cache
def provoked() -> dict[tuple[str, str], tuple[Job, Finding]]:
    """Findings on pads that are broken in every way, one for each rule and kind of field."""
    chance, pads = random.Random(SEED), correct_pads()
    found: dict[tuple[str, str], tuple[Job, Finding]] = {}
    for number, way in enumerate(BREAKS):
        job = way.make(pads[number % len(pads)], chance)
        try:
            _, told = study_flow(job)
        except NoonwaterError:
            continue
        for finding in told:
            key = (finding.rule, re.sub(r"\d+", "", finding.where))
            found.setdefault(key, (job, finding))
    return found


def test_each_finding_of_a_broken_pad_leads_to_one_field() -> None:
    told = provoked()
    assert len({rule for rule, _ in told}) >= 20
    for job, finding in told.values():
        view, sheet = view_of(job), sheet_of(home_of(finding.where))
        assert sheet is not None
        page = Fields()
        page.feed(str(sheet.body(view)))
        assert page.ids.count(anchor(finding.where, view)) == 1, finding
        assert finding.remedy, finding
        assert field_called(finding.where, view.state.tables) != finding.where


def test_every_field_that_a_check_names_is_one_of_the_job() -> None:
    views = [full_view(turn) for turn in range(6)]
    modules = [
        *ROOT.glob("design/*.py"),
        ROOT / "climate/checks.py",
        ROOT / "app/money_findings.py",
    ]
    named = {field for module in modules for field in PATH.findall(module.read_text("utf-8"))}
    assert len(named) > 30
    for field in named:
        place = place_of(field) or ()
        assert any(slot_at(place, view.state.tables) is not None for view in views), field


def test_the_list_of_findings_names_the_field_in_words_and_its_path_beside() -> None:
    job, finding = next(iter(provoked().values()))
    view = view_of(job)
    html = unescape(str(findings(view)))
    words = field_called(finding.where, view.state.tables)
    assert f'title="{finding.where}">{words}</a>' in html
    assert f"Do: {fields_named(finding.remedy, view.state.tables)}" in html


def test_the_desk_calls_the_fields_in_a_remedy_what_its_sheets_call_them() -> None:
    for job, finding in provoked().values():
        html = unescape(str(findings(view_of(job))))
        assert not re.search(r"Do: [^<]*\b(pad|heater|pump|pool|controls)\.[a-z]", html), finding
    said = fields_named('pad.breaker = "feed" keeps it shut, demo.csv and pad.none stay', {})
    assert (
        said
        == '“Pad: vacuum breaker stands in the” = "feed" keeps it shut, demo.csv and pad.none stay'
    )
