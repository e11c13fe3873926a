"""Text as browsers send it: half of a sign that was cut in two becomes a mark, the rest stays."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import BeforeValidator

_HALF = re.compile("[\ud800-\udfff]")


def whole_signs(text: object) -> object:
    """Replace halves of signs, which no file can hold, by U+FFFD.

    Parameters
    ----------
    text : object
        What came in, also what JSON holds; what is no text is left to who checks it.
    """
    if isinstance(text, dict):
        return {whole_signs(key): whole_signs(value) for key, value in text.items()}
    if isinstance(text, list):
        return [whole_signs(each) for each in text]
    return _HALF.sub("\ufffd", text) if isinstance(text, str) else text


SentText = Annotated[str, BeforeValidator(whole_signs)]
"""A text field of what a page sends."""
