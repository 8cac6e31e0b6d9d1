"""Frozen records of parts: flat profiles, holes, bends, marks; no kernel."""

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
