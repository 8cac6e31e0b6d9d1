"""Frozen records of parts: flat profiles, holes, bends, marks; no kernel.

A name is loaded when it is asked for (PEP 562): a check of the sheet alone has no steel.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fixturegen.plate.part import Assembly, Bend, Mark, Part, Placement, Profile, Turned, TurnedStep, Weld
    from fixturegen.plate.profile import Hole, Loop, Purpose, Vertex

__all__ = [
    "Assembly",
    "Bend",
    "Hole",
    "Loop",
    "Mark",
    "Part",
    "Placement",
    "Profile",
    "Purpose",
    "Turned",
    "TurnedStep",
    "Vertex",
    "Weld",
]

_OF_PROFILES = ("Hole", "Loop", "Purpose", "Vertex")


def __getattr__(name: str) -> Any:
    """A record by its name, from the module that holds it."""
    if name not in __all__:
        raise AttributeError(f"module {__name__} has no attribute {name}")
    module = "profile" if name in _OF_PROFILES else "part"
    found = getattr(import_module(f"{__name__}.{module}"), name)
    globals()[name] = found
    return found
