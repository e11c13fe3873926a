"""The pad in one state as it stands inside a paper, in the reader's language."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from noonwater.drawing import ink
from noonwater.drawing.inset import NOTE, WIDTH, inset
from noonwater.drawing.lettering import Style, lines_that_fit
from noonwater.drawing.pad_banks import BankLabels
from noonwater.drawing.pad_layout import laid_out, plan_height
from noonwater.drawing.pad_plan import draw_plan
from noonwater.drawing.pad_sketch import PadForm, Sketch
from noonwater.drawing.pad_subject import Caption, Subject
from noonwater.drawing.pad_words import Word
from noonwater.drawing.sheet import DESK
from noonwater.drawing.strokes import Box

RAIL = 150.0
"""[drawing units] From the edge to a rail, for the words beside it."""
HIGHEST = 640.0
"""[drawing units] A plan that is higher gets a wider ground, so that its letters are smaller."""
GROWTH = (1.0, 1.12, 1.25, 1.4, 1.6, 1.9, 2.3, 2.8)


@dataclass(frozen=True)
class PadSpeech:
    """All that the drawing says.

    Attributes
    ----------
    title : str
        For those who hear it.
    labels, banks : mapping of str to tuple of Word
        Beside the parts and below the banks, by name.
    above, under : tuple of str
        At the border between array and pad.
    pool : str
        What the pool is called.
    told : callable
        Prints a quantity of a kind with its unit.
    """

    title: str
    labels: Mapping[str, tuple[Word, ...]]
    banks: Mapping[str, tuple[Word, ...]]
    above: tuple[str, ...]
    under: tuple[str, ...]
    pool: str
    told: Callable[[float, str], str]


@dataclass(frozen=True)
class SpokenSubject(Subject):
    """A circuit in a state, in words of the reader's language."""

    speech: PadSpeech

    def sketch(self, pad: PadForm) -> Sketch:
        """An empty sketch with its labels."""
        return Sketch(self.graph, self.rails, self.speech.labels, pad)

    def bank_labels(self) -> BankLabels:
        """Words below each bank."""
        return dict(self.speech.banks)

    def name_of(self, node: str) -> str:
        """What a node is called; only the pool is asked for."""
        return self.speech.pool if node == self.graph.pool else node

    def told(self, value: float, kind: str) -> str:
        """A quantity with its unit."""
        return self.speech.told(value, kind)

    def captions(self, pad: PadForm) -> list[Caption]:
        """Words on both sides of the border between array and pad."""
        style, room = Style(pad.form.note, ink.NOTE), pad.down - pad.up - 28.0
        return [
            Caption(line, above)
            for texts, above in ((self.speech.above, True), (self.speech.under, False))
            for text in texts
            for line in lines_that_fit(text, room, 3, style)
        ]


def pad_inset(subject: SpokenSubject) -> str:
    """Draw the pad in one state without a frame.

    Parameters
    ----------
    subject : SpokenSubject
        Circuit, state and words.

    Returns
    -------
    str
        SVG as wide as a paper's text.
    """
    for growth in GROWTH:
        pad = _form(growth * WIDTH)
        height = plan_height(subject, pad)
        if height <= HIGHEST * growth:
            break
    region = replace(pad.region, bottom=pad.region.top + height)
    laid = laid_out(subject, replace(pad, region=region))
    whole = Box(0.0, 0.0, growth * WIDTH, region.bottom + 2.0)
    return inset(whole, subject.speech.title, draw_plan(subject, laid))


def _form(width: float) -> PadForm:
    form = replace(DESK, width=width, height=1e5, margin=0.0, note=NOTE, body=1.15 * NOTE)
    region = Box(2.0, 2.0, width - 2.0, 1e5)
    return PadForm(form, region, region.left + RAIL, region.right - RAIL, 0.95, False, 3)
