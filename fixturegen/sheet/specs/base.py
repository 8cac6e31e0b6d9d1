"""Base of every section of the sheet, and the few forms its texts take."""

from __future__ import annotations

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
