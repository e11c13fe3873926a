"""The permit sheet: site sketch, wet weight, penetrations, electrical notes, cautions."""

from __future__ import annotations

from noonwater.catalog import PanelType
from noonwater.document import block
from noonwater.document.language import Language, mark
from noonwater.document.material import Material
from noonwater.document.roof_figure import (
    bearing_words,
    panels_on,
    pitch_words,
    planes_in_use,
    roof_figure,
)
from noonwater.physics.water import density_water

CAUTION = mark(
    "The local authority decides what needs a permit and what this sheet must show. Whether the "
    "roof carries the weight, and whether panels and fixings hold in the wind and under snow, a "
    "structural engineer says: neither is reckoned here. Work on the roof: secured against a fall."
)
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
        block.Together((block.Heading(say("Plumbing notes")), _plumbing(material, language))),
        block.Signatures((say("contractor, date"), say("for the authority, date"))),
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
    on_planes = [(roof, panels_on(job, roof)) for roof in planes_in_use(job)]
    rows = [
        (
            roof.name,
            f"{pitch_words(roof, language)}, {bearing_words(roof, language)}",
            language.quantity(roof.eave_height, "length", 1),
            *_weight_cells(panels, language),
        )
        for roof, panels in on_planes
    ]
    everything = tuple(panel for _, panels in on_planes for panel in panels)
    if len(rows) > 1:
        rows.append((say("all"), "", "", *_weight_cells(everything, language)))
    figures: list[block.Side] = ["right"] * 6
    sides: tuple[block.Side, ...] = ("left", "left", *figures)
    table = block.Schedule(
        heads, tuple(rows), sides, (1.6, 2.6, 1.2, 0.9, 1, 1, 1, 1.4), total=len(rows) > 1
    )
    note = say(
        "By the area of the panels, headers and their water included; pipes, straps and fixings "
        "are not. The lower edge is above the pool's water. At rest the panels {rest}.",
        rest=say("stay full") if material.rests_full else say("empty themselves"),
    )
    return [block.Together((table, block.Paragraph(note, "small")))]


def _weight_cells(panels: tuple[PanelType, ...], language: Language) -> tuple[str, ...]:
    dry, water = wet_weight(panels)
    area = sum(panel.area for panel in panels)
    return (
        str(len(panels)),
        language.quantity(dry, "mass"),
        language.quantity(water, "mass"),
        language.quantity(dry + water, "mass"),
        language.quantity((dry + water) / area, "mass per area", 1),
    )


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
    from noonwater.design.parts_roof import roof_penetrations

    say = language.say
    held = [row for row in material.parts if row.kind == "hold-down" and row.unit == "each"]
    rows = [(language.part(row.name), language.number(row.quantity)) for row in held]
    rows.append((say("fixings in all"), language.number(roof_penetrations(material.parts))))
    heads = (say("Fixing"), say("Number"))
    table = block.Schedule(heads, tuple(rows), ("left", "right"), (3, 1), total=True)
    text = say(
        "Counted by common practice; the panels' maker, wind and local code decide. Supports of "
        "the roof's pipes come besides. Each hole is sealed as the roof's maker says, or its "
        "warranty may end."
    )
    return [table, block.Paragraph(text, "small")]


def _electrical(material: Material, language: Language) -> block.Points:
    say, job = language.say, material.job
    fastest = max(material.flow.states, key=lambda state: state.power)
    points = [
        say(
            "The pumps take at most {power} from the wire, at {speed} rpm; nothing on the roof is "
            "on line voltage.",
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
    # Pipe is called by its size in inches, wherever it is bought by a schedule.
    inches = round(job.pad.pipe / 0.0254, 2)
    points = [
        say(
            "The loop holds pool water alone and joins no drinking water. Pipe: {size} in, "
            "schedule {schedule}.",
            size=language.number(inches, 0 if inches == round(inches) else 2),
            schedule=job.pad.schedule,
        )
        if job.pad.schedule != "metric"
        else say(
            "The loop holds pool water alone and joins no drinking water. Pipe: {size}, metric.",
            size=language.quantity(job.pad.pipe, "diameter", 0),
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
