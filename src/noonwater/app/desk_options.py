"""Options of a job on the desk: kept with it, held against it, taken over into it."""

from __future__ import annotations

import json
import secrets
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, is_dataclass
from functools import cached_property
from typing import Any

from noonwater.app.bare_number import with_unit
from noonwater.app.compare_inputs import Change as Differing
from noonwater.app.compare_inputs import changes_between
from noonwater.app.compare_results import Compared, findings_moved
from noonwater.app.desk import Headline, Studied, View, headline, studied
from noonwater.app.desk_money import money_with, owner_pays
from noonwater.app.desk_prices import price_file_of
from noonwater.app.field_words import field_called
from noonwater.app.job_edit import Change
from noonwater.app.job_file import read_job_tables
from noonwater.app.job_place import Tables, place_of, with_text
from noonwater.app.job_tables import Place, Slot, path_text, slot_at, slots
from noonwater.app.money_plain import PlainMoney
from noonwater.app.shelf import Shelf
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.model.job import Job

OPTION = "option"
"""Kind of thing on the shelf."""
MOST_OPTIONS = 5
SPEED_APART = 200.0
"""[rpm] Between the job's speed and the suggested ones. Ours."""
RPM = "rpm"

Setting = tuple[str, str]
"""A field and what is typed into it."""


@dataclass(frozen=True)
class Option:
    """A job with some fields set otherwise.

    Attributes
    ----------
    id : str
        On the shelf.
    settings : tuple of (str, str)
        Fields and what is typed into them.
    """

    id: str
    settings: tuple[Setting, ...]

    @property
    def words(self) -> str:
        """As the command line takes it."""
        return "; ".join(f"{field} = {text}" for field, text in self.settings)


class Shown:
    """The job, or an option of it, with what comes of it.

    Parameters
    ----------
    label : str
        "A" is the job itself.
    view : View
        The job.
    option : Option, optional
        What is set otherwise.
    """

    def __init__(self, label: str, view: View, option: Option | None = None) -> None:
        self.label, self.option, self._view = label, option, view
        self.faults: tuple[Fault, ...] = ()
        self.job: Job | None = view.job
        if option is not None:
            try:
                self.job = optional_job(view.right, option.settings)
            except InputError as error:
                self.job, self.faults = None, error.faults

    @cached_property
    def studied(self) -> Studied | None:
        """Flow, year and findings; None where the option is no job."""
        return None if self.job is None else studied(self.job)

    @cached_property
    def headline(self) -> Headline | None:
        """Its figures in view."""
        if self.job is None or self.studied is None:
            return None
        return headline(self.job, self.studied)

    @cached_property
    def money(self) -> PlainMoney | None:
        """What it costs and saves."""
        return None if self.job is None else money_with(self.job, price_file_of(self._view))

    @property
    def pays(self) -> float | None:
        """What the owner pays."""
        if self.job is None or self.money is None:
            return None
        return owner_pays(self.job, self.money)

    @cached_property
    def changes(self) -> tuple[Differing, ...]:
        """Fields in which it differs from the job."""
        return () if self.job is None else changes_between(self._view.job, self.job)

    def moved_findings(self, first: Shown) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
        """Findings that it has and the first hasn't, and those that are gone."""
        before, after = (_compared(each) for each in (first, self))
        if before is None or after is None:
            return (), ()
        return findings_moved(before.findings, after.findings)


def options_shown(view: View) -> list[Shown]:
    """The job and its options, side by side."""
    found = [Shown("A", view)]
    for label, option in zip("BCDEF", options_of(view), strict=False):
        found.append(Shown(label, view, option))
    return found


def options_of(view: View) -> list[Option]:
    """List the options that are kept with a job."""
    kept = view.shelf.kept(view.state.job, OPTION) if view.shelf else []
    found = sorted(kept, key=lambda each: each.name)
    return [Option(each.name, tuple(map(tuple, json.loads(each.body)))) for each in found]


