"""The roof as blocks for a paper, counted from the job's banks."""

from __future__ import annotations

from math import radians, tan

from noonwater.catalog import PanelType, panel_named
from noonwater.core.units import in_system
from noonwater.document import block
from noonwater.document.language import Language, mark
from noonwater.drawing.roof_blocks import BankBlock, PlaneBlock, RoofWords, roof_blocks
from noonwater.model.job import Job
from noonwater.model.plant import Bank
from noonwater.model.site import Roof

POINTS = (
    mark("north"),
    mark("northeast"),
    mark("east"),
    mark("southeast"),
    mark("south"),
    mark("southwest"),
    mark("west"),
    mark("northwest"),
)


def planes_in_use(job: Job) -> tuple[Roof, ...]:
    """Planes that carry panels, in the order of their first bank."""
    return tuple(job.roof_named(name) for name in dict.fromkeys(b.roof for b in job.array.banks))


def panels_on(job: Job, roof: Roof) -> tuple[PanelType, ...]:
    """Panels that are there on a plane, one row each."""
    return tuple(
        panel_named(bank.panel_at(number), own=job.own_panel)
        for bank in job.array.banks
        if bank.roof == roof.name
        for number in bank.numbers
    )


def roof_figure(job: Job, language: Language) -> block.Figure:
    """Draw the planes that carry panels, to one scale.

    Parameters
    ----------
    job : Job
        The job.
    language : Language
        To write in.
    """
    say = language.say
    title = say("The roof with its panels")
    planes = [plane_block(job, roof, language) for roof in planes_in_use(job)]
    words = RoofWords(title, say("eave"), say("N"))
    alt = "; ".join(
        f"{plane.name}, {', '.join((*plane.notes, *(bank.label for bank in plane.banks)))}"
        for plane in planes
    )
    caption = say(
        "Each plane as one sees it square to it, all to one scale. Where on the plane the panels "
        "lie is settled at the site; the arrow points north."
    )
    return block.Figure(roof_blocks(planes, words), f"{title}: {alt}", caption)


def pitch_words(roof: Roof, language: Language) -> str:
    """Tell a plane's pitch: as rise over 12 in US units, in degrees besides."""
    degrees = f"{language.number(roof.pitch)}°"
    if language.system != "US":
        return degrees
    rise = language.number(12.0 * tan(radians(min(roof.pitch, 85.0))), 1)
    return f"{rise.removesuffix('.0').removesuffix(',0')}:12 ({degrees})"


def bearing_words(roof: Roof, language: Language) -> str:
    """Tell which way a plane faces."""
    point = POINTS[round(roof.bearing / 45.0) % 8]
    return f"{language.say(point)}, {language.number(roof.bearing)}°"


def plane_block(job: Job, roof: Roof, language: Language) -> PlaneBlock:
    """Give a plane with its banks as blocks to draw.

    Parameters
    ----------
    job : Job
        The job.
    roof : Roof
        One of its planes.
    language : Language
        To write in.
    """
    banks = [(i, bank) for i, bank in enumerate(job.array.banks, 1) if bank.roof == roof.name]
    notes = (
        language.say("pitch {pitch}", pitch=pitch_words(roof, language)),
        language.say("faces {bearing}", bearing=bearing_words(roof, language)),
    )
    return PlaneBlock(
        roof.name,
        notes,
        roof.width,
        roof.slope_length,
        language.quantity(roof.width, "length", 1),
        language.quantity(roof.slope_length, "length", 1),
        roof.bearing,
        tuple(_bank(job, i, bank, language) for i, bank in banks),
    )


def _bank(job: Job, number: int, bank: Bank, language: Language) -> BankBlock:
    there = set(bank.numbers)
    rows = [panel_named(bank.panel_at(n), own=job.own_panel) for n in range(1, bank.panels + 1)]
    panels = tuple((row.width, row.length, n in there) for n, row in enumerate(rows, 1))
    width, length = sum(row.width for row in rows), max(row.length for row in rows)
    label = language.say("{bank}: {count} panels", bank=str(number), count=str(len(there)))
    if len(there) == 1:
        label = language.say("{bank}: 1 panel", bank=str(number))
    across = language.number(in_system(width, "length", language.system), 1)
    size = f"{across} × {language.quantity(length, 'length', 1)}"
    return BankBlock(label, panels, size, number - 1)
