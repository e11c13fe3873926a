"""The commissioning sheet: test, fill, set, read, compare, sign."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.expected_tables import reading_blocks, rise_blocks
from noonwater.document.handle_steps import handle_blocks
from noonwater.document.language import Language, mark
from noonwater.document.material import Material
from noonwater.document.set_table import set_table
from noonwater.document.start_steps import start_steps, tests_before

CAUTION = mark(
    "Falls: tie on before you step on the roof. Electricity near water: bonding and breakers are a "
    "licensed electrician's. Pressure: stand away from the filter's clamp at every start, release "
    "the pressure before anything is opened. Never run with a suction cover missing, never pull "
    "more through it than it is rated for. The first water from sun-hot panels scalds. The makers' "
    "instructions and local codes decide."
)


def commissioning_paper(material: Material, language: Language) -> block.Paper:
    """Write the commissioning sheet.

    Parameters
    ----------
    material : Material
        The job with its flow, trace and year.
    language : Language
        To write in.
    """
    say = language.say
    blocks: list[block.Block] = [
        block.Caution(say(CAUTION)),
        _conditions(language),
        block.Heading(say("Before the first start")),
        tests_before(material, language),
        block.Heading(say("Fill, purge and turn to solar")),
        start_steps(material, language),
        *handle_blocks(material, language),
        block.Heading(say("What it is set to")),
        set_table(material.job, language),
        block.Heading(say("What you should read")),
        *reading_blocks(material, language),
        block.Heading(say("How much warmer the water comes back")),
        *rise_blocks(material, language),
        *_sign_off(language),
    ]
    return block.Paper("commissioning", say("Commissioning"), tuple(blocks))


def _conditions(language: Language) -> block.Facts:
    names = (
        language.say("day and hour"),
        language.say("sky, air, wind"),
        language.say("water of the pool"),
        language.say("gauge with the pump off"),
    )
    return block.Facts(tuple((name, "") for name in names))


def _sign_off(language: Language) -> list[block.Block]:
    say = language.say
    return [
        block.Together(
            (
                block.Heading(say("Left as follows")),
                block.Facts(((say("not within the band, and why"), ""), (say("to be done"), ""))),
                block.Signatures((say("commissioned by, date"), say("received by, date"))),
            )
        )
    ]
