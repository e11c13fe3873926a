"""The winterizing and reopening sheet: this very system's steps, in the order of its valves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from noonwater.document import block
from noonwater.document.hand_words import moves_words, seen_words, volume
from noonwater.document.language import Language, mark, sentence
from noonwater.document.leftover import side_by_side
from noonwater.document.material import Material
from noonwater.drawing.pad_numbered import pad_numbered
from noonwater.drawing.pad_subject import Subject

if TYPE_CHECKING:
    from noonwater.hydraulics.trace_replay import Step

CAUTION = mark(
    "Before anything is opened: pump off at the breaker, pressure released at the filter. Water "
    "that stood in the panels in the sun scalds. A heater is emptied as its maker says, gas by a "
    "licensed fitter. On the roof: secured against a fall. The makers' instructions and local "
    "codes decide."
)
TALLEST = 0.6
"""[-] A picture is no higher than this share of the text's width: room for steps on its page."""
REMEDIES = {
    "blow out": mark("blow it out or pump it off"),
    "lower the water": mark("open water stands as high: lower that, or plug it and blow this out"),
    "let it stand": mark("too little to burst anything: let it stand"),
}


def winter_paper(material: Material, language: Language) -> block.Paper:
    """Write the winterizing and reopening sheet.

    Parameters
    ----------
    material : Material
        Its trace gives the steps.
    language : Language
        To write in.
    """
    say, winter = language.say, material.trace.winter
    marks = part_numbers((*winter.steps, *winter.reopen), valves_of(material, language))
    blocks: list[block.Block] = [
        block.Caution(say(CAUTION)),
        *_dates(material, language),
        _picture(material, marks, language),
        block.Heading(say("Out of the season")),
        block.Paragraph(
            say("Begin with the system in state '{state}'.", state=language.part(winter.start))
        ),
        _steps(winter.steps, marks, language),
        block.Together(
            (
                *_left(material, language),
                block.Signatures((say("done by, date"), say("checked by, date"))),
            )
        ),
        block.PageBreak(),
        block.Heading(say("Back into the season")),
        _steps(winter.reopen, marks, language),
        block.Signatures((say("done by, date"), say("checked by, date"))),
    ]
    return block.Paper("winter", say("Winterizing and reopening"), tuple(blocks))


def _dates(material: Material, language: Language) -> list[block.Block]:
    span = material.nights.risk.chosen.cautious
    if span is None:
        text = language.say("No night of the weather used here freezes on this roof.")
        return [block.Paragraph(text)]
    return [
        block.Facts(
            (
                (language.say("Drain before the evening of"), day_words(span.first, language)),
                (language.say("Reopen after the morning of"), day_words(span.last, language)),
            )
        )
    ]


def day_words(day: int, language: Language) -> str:
    """Name a day of the year, 0 for 1 January."""
    from noonwater.model.pool import DAYS_BEFORE_MONTH

    month = sum(day >= before for before in DAYS_BEFORE_MONTH)
    number = str(day - DAYS_BEFORE_MONTH[month - 1] + 1)
    return language.say("{month} {day}", month=language.month(month, short=False), day=number)


def valves_of(material: Material, language: Language) -> Mapping[str, int]:
    """Numbers that the build set has for the valves, by name."""
    water = material.pad_water(material.trace.winter.start)
    return Subject(material.flow.circuit, water, language.system).numbers


def part_numbers(steps: Iterable[Step], valves: Mapping[str, int]) -> dict[str, int]:
    """Number the parts that hands touch.

    Parameters
    ----------
    steps : iterable of Step
        In order.
    valves : mapping of str to int
        Numbers that valves have on every other paper; what has none counts on from there.
    """
    touched = dict.fromkeys(step.move.part for step in steps)
    other = [part for part in touched if part not in valves]
    more = {part: number for number, part in enumerate(other, len(valves) + 1)}
    return {part: valves.get(part) or more[part] for part in touched}


def _picture(material: Material, marks: dict[str, int], language: Language) -> block.Block:
    title = language.say("The pad with the parts that the steps name, numbered")
    water, circuit = material.pad_water(material.trace.winter.start), material.flow.circuit
    drawn = pad_numbered(circuit, water, marks, title, language.system)
    named = ", ".join(f"{number} {language.part(part)}" for part, number in marks.items())
    caption = language.say(
        "A number in a circle at a step is the part's number here; valves have those of the build "
        "set."
    )
    share = min(1.0, TALLEST / drawn.height)
    return block.Figure(drawn.svg, f"{title}: {named}", caption, share)


def _steps(steps: Sequence[Step], marks: dict[str, int], language: Language) -> block.Steps:
    return block.Steps(
        tuple(
            block.Step(sentence(told), seen_words(step, language), str(marks[step.move.part]))
            for step, told in zip(steps, moves_words(steps, language), strict=True)
        )
    )


def _left(material: Material, language: Language) -> list[block.Block]:
    say, winter = language.say, material.trace.winter
    if not winter.left:
        return [block.Paragraph(say("No water is left when all this is done."))]
    total = volume(winter.litres_left, language)
    blocks: list[block.Block] = [
        block.Paragraph(say("Water left when all this is done: {amount}.", amount=total))
    ]
    rows = tuple(
        (
            language.part(entry.name),
            volume(entry.litres, language),
            ", ".join(language.part(name) for name in entry.held_by) or say("its own low point"),
            say(REMEDIES[entry.remedy]),
        )
        for entry in side_by_side(winter.left)
    )
    heads = (say("Part"), say("Water"), say("Held by"), say("What to do"))
    blocks.append(block.Paragraph(say("Where it stands, and what to do:")))
    blocks.append(block.Schedule(heads, rows, ("left", "right", "left", "left"), (2, 1, 2, 3)))
    return blocks
