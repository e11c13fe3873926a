"""Papers as HTML: the same blocks as on paper, with boxes to tick and lines to write on.

All text goes in as text. What is ticked or written has a name by its place in the paper, so that a
page can keep it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import count
from typing import Any

import htpy as h
from markupsafe import Markup

from noonwater.document.block import (
    Beside,
    Block,
    Caution,
    Facts,
    Figure,
    Heading,
    PageBreak,
    Paper,
    Paragraph,
    Points,
    Schedule,
    Signatures,
    Steps,
    Together,
)


def paper_page(paper: Paper) -> h.Element:
    """Write a paper as one article.

    Parameters
    ----------
    paper : Paper
        Any paper.

    Returns
    -------
    htpy.Element
        Whatever is ticked or written in it is an input with a name of its own.
    """
    blanks = _Blanks()
    return h.article(class_="sheet paper")[h.h1[paper.title], _blocks(paper.blocks, blanks)]


class _Blanks:
    """Names what can be written on, in the order of the paper."""

    def __init__(self) -> None:
        self._number = count(1)

    def line(self, words: str) -> h.VoidElement:
        return h.input(
            name=f"blank-{next(self._number)}",
            aria_label=words or "to write on",
            autocomplete="off",
        )

    def box(self, *words: h.Node) -> h.Element:
        return h.label(class_="tick")[
            h.input(type="checkbox", name=f"blank-{next(self._number)}"), h.span[words]
        ]


def _blocks(blocks: Sequence[Block], blanks: _Blanks) -> list[h.Node]:
    return [_block(block, blanks) for block in blocks]


def _block(block: Block, blanks: _Blanks) -> h.Node:
    return WRITERS[type(block)](block, blanks)


def _paragraph(block: Paragraph, blanks: _Blanks) -> h.Element:
    text = h.b[block.text] if block.weight == "strong" else block.text
    return h.p(class_="note" if block.weight == "small" else None)[text]


def _steps(block: Steps, blanks: _Blanks) -> h.Element:
    return h.ol(class_="steps")[
        [
            h.li[
                blanks.box(
                    h.b[f"({step.mark}) " if step.mark else None, step.do],
                    h.span(class_="note")[f" {step.see}"] if step.see else None,
                )
            ]
            for step in block.items
        ]
    ]


def _figure(block: Figure, blanks: _Blanks) -> h.Element:
    return h.figure[
        # On a telephone a drawing made for paper scrolls by itself: the keyboard must reach it.
        h.div(class_="drawing", role="img", aria_label=block.alt, tabindex="0")[Markup(block.svg)],
        h.figcaption[block.caption] if block.caption else None,
    ]


def _beside(block: Beside, blanks: _Blanks) -> h.Element:
    halves = (_blocks(half, blanks) for half in (block.left, block.right))
    return h.div(class_="pair")[[h.div[half] for half in halves]]


def _facts(block: Facts, blanks: _Blanks) -> h.Element:
    return h.table(class_="ruled facts")[
        h.tbody[
            [
                h.tr[h.th(scope="row")[name], h.td(class_="words")[value or blanks.line(name)]]
                for name, value in block.rows
            ]
        ]
    ]


def _schedule(block: Schedule, blanks: _Blanks) -> h.Element:
    sides = block.sides or ("left",) * len(block.heads)

    def kind(number: int) -> str | None:
        return "words" if sides[number] == "left" else None

    return h.div(class_="across")[
        h.table(class_="ruled")[
            h.caption[block.caption] if block.caption else None,
            h.thead[
                h.tr[
                    [
                        h.th(scope="col", class_=kind(n))[head] if head else h.td
                        for n, head in enumerate(block.heads)
                    ]
                ]
            ],
            h.tbody[
                [
                    h.tr[
                        [
                            h.td(class_=kind(n))[cell or blanks.line(block.heads[n])]
                            for n, cell in enumerate(row)
                        ]
                    ]
                    for row in block.rows
                ]
            ],
        ]
    ]


WRITERS: dict[type, Callable[[Any, _Blanks], h.Node]] = {
    Heading: lambda block, blanks: h.h2[block.text],
    Paragraph: _paragraph,
    Points: lambda block, blanks: h.ul[[h.li[item] for item in block.items]],
    Facts: _facts,
    Schedule: _schedule,
    Steps: _steps,
    Figure: _figure,
    Caution: lambda block, blanks: h.p(class_="caution")[block.text],
    Signatures: lambda block, blanks: h.div(class_="signed")[
        [h.p[name, blanks.line(name)] for name in block.who]
    ],
    Together: lambda block, blanks: h.fragment[_blocks(block.blocks, blanks)],
    Beside: _beside,
    PageBreak: lambda block, blanks: None,
}
"""How each kind of block is written."""
