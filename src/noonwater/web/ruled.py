"""Ruled tables of figures."""

from __future__ import annotations

from collections.abc import Sequence

import htpy as h


def ruled(
    heads: Sequence[str],
    rows: Sequence[Sequence[h.Node]],
    caption: str = "",
    chosen: Sequence[int] = (),
    words: bool = False,
) -> h.Element:
    """Lay out a table: the first column names its row.

    Parameters
    ----------
    heads : sequence of str
        Over the columns.
    rows : sequence of rows
        Cells.
    caption : str
        Above.
    chosen : sequence of int
        Rows that stand out.
    words : bool
        Whether the last column holds words, not figures.
    """
    # A wide table scrolls by itself on a phone, and then the keyboard must reach it.
    return h.div(class_="wide-table", tabindex="0", role="group", aria_label=caption or heads[0])[
        h.table(
            class_="ruled words-last" if words else "ruled",
            style=f"--figures:{len(heads) - 1}" if words else None,
        )[
            h.caption[caption] if caption else None,
            h.thead[h.tr[[h.th(scope="col")[head] if head else h.td for head in heads]]],
            h.tbody[
                [
                    h.tr(class_="chosen" if number in chosen else None)[
                        h.th(scope="row")[first], [h.td[cell] for cell in rest]
                    ]
                    for number, (first, *rest) in enumerate(rows)
                ]
            ],
        ]
    ]
