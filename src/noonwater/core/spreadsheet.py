"""What a spreadsheet would run instead of showing it."""

from __future__ import annotations

DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a spreadsheet takes for the start of a formula, and their wide forms."""


def starts_like_formula(text: str) -> bool:
    """Whether a spreadsheet may take a text for a formula, spaces ahead or not."""
    return text.lstrip(" \u00a0").startswith(DANGEROUS)
