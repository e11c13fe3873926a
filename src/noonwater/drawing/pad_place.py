"""Where the parts of a pad stand on the sheet: two rails, rungs between them, spurs beside them."""

from __future__ import annotations

from noonwater.drawing.pad_levels import solved_levels, spread
from noonwater.drawing.pad_rails import Branch
from noonwater.drawing.pad_sketch import Place, Sketch, label_width, put_free
from noonwater.drawing.symbols import OPPOSITE, Way


def place_pad(sketch: Sketch, foot: float, height: float) -> None:
    """Set down all that stands on the pad.

    Parameters
    ----------
    sketch : Sketch
        Added to.
    foot : float
        Where the pool's water begins, down the sheet. [drawing units]
    height : float
        That there is above it for the pad. [drawing units]
    """
    solved = solved_levels(sketch)
    stretch = max(1.0, height / solved.height) if solved.height else 1.0
    lifted = {node: stretch * up for node, up in solved.levels.items()}
    rails = (sketch.rails.up_pad, tuple(reversed(sketch.rails.down_pad)))
    for rail in rails:
        spread(rail, lifted, solved, height)
    for node in rails[0]:
        sketch.put(sketch.measured(node, "up", "left"), sketch.pad.up, foot - lifted[node])
    for node in rails[1]:
        sketch.put(sketch.measured(node, "down", "right"), sketch.pad.down, foot - lifted[node])
    for branch in sketch.rails.branches:
        _place_branch(sketch, branch, foot)


def _place_branch(sketch: Sketch, branch: Branch, foot: float) -> None:
    """Set down a rung or a spur on the pad."""
    places = sketch.places
    if not branch.nodes or any(node in places for node in branch.nodes):
        return
    start, stop = places.get(branch.start), places.get(branch.stop)
    if start is not None and stop is not None:
        (_beside_rail if start.x == stop.x else _between)(sketch, branch, (start, stop))
    elif sketch.pad.stacked and start is not None and len(branch.nodes) > 1:
        _hang(sketch, branch, start)
    else:
        _reach_in(sketch, branch, start, foot)


def _inward(sketch: Sketch, branch: Branch) -> Way:
    return "left" if branch.start in sketch.rails.down else "right"


def _beside_rail(sketch: Sketch, branch: Branch, ends: tuple[Place, Place]) -> None:
    """What bridges a stretch of one rail stands beside it."""
    start, stop = ends
    from_down = branch.start in sketch.rails.down
    offset = (-1.0 if from_down else 1.0) * 52.0 * sketch.pad.scale
    axis: Way = "up" if stop.y < start.y else "down"
    for i, node in enumerate(branch.nodes):
        place = sketch.measured(node, axis, "left" if from_down else "right")
        put_free(sketch, place, (start.x + offset, 0.5 * (start.y + stop.y) + 30.0 * i))


def _between(sketch: Sketch, branch: Branch, ends: tuple[Place, Place]) -> None:
    """A rung: its parts at equal steps from one end to the other."""
    start, stop = ends
    for i, node in enumerate(branch.nodes):
        share = (i + 1) / (len(branch.nodes) + 1)
        place = sketch.measured(node, _inward(sketch, branch), "under")
        put_free(sketch, place, (start.x + share * (stop.x - start.x), start.y))


def _reach_in(sketch: Sketch, branch: Branch, start: Place | None, foot: float) -> None:
    """A spur: its parts in a row from its rail inward."""
    pad, inward = sketch.pad, _inward(sketch, branch)
    sign = -1.0 if inward == "left" else 1.0
    first = sketch.graph.between(branch.start, branch.nodes[0])
    if not all(edge.start == branch.start for edge in first):
        inward = OPPOSITE[inward]
    x = start.x if start is not None else 0.5 * (pad.up + pad.down)
    y = start.y if start is not None else foot - 40.0
    for node in branch.nodes:
        place = sketch.measured(node, inward, "under")
        wide = max(place.half_width, 0.5 * label_width(place, pad))
        x += sign * (wide + 16.0 * pad.scale)
        x = put_free(sketch, place, (x, y)).x + sign * wide


def _hang(sketch: Sketch, branch: Branch, start: Place) -> None:
    """Set a spur's parts one below the other, where there is no room beside each other."""
    pad = sketch.pad
    first = sketch.graph.between(branch.start, branch.nodes[0])
    away = all(edge.start == branch.start for edge in first)
    x, y = start.x + (-1.0 if start.x > pad.up else 1.0) * 44.0 * pad.scale, start.y
    for node in branch.nodes:
        place = sketch.measured(node, "down" if away else "up", "right")
        over, under = sketch.extent(place)
        y += over if node != branch.nodes[0] else 0.0
        put_free(sketch, place, (x, y))
        y += under
