"""What stands beside the pad's drawing: the state in figures, the valves' schedule, the key."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

import htpy as h

from noonwater.core.units import System, show
from noonwater.drawing.ink import FINE, GRID, HAIR, INK, MEDIUM, NOTE
from noonwater.drawing.lettering import (
    Style,
    line_pitch,
    lines_that_fit,
    middle_baseline,
    text_line,
    text_width,
)
from noonwater.drawing.pad_labels import numbered_circle
from noonwater.drawing.pad_lines import Sort, arrow_heads, pipe_line, sort_of
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater
from noonwater.drawing.pad_words import (
    BREAKER_WORDS,
    breaker_gauge,
    least_fed,
    panel_flows,
    position_words,
    size_words,
)
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box, hatch, line, rectangle
from noonwater.drawing.symbols import Look, symbol
from noonwater.model.circuit import Part

CAUTION = (
    "Release the filter's pressure before opening anything. After standing in the sun the array's "
    "water can scald. Never raise suction flow past the covers' rating. Electrical work: licensed "
    "electrician. Local codes and the makers' instructions decide."
)

_KEY_SORTS: dict[Sort, str] = {
    "water": "pool water, where it goes",
    "warmed": "water that has been through the panels",
    "full": "stands full",
    "trapped": "stands full, shut in",
    "empty": "empty: air, or drained",
}

_KEY_KINDS = {
    "check valve": "check valve, passes toward the bar",
    "isolation valve": "valve; all black: shut",
    "bypass valve": "valve; all black: shut",
    "diverter": "diverter; black side: shut",
    "drain": "drain; black: shut",
    "vacuum breaker": "vacuum breaker; black: shut",
}


@dataclass
class Column:
    """A ruled column that is filled from the top.

    Attributes
    ----------
    left, right, y : float
        Its edges, and how far it is filled. [drawing units]
    form : SheetFormat
        Sizes.
    marks : list of htpy elements
        What is in it.
    """

    left: float
    right: float
    y: float
    form: SheetFormat
    marks: list[h.Element] = field(default_factory=list)

    @property
    def row(self) -> float:
        """Height of a row. [drawing units]."""
        return 1.5 * self.form.note

    def head(self, text: str) -> None:
        """Begin a section."""
        style = Style(self.form.note, NOTE, bold=True)
        self.y += 0.5 * self.form.note
        self.marks.append(text_line(self.left, self.y + self.form.note, text, style))
        self.y += 1.45 * self.form.note
        self.rule(INK, FINE)

    def rule(self, colour: str = GRID, weight: float = HAIR) -> None:
        """Draw a rule across."""
        self.marks.append(line(self.left, self.y, self.right, self.y, colour, weight))

    def text(self, text: str, style: Style, most: int) -> None:
        """Set running text."""
        for part in lines_that_fit(text, self.right - self.left, most, style):
            self.marks.append(text_line(self.left, self.y + style.size, part, style))
            self.y += line_pitch(style)

    def pair(self, label: str, value: str) -> None:
        """Set a name and its figure in a row."""
        left, right = Style(self.form.note, NOTE), Style(self.form.note, INK, anchor="end")
        base = middle_baseline(self.y + 0.5 * self.row, left)
        self.marks.append(text_line(self.left, base, label, left))
        self.marks.append(text_line(self.right, base, value, right))
        self.y += self.row
        self.rule()


def head_column(column: Column, subject: Subject) -> None:
    """Set the state's name and what it does.

    Parameters
    ----------
    column : Column
        Filled.
    subject : Subject
        What is told.
    """
    form = column.form
    column.text(subject.water.state.name, Style(form.lead, INK, bold=True), 2)
    column.text(state_sentence(subject.water, subject.system), Style(form.note, NOTE), 5)


def fill_column(column: Column, subject: Subject, pipe: str) -> None:
    """Set figures, schedule, key and cautions.

    Parameters
    ----------
    column : Column
        Filled.
    subject : Subject
        What is told.
    pipe : str
        Size of most pipe, in words.
    """
    form = column.form
    column.head("FIGURES")
    for label, value in figures(subject):
        column.pair(label, value)
    column.head("VALVES IN THIS STATE")
    _schedule(column, subject)
    column.y += 3.0
    column.text(f"{pipe_note(subject, pipe)} Heights are not to scale.", Style(form.note, NOTE), 6)
    column.head("KEY")
    _key(column, subject)
    column.y += 0.5 * form.note
    column.text(CAUTION, Style(form.note, NOTE), 9)


def state_sentence(water: PadWater, system: System) -> str:
    """Say in words what the state does."""
    figures = water.figures
    if figures.rpm <= 0.0:
        return "The pump stands; no water moves."
    if not figures.solar:
        trickle = (
            f", but for a trickle of {show(figures.leak, 'flow', system, 2)} through the diverter"
        )
        return f"Water goes round without the roof{trickle if figures.leak > 0.0 else ''}."
    if not figures.primes:
        return f"Water does not get over the top, {show(figures.lift, 'head', system)} up."
    text = "Water goes over the roof."
    if figures.breaker == "open":
        text = "Water goes over the roof; air comes in at the vacuum breaker."
    if figures.alternative is not None:
        how = "a siphon formed" if figures.alternative.breaker == "shut" else "air at the top"
        flow = show(figures.alternative.array_flow, "flow", system)
        text += f" It can also settle with {how}: {flow} on the roof."
    return text


def figures(subject: Subject) -> list[tuple[str, str]]:
    """Name and value of all that the state is told by."""
    water, system = subject.water, subject.system
    state = water.figures
    rows = [("pump", f"{state.rpm:.0f} rpm" if state.rpm else "off")]
    if state.rpm:
        rows += [
            ("flow through the pump", show(state.flow, "flow", system)),
            ("flow over the roof", show(state.array_flow, "flow", system)),
            ("head of the pump", show(state.head, "head", system)),
            ("power at the wire", f"{state.power:.0f} W"),
        ]
    rows.append(("pressure at the filter", show(state.pressure_filter, "pressure", system)))
    if state.rpm and any(part.kind == "heater" for part in subject.graph.parts.values()):
        rows.append(("flow through the heater", show(state.heater_flow, "flow", system)))
    if state.breaker != "none":
        gauge = breaker_gauge(water)
        shown = "" if gauge is None else f"{show(gauge, 'pressure', system)}, "
        rows.append(("vacuum breaker", shown + BREAKER_WORDS.get(state.breaker, state.breaker)))
    least = _least(subject)
    return rows + ([least] if least else [])


def _least(subject: Subject) -> tuple[str, str] | None:
    found = []
    for bank in subject.graph.banks.values():
        index = least_fed(bank, subject.water)
        if index is not None:
            found.append((panel_flows(bank, subject.water)[index], bank.panels[index].name))
    if not found:
        return None
    flow, name = min(found)
    return f"least fed: {name}", show(flow, "flow", subject.system)


def _schedule(column: Column, subject: Subject) -> None:
    form = column.form
    style = Style(form.note)
    radius = 0.78 * form.note
    for node, count in subject.numbers.items():
        part = subject.graph.parts[node]
        height = max(column.row, 2.0 * radius + 2.0)
        middle = column.y + 0.5 * height
        base = middle_baseline(middle, style)
        position = position_words(part, subject.water)
        room = column.right - column.left - 2.0 * radius - 8.0 - text_width(position, style) - 8.0
        name = f"{part.name}{_extra(part)}"
        lines = lines_that_fit(name, room, 2, style)
        if len(lines) > 1:
            height += line_pitch(style)
        column.marks.append(
            numbered_circle(column.left + radius, column.y + 0.5 * height, count, form)
        )
        middle = column.y + 0.5 * height
        base = middle_baseline(middle, style) - 0.5 * (len(lines) - 1) * line_pitch(style)
        for i, text in enumerate(lines):
            column.marks.append(
                text_line(
                    column.left + 2.0 * radius + 8.0, base + i * line_pitch(style), text, style
                )
            )
        end = Style(form.note, INK, bold=True, anchor="end")
        column.marks.append(text_line(column.right, middle_baseline(middle, end), position, end))
        column.y += height
        column.rule()


def _extra(part: Part) -> str:
    words = [word for word in part.features if word]
    return f", {', '.join(words)}" if words else ""


def pipe_note(subject: Subject, pipe: str) -> str:
    """Say what size all pipe is, and which is of another."""
    pipes = [edge.pipe for edge in subject.graph.edges]
    sizes = Counter(each.nominal for each in pipes)
    usual = max(sizes, key=sizes.__getitem__, default=0.0)
    others: dict[str, list[str]] = {}
    for each in pipes:
        if each.nominal != usual:
            others.setdefault(size_words(each.nominal), []).append(each.name)
    if not others:
        return f"All pipe {pipe}."
    told = "; ".join(f"{size} {', '.join(names)}" for size, names in others.items())
    return f"All pipe {pipe}, but {told}."


def _key(column: Column, subject: Subject) -> None:
    found = {sort_of(edge.pipe, subject.water) for edge in subject.graph.edges}
    for sort, text in _KEY_SORTS.items():
        if sort not in found:
            continue
        y = column.y + 0.5 * column.row
        track = ((column.left, y), (column.left + 34.0, y))
        column.marks.append(pipe_line(track, sort, 1.0))
        column.marks += arrow_heads(track, True, sort, 0.9)
        _key_text(column, text, column.row)
    kinds = [part.kind for part in subject.graph.parts.values()]
    seen: set[str] = set()
    for kind, text in _KEY_KINDS.items():
        if kind in kinds and text not in seen:
            seen.add(text)
            _key_symbol(column, kind, text)
    if _least(subject) is not None:
        mark = Box(column.left + 12.0, column.y + 3.0, column.left + 22.0, column.y + column.row)
        column.marks.append(rectangle(mark, colour=INK, weight=FINE))
        column.marks.append(hatch([mark], INK, MEDIUM, 4.0))
        _key_text(column, "least-fed panel of a bank", column.row + 2.0)


def _key_symbol(column: Column, kind: str, text: str) -> None:
    height = 1.75 * column.form.note
    shut = {"diverter": ("down",), "drain": ("left", "right"), "vacuum breaker": ("up",)}
    look = Look(
        column.left + 17.0,
        column.y + 0.5 * height + (5.0 if kind == "vacuum breaker" else 0.0),
        "right",
        0.62,
        ("left", "right", "down") if kind == "diverter" else (),
        frozenset(shut.get(kind, ())),  # type: ignore[arg-type]
    )
    column.marks.append(symbol(kind, look))
    _key_text(column, text, height)


def _key_text(column: Column, text: str, height: float) -> None:
    style = Style(column.form.note, NOTE)
    room = column.right - column.left - 42.0
    lines: Sequence[str] = lines_that_fit(text, room, 2, style)
    height = max(height, len(lines) * line_pitch(style))
    base = middle_baseline(column.y + 0.5 * height, style)
    base -= 0.5 * (len(lines) - 1) * line_pitch(style)
    for i, part in enumerate(lines):
        column.marks.append(
            text_line(column.left + 42.0, base + i * line_pitch(style), part, style)
        )
    column.y += height
