"""Gussets outside the ears of a bracket, under the bolt: they hold it against a force along the bolt."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from fixturegen.brackets.backs import names_of
from fixturegen.brackets.ears import needed_joint
from fixturegen.brackets.flanks import clear_of
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.gussets import LEAST, SLOPE, SNIPE, Gusset, gusset
from fixturegen.brackets.registry import BracketContext
from fixturegen.studies.bracket_records import Mount

WRENCH = 1.8  # bolt diameters from the bolt's line to a gusset below: head, washer and socket (common practice)


def outer_gussets(
    context: BracketContext,
    mount: Mount,
    stands: tuple[Stand, Stand],
    names: list[str],
) -> list[Gusset]:
    """A gusset against the outside of each ear, under the bolt; none without room.

    Args:
        context: The job.
        mount: The bracket.
        stands: Of the ears, the one at the bolt's beginning first.
        names: Of their parts.
    """
    low, top = -clear_of(mount), -WRENCH * needed_joint(mount).shank
    high = top - low
    reach = max(SLOPE * high, SNIPE + LEAST + 4.0)
    if high < LEAST + 2.0 * SNIPE:
        return []
    own = names_of(mount, "gusset")
    made = []
    for stand, face, way, name, side in zip(stands, (0.0, mount.thickness), (-1.0, 1.0), own, names, strict=True):
        x, y = way * stand.rotation[:, 2], stand.rotation[:, 1]
        frame = Stand(np.array(stand.outward(0.0, 0.0, face)), np.stack([x, y, np.cross(x, y)], axis=1))
        made.append(gusset(context, mount, name, side, frame, reach, top))
    if own[0] == own[1]:
        made[0] = replace(made[0], part=replace(made[0].part, quantity=2))
        made[1] = replace(made[1], part=made[0].part)
    return made
