"""The papers' pages as they looked when somebody last looked at them: shows change, proves nothing.

``python -m tests.golden.test_golden_papers`` makes them anew; look at each page before committing.
Pages are compared in blocks of grey, so that a figure that moves in its last digit passes and a
table that moves by a line does not.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from noonwater.core.units import System
from noonwater.document.pack import PAPERS
from noonwater.document.typeset import PaperSize, pictures
from tests.papers import manner, paper_of
from tests.pictures import Grey, grey, in_blocks

HERE = Path(__file__).parent / "papers"
DOTS = 30.0
BLOCK = 6
"""[pixel] 5 mm: a line and a half of text."""
MEAN, MOST = 0.004, 0.12
"""[-] Of white: over the page, and in one block."""
KEPT: tuple[tuple[str, str, System, PaperSize], ...] = (
    ("orchard-hill", "en", "US", "letter"),
    ("almond-ranch", "es", "SI", "a4"),
)
CASES = [(name, *kept) for name in PAPERS for kept in KEPT]


def pages(name: str, demo: str, code: str, system: System, size: PaperSize) -> tuple[bytes, ...]:
    return pictures(paper_of(name, demo, code, system), manner(demo, code, system, size), DOTS)


def path_of(name: str, demo: str, code: str, page: int) -> Path:
    return HERE / f"{name}-{demo}-{code}-{page}.png"


def alike(now: Grey, then: Grey) -> bool:
    """Whether two pages look alike."""
    if now.shape != then.shape:
        return False
    apart = np.abs(in_blocks(now, BLOCK) - in_blocks(then, BLOCK))
    return bool(apart.mean() <= MEAN and apart.max() <= MOST)


@pytest.mark.parametrize(("name", "demo", "code", "system", "size"), CASES)
def test_pages_look_as_they_did(
    name: str, demo: str, code: str, system: System, size: PaperSize
) -> None:
    made = pages(name, demo, code, system, size)
    assert not path_of(name, demo, code, len(made) + 1).exists()
    for number, picture in enumerate(made, 1):
        kept = path_of(name, demo, code, number).read_bytes()
        assert alike(grey(picture), grey(kept)), f"page {number} looks another"


def test_a_page_that_moved_by_a_line_is_seen() -> None:
    page = grey(path_of("commissioning", "orchard-hill", "en", 1).read_bytes())
    assert alike(page, page)
    moved = page.copy()
    moved[100:200] = page[97:197]
    assert not alike(moved, page)
    lost = page.copy()
    lost[100:130] = 1.0
    assert not alike(lost, page)


def _write() -> None:
    HERE.mkdir(exist_ok=True)
    for old in HERE.glob("*.png"):
        old.unlink()
    for name, demo, code, system, size in CASES:
        for number, picture in enumerate(pages(name, demo, code, system, size), 1):
            path_of(name, demo, code, number).write_bytes(picture)


if __name__ == "__main__":
    _write()
