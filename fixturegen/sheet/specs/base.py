"""Base of every section of the sheet, and the few forms its texts take."""

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

THREAD = r"^(\d+( \d+/\d+)?|\d+/\d+|#\d{1,2}|M\d+(\.\d+)?)(-\d+| ?x ?\d+(\.\d+)?)$"
"""A thread as people write it: 3/8-24, 1 1/2-12, #10-32, M10x1.5."""

BOLT = r"^(\d+( \d+/\d+)?|\d+/\d+|#\d{1,2}|M\d+(\.\d+)?)(-\d+| ?x ?\d+(\.\d+)?)?$"
"""A thread, or its size alone: 1/2-13, 1/2, M12."""

NAME = r"^[^\x00-\x1f\x7f]*\S[^\x00-\x1f\x7f]*$"
"""One line of text that is not blank."""


class Spec(BaseModel):
    """Base of every section: frozen, no unknown keys, defaults read like given values."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True, defer_build=True)


def usual(value: Any, doc: str, **limits: Any) -> Any:
    """A key that may be left out; what is used then is listed as assumed.

    Args:
        value: What is used, in the words of a sheet.
        doc: What the key means.
        limits: Limits as pydantic's `Field` takes them.
    """
    return Field(value, description=doc, **limits)


def all_usual() -> Any:
    """A section that may be left out because each of its keys may.

    It is made when a sheet is read, not when the module is: a value of the section's own class here would
    have its validator built by itself, beside that of the sheet.
    """
    return Field(default_factory=dict)
