"""Names for files and numbers."""

from __future__ import annotations

import re


def slug(text: str) -> str:
    """The text in lower-case letters and digits, words joined by hyphens; empty where it has none of them."""
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")
