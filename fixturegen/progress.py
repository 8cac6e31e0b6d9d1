"""How long work tells what it is doing, without knowing who listens."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[str, int, int], None]
"""Called as progress(what, done, total); total 0 where it is not known."""


def silent(what: str, done: int, total: int) -> None:
    """Say nothing."""
