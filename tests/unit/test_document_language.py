"""Texts of the papers: all translated, none left over; parts named once; numbers by locale."""

from __future__ import annotations

import csv
import datetime
import re
import string
import sys
from collections import Counter
from dataclasses import replace

import pytest

from noonwater.core.errors import InputError
from noonwater.design.parts_list import parts_list
from noonwater.document.language import FOLDER, Language, language_of
from noonwater.document.part_words import part_words
from noonwater.hydraulics.arrangement import fill_circuit
from tests.house import REPOSITORY
from tests.jobs import example_job

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


def test_what_was_set_is_printed_as_exactly() -> None:
    us, si = language_of("en", "US"), language_of("en", "SI")
    assert si.setting(27.5, "temperature") == "27.5 °C"
    assert si.setting(28.0, "temperature") == "28 °C"
    assert us.setting((42.1 - 32.0) / 1.8, "temperature") == "42.1 °F"
    assert si.setting(1.45, "length", 2) == "1.45 m"
    assert si.setting(1.6, "length", 2) == "1.6 m"


def test_letters_of_a_currency_stand_apart_from_its_figures() -> None:
    assert language_of("es", "US", "es_MX").money(10211.0, "USD") == "USD\u00a010,211"
    assert language_of("en", "US").money(-1200.0, "USD") == "-$1,200"


@pytest.mark.parametrize("code", ["en", "es"])
def test_a_state_s_speed_is_written_as_every_other_number(code: str) -> None:
    assert language_of(code, "US").part("solar 2700 rpm").endswith(" 2,700 rpm")


def test_every_part_of_a_large_and_of_a_metric_job_has_its_spanish_name() -> None:
    job = example_job()
    bank = job.array.banks[0]
    large = replace(
        job,
        array=replace(job.array, banks=(bank, bank, bank)),
        pad=replace(
            job.pad, booster="single mini", sanitizer="salt cell", heater="electric",
            cleaner="pressure with booster", cleaner_booster="booster cleaner",
            isolation_valves=("feed", "roof return"), drains=("feed", "roof return", "array"),
        ),
    )  # fmt: skip
    metric = replace(large, pad=replace(large.pad, schedule="metric", pipe=0.05))
    spanish = language_of("es", "US")
    for each in (large, metric):
        circuit = fill_circuit(each)
        names = {entry.name for entry in (*circuit.parts, *circuit.pipes)} - {"spa"}
        assert {name for name in names if spanish.part(name) == name} == set()
        rows = [row for row in parts_list(each) if row.kind != "panel"]
        left = {
            row.name
            for row in rows
            if set(part_words(row, spanish).split(", ")) & set(row.name.split(", ")) - {"gas"}
        }
        assert left == set()


@pytest.mark.parametrize(("code", "locale"), [("fr", ""), ("es", "nonsense"), ("en", "xx_YY")])
def test_what_is_not_there_is_told(code: str, locale: str) -> None:
    with pytest.raises(InputError, match="allowed"):
        language_of(code, "US", locale)
