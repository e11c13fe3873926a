"""Pipes on the sheet: right-angled lines round the parts, with few bends and fewer crossings."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from noonwater.drawing.pad_ports import End
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import STEPS

Point = tuple[float, float]
Track = tuple[Point, ...]

CLEAR = 5.0
"""[drawing units] Between a pipe and what it passes."""
BEND, CROSSING, RUN_ALONG = 30.0, 120.0, 5000.0
_STUB = 9.0
_GRID = 8.0


@dataclass
class Router:
    """Lays pipes one after the other.

    Attributes
    ----------
    region : Box
        Where they may lie.
    boxes : list of Box
        What they may not pass through.
    tracks : list of tracks
        Those laid.
    """

    region: Box
    boxes: list[Box]
    tracks: list[Track] = field(default_factory=list)

    def lay(self, start: End, stop: End) -> Track:
        """Find the way from one end to the other."""
        best, price = self._cheapest(start, stop)
        if price >= RUN_ALONG:
            searched = self._search(start, stop)
            if searched is not None and self._price(searched) < price:
                best = searched
        self.tracks.append(best)
        return best

    def _cheapest(self, start: End, stop: End) -> tuple[Track, float]:
        """The best of the plain shapes; the first that nothing is in the way of is taken."""
        best: Track = ()
        least = float("inf")
        for points in _shapes(start, stop, self.region):
            track = _tidy(points)
            length = sum(_length(piece) for piece in pairwise(track))
            bare = length + BEND * (len(track) - 2) + _wrong_way(track, start, stop)
            if bare >= least:
                continue
            price = self._price(track) + _wrong_way(track, start, stop)
            if price < least:
                best, least = track, price
            if price <= bare < RUN_ALONG and len(track) <= 3:
                break
        return best, least

    def _price(self, track: Track) -> float:
        price = BEND * (len(track) - 2)
        for piece in pairwise(track):
            price += _length(piece)
            price += RUN_ALONG * sum(passes(piece, box) for box in self.boxes)
            outside = not _within(piece, self.region)
            price += RUN_ALONG * outside
            for other in self.tracks:
                for laid in pairwise(other):
                    price += _conflict(piece, laid)
        # Back over its own start.
        for one, two in pairwise(pairwise(track)):
            price += RUN_ALONG * _doubles_back(one, two)
        return price

    def _search(self, start: End, stop: End) -> Track | None:
        """Find a way on a grid round everything; None where there is none."""
        first, last = _off(start), _off(stop)
        goal = _cell(last)
        origin = _cell(first)
        waiting: list[tuple[float, float, tuple[int, int], tuple[int, int]]] = [
            (0.0, 0.0, origin, (0, 0))
        ]
        came: dict[tuple[tuple[int, int], tuple[int, int]], tuple[tuple[int, int], tuple[int, int]]]
        came = {}
        best = {(origin, (0, 0)): 0.0}
        while waiting:
            _, cost, cell, way = heapq.heappop(waiting)
            if cell == goal:
                return self._walked(came, (cell, way), start, stop)
            if cost > best[cell, way]:
                continue
            for step in ((1, 0), (-1, 0), (0, 1), (0, -1)):
                nxt = (cell[0] + step[0], cell[1] + step[1])
                dear = self._step_price(cell, nxt)
                if dear is None and nxt != goal:
                    continue
                turned = way not in ((0, 0), step)
                total = cost + _GRID + BEND * turned + (dear or 0.0)
                if total < best.get((nxt, step), float("inf")):
                    best[nxt, step] = total
                    came[nxt, step] = (cell, way)
                    rest = _GRID * (abs(goal[0] - nxt[0]) + abs(goal[1] - nxt[1]))
                    heapq.heappush(waiting, (total + rest, total, nxt, step))
        return None

    def _step_price(self, cell: tuple[int, int], nxt: tuple[int, int]) -> float | None:
        piece = (_point(cell), _point(nxt))
        if not _within(piece, self.region) or any(passes(piece, box) for box in self.boxes):
            return None
        return sum(_conflict(piece, laid) for track in self.tracks for laid in pairwise(track))

    def _walked(
        self,
        came: dict[
            tuple[tuple[int, int], tuple[int, int]], tuple[tuple[int, int], tuple[int, int]]
        ],
        at: tuple[tuple[int, int], tuple[int, int]],
        start: End,
        stop: End,
    ) -> Track:
        cells = [at[0]]
        while at in came:
            at = came[at]
            cells.append(at[0])
        inner = _tidy(tuple(_point(cell) for cell in reversed(cells)))
        head = _joined_up(start, inner[0])
        tail = _joined_up(stop, inner[-1])
        return _tidy((*head, *inner, *reversed(tail)))


def _length(piece: tuple[Point, Point]) -> float:
    return abs(piece[0][0] - piece[1][0]) + abs(piece[0][1] - piece[1][1])


def passes(piece: tuple[Point, Point], box: Box) -> bool:
    """Whether a straight piece of pipe goes through a rectangle."""
    (x1, y1), (x2, y2) = piece
    return (
        min(x1, x2) < box.right - 0.1
        and max(x1, x2) > box.left + 0.1
        and min(y1, y2) < box.bottom - 0.1
        and max(y1, y2) > box.top + 0.1
    )


def grown(box: Box, by: float) -> Box:
    """A rectangle with a margin."""
    return Box(box.left - by, box.top - by, box.right + by, box.bottom + by)


def _shapes(start: End, stop: End, region: Box) -> Iterator[Sequence[Point]]:
    """Ways with up to four bends between two ends."""
    a, b = (start.x, start.y), (stop.x, stop.y)
    a1, b1 = _off(start), _off(stop)
    if abs(a[0] - b[0]) < 0.5 or abs(a[1] - b[1]) < 0.5:
        yield a, b
    yield a, (b[0], a[1]), b
    yield a, (a[0], b[1]), b
    for p, q in ((a, b), (a1, b1), (a, b1), (a1, b)):
        yield a, p, (q[0], p[1]), q, b
        yield a, p, (p[0], q[1]), q, b
        for share in (0.5, 0.15, 0.85, 0.3, 0.7):
            x = p[0] + share * (q[0] - p[0])
            y = p[1] + share * (q[1] - p[1])
            yield a, p, (x, p[1]), (x, q[1]), q, b
            yield a, p, (p[0], y), (q[0], y), q, b
        for off in (14.0, 22.0, 32.0, 46.0):
            for x in (min(p[0], q[0]) - off, max(p[0], q[0]) + off):
                yield a, p, (x, p[1]), (x, q[1]), q, b
            for y in (min(p[1], q[1]) - off, max(p[1], q[1]) + off):
                yield a, p, (p[0], y), (q[0], y), q, b


def _wrong_way(track: Track, start: End, stop: End) -> float:
    """Price of leaving an end otherwise than it points."""
    price = 0.0
    for end, (near, far) in ((start, track[:2]), (stop, track[:-3:-1])):
        dx, dy = STEPS[end.way]
        if (far[0] - near[0]) * dx + (far[1] - near[1]) * dy <= 0.0:
            price += RUN_ALONG
    return price


def _off(end: End) -> Point:
    dx, dy = STEPS[end.way]
    return end.x + _STUB * dx, end.y + _STUB * dy


def _tidy(points: Iterable[Point]) -> Track:
    """Leave out points that lie on the straight between their neighbours."""
    kept: list[Point] = []
    for point in points:
        if kept and abs(kept[-1][0] - point[0]) < 0.05 and abs(kept[-1][1] - point[1]) < 0.05:
            continue
        if len(kept) > 1 and _in_line(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept) if len(kept) > 1 else (kept[0], kept[0])


def _in_line(a: Point, b: Point, c: Point) -> bool:
    level = (
        abs(a[1] - b[1]) < 0.05 and abs(b[1] - c[1]) < 0.05 and (b[0] - a[0]) * (c[0] - b[0]) > 0
    )
    upright = (
        abs(a[0] - b[0]) < 0.05 and abs(b[0] - c[0]) < 0.05 and (b[1] - a[1]) * (c[1] - b[1]) > 0
    )
    return level or upright


def _doubles_back(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    (ax, ay), (bx, by) = one
    (_, _), (cx, cy) = two
    level = abs(ay - by) < 0.05 and abs(by - cy) < 0.05 and (bx - ax) * (cx - bx) < 0
    return level or (abs(ax - bx) < 0.05 and abs(bx - cx) < 0.05 and (by - ay) * (cy - by) < 0)


def _conflict(piece: tuple[Point, Point], laid: tuple[Point, Point]) -> float:
    """Price of crossing a pipe, or of lying on or too near it."""
    (x1, y1), (x2, y2) = piece
    (x3, y3), (x4, y4) = laid
    level, other = abs(y1 - y2) < 0.05, abs(y3 - y4) < 0.05
    if level and other:
        shared = min(max(x1, x2), max(x3, x4)) - max(min(x1, x2), min(x3, x4))
        return RUN_ALONG if shared > 0.5 and abs(y1 - y3) < CLEAR else 0.0
    if not level and not other:
        shared = min(max(y1, y2), max(y3, y4)) - max(min(y1, y2), min(y3, y4))
        return RUN_ALONG if shared > 0.5 and abs(x1 - x3) < CLEAR else 0.0
    if level:
        crosses = min(x1, x2) + 0.5 < x3 < max(x1, x2) - 0.5
        return CROSSING if crosses and min(y3, y4) + 0.5 < y1 < max(y3, y4) - 0.5 else 0.0
    crosses = min(y1, y2) + 0.5 < y3 < max(y1, y2) - 0.5
    return CROSSING if crosses and min(x3, x4) + 0.5 < x1 < max(x3, x4) - 0.5 else 0.0


def _within(piece: tuple[Point, Point], region: Box) -> bool:
    return all(
        region.left <= x <= region.right and region.top <= y <= region.bottom for x, y in piece
    )


def _cell(point: Point) -> tuple[int, int]:
    return round(point[0] / _GRID), round(point[1] / _GRID)


def _point(cell: tuple[int, int]) -> Point:
    return cell[0] * _GRID, cell[1] * _GRID


def _joined_up(end: End, near: Point) -> tuple[Point, ...]:
    """From an end onto the grid without leaving its way."""
    upright = end.way in ("up", "down")
    corner = (end.x, near[1]) if upright else (near[0], end.y)
    return (end.x, end.y), corner
