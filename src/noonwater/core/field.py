"""What a field of the job may hold where it is no quantity: a count, a text of a form, a choice.

Like `Quantity` these are marks on a type. Nothing here needs pydantic until a job file is read.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any


@dataclass(frozen=True)
class Whole:
    """Marks an int field: a whole number with both bounds allowed."""

    meaning: str
    low: int
    high: int

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Check the bounds when a job file is read."""
        return {**handler(source), "ge": self.low, "le": self.high}

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> Any:
        """Describe the field in the published schema."""
        return {**handler(core_schema), "description": self.meaning}


@dataclass(frozen=True)
class Text:
    """Marks a text field of a certain form.

    Attributes
    ----------
    meaning : str
        What the text is, for the messages: "a time of day".
    check : callable
        Raises ValueError for a text that isn't one; gets the text and a name for its message.
    pattern : str
        The form as a regular expression, for the published schema.
    examples : tuple of str
        Texts that are right.
    plain : callable
        Writes a right text in the one form that the rest of the house reads.
    """

    meaning: str
    check: Callable[[str, str], object]
    pattern: str
    examples: tuple[str, ...]
    plain: Callable[[str], str] = str

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Check the form when a job file is read."""
        from pydantic_core import core_schema

        def checked(text: str) -> str:
            self.check(text, "it")
            return self.plain(text)

        return core_schema.no_info_after_validator_function(checked, handler(source))

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> Any:
        """Describe the field in the published schema."""
        return {
            "type": "string",
            "description": self.meaning,
            "pattern": self.pattern,
            "examples": list(self.examples),
        }


@dataclass(frozen=True)
class Items:
    """Marks a tuple field: how many items it takes."""

    meaning: str
    low: int
    high: int

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Check the number when a job file is read."""
        return {**handler(source), "min_length": self.low, "max_length": self.high}

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> Any:
        """Describe the field in the published schema."""
        return {**handler(core_schema), "description": self.meaning}


@dataclass(frozen=True)
class Choice:
    """Marks a union of models that a key of theirs tells apart."""

    key: str

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Choose by the key when a job file is read."""
        from pydantic import Field

        return handler(Annotated[source, Field(discriminator=self.key)])
