"""Signs that the papers' typefaces have; what they lack is printed as an empty box, and told."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

FACES = Path(__file__).parent / "fetched"
BOX = "□"
UNSEEN = ("Cc", "Cf", "Mn", "Me")
"""Unicode's categories of signs that show nothing by themselves: left out where they lack."""
KEPT = "\n\t\u200b"
"""The typesetter's own: ends of lines, and places where a long word may break."""
TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Turn the direction of all that follows: no name needs them, and a page would read backwards."""


def printable(value: Any) -> Any:
    """Put a box in place of each sign that no face has, in all texts of a paper's data.

    Parameters
    ----------
    value : Any
        Text, or what JSON holds.
    """
    if isinstance(value, str):
        return value if value.isascii() and value.isprintable() else _boxed(value)
    if isinstance(value, dict):
        return {key: printable(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [printable(inner) for inner in value]
    return value


def lacking(value: Any) -> str:
    """List the signs in a job's texts that no face has, each once, in their order."""
    return "".join(dict.fromkeys(sign for sign in _signs(value) if _shown(sign) == BOX != sign))


def _signs(value: Any) -> Iterator[str]:
    if isinstance(value, str) and not value.isascii():
        yield from value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _signs(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _signs(inner)


def _boxed(text: str) -> str:
    return "".join(_shown(sign) for sign in text)


def _shown(sign: str) -> str:
    if sign in TURNING:
        return ""
    if sign in KEPT or (sign.isascii() and sign.isprintable()) or ord(sign) in _known():
        return sign
    return "" if unicodedata.category(sign) in UNSEEN else BOX


@cache
def _known() -> frozenset[int]:
    from fontTools.ttLib import TTFont

    found: set[int] = set()
    for face in FACES.glob("*.ttf"):
        with TTFont(face, lazy=True) as font:
            found |= font.getBestCmap().keys()
    return frozenset(found)
