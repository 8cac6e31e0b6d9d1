"""How this program runs in the interpreter; the same in its first and in its second process."""

from __future__ import annotations

import gc

# [count] of new objects before the collector looks, for each of its three ages
FEW_LOOKS = (50_000, 20, 100)


def look_seldom() -> None:
    """Let the collector look for cycles seldom.

    Start-up makes many records that live as long as the process: looking for cycles among them costs 6 %.
    """
    gc.set_threshold(*FEW_LOOKS)
