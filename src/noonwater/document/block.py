"""What a paper is made of: blocks of plain data that the typesetter sets one below the other.

Text in a block is text: nothing in it is ever read as markup.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any, Literal

Side = Literal["left", "right"]


@dataclass(frozen=True)
class Heading:
    """A heading within a paper."""

    text: str
    block: str = field(default="heading", init=False)


@dataclass(frozen=True)
class Paragraph:
    """Plain text; strong text carries an answer, small text a note."""

    text: str
    weight: Literal["plain", "strong", "small"] = "plain"
    block: str = field(default="paragraph", init=False)


@dataclass(frozen=True)
class Points:
    """Short lines that belong together, in no order."""

    items: tuple[str, ...]
    block: str = field(default="points", init=False)


@dataclass(frozen=True)
class Facts:
    """Names and values in two columns, such as a pool's area.

    Attributes
    ----------
    rows : tuple of (str, str)
        Name and value; an empty value is a line to write on.
    """

    rows: tuple[tuple[str, str], ...]
    block: str = field(default="facts", init=False)


@dataclass(frozen=True)
class Schedule:
    """A ruled table.

    Attributes
    ----------
    heads : tuple of str
        One a column.
    rows : tuple of tuple of str
        As many cells as heads; an empty cell is room to write.
    sides : tuple of {"left", "right"}
        How each column is set; figures stand right.
    shares : tuple of float
        How wide each column is against the others; 0 as wide as its text.
    caption : str
        Above the table.
    total : bool
        Whether the last row is a sum.
    roomy : bool
        Whether rows are high enough to write in by hand.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    sides: tuple[Side, ...] = ()
    shares: tuple[float, ...] = ()
    caption: str = ""
    total: bool = False
    roomy: bool = False
    block: str = field(default="schedule", init=False)

    def __post_init__(self) -> None:
        wrong = [row for row in self.rows if len(row) != len(self.heads)]
        if wrong:
            raise ValueError(f"a row of {len(wrong[0])} cells under {len(self.heads)} heads")


@dataclass(frozen=True)
class Step:
    """One thing to do, and what must be seen before the next.

    Attributes
    ----------
    do : str
        The task.
    see : str
        What is seen when it is done; empty where nothing is.
    mark : str
        Number on the drawing of the part that is touched.
    """

    do: str
    see: str = ""
    mark: str = ""


@dataclass(frozen=True)
class Steps:
    """Things to do in order, each with a box to tick."""

    items: tuple[Step, ...]
    block: str = field(default="steps", init=False)


@dataclass(frozen=True)
class Figure:
    """A drawing.

    Attributes
    ----------
    svg : str
        The drawing.
    alt : str
        What it shows, for who can't see it.
    caption : str
        Below it.
    share : float
        Of the width of the text. [-]
    """

    svg: str
    alt: str
    caption: str = ""
    share: float = 1.0
    block: str = field(default="figure", init=False)


@dataclass(frozen=True)
class Caution:
    """A warning, set apart."""

    text: str
    block: str = field(default="caution", init=False)


@dataclass(frozen=True)
class Signatures:
    """Lines to sign on, side by side."""

    who: tuple[str, ...]
    block: str = field(default="signatures", init=False)


@dataclass(frozen=True)
class Together:
    """Blocks that stay on one page."""

    blocks: tuple[Block, ...]
    block: str = field(default="together", init=False)


@dataclass(frozen=True)
class Beside:
    """Two columns of blocks.

    Attributes
    ----------
    left, right : tuple of Block
        What stands in them.
    share : float
        Of the left column. [-]
    """

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    share: float = 0.5
    block: str = field(default="beside", init=False)


@dataclass(frozen=True)
class PageBreak:
    """A new page."""

    block: str = field(default="page break", init=False)


Block = (
    Heading
    | Paragraph
    | Points
    | Facts
    | Schedule
    | Steps
    | Figure
    | Caution
    | Signatures
    | Together
    | Beside
    | PageBreak
)


@dataclass(frozen=True)
class Paper:
    """One document.

    Attributes
    ----------
    name : str
        Of its file, without an ending: "winter".
    title : str
        As the reader sees it.
    blocks : tuple of Block
        What it says.
    """

    name: str
    title: str
    blocks: tuple[Block, ...]

    def data(self) -> list[dict[str, Any]]:
        """Give the blocks as plain data."""
        return [asdict(block) for block in self.blocks]
