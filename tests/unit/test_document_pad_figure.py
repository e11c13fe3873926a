"""The pad's figure says what the state is, in the reader's language, its valves by number."""

from __future__ import annotations

import re
from functools import lru_cache
from xml.etree import ElementTree

import pytest

from noonwater.document.language import language_of
from noonwater.document.pad_figure import pad_figure, valve_table
from noonwater.drawing.pad_water import PadWater, pad_waters
from tests.papers import CODES, DEMOS, material

SVG = "{http://www.w3.org/2000/svg}"
GPM = 6.30902e-5


@lru_cache(maxsize=4)
def waters(demo: str) -> tuple[PadWater, ...]:
    found = material(demo)
    return tuple(pad_waters(found.job, found.flow))


def words_of(svg: str) -> list[str]:
    return [each.text or "" for each in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_each_state_shows_its_flow_and_numbers_its_valves(demo: str, code: str) -> None:
    circuit, language = material(demo).flow.circuit, language_of(code, "US")
    for water in waters(demo):
        words = words_of(pad_figure(circuit, water, language).svg)
        numbers = [row[0] for row in valve_table(circuit, water, language).rows]
        assert numbers == [str(i + 1) for i in range(len(numbers))]
        assert set(numbers) <= set(words)
        if water.figures.rpm > 0.0:
            shown = f"{water.figures.flow / GPM:.1f}"
            assert any(re.search(rf"\b{shown}\s*gpm", word) for word in words)


@pytest.mark.parametrize("demo", DEMOS)
def test_a_spanish_figure_has_no_english_words(demo: str) -> None:
    circuit, language = material(demo).flow.circuit, language_of("es", "SI")
    english = re.compile(r"\b(valve|shut|open|roof|pool|pad|array|least|above|to the|off|heater)\b")
    for water in waters(demo):
        for word in words_of(pad_figure(circuit, water, language).svg):
            assert not english.search(word), word
        for row in valve_table(circuit, water, language).rows:
            assert not english.search(" ".join(row)), row
