"""The papers of a job, written into a folder with an index page."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

from noonwater import __version__
from noonwater.app.offering_study import OfferSource
from noonwater.app.study import content_print
from noonwater.app.text import finding_lines
from noonwater.core.errors import Fault, Gathered, InputError
from noonwater.core.finding import Finding
from noonwater.core.progress import Told
from noonwater.core.units import System
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.document.material import Material
    from noonwater.document.typeset import Manner

NO_SOURCE = OfferSource()


@dataclass(frozen=True)
class PackWish:
    """What is asked for beside the job.

    Attributes
    ----------
    only : tuple of str
        Names of papers and spreadsheets; all where empty.
    languages : tuple of str
        "en", "es".
    size : str
        "letter" or "a4"; by the job's units where empty.
    profile : Path or None
        The contractor's profile file.
    day : str
        Of printing, such as 2026-04-30; today where empty.
    revision : str
        Of the job; a short print of its content where empty.
    """

    only: tuple[str, ...] = ()
    languages: tuple[str, ...] = ("en",)
    size: str = ""
    profile: Path | None = None
    day: str = ""
    revision: str = ""


@dataclass(frozen=True)
class Written:
    """One file of a pack."""

    paper: str
    title: str
    language: str
    path: Path


@dataclass(frozen=True, eq=False)
class PackAnswer:
    """What was written."""

    job: Job
    findings: tuple[Finding, ...]
    written: tuple[Written, ...]
    books: tuple[Written, ...]
    index: Path
    revision: str

    def to_dict(self) -> dict[str, Any]:
        """Give the files for JSON."""
        return {
            "job": self.job.name,
            "revision": self.revision,
            "index": str(self.index),
            "papers": [
                {
                    "paper": each.paper,
                    "title": each.title,
                    "language": each.language,
                    "path": str(each.path),
                }
                for each in self.written
            ],
            "spreadsheets": [str(each.path) for each in self.books],
        }

    def lines(self, system: System) -> list[str]:
        """Tell findings and files."""
        lines = [*finding_lines(self.findings), ""]
        lines += [f"wrote {each.path}" for each in (*self.written, *self.books)]
        return [*lines, f"wrote {self.index}"]


def make_pack(
    job: Job,
    out: Path,
    wish: PackWish,
    source: OfferSource = NO_SOURCE,
    told: Told | None = None,
) -> PackAnswer:
    """Write a job's papers.

    Parameters
    ----------
    job : Job
        The job.
    out : Path
        Folder; made where it is not there, files of the same name are replaced.
    wish : PackWish
        Which papers, and how.
    source : OfferSource
        What the offer is made from besides.
    told : callable, optional
        Hears of progress.

    Raises
    ------
    InputError
        For a language that isn't there, or a faulty profile; see `refuse_wish`.
    NoonwaterError
        When the job has no answer.
    """
    from noonwater.document.pack import BOOKS, PAPERS
    from noonwater.document.typeset import pdf

    names = [name for name in PAPERS if not wish.only or name in wish.only]
    books = [name for name in BOOKS if not wish.only or name in wish.only]
    manners = [manner_of(job, wish, code) for code in wish.languages]
    profile = manners[0].profile
    material = replace(material_of(job, replace(source, tax=profile.tax)), profile=profile)
    out.mkdir(parents=True, exist_ok=True)
    written: list[Written] = []
    count = len(names) * len(manners) + len(books)
    for manner in manners:
        code = manner.language.code
        for name in names:
            paper = PAPERS[name](material, manner.language)
            path = out / f"{name}-{code}.pdf"
            path.write_bytes(pdf(paper, manner))
            written.append(Written(name, paper.title, code, path))
            if told is not None:
                told(len(written), count, path.name)
    sheets = [_book(name, material, manners[0], out) for name in books]
    index = out / "index.html"
    index.write_text(_index(job, [*written, *sheets], manners[0]), encoding="utf-8")
    revision = manners[0].stamp.revision
    return PackAnswer(job, material.findings, tuple(written), tuple(sheets), index, revision)


def _book(name: str, material: Material, manner: Manner, out: Path) -> Written:
    """Write a spreadsheet in the first language."""
    from noonwater.document.pack import BOOKS

    path = out / f"{name}.xlsx"
    path.write_bytes(BOOKS[name](material, manner.language))
    return Written(name, path.name, manner.language.code, path)


def material_of(job: Job, source: OfferSource = NO_SOURCE) -> Material:
    """Compute what the papers are made from.

    Parameters
    ----------
    job : Job
        The job.
    source : OfferSource
        What the offer is made from besides.
    """
    from noonwater.app.night_answer import answer_night
    from noonwater.app.offering_study import study_offering
    from noonwater.app.study import flows_by_period, study_year, surroundings_of
    from noonwater.app.sureness import sureness_of
    from noonwater.app.trace_answer import answer_trace
    from noonwater.document.material import Material, OnDemand
    from noonwater.hydraulics.speeds import with_speeds
    from noonwater.year.prepare import prepare

    job = with_speeds(job, job.pool.target)
    flow, year, findings = study_year(job)
    traced, nights = answer_trace(job), answer_night(job)
    more = [*traced.findings, *nights.findings]
    found = [*findings, *(finding for finding in more if finding not in findings)]
    ordered = tuple(sorted(found, key=lambda finding: finding.severity != "fault"))
    sure = cache(lambda: sureness_of(job))
    on_demand = OnDemand(
        surroundings=lambda: surroundings_of(job),
        inputs=lambda: prepare(job, surroundings_of(job), flows_by_period(job)),
        sureness=sure,
        offering=lambda: study_offering(job, year, sure(), source),
    )
    return Material(job, flow, traced.trace, year, nights.nights, ordered, on_demand)


def refuse_wish(wish: PackWish) -> None:
    """Refuse a wish that can't be met, before anything is computed or written.

    Raises
    ------
    InputError
        With every paper, language, sheet size or day that isn't there, and a faulty profile.
    """
    from noonwater.document.language import language_of
    from noonwater.document.pack import BOOKS, PAPERS
    from noonwater.document.profile import read_profile

    gathered = Gathered()
    gathered.read(lambda: _refuse_names(wish, (*PAPERS, *BOOKS)))
    for code in wish.languages:
        gathered.read(partial(language_of, code, "US", ""))
    gathered.read(lambda: _day(wish.day))
    if wish.profile:
        gathered.read(partial(read_profile, wish.profile))
    if gathered.errors:
        raise gathered.error()


def _refuse_names(wish: PackWish, known: Sequence[str]) -> None:
    from noonwater.document.typeset import PaperSize

    faults = [
        Fault("only", f"'{name}'", ", ".join(known), "name one of these papers")
        for name in wish.only
        if name not in known
    ]
    sizes = get_args(PaperSize)
    if wish.size and wish.size not in sizes:
        faults.append(Fault("size", f"'{wish.size}'", ", ".join(sizes), "choose one of these"))
    if faults:
        raise InputError(faults)


def manner_of(job: Job, wish: PackWish, code: str) -> Manner:
    """Tell how papers are written and printed in a language."""
    from noonwater.document.language import language_of
    from noonwater.document.profile import Profile, read_profile
    from noonwater.document.typeset import Manner, Stamp

    profile = read_profile(wish.profile) if wish.profile else Profile()
    language = language_of(code, job.units, profile.locales.get(code, ""))
    size = wish.size or ("letter" if job.units == "US" else "a4")
    stamp = Stamp(job.name, wish.revision or content_print(job), _day(wish.day), __version__)
    return Manner(language, "a4" if size == "a4" else "letter", profile, stamp)


def _day(text: str) -> datetime.date:
    if not text:
        return datetime.datetime.now().astimezone().date()
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        fault = Fault("date", f"'{text}'", "a day such as 2026-04-30", "write it so")
        raise InputError([fault]) from None


def _index(job: Job, written: Sequence[Written], manner: Manner) -> str:
    import htpy as h
    from markupsafe import Markup

    say, stamp = manner.language.say, manner.stamp
    rows = [
        h.li[h.a(href=each.path.name, hreflang=each.language)[each.title], f" ({each.language})"]
        for each in written
    ]
    style = (
        "body{font:16px/1.5 'Source Sans 3',sans-serif;color:#1b2126;max-width:40rem;"
        "margin:2rem auto;padding:0 1rem;overflow-wrap:anywhere}a{color:#0a5a88}"
    )
    page = h.html(lang=manner.language.code)[
        h.head[
            h.meta(charset="utf-8"),
            h.meta(name="viewport", content="width=device-width"),
            h.title[job.name],
            h.style[Markup(style)],
        ],
        h.body[
            h.h1[job.name],
            h.p[f"{say('revision')} {stamp.revision} · {manner.language.date(stamp.day)}"],
            h.ul[rows],
        ],
    ]
    return str(page)
