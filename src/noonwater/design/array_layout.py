"""Where the panels lie: room on the roof, length of the banks, area, the sensor's plane."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, radians, sin

from noonwater.catalog import bank_panel, panel_named
from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, Rule, counted, percent, shown
from noonwater.hydraulics.bank import bank_places
from noonwater.model.job import Job
from noonwater.model.site import Roof

LONGEST_BANK = 12
LEAST_AREA_SHARE = 0.5
SAME_BEARING = 10.0
SAME_PITCH = 5.0
CLEARANCE = 1e-6
"""[m] A bank exactly as wide as its roof fits."""

PANELS_WIDER_THAN_ROOF = Rule(
    "panels-wider-than-roof",
    "fault",
    limit="banks of a plane, side by side along its eave, no wider than the plane",
    source="geometry",
    remedy="fewer panels on the plane; or another row as a roof plane of its own",
)
PANELS_LONGER_THAN_ROOF = Rule(
    "panels-longer-than-roof",
    "fault",
    limit="panels no longer than the plane's slope length",
    source="geometry",
    remedy="shorter panels, or another plane",
)
BANK_TOO_LONG = Rule(
    "bank-too-long",
    "caution",
    limit=f"at most {LONGEST_BANK} panels on one pair of headers",
    source="one installation manual, maker not named, read: 10 to 12 panels a row",
    remedy="two banks instead of one",
)
ARRAY_TOO_SMALL = Rule(
    "array-too-small",
    "caution",
    limit=f"panels' area at least {percent(LEAST_AREA_SHARE)} of the pool's",
    source="US DOE, Energy Saver, read second-hand: 50 to 100 %, more where it is cool or cloudy",
    remedy="more panels, or an owner who expects less",
)
SENSOR_OFF_THE_PANELS = Rule(
    "sensor-off-the-panels",
    "caution",
    limit=f"sensor in a bank's plane, or in one within {SAME_BEARING:g}° of its bearing and "
    f"{SAME_PITCH:g}° of its pitch with the same exposure",
    source=f"{COMMON_PRACTICE}; the degrees are ours",
    remedy="mount the sensor beside the panels, in their plane",
)


def panels_wider_than_roof(job: Job) -> Iterator[Finding]:
    """Check that a plane's banks have room side by side along its eave, where flow takes them."""
    for number, roof in enumerate(job.roof):
        widths = {
            i: sum(kind.width for kind in place.kinds)
            for i, place in enumerate(bank_places(job))
            if place.bank.roof == roof.name
        }
        if sum(widths.values()) <= roof.width + CLEARANCE:
            continue
        widest = max(widths, key=lambda i: widths[i])
        alone = widths[widest] > roof.width + CLEARANCE
        yield PANELS_WIDER_THAN_ROOF.finding(
            f"array.banks[{widest}].panels" if alone else f"roof[{number}].width",
            value=shown(job, sum(widths.values()), "length"),
            limit=shown(job, roof.width, "length"),
            text=f"The panels on '{roof.name}' do not fit side by side along its eave.",
            remedy=_narrower(job, roof, widest if alone else None),
        )


def _narrower(job: Job, roof: Roof, widest: int | None) -> str:
    """What to do on a plane whose banks need more width; `widest` is a bank too wide by itself."""
    if widest is not None:
        panel = panel_named(job.array.banks[widest].panel, own=job.own_panel)
        room = int((roof.width + CLEARANCE) / panel.width)
        if not room:
            return f"'{roof.name}' is narrower than one panel: use another plane."
        return (
            f"Lay at most {counted(room, 'panel')} of '{panel.name}' side by side on "
            f"'{roof.name}'; put the rest in another bank."
        )
    longest = max(
        panel_named(bank.panel, own=job.own_panel).length
        for bank in job.array.banks
        if bank.roof == roof.name
    )
    if 2.0 * longest > roof.slope_length + CLEARANCE:
        return f"Take panels off '{roof.name}', or move a bank to another plane."
    height = roof.eave_height + longest * sin(radians(roof.pitch))
    return (
        "Put a bank in a second row and enter that row's place as a roof plane of its own, lower "
        f"edge {shown(job, height, 'length')} above the pool's water, so that the pump's lift is "
        "reckoned."
    )


