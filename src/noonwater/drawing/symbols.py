"""Symbols of the pad's parts, in the manner of ISO 14617 and ISO 10628-2 (both from memory).

Each is drawn around a place, along the way that water usually takes through it. A kind without a
symbol of its own is a plain box; its name stands beside it anyway.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import htpy as h

from noonwater.drawing.ink import FINE, GRID, INK, MEDIUM, SHEET, WATER, WATER_TINT
from noonwater.drawing.strokes import Box, hatch, line, number, rectangle

Way = Literal["up", "down", "left", "right"]
STEPS: Mapping[Way, tuple[float, float]] = {
    "up": (0.0, -1.0),
    "down": (0.0, 1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}
OPPOSITE: Mapping[Way, Way] = {"up": "down", "down": "up", "left": "right", "right": "left"}

Point = tuple[float, float]


@dataclass(frozen=True)
class Look:
    """How a symbol is drawn in one state.

    Attributes
    ----------
    x, y : float
        Its middle. [drawing units]
    axis : Way
        Where water usually goes.
    scale : float
        Of the symbol. [-]
    ways : tuple of Way
        Sides at which its pipes are joined, for what has more than two.
    shut : frozenset of Way
        Those of its sides that are shut; all of them where the whole is.
    vent : Way
        Side to which a vacuum breaker opens.
    """

    x: float
    y: float
    axis: Way = "up"
    scale: float = 1.0
    ways: tuple[Way, ...] = ()
    shut: frozenset[Way] = field(default=frozenset())
    vent: Way = "up"

    def at(self, ahead: float, aside: float) -> Point:
        """A point along and across the axis."""
        return self.toward(self.axis, ahead, aside)

    def toward(self, way: Way, ahead: float, aside: float) -> Point:
        """A point along and across a way."""
        dx, dy = STEPS[way]
        k = self.scale
        return self.x + k * (ahead * dx - aside * dy), self.y + k * (ahead * dy + aside * dx)


SIZES: Mapping[str, tuple[float, float]] = {
    "pump": (16.0, 16.0),
    "booster pump": (14.0, 14.0),
    "filter": (17.0, 15.0),
    "heater": (17.0, 15.0),
    "sanitizer": (13.0, 12.0),
    "suction cleaner": (14.0, 11.0),
    "pressure cleaner": (14.0, 11.0),
    "check valve": (10.0, 8.0),
    "diverter": (12.0, 12.0),
    "bypass valve": (11.0, 7.0),
    "isolation valve": (11.0, 7.0),
    "drain": (14.0, 7.0),
    "vacuum breaker": (6.0, 6.0),
    "tee": (2.8, 2.8),
    "plug": (4.0, 6.0),
    "spa": (20.0, 14.0),
    "pool": (24.0, 14.0),
}
"""Half of a symbol's extent along and across its axis. [drawing units]"""

PLAIN = (15.0, 12.0)
VENT = 25.0
"""[drawing units] How far a vacuum breaker's opening stands off the pipe."""


def half_size(kind: str, axis: Way, scale: float) -> tuple[float, float]:
    """Half width and half height of a symbol. [drawing units]."""
    along, across = SIZES.get(kind, PLAIN)
    half = (across, along) if axis in ("up", "down") else (along, across)
    return half[0] * scale, half[1] * scale


def symbol(kind: str, look: Look) -> h.Element:
    """Draw a part.

    Parameters
    ----------
    kind : str
        Of the part; any word.
    look : Look
        Where and how.
    """
    return h.g(class_="symbol")[_SYMBOLS.get(kind, _plain)(look)]


def shape(points: Sequence[Point], *, fill: str = SHEET, weight: float = MEDIUM) -> h.Element:
    """Draw a closed figure in ink."""
    places = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return h.polygon(
        points=places, fill=fill, stroke=INK, stroke_width=f"{weight:.4g}", stroke_linejoin="round"
    )


def stroke(points: Sequence[Point], *, weight: float = FINE, dash: str = "") -> h.Element:
    """Draw an open line in ink."""
    places = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return h.polyline(
        points=places,
        fill="none",
        stroke=INK,
        stroke_width=f"{weight:.4g}",
        stroke_dasharray=dash or None,
        stroke_linejoin="round",
    )


