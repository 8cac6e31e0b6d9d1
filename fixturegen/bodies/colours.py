"""Colours of the groups of the jig, the same in pictures, in the 3-D page and in their legends."""

from __future__ import annotations

Colour = tuple[float, float, float]

# told apart by lightness too, for people who do not see red and green apart
COLOURS: tuple[tuple[str, Colour, str], ...] = (
    ("stand", (0.27, 0.40, 0.58), "stand: dark blue"),
    ("index", (0.78, 0.27, 0.17), "index and puck plate: red"),
    ("steady", (0.49, 0.36, 0.60), "steady: violet"),
    ("cradle", (0.42, 0.56, 0.45), "cradles: grey green"),
    ("clock", (0.90, 0.65, 0.16), "clock plates: amber"),
    ("fingers", (0.22, 0.22, 0.24), "finger bars: black"),
    ("stubs", (0.25, 0.66, 0.75), "stub pins: light blue"),
    ("tie", (0.55, 0.20, 0.48), "tie and keepers: purple"),
    ("ends", (0.25, 0.66, 0.75), "end check discs: light blue"),
)
OTHER: Colour = (0.55, 0.55, 0.55)
GHOST: Colour = (0.78, 0.78, 0.74)
BRACKET: Colour = (0.90, 0.65, 0.16)
HOLDER: Colour = (0.27, 0.40, 0.58)
TURNED: Colour = (0.25, 0.66, 0.75)


def group_colour(group: str) -> Colour:
    """The colour of a group of the jig."""
    return next((c for start, c, _ in COLOURS if group.startswith(start)), OTHER)
