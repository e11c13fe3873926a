"""Papers as HTML: every kind of block, text as text, a name for each blank."""

from __future__ import annotations

import re
from typing import get_args

from noonwater.document.block import (
    Beside,
    Block,
    Caution,
    Facts,
    Heading,
    Paper,
    Paragraph,
    Schedule,
    Signatures,
    Step,
    Steps,
    Together,
)
from noonwater.document.page import WRITERS, paper_page


def test_every_kind_of_block_is_written() -> None:
    assert set(WRITERS) == set(get_args(Block))


def test_text_is_text_and_blanks_have_names_of_their_own() -> None:
    spite = "<script>alert(1)</script>"
    paper = Paper(
        "x",
        spite,
        (
            Heading(spite),
            Caution(spite),
            Together((Paragraph(spite, "strong"), Facts(((spite, ""), ("area", "5"))))),
            Beside((Schedule((spite, "read"), ((spite, ""),)),), (Signatures((spite,)),)),
            Steps((Step(spite, spite, "1"),)),
        ),
    )
    page = str(paper_page(paper))
    assert "<script" not in page
    assert page.count("&lt;script&gt;") >= 9
    names = re.findall(r'name="(blank-\d+)"', page)
    assert names == ["blank-1", "blank-2", "blank-3", "blank-4"]
