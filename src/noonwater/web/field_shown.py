"""A field of the job with all that its row on a sheet depends on, and what follows from that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import MISSING, dataclass
from functools import cached_property
from typing import Any, Literal, get_args, get_origin

from noonwater.app.bare_number import NUMBER_ONLY, typed_unit
from noonwater.app.field_names import Name
from noonwater.app.job_place import usual_of
from noonwater.app.job_tables import Place, Slot, path_text, slots
from noonwater.core.errors import Fault
from noonwater.core.field import Choice
from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, in_system, read_quantity, unit_label

YES_NO = {"true": "yes", "false": "no"}


@dataclass(frozen=True)
class Shown:
    """A field as its row shows it: two that are equal have the same row.

    Attributes
    ----------
    place : Place
        Where it lies.
    holder : Slot
        Of the table that it lies in.
    model : type
        That the table is.
    typed : str
        As it stands in the job.
    system : {"US", "SI"}
        That the job shows.
    currency : str
        Of the job's prices.
    names : tuple of Name
        That it can hold; none where it takes any text.
    faults : tuple of Fault
        What is wrong with what was typed.
    """

    place: Place
    holder: Slot
    model: type[Any]
    typed: str
    system: System
    currency: str
    names: tuple[Name, ...] = ()
    faults: tuple[Fault, ...] = ()

    @property
    def key(self) -> str:
        """In its table."""
        return str(self.place[-1])

    @property
    def path(self) -> str:
        """As a person finds it."""
        return path_text(self.place)

    @property
    def identity(self) -> str:
        """What its ids on the page end with."""
        return identity_of(self.place)

    @property
    def slot(self) -> Slot:
        """What it takes."""
        return slots(self.model)[self.key]

    @property
    def mark(self) -> Quantity | None:
        """The quantity that it, or each item of it, is."""
        slot = self.slot
        mark = slot.item.mark if slot.item is not None else slot.mark
        return mark if isinstance(mark, Quantity) else None

    @property
    def unit(self) -> str:
        """For the unit's column; empty where what was typed brings its own."""
        return "" if self.names else self._split[0]

    @property
    def value(self) -> str:
        """As typed, without the unit of its column."""
        return self.typed if self.names else self._split[1]

    @cached_property
    def _split(self) -> tuple[str, str]:
        mark = self.mark
        if mark is None:
            return "", self.typed
        label = unit_label(mark.kind, self.system).replace("currency", self.currency)
        if not self.typed:
            return label, ""
        endings = (typed_unit(mark, self.system, self.currency), label)
        parts = [self.typed]
        if self.slot.item is not None:
            parts = [part.strip() for part in self.typed.split(",")]
        numbers = [_without(part, endings) for part in parts]
        if all(number is not None for number in numbers):
            return label, ", ".join(number or "" for number in numbers)
        return "", self.typed

    @property
    def reading(self) -> str:
        """What a quantity typed in another unit is in the job's own."""
        mark = self.slot.mark
        if not self.typed or not isinstance(mark, Quantity) or mark.kind not in KINDS:
            return ""
        if self._split[0]:
            return ""
        try:
            value = in_system(read_quantity(self.typed, mark), mark.kind, self.system)
        except QuantityError:
            return ""
        label = unit_label(mark.kind, self.system).replace("currency", self.currency)
        return f"= {rounded(value)}{'' if label == '°' else ' '}{label}"

    @property
    def usual(self) -> Any:
        """What holds where nothing is typed; `dataclasses.MISSING` where something must be."""
        return usual_of(self.model, self.key)

    @property
    def usual_text(self) -> str:
        """The same in the job's units; empty where nothing holds."""
        value = self.usual
        if value is MISSING or value is None or value == "":
            return ""
        return _words(value, self.slot, self.system)

    @property
    def options(self) -> list[tuple[str, str]]:
        """Choices of the field, each with its words; none where any text may be typed."""
        if self.names:
            return [(n.name, f"{n.name} ({n.words})" if n.words else n.name) for n in self.names]
        if self.slot.type is bool:
            return list(YES_NO.items())
        mark = self.holder.mark
        if isinstance(mark, Choice) and mark.key == self.key:
            return [
                (choice, choice)
                for model in self.holder.models
                for choice in get_args(slots(model)[mark.key].type)
            ]
        if get_origin(self.slot.type) is Literal:
            return [(str(choice), str(choice)) for choice in get_args(self.slot.type)]
        return []


def identity_of(place: Place) -> str:
    """What the ids on a page of a field or table end with."""
    return "-".join(str(step) for step in place)


def rounded(value: float) -> str:
    """Print a number of a field's usual value or reading: three digits, or the exact few."""
    few = round(value, 1 if abs(value) < 1000 else 0)
    number = (few if abs(value - few) < 1e-9 * abs(value) else float(f"{value:.3g}")) + 0.0
    return f"{number:.15g}" if abs(number) < 10_000 else f"{number:,.0f}"


def _words(value: Any, slot: Slot, system: System) -> str:
    if isinstance(value, tuple):
        inner = slot.item or slot
        return ", ".join(_words(each, inner, system) for each in value)
    if isinstance(slot.mark, Quantity):
        return rounded(in_system(float(value), slot.mark.kind, system))
    text = str(value).lower() if isinstance(value, bool) else str(value)
    return YES_NO.get(text, text)


def _without(text: str, endings: Sequence[str]) -> str | None:
    """A number without its unit; None where it is another unit or no number."""
    for ending in filter(None, endings):
        number = text.removesuffix(ending).strip()
        if text.endswith(ending) and NUMBER_ONLY.fullmatch(number):
            return number
    return None
