"""Words of the parts list in the reader's language: names, sizes, quantities as they are bought."""

from __future__ import annotations

import re

from noonwater.core.units import in_system, unit_label
from noonwater.design.parts_row import PartRow, length_bought
from noonwater.document.language import Language, mark
from noonwater.document.pad_figure import SPECS
from noonwater.drawing.pad_words import size_words

KINDS = {
    "drain-down hole": mark("drain-down hole"),
    "seals tight": mark("seals tight"),
    "swing": mark("swing"),
    "one pound spring": mark("one pound spring"),
    "with sight window": mark("with sight window"),
    "1 pint can": mark("1 pint can"),
    "500 mL can": mark("500 mL can"),
    "PVC-U PN10 or more": mark("PVC-U PN10 or more"),
    "pressure": mark("pressure"),
    "pressure with booster": mark("pressure with booster"),
    "suction": mark("suction"),
    "past panels left out": mark("past panels left out"),
}
"""What stands behind a part's name; a row of the catalog that is none of these stays as it is."""
_SCHEDULE = re.compile(r"schedule (\w+)")


def part_words(row: PartRow, language: Language) -> str:
    """Name a row of the parts list."""
    known = language.part(row.name)
    if known != row.name or language.code == "en":
        return known
    first, *rest = row.name.split(", ")
    return ", ".join([language.part(first), *(_kind(word, language) for word in rest)])


def _kind(word: str, language: Language) -> str:
    if found := _SCHEDULE.fullmatch(word):
        return language.say("schedule {number}", number=found[1])
    return language.say(KINDS.get(word) or SPECS.get(word, word))


def part_size(row: PartRow, language: Language) -> str:
    """Size of a row's thing: pipe by its nominal size, a panel by its sides, else a bore."""
    if row.measure == "pipe":
        return " × ".join(size_words(size) for size in row.sizes)
    if row.measure == "panel":
        system = language.system
        digits = 1 if system == "US" else 2
        sides = [language.number(in_system(size, "length", system), digits) for size in row.sizes]
        return f"{' × '.join(sides)} {unit_label('length', system)}"
    if row.measure == "bore":
        digits = 2 if language.system == "US" else 0
        bores = " × ".join(language.quantity(size, "diameter", digits) for size in row.sizes)
        return language.say("{size} inside", size=bores)
    return ""


def quantity_words(row: PartRow, language: Language) -> str:
    """How many, or how long with waste."""
    if row.unit == "each":
        return language.number(row.quantity)
    digits = 0 if language.system == "US" else 1
    shown = language.number(length_bought(row.quantity, language.system), digits)
    return f"{shown} {language.unit('length')}"


def remark_words(row: PartRow, language: Language) -> str:
    """What a row says besides: stock lengths, distance of supports."""
    if row.stock:
        digits = 0 if language.system == "US" else 1
        return language.say(
            "{count} lengths of {length}",
            count=language.number(row.stock),
            length=language.quantity(row.stock_length, "length", digits),
        )
    if row.spacing:
        spacing = language.quantity(row.spacing, "length", 1)
        return language.say("at most {spacing} apart", spacing=spacing)
    return ""
