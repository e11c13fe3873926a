"""Texts of the papers: all translated, none left over; parts named once; numbers by locale."""

from __future__ import annotations

import csv
import datetime
import re
import string
import sys
from collections import Counter

import pytest

from noonwater.core.errors import InputError
from noonwater.document.language import FOLDER, Language, language_of
from tests.house import REPOSITORY

sys.path.insert(0, str(REPOSITORY / "tools"))
gather_texts = __import__("gather_texts")

LANGUAGES = sorted(path.name for path in FOLDER.iterdir() if path.is_dir())


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


@pytest.mark.parametrize("code", LANGUAGES)
def test_every_text_is_translated_and_none_is_left_over(code: str) -> None:
    wanted = set().union(*gather_texts.texts().values())
    known = gather_texts.translations(FOLDER / code)
    assert sorted(text for text in wanted if not known.get(text)) == []
    assert sorted(known.keys() - wanted) == []


@pytest.mark.parametrize("code", LANGUAGES)
def test_a_translation_keeps_the_places_for_values(code: str) -> None:
    known = gather_texts.translations(FOLDER / code)
    assert {text: said for text, said in known.items() if not places(said) <= places(text)} == {}


def test_a_part_has_one_name_and_a_name_one_part() -> None:
    with (FOLDER / "glossary.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [name for name, count in Counter(row["en"] for row in rows).items() if count > 1] == []
    doubled = {name for name, count in Counter(row["es"] for row in rows).items() if count > 1}
    assert doubled <= {
        "bomba de refuerzo"
    }  # a circuit calls it "booster", the trade "booster pump"
    for row in rows:
        assert row["en"].count("#") == len(re.findall(r"#\d", row["es"])), row


def test_parts_are_named_by_number_in_the_order_of_the_language() -> None:
    spanish = language_of("es", "US")
    assert spanish.part("bank 2 panel 11") == "panel 11 del grupo 2"
    assert spanish.part("filter to filter check valve") == (
        "de filtro a válvula de retención del filtro"
    )
    assert spanish.part("Grandma's valve #3") == "Grandma's valve #3"
    assert Language("en", "en_US", "US").part("bank 2 panel 11") == "bank 2 panel 11"


def test_numbers_follow_the_locale() -> None:
    mexico, spain = language_of("es", "SI", "es_MX"), language_of("es", "SI", "es_ES")
    assert mexico.number(12345.678, 1) == "12,345.7"
    assert spain.number(12345.678, 1) == "12.345,7"
    assert spain.number(-0.04, 1) == "0,0"
    assert spain.date(datetime.date(2026, 4, 30)) == "30 abr 2026"
    assert language_of("en", "US").quantity(29.0, "temperature", 1) == "84.2 °F"
    assert spain.within(27.8, 30.0, "temperature") == "28 a 30 °C"
    assert spain.within(29.9, 30.0, "temperature") == "30 °C"


@pytest.mark.parametrize(("code", "locale"), [("fr", ""), ("es", "nonsense"), ("en", "xx_YY")])
def test_what_is_not_there_is_told(code: str, locale: str) -> None:
    with pytest.raises(InputError, match="allowed"):
        language_of(code, "US", locale)
