"""From a paper's blocks to PDF, by typst; data goes in as data."""

from __future__ import annotations

import datetime
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from noonwater.core.errors import NoonwaterError
from noonwater.document.block import Paper
from noonwater.document.language import Language
from noonwater.document.profile import Profile
from noonwater.document.signs import FACES, printable

if TYPE_CHECKING:
    import typst

PaperSize = Literal["letter", "a4"]
TYPST_SIZE = {"letter": "us-letter", "a4": "a4"}
ROOM = Path(__file__).parent
LONGEST_NAME = 60
"""[characters] A longer name is cut in the title block; the paper itself has it whole."""
LONGEST_WORD = 28
"""[characters] A longer word may break anywhere: no column is as wide as some words."""


@dataclass(frozen=True)
class Stamp:
    """What every page carries.

    Attributes
    ----------
    job : str
        Name of the job.
    revision : str
        Which state of the job this is.
    day : datetime.date
        Of printing.
    version : str
        Of Noonwater.
    """

    job: str
    revision: str
    day: datetime.date
    version: str


@dataclass(frozen=True)
class Manner:
    """How a paper is written and printed: language, sheet, contractor, stamp."""

    language: Language
    size: PaperSize
    profile: Profile
    stamp: Stamp


def pdf(paper: Paper, manner: Manner) -> bytes:
    """Set a paper as PDF: tagged, faces embedded, the same bytes for the same paper.

    Parameters
    ----------
    paper : Paper
        What it says.
    manner : Manner
        How.

    Returns
    -------
    bytes

    Raises
    ------
    NoonwaterError
        When the typeface was not fetched or the paper can't be set.
    """
    import typst

    noon = datetime.datetime.combine(manner.stamp.day, datetime.time(12), datetime.UTC)
    try:
        made = _typesetter().compile(
            format="pdf",
            sys_inputs={"data": json.dumps(breakable(printable(_data(paper, manner))))},
            pdf_standards="ua-1",
            timestamp=noon,
        )
    except typst.TypstError as error:
        raise NoonwaterError(f"The paper '{paper.name}' can't be set: {error.message}") from None
    if not isinstance(made, bytes):
        raise NoonwaterError(f"The paper '{paper.name}' can't be set: no PDF came out")
    return made


def pictures(paper: Paper, manner: Manner, dots: float) -> tuple[bytes, ...]:
    """Set a paper as pictures, one PNG a page.

    Parameters
    ----------
    paper : Paper
        What it says.
    manner : Manner
        How.
    dots : float
        Per inch. [1/in]

    Raises
    ------
    NoonwaterError
        When the typeface was not fetched or the paper can't be set.
    """
    import typst

    try:
        made = _typesetter().compile(
            format="png",
            ppi=dots,
            sys_inputs={"data": json.dumps(breakable(printable(_data(paper, manner))))},
        )
    except typst.TypstError as error:
        raise NoonwaterError(f"The paper '{paper.name}' can't be set: {error.message}") from None
    return (made,) if isinstance(made, bytes) else tuple(made or ())


def breakable(value: Any) -> Any:
    """Let words that no column can hold break anywhere; drawings are left alone."""
    if isinstance(value, str):
        if len(value) <= LONGEST_WORD or value.startswith("<svg"):
            return value
        words = value.split(" ")
        return " ".join("\u200b".join(word) if len(word) > LONGEST_WORD else word for word in words)
    if isinstance(value, dict):
        return {key: breakable(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [breakable(inner) for inner in value]
    return value


@cache
def _typesetter() -> typst.Compiler:
    import typst

    faces = sorted(FACES.glob("*.ttf"))
    if not faces:
        raise NoonwaterError(
            "The typeface of the papers is missing. Run start.py again: it fetches it."
        )
    # Only the app's own face and its fallback: a paper looks the same on every machine.
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FACES)]
    )
    return typst.Compiler(input=str(ROOM / "sheet.typ"), root=str(ROOM), font_paths=fonts)


def _data(paper: Paper, manner: Manner) -> dict[str, Any]:
    language, profile, stamp = manner.language, manner.profile, manner.stamp
    say = language.say
    return {
        "title": paper.title,
        "author": profile.name or "Noonwater",
        "keywords": [stamp.job[:LONGEST_NAME], stamp.revision],
        "lang": language.code,
        "region": language.locale.partition("_")[2] or "US",
        "paper": TYPST_SIZE[manner.size],
        "logo": list(profile.logo),
        "logo-format": profile.logo_format,
        "words": {"see": say("See:"), "caution": say("Caution.")},
        "stamp": {
            "firm-name": say("by"),
            "firm": _cut(" · ".join(filter(None, [profile.name, _licence(profile, language)]))),
            "job-name": say("job"),
            "job": _cut(stamp.job),
            "revision-name": say("revision"),
            "revision": stamp.revision,
            "date-name": say("date"),
            "date": language.date(stamp.day),
            "page-name": say("page"),
            "foot": say(
                "Noonwater {version}. An aid, not an order: local codes, the makers' instructions "
                "and licensed practice decide.",
                version=stamp.version,
            ),
        },
        "blocks": paper.data(),
    }


def _licence(profile: Profile, language: Language) -> str:
    return language.say("licence {number}", number=profile.licence) if profile.licence else ""


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_NAME else text[: LONGEST_NAME - 1] + "…"
