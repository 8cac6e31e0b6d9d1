"""On which flank of a bracket the plate between its ears stands, and how far its bolt is from the steel below."""

from __future__ import annotations

from itertools import product

import numpy as np

from fixturegen.brackets.frames import Stand
from fixturegen.parts.joinery import relief_radius
from fixturegen.studies.bracket_records import FlatBase, Mount

BODY_ROOM = 6.0  # from the joint's body to the plate between the ears [mm] (common practice, no source)
DRAIN = 10.0  # left open between that plate and what the bracket stands on [mm] (common practice, no source)
WEB = 1.5  # plate thicknesses of steel beyond a slot [1] (common practice, no source)
WEB_ROOM = 1.0  # over that: room of the slot, and what its relieved corners take [mm]


def slot_steel(x: float, y: float, length: float, thick: float, kerf: float) -> tuple[tuple[float, float, float], ...]:
    """Discs (x, y, radius) of steel that a slot along y needs round its corners [mm].

    Args:
        x: Middle of the slot [mm].
        y: Middle of the slot [mm].
        length: Of its tab [mm].
        thick: Of the plate that enters and of the one with the slot [mm].
        kerf: Measured [mm].
    """
    radius = WEB * thick + WEB_ROOM + 0.5 * relief_radius(kerf)
    return tuple((x + i * thick / 2.0, y + k * length / 2.0, radius) for i, k in product((-1.0, 1.0), repeat=2))


def flank_side(mount: Mount, stand: Stand) -> float:
    """1 or -1: the side of an ear, along its x, on which the plate between the ears stands.

    The flank away from the link, or the lower one where the link pulls straight away.

    Args:
        mount: The bracket.
        stand: Of an ear.
    """
    pull = stand.direction(mount.along)
    down = stand.direction((0.0, 0.0, -1.0))
    side = -np.sign(pull[0]) if abs(pull[0]) > abs(pull[1]) else np.sign(down[0])
    return float(side or 1.0)


def clear_of(mount: Mount) -> float:
    """Distance from the bolt's line to what the bracket stands on, along the ears [mm]."""
    point = np.array(mount.point)
    if isinstance(mount.base, FlatBase):
        return float((point - np.array(mount.base.point)) @ np.array(mount.base.normal))
    off = point - np.array(mount.base.point)
    along = np.array(mount.base.along)
    return float(np.linalg.norm(off - (off @ along) * along)) - mount.base.radius
