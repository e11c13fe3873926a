"""Water left by winter's steps in few lines; a pump that runs is brought to another speed."""

from __future__ import annotations

import pytest

from noonwater.document.hand_words import moves_words, volume
from noonwater.document.language import language_of
from noonwater.document.leftover import side_by_side
from noonwater.hydraulics.trace_winter import Leftover
from tests.papers import DEMOS, material


def left(name: str, litres: float = 1.5, held: tuple[str, ...] = ()) -> Leftover:
    return Leftover(name, litres, held, "blow out")


def test_alike_neighbours_are_one_line_with_all_their_water() -> None:
    panels = [left(f"bank 1 panel {number}") for number in range(1, 9)]
    found = side_by_side([*panels, left("feed", 29.0)])
    assert [(each.name, each.litres) for each in found] == [
        ("bank 1 panels 1 to 8", 12.0),
        ("feed", 29.0),
    ]


def test_what_differs_or_lies_apart_stays_apart() -> None:
    entries = [
        left("bank 1 panel 1"),
        left("bank 1 panel 3"),
        left("bank 1 panel 4", held=("feed drain",)),
        left("bank 2 panel 5", held=("feed drain",)),
        left("Grandma's panel 6"),
    ]
    assert side_by_side(entries) == entries
    assert side_by_side([]) == []


@pytest.mark.parametrize("demo", DEMOS)
def test_a_pump_is_started_once_and_then_brought_to_speed(demo: str) -> None:
    reopen = material(demo).trace.winter.reopen
    told = moves_words(reopen, language_of("en", "US"))
    starts = [step.move.position for step in reopen if step.move.act == "start"]
    assert [text.startswith("switch the pump's breaker on") for text in told].count(True) == 1
    assert [text.startswith("bring the pump to") for text in told].count(True) == len(starts) - 1
    assert any(f"start it at {starts[0]:,.0f} rpm" in text for text in told)


@pytest.mark.parametrize(
    ("litres", "us", "si"), [(4.0, "1.1 gal", "4.0 L"), (70.2, "19 gal", "70 L")]
)
def test_small_volumes_carry_no_false_digits(litres: float, us: str, si: str) -> None:
    assert volume(litres, language_of("en", "US")) == us
    assert volume(litres, language_of("en", "SI")) == si
