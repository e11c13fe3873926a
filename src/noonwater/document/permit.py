"""The permit sheet: site sketch, wet weight, penetrations, electrical notes, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from noonwater.catalog import PanelType
from noonwater.core.units import in_system
from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.roof_figure import (
    bearing_words,
    panels_on,
    pitch_words,
    planes_in_use,
    roof_figure,
)
from noonwater.drawing.pad_words import size_words
from noonwater.physics.water import density_water

CAUTION = mark(
    "The local authority decides what needs a permit and what this sheet must show. Whether the "
    "roof carries the weight, and whether panels and fixings hold in the wind and under snow, a "
    "structural engineer says: neither is reckoned here. Work on the roof: secured against a fall."
)
RESTS = {
    "full": mark("stay full"),
    "part": mark("empty themselves but for what the slope holds back"),
    "empty": mark("empty themselves"),
}
COLD = 4.0
"""[°C] Water is heaviest there; the weight is told for that."""


def permit_paper(material: Material, language: Language) -> block.Paper:
    """Write the permit sheet.

    Parameters
    ----------
    material : Material
        The job, its parts and its flow.
    language : Language
        To write in.
    """
    say = language.say
    blocks: list[block.Block] = [
        block.Caution(say(CAUTION)),
        _site(material, language),
        block.Heading(say("Site sketch")),
        roof_figure(material.job, language),
        block.Heading(say("Weight on the roof, panels full of water")),
        *_weights(material, language),
        block.Heading(say("What goes into the roof")),
        *_penetrations(material, language),
        block.Together((block.Heading(say("Electrical notes")), _electrical(material, language))),
        block.Together(
            (
                block.Heading(say("Plumbing notes")),
                _plumbing(material, language),
                block.Signatures((say("contractor, date"), say("for the authority, date"))),
            )
        ),
    ]
    return block.Paper("permit", say("Permit sheet"), tuple(blocks))


def _site(material: Material, language: Language) -> block.Facts:
    say, job = language.say, material.job
    profile = material.profile
    firm = ", ".join(filter(None, (profile.name, *profile.lines)))
    if profile.licence:
        firm += ", " + say("licence {number}", number=profile.licence)
    place = say(
        "{latitude}°, {longitude}°, {height} above the sea",
        latitude=language.number(job.site.latitude, 2),
        longitude=language.number(job.site.longitude, 2),
        height=language.quantity(job.site.elevation, "length"),
    )
    return block.Facts(
        (
            (say("address"), ""),
            (say("parcel or permit number"), ""),
            (say("place"), place),
            (say("contractor"), firm),
            (say("work"), _work(material, language)),
        )
    )


def _work(material: Material, language: Language) -> str:
    job = material.job
    area = sum(panel.area for roof in planes_in_use(job) for panel in panels_on(job, roof))
    return language.say(
        "{count} unglazed solar panels of polymer, {area} in all, flat on the roof, heat the "
        "pool's own water; the filter pump moves it",
        count=str(job.array.panels),
        area=language.quantity(area, "area"),
    )


def _weights(material: Material, language: Language) -> list[block.Block]:
    say, job = language.say, material.job
    heads = (
        say("Plane"),
        say("Pitch, faces"),
        say("Lower edge"),
        say("Panels"),
        say("Dry"),
        say("Water"),
        say("Wet"),
        say("Wet, by area"),
    )
    weighed = [(roof, _weighed(panels_on(job, roof), language)) for roof in planes_in_use(job)]
    rows = [
        (
            roof.name,
            f"{pitch_words(roof, language)}, {bearing_words(roof, language)}",
            language.quantity(roof.eave_height, "length", 1),
            *_weight_cells(weight, language),
        )
        for roof, weight in weighed
    ]
    if len(rows) > 1:
        everything = [
            sum(column) for column in zip(*(weight for _, weight in weighed), strict=True)
        ]
        rows.append((say("all"), "", "", *_weight_cells(everything, language)))
    figures: list[block.Side] = ["right"] * 6
    sides: tuple[block.Side, ...] = ("left", "left", *figures)
    table = block.Schedule(
        heads, tuple(rows), sides, (1.6, 2.6, 1.2, 0.9, 1, 1, 1, 1.4), total=len(rows) > 1
    )
    note = say(
        "By the area of the panels, headers and their water included; pipes, straps and fixings "
        "are not. The lower edge is above the pool's water. At rest the panels {rest}.",
        rest=say(RESTS[material.at_rest]),
    )
    return [block.Together((table, block.Paragraph(note, "small")))]


def _weighed(panels: tuple[PanelType, ...], language: Language) -> tuple[float, ...]:
    """Count, dry weight, water, area in the reader's units; whole weights, so that sums agree."""
    weights = (ceil(in_system(value, "mass", language.system)) for value in wet_weight(panels))
    area = in_system(sum(panel.area for panel in panels), "area", language.system)
    return (len(panels), *weights, area)


