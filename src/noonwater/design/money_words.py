"""Names of parts as sets of words, so that order, case and everyday spellings don't matter."""

from __future__ import annotations

import re

SAME: dict[str, str] = {
    "sch": "schedule",
    "ell": "elbow",
    "ells": "elbow",
    "collector": "panel",
    "90s": "90",
    "45s": "45",
}
"""Everyday spellings of one word."""
LEFT_OUT = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "for",
        "with",
        "on",
        "in",
        "and",
        "to",
        "by",
        "beside",
        "solar",
        "pool",
        "pvc",
        "degree",
        "degrees",
        "deg",
    ]
)
"""Words that tell no two parts of a list apart."""
_PANEL_SIZE = re.compile(r"\b\d+(?:\.\d+)?\s*[x×]\s*\d+(?:\.\d+)?\b")


def part_words(name: str) -> frozenset[str]:
    """Split a name into its words.

    Parameters
    ----------
    name : str
        Of a part, or of a row of a price list whose sizes are taken out.

    Returns
    -------
    frozenset of str
        In lower case and singular; a width and length such as 4x12 left out, since sizes say it.
    """
    plain = _PANEL_SIZE.sub(" ", name.casefold())
    words = re.findall(r"[^\W_]+(?:\.\d+)?", plain)
    return frozenset(SAME.get(word, _singular(word)) for word in words if word not in LEFT_OUT)


def _singular(word: str) -> str:
    long = len(word) > 3 and not word.endswith("ss")
    return word[:-1] if long and word.endswith("s") else word
