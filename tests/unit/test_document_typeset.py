"""Any text prints as typed and acts as nothing; faces are in the file; pages carry their stamp."""

from __future__ import annotations

import datetime
import io
from html import escape
from pathlib import Path

import pytest
from pypdf import PdfReader

from noonwater.core.errors import InputError
from noonwater.document import block
from noonwater.document.language import language_of
from noonwater.document.profile import Profile, read_profile
from noonwater.document.signs import lacking
from noonwater.document.typeset import Manner, Stamp, pdf

DAY = datetime.date(2026, 4, 30)
BOX = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>'
SPITEFUL = [
    "#set text(red); *bold* _it_ `code` $x^2$ \\ @ref <label> // note /* */",
    "\"quotes\" 'single' \\backslash #hash {braces} {name} %s [brackets]",
    "שלום עולם",
    "مرحبا",
    "<b>bold</b> &amp; <script>alert(1)</script>",
    "½ ¾ ° Δ → ≤ ≥ Ω ′ ″ × ² ³ ñ ¿",
    "😀",
]


def manner(job: str = "Example job", profile: Profile | None = None) -> Manner:
    stamp = Stamp(job, "r1", DAY, "0.1.0")
    return Manner(language_of("en", "US"), "letter", profile or Profile(), stamp)


def reader(paper: block.Paper, how: Manner) -> PdfReader:
    return PdfReader(io.BytesIO(pdf(paper, how)))


def text_of(paper: block.Paper, how: Manner) -> str:
    text = "\n".join(page.extract_text() for page in reader(paper, how).pages)
    return text.replace("\u200b", "")


def one(text: str) -> block.Paper:
    return block.Paper("try", "Try", (block.Paragraph(text),))


@pytest.mark.parametrize("text", SPITEFUL)
def test_a_text_prints_as_typed(text: str) -> None:
    said = text_of(one(text), manner())
    # A reader gives right-to-left words in an order of its own.
    assert set(text.split()) <= set(said.split()) or set(text) <= set(said)


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("多摩川 pool", "□□□ pool"),
        ("🏊🏽‍♀️ lane", "lane"),
        ("a\x00b\x1b\u202ec", "abc"),
        ("Бассейн, Πισίνα, Šťastný", "Бассейн, Πισίνα, Šťastný"),
    ],
)
def test_a_sign_that_no_face_has_is_a_box_and_the_paper_comes_out(text: str, printed: str) -> None:
    drawn = block.Figure(BOX.replace("</svg>", f"<text y='9'>{escape(text)}</text></svg>"), "Plan")
    paper = block.Paper("try", text, (block.Paragraph(text), drawn))
    assert printed in text_of(paper, manner(text, Profile(name=text)))


def test_signs_that_no_face_has_are_listed_once() -> None:
    assert lacking({"name": "多摩川 ½", "roof": [{"name": "川 Δ"}], "panels": 4}) == "多摩川"


@pytest.mark.parametrize("text", SPITEFUL)
def test_a_text_acts_as_nothing_anywhere(text: str) -> None:
    blocks = (
        block.Heading(text),
        block.Points((text,)),
        block.Facts(((text, text),)),
        block.Schedule((text,), ((text,),), caption=text),
        block.Steps((block.Step(text, text, "1"),)),
        block.Figure(BOX, alt=text, caption=text, share=0.1),
        block.Caution(text),
        block.Together((block.Beside((block.Paragraph(text),), ()),)),
        block.Signatures((text,)),
    )
    profile = Profile(name=text, licence=text)
    assert len(reader(block.Paper("try", text, blocks), manner(text, profile)).pages) <= 2


def test_ten_thousand_characters_stay_on_the_page() -> None:
    long = "x" * 10_000
    said = text_of(one(long), manner(long))
    assert said.count("x") >= 10_000
    assert len(reader(one("short"), manner(long)).pages) == 1


def test_faces_are_embedded_and_the_file_is_tagged() -> None:
    made = reader(one("text"), manner())
    resources = made.pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    for font in resources.values():
        descendant = font.get_object()["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in descendant["/FontDescriptor"]
    assert made.trailer["/Root"]["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert made.metadata is not None
    assert made.metadata.title == "Try"


def test_every_page_carries_job_revision_date_version_and_number() -> None:
    paper = block.Paper(
        "try", "Try", (block.Paragraph("a"), block.PageBreak(), block.Points(("b",)))
    )
    pages = reader(paper, manner()).pages
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        said = page.extract_text()
        for word in ("Example job", "r1", "Apr 30, 2026", "0.1.0", f"{number} / 2"):
            assert word in said


def test_the_same_paper_gives_the_same_bytes() -> None:
    assert pdf(one("text"), manner()) == pdf(one("text"), manner())


def test_a_profile_is_read_with_its_logo(tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text(BOX, encoding="utf-8")
    path = tmp_path / "profile.toml"
    path.write_text(
        'name = "Invented & Daughters"\nlines = ["1 Any Street"]\nlicence = "X-1"\n'
        'logo = "logo.svg"\ntax = "7 %"\nlocale.es = "es_MX"\n',
        encoding="utf-8",
    )
    profile = read_profile(path)
    assert profile.logo_format == "svg"
    assert profile.tax == pytest.approx(0.07)
    assert profile.locales == {"es": "es_MX"}
    assert "licence X-1" in text_of(one("text"), manner(profile=profile))


def test_all_faults_of_a_profile_are_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "profile.toml"
    path.write_text('name = 3\nlogo = "none.png"\ntax = "7"\ncolour = "red"\n', encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_profile(path)
    assert {fault.field for fault in caught.value.faults} == {"name", "logo", "tax", "colour"}