def _weight_cells(weighed: Sequence[float], language: Language) -> tuple[str, ...]:
    count, dry, water, area = weighed
    unit = language.unit("mass")
    shown = (f"{language.number(weight)} {unit}" for weight in (dry, water, dry + water))
    by_area = f"{language.number((dry + water) / area, 1)} {language.unit('mass per area')}"
    return (language.number(count), *shown, by_area)


def wet_weight(panels: tuple[PanelType, ...]) -> tuple[float, float]:
    """Weigh panels.

    Parameters
    ----------
    panels : tuple of PanelType
        One row each.

    Returns
    -------
    tuple of (float, float)
        Dry panels, and the water in them. [kg]
    """
    water = sum(panel.water_volume for panel in panels) * density_water(COLD)
    return sum(panel.mass for panel in panels), float(water)


def _penetrations(material: Material, language: Language) -> list[block.Block]:
    from noonwater.design.parts_list import fixings_by_plane

    say, planes = language.say, fixings_by_plane(material.job)
    names = sorted({name for counts in planes.values() for name in counts})
    rows = [
        (roof, *_counts([counts.get(name, 0) for name in names], language))
        for roof, counts in planes.items()
    ]
    if len(rows) > 1:
        sums = [sum(counts.get(name, 0) for counts in planes.values()) for name in names]
        rows.append((say("all"), *_counts(sums, language)))
    heads = (
        say("Plane"), *(sentence(language.part(name)) for name in names), say("Fixings in all"),
    )  # fmt: skip
    figures: list[block.Side] = ["right"] * (len(names) + 1)
    shares = (2.2, *(1.5 for _ in names), 1.4)
    table = block.Schedule(heads, tuple(rows), ("left", *figures), shares, total=len(rows) > 1)
    text = say(
        "Counted by common practice; the panels' maker, wind and local code decide. Supports of "
        "the roof's pipes come besides. Each hole is sealed as the roof's maker says, or its "
        "warranty may end."
    )
    return [block.Together((table, block.Paragraph(text, "small")))]


def _counts(counts: Sequence[int], language: Language) -> tuple[str, ...]:
    return tuple(language.number(count) for count in (*counts, sum(counts)))


def _electrical(material: Material, language: Language) -> block.Points:
    say, job = language.say, material.job
    fastest = max(material.flow.states, key=lambda state: state.power)
    points = [
        say(
            mark(
                "The pumps take at most {power} from the wire, at {speed} rpm; nothing on the roof "
                "is on line voltage."
            )
            if material.flow.circuit.of_kind("booster pump")
            else mark(
                "The pump takes at most {power} from the wire, at {speed} rpm; nothing on the roof "
                "is on line voltage."
            ),
            power=language.quantity(10.0 * round(fastest.power / 10.0), "power"),
            speed=language.number(fastest.rpm),
        )
    ]
    if job.pad.arrangement == "hand diverter":
        points.append(say("No controller: a hand turns the diverter."))
    elif job.controls.kind == "timer":
        points.append(say("A timer at the pad commands the diverter's actuator, in low voltage."))
    else:
        points.append(
            say(
                "A controller at the pad, with sensors on the roof and in the water and an "
                "actuator on the diverter, all in low voltage, in conduit apart from line voltage."
            )
        )
    points += [
        say(
            "Bonding of pump, heater and metal parts near the water, ground-fault protection, "
            "disconnect in sight: by a licensed electrician, as the local electrical code says."
        ),
    ]
    return block.Points(tuple(points))


def _plumbing(material: Material, language: Language) -> block.Points:
    say, job, circuit = language.say, material.job, material.flow.circuit
    size = size_words(job.pad.pipe)
    points = [
        say(
            "The loop holds pool water alone and joins no drinking water. Pipe: {size}, schedule "
            "{schedule}.",
            size=size,
            schedule=job.pad.schedule,
        )
        if job.pad.schedule != "metric"
        else say(
            "The loop holds pool water alone and joins no drinking water. Pipe: {size}, metric.",
            size=size,
        )
    ]
    targets = material.flow.targets
    if targets is not None:
        points.append(
            say(
                "A start puts at most {most} on the panels; they bear {limit}.",
                most=language.quantity(
                    max(targets.start.flowing, targets.start.standing), "pressure"
                ),
                limit=language.quantity(targets.start.limit, "pressure"),
            )
        )
    if circuit.of_kind("heater"):
        points.append(say("The heater stays as it is; a gas heater is a licensed fitter's."))
    points.append(
        say(
            "The pump draws at most {flow}: the suction covers must be rated for that together.",
            flow=language.quantity(
                max(state.flow for state in material.flow.states),
                "flow",
                0 if language.system == "US" else 1,
            ),
        )
    )
    return block.Points(tuple(points))