def panels_longer_than_roof(job: Job) -> Iterator[Finding]:
    """Check that a plane's slope is as long as its panels."""
    for number, roof in enumerate(job.roof):
        longest = max(
            (
                place.kinds[at - 1].length
                for place in bank_places(job)
                if place.bank.roof == roof.name
                for at in place.bank.numbers
            ),
            default=0.0,
        )
        if longest > roof.slope_length + CLEARANCE:
            yield PANELS_LONGER_THAN_ROOF.finding(
                f"roof[{number}].slope_length",
                value=shown(job, longest, "length"),
                limit=shown(job, roof.slope_length, "length"),
                text=f"The panels on '{roof.name}' are longer than the plane from eave to ridge.",
                remedy=f"Use panels of at most {shown(job, roof.slope_length, 'length')} there, "
                "or another plane.",
            )


def bank_too_long(job: Job) -> Iterator[Finding]:
    """Check how many panels share one pair of headers."""
    for i, bank in enumerate(job.array.banks):
        panels = len(bank.numbers)
        if panels > LONGEST_BANK:
            parts = ceil(panels / LONGEST_BANK)
            most = ceil(panels / parts)
            yield BANK_TOO_LONG.finding(
                f"array.banks[{i}].panels",
                value=counted(panels, "panel"),
                limit=counted(LONGEST_BANK, "panel"),
                text=f"Bank {i + 1} on '{bank.roof}' hangs more panels on one pair of headers "
                "than they feed evenly.",
                remedy=f"Make {parts} banks of at most {counted(most, 'panel')}.",
            )


def array_too_small(job: Job) -> Iterator[Finding]:
    """Check the panels' area against the pool's."""
    area = sum(len(bank.numbers) * bank_panel(bank, job.own_panel).area for bank in job.array.banks)
    least = LEAST_AREA_SHARE * job.pool.area
    if area < least:
        panel = panel_named(job.array.banks[0].panel, own=job.own_panel)
        more = ceil((least - area) / panel.area - CLEARANCE)
        yield ARRAY_TOO_SMALL.finding(
            "array.banks",
            value=f"{shown(job, area, 'area', 0)}, {percent(area / job.pool.area)} of the pool",
            limit=f"{shown(job, least, 'area', 0)}, {percent(LEAST_AREA_SHARE)} of the pool",
            text="The panels cover less than half of the pool's area and will be felt little.",
            remedy=f"Add {counted(more, 'panel')} of '{panel.name}', or tell the owner what to "
            "expect.",
        )


def sensor_off_the_panels(job: Job) -> Iterator[Finding]:
    """Check that the sensor sees the sky that panels see."""
    name = job.controls.sensor_roof
    if not name or job.controls.kind != "differential":
        return
    sensor = job.roof_named(name)
    planes = dict.fromkeys(bank.roof for bank in job.array.banks)
    if any(_alike(sensor, job.roof_named(plane)) for plane in planes):
        return
    listed = " or ".join(f"'{plane}'" for plane in planes)
    yield SENSOR_OFF_THE_PANELS.finding(
        "controls.sensor_roof",
        value=f"'{name}'",
        limit=listed,
        text=f"The sensor lies on '{name}', where it sees another sun than any of the panels.",
        remedy=f"Mount it beside the panels, on {listed}.",
    )


def _alike(one: Roof, other: Roof) -> bool:
    if one.name == other.name:
        return True
    turned = abs((one.bearing - other.bearing + 180.0) % 360.0 - 180.0)
    return (
        turned <= SAME_BEARING
        and abs(one.pitch - other.pitch) <= SAME_PITCH
        and one.exposure == other.exposure
    )