def add_setting(shelf: Shelf, view: View, setting: Setting, option: str = "") -> None:
    """Set a field otherwise: in an option that is there, or in a new one.

    Parameters
    ----------
    shelf : Shelf
        Of the store.
    view : View
        The job.
    setting : (str, str)
        Field and text as typed.
    option : str
        Id; a new option where empty.

    Raises
    ------
    InputError
        For a field that no job has, a value that it doesn't take, or too many options.
    """
    known = options_of(view)
    found = next((each for each in known if each.id == option), None)
    if found is None:
        if len(known) >= MOST_OPTIONS:
            remedy = "take one out first"
            fault = Fault("options", f"{len(known)} options", f"at most {MOST_OPTIONS}", remedy)
            raise InputError([fault])
        found = Option(f"{time.time_ns():020d}-{secrets.token_hex(3)}", ())
    field, text = field_named(view, setting[0]), setting[1].strip()
    text = with_unit(field, text, view.right, view.system)
    settings = [each for each in found.settings if each[0] != field]
    settings.append((field, text))
    optional_job(view.right, settings)
    body = json.dumps(settings, ensure_ascii=False).encode()
    shelf.keep(view.state.job, OPTION, found.id, body)


def changes_of(view: View, option: str) -> list[Change]:
    """Give an option as edits of the job; none where there is no such option."""
    found = next((each for each in options_of(view) if each.id == option), None)
    return [] if found is None else [Change(field, text) for field, text in found.settings]


def optional_job(tables: Tables, settings: Sequence[Setting]) -> Job:
    """Read a job with some fields set otherwise.

    Raises
    ------
    InputError
        With every fault.
    """
    for field, text in settings:
        place = place_of(field)
        try:
            if place is None:
                raise LookupError(field)
            tables = with_text(tables, place, text)
        except LookupError:
            allowed = "a field of the list, such as “Pump: speed while solar runs”"
            raise InputError([Fault(field or "the field", "no such field", allowed)]) from None
    return read_job_tables(tables)


def fields_of(view: View) -> list[tuple[str, str]]:
    """List every field that an option can set: path, and its name with that of its table."""
    paths = [path_text(place) for place in _places(view.job, Slot(Job), ())]
    return [(path, field_called(path, view.right)) for path in paths]


def field_named(view: View, text: str) -> str:
    """Find the field that somebody names: by its path, or in words if only one has that name.

    Parameters
    ----------
    view : View
        The job.
    text : str
        "pump.solar_speed", "Pump: speed while solar runs" or "speed while solar runs"; given back
        as it is where it names none or several.
    """
    typed, said = text.strip(), text.strip().casefold()
    place = place_of(typed)
    if place and slot_at(place, view.right) is not None:
        return typed
    known = fields_of(view)
    found = [path for path, words in known if words.casefold() == said]
    found = found or [p for p, words in known if words.casefold().endswith(f": {said}")]
    return found[0] if len(found) == 1 else typed


def suggestions(view: View) -> list[tuple[str, Setting]]:
    """Options that are often asked for: words and what they set."""
    return [*_covers(view.job), *_panels(view.job), *_speeds(view.job)]


def _covers(job: Job) -> Iterator[tuple[str, Setting]]:
    from noonwater.design.size import USUAL_COVER

    if job.pool.cover.kind == "none":
        yield f"with a {USUAL_COVER} cover", ("pool.cover.kind", USUAL_COVER)
    else:
        yield "without the cover", ("pool.cover.kind", "none")


def _panels(job: Job) -> Iterator[tuple[str, Setting]]:
    for number, bank in enumerate(job.array.banks):
        field = f"array.banks[{number}].panels"
        more = f"one panel more on bank {number + 1} ({bank.roof})"
        yield more, (field, str(bank.panels + 1))
        if bank.panels > 1 and not bank.changed:
            less = f"one panel less on bank {number + 1} ({bank.roof})"
            yield less, (field, str(bank.panels - 1))


def _speeds(job: Job) -> Iterator[tuple[str, Setting]]:
    from noonwater.design.search import speeds_of

    speed = job.pump.solar_speed
    if speed is None:
        return
    for wanted in (speed - SPEED_APART, speed + SPEED_APART):
        near = min(speeds_of(job), key=lambda each: abs(each - wanted))
        if abs(near - wanted) < SPEED_APART:
            yield f"solar at {near:.0f} rpm", ("pump.solar_speed", f"{near:.0f} {RPM}")


def _places(value: Any, slot: Slot, place: Place) -> Iterator[Place]:
    if slot.models and is_dataclass(value):
        for key, inner in slots(type(value)).items():
            yield from _places(getattr(value, key), inner, (*place, key))
    elif slot.item is not None and slot.item.models:
        for number, item in enumerate(value or ()):
            yield from _places(item, slot.item, (*place, number))
    elif not slot.models:
        yield place


def _compared(shown: Shown) -> Compared | None:
    found = shown.studied
    if found is None or shown.job is None or found.flow is None or found.year is None:
        return None
    return Compared(shown.label, "", shown.job, found.flow, found.year, found.findings)
