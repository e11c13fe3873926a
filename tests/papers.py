"""Papers of the demo jobs for tests: their material once, their text as a reader pulls it out."""

from __future__ import annotations

import datetime
import io
import re
from dataclasses import replace
from functools import lru_cache

from pypdf import PdfReader

from noonwater.app.demos import FOLDER, demos
from noonwater.app.job_file import read_job
from noonwater.app.offering_study import OfferSource
from noonwater.app.pack_answer import material_of
from noonwater.core.units import System
from noonwater.document.block import Paper
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.pack import PAPERS
from noonwater.document.profile import Profile
from noonwater.document.typeset import Manner, PaperSize, Stamp, pdf

DEMOS = tuple(demo.name for demo in demos())
CODES = ("en", "es")
PROFILE = Profile(name="Invented & Daughters", lines=("1 Any Street", "555 0100"), licence="X-1")


@lru_cache(maxsize=8)
def material(name: str) -> Material:
    """What the papers of a demo job are made from."""
    return replace(
        material_of(read_job(FOLDER / f"{name}.toml"), OfferSource(FOLDER)), profile=PROFILE
    )


def manner(job: str, code: str = "en", system: System = "US", size: PaperSize = "letter") -> Manner:
    """One manner of printing, on a day that does not change."""
    stamp = Stamp(job, "r1", datetime.date(2026, 4, 30), "0.1.0")
    return Manner(language_of(code, system), size, PROFILE, stamp)


def paper_of(name: str, demo: str, code: str, system: System) -> Paper:
    """A demo job's paper before it is set."""
    return PAPERS[name](material(demo), language_of(code, system))


@lru_cache(maxsize=256)
def made_of(
    name: str, demo: str, code: str, system: System, size: PaperSize = "letter"
) -> tuple[tuple[float, float, str], ...]:
    """Width, height and text of each page of a demo job's paper."""
    made = pdf(paper_of(name, demo, code, system), manner(demo, code, system, size))
    return tuple(
        (float(page.mediabox.width), float(page.mediabox.height), page_text(page.extract_text()))
        for page in PdfReader(io.BytesIO(made)).pages
    )


def pages_of(
    name: str, demo: str, code: str, system: System, size: PaperSize = "letter"
) -> tuple[str, ...]:
    """Text of each page of a demo job's paper."""
    return tuple(text for _, _, text in made_of(name, demo, code, system, size))


def text_of(name: str, demo: str, code: str = "en", system: System = "US") -> str:
    """Text of a demo job's paper, one space between words."""
    return " ".join(" ".join(pages_of(name, demo, code, system)).split())


def page_text(text: str) -> str:
    """A page's text without the places where a long word may break."""
    return re.sub("\u200b", "", text)
