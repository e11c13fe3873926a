"""Banks side by side on the sheet: how wide, how far apart, where their words stand."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from noonwater.drawing.lettering import Style, text_width
from noonwater.drawing.pad_banks import CROWDED, BankLabels, BankPlace, spokes_of
from noonwater.drawing.pad_sketch import Sketch, broken, pitch, word_style
from noonwater.drawing.pad_words import Word
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import VENT

BESIDE = 160.0
"""[drawing units] A label of this width stands beside its bank and saves height."""

_NODE = 34.0
"""[drawing units] Height of what stands between a header and its line."""


@dataclass(frozen=True)
class Row:
    """Measures of a row of banks. [drawing units]

    Attributes
    ----------
    widths : dict of str to float
        Of each bank, in the order of the feed.
    left : float
        Where the first begins.
    step : float
        From one to the next.
    widest : float
        Room for a bank.
    beside : bool
        Whether labels stand beside their banks, not below.
    top, bottom : float
        Upper and lower headers.
    y_return, y_feed : float
        Lines of the return and of the feed.
    """

    widths: dict[str, float]
    left: float
    step: float
    widest: float
    beside: bool
    top: float
    bottom: float
    y_return: float
    y_feed: float


def measured_row(sketch: Sketch, labels: BankLabels, lead_in: float) -> Row:
    """Measure a row of banks that fits between the rails.

    Parameters
    ----------
    sketch : Sketch
        What is drawn.
    labels : dict of str to tuple of Word
        Of each bank, unbroken.
    lead_in : float
        From the feed's rail to the first bank. [drawing units]
    """
    pad, banks, k = sketch.pad, sketch.graph.banks, sketch.pad.scale
    names = [bank for branch in sketch.rails.banks for bank in branch.nodes if bank in banks]
    count = max(len(names), 1)
    left, right = pad.up + lead_in, pad.down - 70.0 * k
    slot = (pad.down - 14.0 * k - left) / count
    beside = slot >= BESIDE + 60.0
    gap = 30.0 * k if count <= CROWDED else 8.0
    widest = min(190.0, slot - BESIDE if beside else (right - left - (count - 1) * gap) / count)
    slim = min(24.0, widest / max([len(banks[name].panels) for name in names], default=1))
    widths = {name: max(slim * len(banks[name].panels), min(14.0, widest)) for name in names}
    step = slot if count <= CROWDED else (right - left - widths[names[-1]]) / (count - 1)
    y_return, top, bottom, y_feed = _levels(sketch)
    if beside:
        tallest = max([len(_beside(sketch, labels[name])) for name in names], default=0)
        y_feed = max(y_feed, y_return + tallest * pitch(pad.form) + 22.0)
    return Row(widths, left, step, widest, beside, top, bottom, y_return, y_feed)


def _levels(sketch: Sketch) -> tuple[float, float, float, float]:
    """Heights of return, upper headers, lower headers and feed."""
    k = sketch.pad.scale
    spokes = [spokes_of(branch, sketch) for branch in sketch.rails.banks]
    deep = _NODE * k * max([len(before) for _, before, _ in spokes], default=0)
    high = _NODE * k * max([len(after) for _, _, after in spokes], default=0)
    over = max(2.0 * pitch(sketch.pad.form) + VENT * k + 12.0, 40.0)
    y_return = sketch.pad.region.top + over
    top = y_return + 22.0 * k + high
    bottom = top + 46.0 * k
    return y_return, top, bottom, bottom + 22.0 * k + deep


def placed_banks(sketch: Sketch, labels: BankLabels, row: Row) -> dict[str, BankPlace]:
    """Set the banks of a row down, with their words.

    Parameters
    ----------
    sketch : Sketch
        What is drawn.
    labels : dict of str to tuple of Word
        Of each bank, unbroken.
    row : Row
        Measures.
    """
    shown = _shown(sketch, labels, row)
    placed: dict[str, BankPlace] = {}
    for i, (name, width) in enumerate(row.widths.items()):
        x = row.left - min(6.0, 0.5 * width) + i * row.step
        box = Box(x, row.top, x + width, row.bottom)
        words = labels[name] if name in shown else ()
        lines, (left, top) = _label(sketch, words, (row, box), first=i == 0)
        wide = max((text_width(w.text, word_style(w, sketch.pad.form)) for w in lines), default=0.0)
        label = Box(left, top, left + wide, top + len(lines) * pitch(sketch.pad.form))
        placed[name] = BankPlace(sketch.graph.banks[name], box, lines, label)
    return placed


def _label(
    sketch: Sketch, words: tuple[Word, ...], where: tuple[Row, Box], *, first: bool
) -> tuple[tuple[Word, ...], tuple[float, float]]:
    """A bank's words broken into lines, and where they begin."""
    (row, box), pad = where, sketch.pad
    if row.beside:
        lines = _beside(sketch, words)
        tall = len(lines) * pitch(pad.form)
        return lines, (box.right + 10.0, 0.5 * (row.y_return + row.y_feed - tall))
    inset = 22.0 if first else 16.0
    room = min(max(row.widest, row.step - 8.0), pad.down - 8.0 - box.left) - inset
    return broken(words, max(room, 40.0), pad), (box.left + inset, row.y_feed + 10.0)


def _beside(sketch: Sketch, words: tuple[Word, ...]) -> tuple[Word, ...]:
    return broken(words, BESIDE - 22.0, sketch.pad)


def _shown(sketch: Sketch, labels: BankLabels, row: Row) -> frozenset[str]:
    """Banks whose labels are set: every one, or every so many as there is room for."""
    names = list(row.widths)
    if len(names) <= CROWDED:
        return frozenset(names)
    style = Style(sketch.pad.form.note, bold=True)
    wide = max(text_width(word.text, style) for name in names for word in labels[name])
    return frozenset(names[:: max(1, ceil((wide + 8.0) / row.step))])
