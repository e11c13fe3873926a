"""Arrays of any number of panels: how many fit on a plane, and in which banks they lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil, radians, sin

from noonwater.catalog import panel_named
from noonwater.design.array_layout import CLEARANCE, LONGEST_BANK
from noonwater.model.job import Job
from noonwater.model.plant import Array, Bank
from noonwater.model.site import Roof


@dataclass(frozen=True)
class PlaneRoom:
    """How many panels fit on a plane, in whole rows along its eave.

    Attributes
    ----------
    roof : Roof
        The plane.
    like : Bank
        The bank whose panel and piping new panels take; at most as long.
    columns, rows : int
        Side by side along the eave; one above the other up the slope.
    panel_area : float
        Gross, of one panel. [m²]
    panel_rise : float
        Height of a row's upper edge above its lower one. [m]
    """

    roof: Roof
    like: Bank
    columns: int
    rows: int
    panel_area: float
    panel_rise: float

    @property
    def panels(self) -> int:
        """Panels that fit."""
        return self.columns * self.rows


def plane_room(job: Job, roof: Roof) -> PlaneRoom:
    """Count the panels that fit on a plane.

    Parameters
    ----------
    job : Job
        The job; new panels are those of its longest bank on the plane, else of its longest.
    roof : Roof
        One of its planes, without obstructions, of which a job knows none.

    Returns
    -------
    PlaneRoom
        Without rows where a panel is longer than the slope.
    """
    on_plane = [bank for bank in job.array.banks if bank.roof == roof.name]
    like = max(on_plane or job.array.banks, key=lambda bank: bank.panels)
    panel = panel_named(like.panel, own=job.own_panel)
    return PlaneRoom(
        roof=roof,
        like=like,
        columns=int((roof.width + CLEARANCE) / panel.width),
        rows=int((roof.slope_length + CLEARANCE) / panel.length),
        panel_area=panel.area,
        panel_rise=panel.length * sin(radians(roof.pitch)),
    )


def with_panels(job: Job, rooms: Mapping[str, PlaneRoom], split: Mapping[str, int]) -> Job:
    """Give a job another number of panels.

    Parameters
    ----------
    job : Job
        The job.
    rooms : mapping of str to PlaneRoom
        By the plane's name.
    split : mapping of str to int
        Panels on each plane, at least one in all.

    Returns
    -------
    Job
        Rows fill from the eave up. A row above the first is a plane of its own, as high as it lies,
        so that the pump's lift is reckoned. A sensor on a plane that gets no panels moves to the
        first one that does.
    """
    banks: list[Bank] = []
    planes: list[Roof] = []
    for name, panels in split.items():
        for row, count in enumerate(_rows(rooms[name], panels)):
            plane = _row_plane(rooms[name], row)
            planes += [plane] if row else []
            banks += _banks(rooms[name], plane.name, count)
    used = dict.fromkeys(bank.roof for bank in banks)
    controls = job.controls
    if controls.sensor_roof and controls.sensor_roof not in used:
        controls = replace(controls, sensor_roof=next(iter(used)))
    return replace(job, roof=(*job.roof, *planes), array=Array(tuple(banks)), controls=controls)


def array_area(job: Job) -> float:
    """Gross area of a job's panels. [m²]."""
    return sum(
        len(bank.numbers) * panel_named(bank.panel, own=job.own_panel).area
        for bank in job.array.banks
    )


def shared_out(
    panels: int, shares: Mapping[str, int], rooms: Mapping[str, PlaneRoom]
) -> dict[str, int]:
    """Share panels out over planes as a job has them, largest remainder first, no plane overfull.

    Parameters
    ----------
    panels : int
        In all; no more than fit.
    shares : mapping of str to int
        The job's panels by plane.
    rooms : mapping of str to PlaneRoom
        By the plane's name.

    Returns
    -------
    dict
        Panels by plane, planes without any left out.
    """
    given = dict.fromkeys(shares, 0)
    whole = sum(shares.values())
    for _ in range(panels):
        open_planes = [name for name in shares if given[name] < rooms[name].panels]
        # Each panel goes where it is farthest behind: a count more never takes one from a plane.
        name = max(
            open_planes,
            key=lambda name: shares[name] * (sum(given.values()) + 1) / whole - given[name],
        )
        given[name] += 1
    return {name: count for name, count in given.items() if count}


def _rows(room: PlaneRoom, panels: int) -> list[int]:
    full, rest = divmod(panels, room.columns)
    return [room.columns] * full + ([rest] if rest else [])


def _row_plane(room: PlaneRoom, row: int) -> Roof:
    if not row:
        return room.roof
    length = room.roof.slope_length / room.rows
    return replace(
        room.roof,
        name=f"{room.roof.name}, row {row + 1}",
        slope_length=room.roof.slope_length - row * length,
        eave_height=room.roof.eave_height + row * room.panel_rise,
    )


def _banks(room: PlaneRoom, plane: str, panels: int) -> list[Bank]:
    longest = min(room.like.panels, LONGEST_BANK)
    parts = ceil(panels / longest)
    counts = [panels // parts + (part < panels % parts) for part in range(parts)]
    return [Bank(plane, count, room.like.panel, room.like.piping) for count in counts]
