"""Papers and files of a job, made when the desk is asked for them."""

from __future__ import annotations

import tempfile
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.desk import View, studied
from noonwater.app.desk_prices import price_file_of, read_kept
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.document.block import Paper
    from noonwater.document.material import Material
    from noonwater.document.typeset import Manner


def paper_names() -> list[tuple[str, str]]:
    """List the papers: name and title in English."""
    from noonwater.document.pack import PAPERS

    return [(name, name.replace("-", " ").capitalize()) for name in PAPERS]


def paper_lacks(view: View) -> str:
    """Signs in a job's texts that the papers print as an empty box."""
    from noonwater.document.signs import lacking

    return lacking(view.right)


def paper_pdf(view: View, name: str, code: str) -> bytes:
    """Make one paper.

    Raises
    ------
    InputError
        For a paper or language that isn't there.
    NoonwaterError
        When the job has no answer.
    """
    from noonwater.document.typeset import pdf

    return pdf(*_paper(view, name, code))


def paper_html(view: View, name: str, code: str) -> tuple[str, str]:
    """Write one paper as HTML: its title, and an article.

    Raises
    ------
    InputError
        For a paper or language that isn't there.
    NoonwaterError
        When the job has no answer.
    """
    from noonwater.document.page import paper_page

    paper, _ = _paper(view, name, code)
    return paper.title, str(paper_page(paper))


def parts_xlsx(view: View) -> bytes:
    """Write the parts list with its prices as a workbook."""
    from noonwater.app.pack_answer import PackWish, manner_of
    from noonwater.document.parts_book import parts_book

    manner = manner_of(view.job, PackWish(), "en")
    return parts_book(_material_of(view), manner.language)


def parts_csv(view: View) -> bytes:
    """Write the parts list for a spreadsheet."""
    from noonwater.app.parts_answer import answer_parts

    with tempfile.TemporaryDirectory() as folder:
        return answer_parts(view.job).write(Path(folder))[0].read_bytes()


def hours_csv(view: View) -> bytes:
    """Write the year's hours; nothing where there is no year."""
    year = studied(view.job).year
    return b"" if year is None else year.frame().round(4).to_csv().encode()


def _paper(view: View, name: str, code: str) -> tuple[Paper, Manner]:
    from noonwater.app.pack_answer import PackWish, manner_of
    from noonwater.document.pack import PAPERS

    if name not in PAPERS:
        raise InputError([Fault("paper", f"'{name[:40]}'", ", ".join(PAPERS))])
    manner = manner_of(view.job, PackWish(revision=str(view.state.number)), code)
    return PAPERS[name](_material_of(view), manner.language), manner


def _material_of(view: View) -> Material:
    """What papers are made from, with the price list that is kept with the job."""
    kept = price_file_of(view)
    return _material(view.job) if kept is None else _material(view.job, kept.name, kept.body)


@lru_cache(maxsize=2)
def _material(job: Job, name: str = "", body: bytes = b"") -> Material:
    from noonwater.app.offering_study import OfferSource
    from noonwater.app.pack_answer import material_of

    try:
        listed = read_kept(name, body, job.money.currency) if name else None
    except InputError:
        listed = None  # the sheet says so, and why: no price is made up
    return material_of(job, OfferSource(listed=listed))
