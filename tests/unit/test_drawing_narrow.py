"""Charts of long work for a telephone: laid out anew, nothing over the edge or over each other."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.size_answer import answer_size
from noonwater.app.tune_answer import answer_tune
from noonwater.drawing.batch_chart import BatchPicture, batch_chart
from noonwater.drawing.lettering import Anchor, Style, text_width
from noonwater.drawing.search_chart import TradeOff, search_chart
from noonwater.drawing.sheet import DESK, POCKET, Cell, SheetFormat, cells_in_rows

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[str, float, float, float, float]
LONG = "Sunny Hollow recreation ground, learners' pool behind the old bath house"


def size_drawn(form: SheetFormat) -> str:
    return answer_size(FOLDER / "lagoon-court.toml").chart(narrow=form is POCKET)


def tune_drawn(form: SheetFormat) -> str:
    return answer_tune(FOLDER / "lagoon-court.toml").chart(narrow=form is POCKET)


def search_drawn(form: SheetFormat) -> str:
    draw = np.random.default_rng(3)
    points = tuple(
        (float(price), float(short), float(cost))
        for price, short, cost in draw.uniform((6000, 0.5, 150), (18000, 2.0, 400), (60, 3))
    )
    listed = tuple((letter, *points[n]) for n, letter in enumerate("ABCDEF"))
    shown = TradeOff(LONG, "USD", points, listed, (9000.0, 1.2, 330.0))
    return search_chart(shown, units="US", version="0.1.0", form=form)


def batch_drawn(form: SheetFormat) -> str:
    draw = np.random.default_rng(5)
    values = draw.choice([2000.0, 2400.0, 2800.0], 200)
    pool, heat = 26.0 + draw.normal(0.0, 1.0, 200), 9000.0 + 3.0 * values
    along = ("pump.solar_speed", "rpm", values, "US")
    shown = BatchPicture(LONG, "options.csv", 202, pool, heat, *along)  # type: ignore[arg-type]
    return batch_chart(shown, form)


DRAWN = {"size": size_drawn, "tune": tune_drawn, "search": search_drawn, "batch": batch_drawn}


def boxes(root: ET.Element) -> list[Box]:
    """Each text with what its letters cover, its width by the widest face."""
    found: list[Box] = []
    for text in root.iter(f"{SVG}text"):
        words, size = text.text or "", float(text.attrib["font-size"])
        bold = text.get("font-weight") == "bold"
        anchor: Anchor = text.get("text-anchor", "start")  # type: ignore[assignment]
        wide = text_width(words, Style(size, bold=bold))
        left = float(text.attrib["x"]) - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
        y = float(text.attrib["y"])
        found.append((words, left, y - 0.74 * size, left + wide, y + 0.22 * size))
    return found


def meet(one: Box, other: Box) -> bool:
    _, left, top, right, bottom = one
    _, left2, top2, right2, bottom2 = other
    return min(right, right2) - max(left, left2) > 1 and min(bottom, bottom2) - max(top, top2) > 1


@pytest.mark.parametrize("form", [DESK, POCKET], ids=["desk", "telephone"])
@pytest.mark.parametrize("kind", DRAWN)
def test_nothing_is_over_the_edge_or_over_each_other(kind: str, form: SheetFormat) -> None:
    root = ET.fromstring(DRAWN[kind](form))
    assert root.attrib["viewBox"].split()[2] == f"{form.width:g}"
    sizes = [float(text.attrib["font-size"]) for text in root.iter(f"{SVG}text")]
    assert min(sizes) >= form.note
    found = boxes(root)
    assert len(found) > 15
    frame = form.framed
    assert [b for b in found if b[1] < frame.left or b[3] > frame.right] == []
    assert [b for b in found if b[2] < frame.top or b[4] > frame.bottom] == []
    assert [(a[0], b[0]) for a, b in combinations(found, 2) if meet(a, b)] == []


def test_a_telephone_s_title_block_has_the_job_by_itself() -> None:
    cells = [Cell("job", LONG, 0.5, lead=True), Cell("sheet", "Panels", 0.4), Cell("x", "1", 0.1)]
    assert cells_in_rows(cells, DESK) == (tuple(cells),)
    first, second = cells_in_rows(cells, POCKET)
    assert [cell.share for cell in first] == [1.0]
    assert sum(cell.share for cell in second) == pytest.approx(1.0)
    assert second[1].share > 0.15
