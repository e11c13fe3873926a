"""Names that a field of the job can hold: of the catalog, of the job's own parts, of its roof."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from noonwater import catalog
from noonwater.app.desk import View
from noonwater.app.job_place import Tables
from noonwater.app.job_tables import Place, value_at
from noonwater.core.units import in_system, show

INCH = 0.0254


@dataclass(frozen=True)
class Name:
    """A name that a field can hold, and what the catalog says of it in a few words."""

    name: str
    words: str = ""


def names_for(view: View, place: Place) -> tuple[Name, ...]:
    """List the names that a field can hold; none where it takes any text.

    Parameters
    ----------
    view : View
        The job.
    place : Place
        Of the field.
    """
    pattern = ".".join("*" if isinstance(step, int) else step for step in place)
    lister = _LISTERS.get(pattern)
    return tuple(lister(view)) if lister else ()


def _pumps(view: View) -> Iterator[Name]:
    for pump in catalog.pumps():
        low, high = f"{pump.lowest_speed:.0f}", f"{pump.highest_speed:.0f}"
        yield Name(pump.name, f"{high} rpm" if low == high else f"{low} to {high} rpm")
    yield from _own(view.state.tables, "own_pump")


def _panels(view: View) -> Iterator[Name]:
    system = view.system
    for panel in catalog.panels():
        across = f"{in_system(panel.width, 'length', system):.1f}"
        yield Name(panel.name, f"{across} × {show(panel.length, 'length', system, 1)}")
    yield from _own(view.state.tables, "own_panel")


def _generic_panels(view: View) -> Iterator[Name]:
    own = {each.name for each in _own(view.state.tables, "own_panel")}
    return (each for each in _panels(view) if each.name not in own)


def _own(tables: Tables, key: str) -> Iterator[Name]:
    items = value_at((key,), tables)
    for item in items if isinstance(items, list) else []:
        if isinstance(item, dict) and isinstance(item.get("name"), str):
            yield Name(item["name"], "your own")


def _or_none(lister: Callable[[View], Iterator[Name]], view: View) -> Iterator[Name]:
    yield Name("none")
    yield from lister(view)


def _parts(kind: str, view: View) -> Iterator[Name]:
    return map(Name, catalog.part_names(kind))


def _roofs(view: View) -> Iterator[Name]:
    items = value_at(("roof",), view.state.tables)
    for item in items if isinstance(items, list) else []:
        if isinstance(item, dict) and isinstance(item.get("name"), str):
            yield Name(item["name"])


def _pipe_sizes(view: View) -> Iterator[Name]:
    for size in catalog.pipes():
        if size.schedule == view.job.pad.schedule:
            yield Name(_size_words(size.nominal, size.schedule))


def _size_words(nominal: float, schedule: str) -> str:
    if schedule == "metric":
        return f"{1000.0 * nominal:g} mm"
    return f"{round(nominal / INCH, 3):g} in"


def _of_circuit(what: str, view: View) -> Iterator[Name]:
    flow: Any = view.studied.flow
    return (Name(each.name) for each in getattr(flow.circuit, what)) if flow else iter(())


_LISTERS: dict[str, Callable[[View], Iterator[Name]]] = {
    "array.banks.*.panel": _panels,
    "array.banks.*.changed.*.panel": _panels,
    "array.banks.*.roof": _roofs,
    "controls.sensor_roof": _roofs,
    "own_panel.*.like": _generic_panels,
    "pump.pump": _pumps,
    "pad.booster": partial(_or_none, _pumps),
    "pad.cleaner_booster": partial(_or_none, _pumps),
    "pad.filter": partial(_parts, "filter"),
    "pad.heater": partial(_parts, "heater"),
    "pad.sanitizer": partial(_parts, "sanitizer"),
    "pad.cleaner": partial(_parts, "cleaner"),
    "pad.check_valve": partial(_parts, "check valve"),
    "pad.edit.*.fittings.*.kind": partial(_parts, "fitting"),
    "pad.pipe": _pipe_sizes,
    "pad.edit.*.size": _pipe_sizes,
    "pad.edit.*.pipe": partial(_of_circuit, "pipes"),
    "pad.edit.*.part": partial(_of_circuit, "parts"),
    "pad.edit.*.to": partial(_of_circuit, "pipes"),
}
