"""Every paper on both sheets, in both units and languages: whole pages, any name as typed."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from noonwater.core.units import System
from noonwater.document.language import language_of
from noonwater.document.material import Material
from noonwater.document.pack import PAPERS
from noonwater.document.typeset import PaperSize, pdf
from tests.papers import CODES, DEMOS, made_of, manner, material, page_text, pages_of

LEAST_LINES = 4
SHEETS: dict[PaperSize, tuple[float, float]] = {"letter": (612.0, 792.0), "a4": (595.3, 841.9)}
SPITEFUL = [
    '#set text(red) "south" *roof* \\ $x$',
    "<b>&amp;</b> {name} %s",
    "Dach ß ñ ½ 😀",
    "x" * 300,
]


def renamed(found: Material, name: str) -> Material:
    """The same job with its first roof plane under another name."""
    job, old = found.job, found.job.roof[0].name
    roofs = tuple(replace(roof, name=name) if roof.name == old else roof for roof in job.roof)
    banks = tuple(replace(b, roof=name) if b.roof == old else b for b in job.array.banks)
    controls = job.controls
    if controls.sensor_roof == old:
        controls = replace(controls, sensor_roof=name)
    job = replace(
        job, name=name, roof=roofs, array=replace(job.array, banks=banks), controls=controls
    )
    return replace(found, job=job)


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("size", SHEETS)
@pytest.mark.parametrize("demo", DEMOS)
def test_pages_are_of_the_size_asked_for_and_none_is_nearly_empty(
    name: str, code: str, size: PaperSize, demo: str
) -> None:
    system: System = "US" if size == "letter" else "SI"
    pages = made_of(name, demo, code, system, size)
    for number, (width, height, text) in enumerate(pages, 1):
        assert (width, height) == pytest.approx(SHEETS[size], abs=0.5)
        lines = [line for line in text.splitlines() if line.strip()]
        foot = next(i for i, line in enumerate(lines) if "Invented & Daughters" in line)
        assert foot > LEAST_LINES or number == 1, f"page {number} of {len(pages)}"


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("text", SPITEFUL)
def test_any_name_prints_as_typed_and_acts_as_nothing(name: str, text: str) -> None:
    found = renamed(material("orchard-hill"), text)
    paper = PAPERS[name](found, language_of("en", "US"))
    pages = PdfReader(io.BytesIO(pdf(paper, manner(text)))).pages
    assert len(pages) <= len(pages_of(name, "orchard-hill", "en", "US")) + 1
    said = "".join(page_text(page.extract_text()) for page in pages)
    # A long word is broken over lines, and the title block cuts it.
    shown = text if len(text) < 60 else text[:40]
    assert "".join(shown.split()) in "".join(said.split())


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("demo", DEMOS)
def test_spanish_papers_keep_no_english_sentence(name: str, demo: str) -> None:
    """Words that no Spanish text has; names that the job's author typed stay as they are."""
    text = f" {' '.join(pages_of(name, demo, 'es', 'SI', 'a4'))} "
    for word in (" the ", " with ", " pump ", " and ", " water ", " roof ", " of "):
        assert word not in text.replace("Invented & Daughters", "")
