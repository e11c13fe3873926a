"""What a pad or a bank may have beyond the plain tie-in, and edits of the filled circuit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from noonwater.core.field import Choice, Whole
from noonwater.core.quantity import Quantity

CheckPlace = Literal["after filter", "roof return"]
IsolationPlace = Literal["feed", "roof return"]
DrainPlace = Literal["feed", "roof return", "array"]
"""At the pad on either roof pipe, or on the roof at the array's low corner, opened by hand."""


@dataclass(frozen=True)
class PanelChange:
    """A panel of a bank that is not like the others: another kind, plugged tubes, or left out."""

    number: Annotated[int, Whole("place in the bank, 1 at the feed", 1, 60)]
    panel: str = ""
    plugged: Annotated[float, Quantity("share", "share of the tubes that are plugged", 0, 0.9)] = (
        0.0
    )
    left_out: bool = False

    def __post_init__(self) -> None:
        """Refuse a panel that is gone and yet described, and a change that changes nothing."""
        if self.left_out and (self.panel or self.plugged):
            raise ValueError(
                "left_out is given with panel or plugged; allowed: left_out alone, for a panel that"
                " is not there"
            )
        if not (self.left_out or self.panel or self.plugged):
            raise ValueError("nothing is changed; allowed: panel, plugged or left_out")


@dataclass(frozen=True)
class Spa:
    """A spa on the same pump and heater; raised, it spills over into the pool."""

    suction_length: Annotated[float, Quantity("length", "spa to pump", 0, 100)]
    return_length: Annotated[float, Quantity("length", "pad to spa", 0, 100)]
    elevation: Annotated[float, Quantity("length", "its water above the pool's", -1, 5)] = 0.0
    spillover: Annotated[
        float, Quantity("share", "how far its return stands open while the pool filters", 0, 1)
    ] = 0.0


@dataclass(frozen=True)
class FittedPiece:
    """Fittings of one kind that an edit adds."""

    kind: str
    count: Annotated[int, Whole("how many", 1, 100)] = 1


AddedKind = Literal[
    "check valve",
    "isolation valve",
    "bypass valve",
    "drain",
    "vacuum breaker",
    "filter",
    "heater",
    "sanitizer",
    "booster pump",
]


@dataclass(frozen=True)
class AddPart:
    """Put a part into a pipe; a drain on a tee; with `to`, into a new branch to another pipe.

    Attributes
    ----------
    pipe : str
        Name of the pipe, as the circuit has it.
    kind : AddedKind
        What is added.
    name : str
        Its name, one that the circuit does not have.
    catalog : str
        Row of the catalog; empty: the plain one of its kind.
    at : float
        Where along the pipe. [-]
    to : str
        Pipe that a branch ends in; empty: the part stands in the pipe itself.
    open : float
        How far a valve stands open, in every state but those that shut or drain. [-]
    """

    action: Literal["add"]
    pipe: str
    kind: AddedKind
    name: str
    catalog: str = ""
    at: Annotated[float, Quantity("share", "where along the pipe", 0, 1)] = 0.5
    to: str = ""
    open: Annotated[float, Quantity("share", "how far a valve stands open", 0, 1)] | None = None


@dataclass(frozen=True)
class RemovePart:
    """Take a part out and join the pipes on both sides of it."""

    action: Literal["remove"]
    part: str


@dataclass(frozen=True)
class SetPipe:
    """Set a pipe's length or size, and add fittings to it."""

    action: Literal["pipe"]
    pipe: str
    length: Annotated[float, Quantity("length", "along the run", 0, 300)] | None = None
    size: Annotated[float, Quantity("diameter", "nominal size", 0.015, 0.2)] | None = None
    slope: Annotated[float, Quantity("share", "fall of its level stretches", -0.2, 1)] | None = None
    fittings: tuple[FittedPiece, ...] = ()


@dataclass(frozen=True)
class SetPart:
    """Set a part's height, or the row of the catalog that it is."""

    action: Literal["part"]
    part: str
    elevation: Annotated[float, Quantity("length", "above the pool's water", -30, 60)] | None = None
    catalog: str = ""


Edit = Annotated[AddPart | RemovePart | SetPipe | SetPart, Choice("action")]
