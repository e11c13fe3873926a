"""The proposal: what the owner gets, how sure that is, what it saves, what it costs."""

from __future__ import annotations

from noonwater.design.size_year import days_at_target
from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.owner import often, open_months, open_range, year_figure
from noonwater.document.proposal_money import option_blocks, savings_blocks
from noonwater.document.proposal_words import LETTERS, area_words, months_words
from noonwater.document.roof_figure import panels_on, planes_in_use, roof_figure
from noonwater.year.calendar import season_of_step

ESTIMATE = mark("An estimate, not a guarantee.")
CAUTION = mark(
    "The roof is walked and drilled: whether it carries panels full of water and holds them in the "
    "wind a structural engineer says, and its maker's warranty may ask for more. Line voltage and "
    "bonding are a licensed electrician's, gas a licensed fitter's. Water that stood in the panels "
    "in the sun can scald. Suction covers in the pool must be whole and rated for the pump. Local "
    "code and the makers' instructions decide. Grants are granted by those who give them."
)
NOT_INCLUDED = (
    mark("mending of what is there: pump, filter, heater, pipes and electrical service"),
    mark(
        "work on the roof's structure or covering beside the sealed fixings, and cutting of trees"
    ),
    mark("an engineer's report, and what the permit office asks for beyond the permit sheet"),
    mark("electricity of the pump, water, chemicals, opening and closing of the pool"),
    mark("interest of a loan, and what a tax adviser would say"),
)
AT_REST = {
    "full": mark(
        "When the pump stops the water stays in the panels: they are drained before frost, by the "
        "winter sheet."
    ),
    "part": mark(
        "When the pump stops the panels empty themselves but for some water, which is blown out "
        "before frost, by the winter sheet."
    ),
    "empty": mark("When the pump stops the panels empty themselves, against frost."),
}
CONTROLS = {
    "differential": mark(
        "A controller sends the water to the roof when the roof is warmer than the pool, and stops "
        "when the pool is at its aim."
    ),
    "timer": mark("A timer sends the water to the roof in set hours."),
    "hand": mark("You send the water to the roof by hand, with one valve."),
}


def proposal_paper(material: Material, language: Language) -> block.Paper:
    """Write the proposal.

    Parameters
    ----------
    material : Material
        The job with its year, its ranges and its offering.
    language : Language
        To write in.
    """
    say = language.say
    blocks: list[block.Block] = [
        _parties(material, language),
        block.Paragraph(_result(material, language), "strong"),
        block.Paragraph(_gain(material, language)),
        year_figure(material, language),
        block.Paragraph(_estimate(material, language), "small"),
        block.Heading(say("What you get")),
        _get(material, language),
        block.Together((block.Heading(say("On your roof")), roof_figure(material.job, language))),
        block.Heading(say("What it saves")),
        *savings_blocks(material, language),
        block.PageBreak(),
        block.Heading(say("Your choice")),
        *option_blocks(material, language),
        block.Together(
            (
                block.Heading(say("Not included")),
                block.Points(tuple(say(text) for text in NOT_INCLUDED)),
            )
        ),
        block.Caution(say(CAUTION)),
        *_sign(material, language),
    ]
    return block.Paper("proposal", say("Proposal: solar heat for your pool"), tuple(blocks))


def _parties(material: Material, language: Language) -> block.Facts:
    say, profile = language.say, material.profile
    firm = ", ".join(filter(None, (profile.name, *profile.lines)))
    if profile.licence:
        firm += ", " + say("licence {number}", number=profile.licence)
    return block.Facts(
        ((say("for"), ""), (say("address"), ""), (say("from"), firm), (say("good until"), ""))
    )


def _result(material: Material, language: Language) -> str:
    """What the owner feels: the season's range, and its coolest month's."""
    say = language.say
    season = material.sureness.season_pool
    months = open_months(material)
    coolest = min(months, key=lambda month: open_range(material, month)[0])
    text = say(
        "{often}: {range} over the season.",
        often=sentence(often(material, language)),
        range=language.within(season.low, season.high, "temperature"),
    )
    if len(months) < 2:
        return text
    low, high = open_range(material, coolest)
    return (
        text
        + " "
        + say(
            "In its coolest month, {month}: {range}.",
            month=language.month(coolest, short=False),
            range=language.within(low, high, "temperature"),
        )
    )


