"""How this program runs in the interpreter; the same in its first and in its second process."""

from __future__ import annotations

import gc
import os
import sys
from types import ModuleType

# [count] of new objects before the collector looks, for each of its three ages
FEW_LOOKS = (50_000, 20, 100)


def look_seldom() -> None:
    """Let the collector look for cycles seldom.

    Start-up makes many records that live as long as the process: looking for cycles among them costs 6 %.
    """
    gc.set_threshold(*FEW_LOOKS)


def no_plugins() -> None:
    """Let the validator take no plugins of other packages, and not load what looks for them.

    What else is installed on the machine must not change how a sheet is read; and looking loads the reader of
    package metadata, with the e-mail library behind it: a twentieth of a quick command. The setting says the
    first and is documented; the module put in the place of the one that looks spares the second, and where the
    validator has no such module any more it is never asked for.
    """
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "1"
    quiet = ModuleType("pydantic.plugin._loader", "Looks for no plugins.")
    quiet.get_plugins = tuple  # type: ignore[attr-defined]
    sys.modules.setdefault(quiet.__name__, quiet)