def circle(x: float, y: float, radius: float, *, fill: str = SHEET) -> h.Element:
    """Draw a circle in ink."""
    return h.circle(
        cx=number(x),
        cy=number(y),
        r=number(radius),
        fill=fill,
        stroke=INK,
        stroke_width=f"{MEDIUM:.4g}",
    )


def water_body(box: Box) -> list[h.Element]:
    """Draw an open body of water: walls, tint, the mark of a water level."""
    level = box.top + 0.18 * box.height
    middle = box.right - 16.0
    return [
        rectangle(Box(box.left, level, box.right, box.bottom), fill=WATER_TINT),
        line(box.left, level, box.right, level, WATER, MEDIUM),
        stroke(
            [
                (box.left, box.top),
                (box.left, box.bottom),
                (box.right, box.bottom),
                (box.right, box.top),
            ],
            weight=MEDIUM,
        ),
        shape(
            [(middle, level), (middle - 5.0, level - 8.0), (middle + 5.0, level - 8.0)],
            weight=FINE,
        ),
    ]


def panels_block(box: Box, count: int, marked: frozenset[int]) -> list[h.Element]:
    """Draw the panels of a bank between its headers.

    Parameters
    ----------
    box : Box
        From upper to lower header.
    count : int
        Panels side by side.
    marked : frozenset of int
        Panels to mark, counted from 0.
    """
    step = box.width / max(count, 1)
    marks = [rectangle(box, fill=SHEET)]
    for i in sorted(marked):
        place = Box(box.left + i * step, box.top, box.left + (i + 1) * step, box.bottom)
        marks.append(hatch([place], INK, MEDIUM, 4.0))
    if step >= 3.0:
        lines = (box.left + i * step for i in range(1, count))
        marks += [line(x, box.top, x, box.bottom, GRID, FINE) for x in lines]
    marks.append(rectangle(box, colour=INK, weight=FINE))
    marks.append(line(box.left, box.top, box.right, box.top, INK, 2.0 * MEDIUM))
    marks.append(line(box.left, box.bottom, box.right, box.bottom, INK, 2.0 * MEDIUM))
    return marks


def _fill(look: Look, way: Way) -> str:
    return INK if way in look.shut else SHEET


def _triangle(look: Look, way: Way, reach: float, half: float) -> h.Element:
    """A valve's third or half: its tip in the middle, its base at a side."""
    points = [(look.x, look.y), look.toward(way, reach, half), look.toward(way, reach, -half)]
    return shape(points, fill=_fill(look, way))


def _valve(look: Look) -> list[h.Element]:
    return [_triangle(look, way, 11.0, 7.0) for way in (OPPOSITE[look.axis], look.axis)]


def _diverter(look: Look) -> list[h.Element]:
    ways = look.ways or (OPPOSITE[look.axis], look.axis, "right")
    return [_triangle(look, way, 12.0, 7.5) for way in dict.fromkeys(ways)]


def _check_valve(look: Look) -> list[h.Element]:
    fill = _fill(look, look.axis)
    return [
        shape([look.at(-9.0, 8.0), look.at(-9.0, -8.0), look.at(8.0, 0.0)], fill=fill),
        stroke([look.at(9.0, 8.5), look.at(9.0, -8.5)], weight=1.6 * MEDIUM),
    ]


def _pump(look: Look) -> list[h.Element]:
    radius = SIZES["pump"][0] * look.scale
    corner = [look.at(-7.0, 12.0), look.at(-7.0, -12.0), look.at(15.0, 0.0)]
    return [circle(look.x, look.y, radius - 0.8), shape(corner, weight=FINE)]


def _booster(look: Look) -> list[h.Element]:
    radius = SIZES["booster pump"][0] * look.scale
    corner = [look.at(-6.0, 10.5), look.at(-6.0, -10.5), look.at(13.0, 0.0)]
    return [circle(look.x, look.y, radius - 0.8), shape(corner, weight=FINE)]


def _box(look: Look, half: tuple[float, float]) -> h.Element:
    along, across = half
    return shape(
        [
            look.at(-along, -across),
            look.at(along, -across),
            look.at(along, across),
            look.at(-along, across),
        ]
    )