def _gain(material: Material, language: Language) -> str:
    say, offering, sure = language.say, material.offering, material.sureness
    days, without = offering.designed.days, offering.days_without
    told = say(
        "Without solar your pool is at {target} or warmer on {without} days of its season, with "
        "solar on about {days}: {months} more. In four cases of five it is {low} to {high} days.",
        target=language.setting(material.job.pool.target, "temperature"),
        without=str(without),
        days=str(days),
        months=months_words(days - without, language),
        low=language.number(sure.days_at_target.low),
        high=language.number(sure.days_at_target.high),
    )
    if material.job.heater.kind == "none":
        return told
    pool = material.job.pool
    season = season_of_step(pool.opens, pool.closes, 1).reshape(365, 24)[:, 0]
    alone = days_at_target(material.year.pool_heater_only, pool.target, season)
    heater = say(
        "Your heater helps on the days with solar, and on none of those without; the heater alone "
        "holds {target} on {alone} days.",
        target=language.setting(pool.target, "temperature"),
        alone=str(alone),
    )
    return f"{told} {heater}"


def _estimate(material: Material, language: Language) -> str:
    say, pool = language.say, material.job.pool
    text = say(
        "Reckoned hour by hour for a pool of {area}, {depth} deep, open from {opens} to {closes}, "
        "its cover and the pump's hours as told. Most likely means: four cases of five.",
        area=area_words(pool.area, language),
        depth=language.setting(pool.depth, "length", 2),
        opens=_day(pool.opens, language),
        closes=_day(pool.closes, language),
    )
    left = say(
        "Weather differs from year to year and that is not in the range: a cold spring lies below "
        "it."
    )
    more = f" {left}" if material.sureness.weather_left_out else ""
    return f"{say(ESTIMATE)} {text}{more}"


def _day(day: str, language: Language) -> str:
    month, number = day.split("-")
    name = language.month(int(month), short=False)
    return language.say("{month} {day}", month=name, day=str(int(number)))


def _get(material: Material, language: Language) -> block.Points:
    say, job = language.say, material.job
    area = sum(panel.area for roof in planes_in_use(job) for panel in panels_on(job, roof))
    hand = job.pad.arrangement == "hand diverter"
    points = [
        say(
            "{count} black panels, {area} in all, flat on your roof: {planes}. The pool's own "
            "water runs through them and comes back warmed.",
            count=str(job.array.panels),
            area=area_words(area, language),
            planes=", ".join(roof.name for roof in planes_in_use(job)),
        ),
        say("Your filter pump does the work; nothing on the roof is on line voltage."),
        say(CONTROLS["hand" if hand else job.controls.kind]),
        say(AT_REST[material.at_rest]),
    ]
    if job.controls.cooling_target is not None and not hand:
        warm = language.setting(job.controls.cooling_target, "temperature")
        points.append(
            say("In hot weeks it cools by night when the pool is above {warm}.", warm=warm)
        )
    points.append(
        say(
            "All parts, labour, the first start with its signed record, and sheets for you: what "
            "is normal each month, and what to do before winter."
        )
    )
    return block.Points(tuple(points))


def _sign(material: Material, language: Language) -> list[block.Block]:
    say, profile = language.say, material.profile
    blocks: list[block.Block] = []
    if profile.terms:
        blocks += [block.Heading(say("Terms")), block.Paragraph(profile.terms)]
    letters = LETTERS[: len(material.offering.options)]
    chosen = say("option chosen: {letters}", letters=" / ".join(letters))
    together = (
        block.Paragraph(say("Days, temperatures and savings are an estimate, not a guarantee.")),
        block.Facts(((chosen, ""), (say("changes agreed on"), ""))),
        block.Signatures((say("owner, date"), say("contractor, date"))),
    )
    return [*blocks, block.Together(together)]
