"""All the papers of a job, by name."""

from __future__ import annotations

from collections.abc import Callable

from noonwater.document.block import Paper
from noonwater.document.build import build_paper
from noonwater.document.commissioning import commissioning_paper
from noonwater.document.language import Language
from noonwater.document.material import Material
from noonwater.document.owner import owner_paper
from noonwater.document.parts_book import parts_book
from noonwater.document.permit import permit_paper
from noonwater.document.proposal import proposal_paper
from noonwater.document.winter import winter_paper

PAPERS: dict[str, Callable[[Material, Language], Paper]] = {
    "proposal": proposal_paper,
    "build": build_paper,
    "commissioning": commissioning_paper,
    "owner": owner_paper,
    "winter": winter_paper,
    "permit": permit_paper,
}
"""Each paper's maker, in the order in which they are handed over."""

BOOKS: dict[str, Callable[[Material, Language], bytes]] = {"parts": parts_book}
"""Each spreadsheet's maker; one is written in the first language alone."""