def _filter(look: Look) -> list[h.Element]:
    return [
        _box(look, SIZES["filter"]),
        stroke([look.at(-17.0, 15.0), look.at(17.0, -15.0)], weight=MEDIUM, dash="4 3"),
    ]


def _heater(look: Look) -> list[h.Element]:
    points = [(-17.0, 0.0), (-9.0, 0.0), (-5.0, 9.0), (5.0, -9.0), (9.0, 0.0), (17.0, 0.0)]
    return [_box(look, SIZES["heater"]), stroke([look.at(*p) for p in points], weight=MEDIUM)]


def _sanitizer(look: Look) -> list[h.Element]:
    drop = [look.at(0.0, -6.0), look.at(6.0, 0.0), look.at(0.0, 6.0), look.at(-6.0, 0.0)]
    return [_box(look, SIZES["sanitizer"]), shape(drop, weight=FINE)]


def _cleaner(look: Look) -> list[h.Element]:
    along, across = SIZES["suction cleaner"]
    x, y = look.x - along * look.scale, look.y - across * look.scale
    width, height = 2.0 * along * look.scale, 2.0 * across * look.scale
    if look.axis in ("up", "down"):
        x, y = look.x - across * look.scale, look.y - along * look.scale
        width, height = height, width
    return [
        h.rect(
            x=number(x),
            y=number(y),
            width=number(width),
            height=number(height),
            rx=number(7.0 * look.scale),
            fill=SHEET,
            stroke=INK,
            stroke_width=f"{MEDIUM:.4g}",
        ),
        stroke([look.at(-8.0, 5.0), look.at(8.0, 5.0)]),
    ]


def _drain(look: Look) -> list[h.Element]:
    # Past the valve an open end: what leaves it runs out.
    x, y = look.at(-3.0, 0.0)
    valve = replace(look, x=x, y=y)
    return [*_valve(valve), stroke([look.at(8.5, -6.0), look.at(13.5, 0.0), look.at(8.5, 6.0)])]


def _breaker(look: Look) -> list[h.Element]:
    fill = INK if look.shut else SHEET
    way = look.vent
    seat = [look.toward(way, 20.0, 6.5), look.toward(way, 20.0, -6.5), look.toward(way, 8.0, 0.0)]
    return [
        stroke([(look.x, look.y), look.toward(way, 8.0, 0.0)], weight=MEDIUM),
        circle(look.x, look.y, 2.8 * look.scale, fill=INK),
        shape(seat, fill=fill),
        stroke([look.toward(way, 8.0, 6.5), look.toward(way, 8.0, -6.5)], weight=1.4 * MEDIUM),
        stroke(
            [look.toward(way, 24.0, 6.5), look.toward(way, 24.0, -6.5)], weight=FINE, dash="2 2"
        ),
    ]


def _tee(look: Look) -> list[h.Element]:
    return [circle(look.x, look.y, SIZES["tee"][0] * look.scale, fill=INK)]


def _plug(look: Look) -> list[h.Element]:
    return [stroke([look.at(0.0, 7.0), look.at(0.0, -7.0)], weight=2.0 * MEDIUM)]


def _body(look: Look) -> list[h.Element]:
    along, across = SIZES["spa"]
    half = (along, across) if look.axis in ("left", "right") else (across, along)
    k = look.scale
    box = Box(
        look.x - half[0] * k, look.y - half[1] * k, look.x + half[0] * k, look.y + half[1] * k
    )
    return [rectangle(box, fill=SHEET), *water_body(box)]


def _plain(look: Look) -> list[h.Element]:
    return [_box(look, PLAIN)]


_SYMBOLS: Mapping[str, Callable[[Look], list[h.Element]]] = {
    "pump": _pump,
    "booster pump": _booster,
    "filter": _filter,
    "heater": _heater,
    "sanitizer": _sanitizer,
    "suction cleaner": _cleaner,
    "pressure cleaner": _cleaner,
    "check valve": _check_valve,
    "diverter": _diverter,
    "bypass valve": _valve,
    "isolation valve": _valve,
    "drain": _drain,
    "vacuum breaker": _breaker,
    "tee": _tee,
    "plug": _plug,
    "pool": _body,
    "spa": _body,
}
