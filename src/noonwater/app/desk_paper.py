"""Papers and files of a job, made when the desk is asked for them."""

from __future__ import annotations

import tempfile
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.desk import View, studied
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
    return PAPERS[name](_material(view.job), manner.language), manner


@lru_cache(maxsize=2)
def _material(job: Job) -> Material:
    from noonwater.app.pack_answer import material_of

    return material_of(job)
