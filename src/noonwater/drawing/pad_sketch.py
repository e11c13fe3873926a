"""What a pad's parts measure on the sheet, and where they stand while the sheet is laid out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from noonwater.drawing import ink
from noonwater.drawing.lettering import Style, line_pitch, lines_that_fit, text_width
from noonwater.drawing.pad_graph import PadGraph
from noonwater.drawing.pad_rails import Rails
from noonwater.drawing.pad_words import Word
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import VENT, Way, half_size

Side = Literal["left", "right", "under", "over"]


Extent = tuple[float, float]
"""Above and below a middle. [drawing units]"""


GAP = 14.0
"""[drawing units] Between neighbours on a rail, for the pipe to show."""


@dataclass(frozen=True)
class PadForm:
    """Measures of a pad's drawing.

    Attributes
    ----------
    form : SheetFormat
        Of the sheet.
    region : Box
        Where parts and pipes are drawn.
    up, down : float
        Places of the two rails across the sheet. [drawing units]
    scale : float
        Of the symbols. [-]
    stacked : bool
        Whether banks stand one above the other, as on a telephone.
    most_lines : int
        Of a name beside its part.
    """

    form: SheetFormat
    region: Box
    up: float
    down: float
    scale: float
    stacked: bool
    most_lines: int = 2


@dataclass(frozen=True)
class Place:
    """A part on the sheet.

    Attributes
    ----------
    node, kind : str
        Which.
    x, y : float
        Its middle. [drawing units]
    half_width, half_height : float
        Of its symbol. [drawing units]
    axis : Way
        Where water usually goes.
    side : Side
        Where its label stands.
    lines : tuple of Word
        The label, broken into lines.
    vent : Way
        Where a vacuum breaker opens to.
    """

    node: str
    kind: str
    x: float
    y: float
    half_width: float
    half_height: float
    axis: Way = "up"
    side: Side = "left"
    lines: tuple[Word, ...] = ()
    vent: Way = "up"

    @property
    def box(self) -> Box:
        """What its symbol covers."""
        box = Box(
            self.x - self.half_width,
            self.y - self.half_height,
            self.x + self.half_width,
            self.y + self.half_height,
        )
        if self.kind != "vacuum breaker":
            return box
        reach = VENT * self.half_width / 6.0
        if self.vent == "up":
            return replace(box, top=self.y - reach)
        if self.vent == "right":
            return replace(box, right=self.x + reach)
        return replace(box, left=self.x - reach)

    def label_box(self, form: SheetFormat) -> Box | None:
        """What its label covers."""
        if not self.lines:
            return None
        width = max(text_width(word.text, word_style(word, form)) for word in self.lines)
        height = len(self.lines) * pitch(form)
        box, gap = self.box, 0.4 * form.note
        if self.side in ("left", "right"):
            left = box.left - gap - width if self.side == "left" else box.right + gap
            middle = 0.5 * (box.top + box.bottom)
            return Box(left, middle - 0.5 * height, left + width, middle + 0.5 * height)
        top = box.bottom + 0.3 * gap if self.side == "under" else box.top - 0.5 * gap - height
        middle = 0.5 * (box.left + box.right)
        return Box(middle - 0.5 * width, top, middle + 0.5 * width, top + height)


def pitch(form: SheetFormat) -> float:
    """From one line of a label to the next. [drawing units]."""
    return line_pitch(Style(form.note))


def word_style(word: Word, form: SheetFormat) -> Style:
    """How a line of a label is set."""
    colours = {"name": ink.INK, "figure": ink.INK, "note": ink.NOTE}
    return Style(form.note, colours[word.sort], bold=word.sort == "name")


def broken(words: Iterable[Word], width: float, pad: PadForm) -> tuple[Word, ...]:
    """Break a label's lines to a width."""
    lines: list[Word] = []
    for word in words:
        style = word_style(word, pad.form)
        lines += [
            replace(word, text=text)
            for text in lines_that_fit(word.text, width, pad.most_lines, style)
        ]
    return tuple(lines)


Labels = Mapping[str, tuple[Word, ...]]


@dataclass
class Sketch:
    """Places as they are found.

    Attributes
    ----------
    graph : PadGraph
        What is drawn.
    rails : Rails
        Its order.
    labels : mapping of str to tuple of Word
        Unbroken, by node.
    pad : PadForm
        Measures.
    places : dict of str to Place
        Filled as the sketch goes on.
    """

    graph: PadGraph
    rails: Rails
    labels: Labels
    pad: PadForm
    places: dict[str, Place] = field(default_factory=dict)

    def measured(self, node: str, axis: Way, side: Side) -> Place:
        """A part with its size and its label, not yet at its place."""
        pad, region = self.pad, self.pad.region
        kind = self.graph.kind(node)
        half_width, half_height = half_size(kind, axis, pad.scale)
        vent: Way = "up" if axis in ("left", "right") else "right"
        margin = 0.6 * pad.form.note
        rooms = {
            "left": pad.up - region.left - half_width - margin,
            "right": region.right - pad.down - half_width - margin,
        }
        room = rooms.get(side, 10.0 * pad.form.note)
        if kind == "vacuum breaker" and vent == "right":
            room -= VENT * pad.scale
        lines = broken(self.labels.get(node, ()), room, pad)
        return Place(node, kind, 0.0, 0.0, half_width, half_height, axis, side, lines, vent)

    def put(self, place: Place, x: float, y: float) -> Place:
        """Set a part down."""
        self.places[place.node] = done = replace(place, x=x, y=y)
        return done

    def height(self, place: Place) -> float:
        """How much of a rail a part takes. [drawing units]."""
        return sum(self.extent(place))

    def extent(self, place: Place) -> Extent:
        """How much of a rail a part takes above and below its middle. [drawing units]."""
        label = len(place.lines) * pitch(self.pad.form)
        gap = 0.5 * GAP * self.pad.scale
        if place.side in ("left", "right"):
            half = max(place.half_height, 0.5 * label) + gap
            return half, half
        over = place.half_height + 2.0 * self.pad.form.note
        return over, place.half_height + label + gap


def label_width(place: Place, pad: PadForm) -> float:
    """Width of a part's label. [drawing units]."""
    box = place.label_box(pad.form)
    return 0.0 if box is None else box.width


def put_free(sketch: Sketch, place: Place, wanted: tuple[float, float]) -> Place:
    """Set a part down where it is wanted, or at the nearest place where nothing else stands."""
    pad, region = sketch.pad, sketch.pad.region
    taken = [box for other in sketch.places.values() for box in covers(other, pad)]
    # Nothing stands on a rail but its own parts.
    taken += [Box(x - 4.0, region.top, x + 4.0, region.bottom) for x in (pad.up, pad.down)]
    best, best_far = wanted, float("inf")
    step = 12.0
    for i in range(-12, 13):
        for j in range(-14, 15):
            x, y = wanted[0] + j * step, wanted[1] + i * step
            far = abs(i) * 2.0 + abs(j) * 1.0 + 0.1 * (i < 0)
            if far >= best_far:
                continue
            covered = covers(replace(place, x=x, y=y), pad)
            inside = all(
                region.left < box.left
                and box.right < region.right
                and region.top < box.top
                and box.bottom < region.bottom
                for box in covered
            )
            if inside and not any(box.meets(other, 5.0) for box in covered for other in taken):
                best, best_far = (x, y), far
    return sketch.put(place, *best)


def covers(place: Place, pad: PadForm) -> list[Box]:
    """What a part and its label cover."""
    label = place.label_box(pad.form)
    return [place.box] if label is None else [place.box, label]
