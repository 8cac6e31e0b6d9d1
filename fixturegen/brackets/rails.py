"""Whether the feet of a bracket and their beads find room on the side of a rectangular rail."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from fixturegen.brackets.registry import BracketContext
from fixturegen.errors import GeometryFault
from fixturegen.studies.bracket_records import FlatBase, Mount, Seam
from fixturegen.studies.link_inputs import stance_of

RAIL = "rail"
END_ON = 0.5  # [1] a face that looks along the truck by more is no side of a rail that runs along it


def demand_rail_room(context: BracketContext, mount: Mount, seams: Iterable[Seam]) -> None:
    """Refuses feet that reach over the edges of their rail, which runs along the truck.

    Nothing is asked where the sheet does not say how wide that side is.

    Args:
        context: The job.
        mount: The bracket.
        seams: Its beads on what it stands on.

    Raises:
        GeometryFault: With by how much.
    """
    width = mount.spec.rail_width
    if mount.spec.on != RAIL or width is None or not isinstance(mount.base, FlatBase):
        return
    along = stance_of(context.sheet, context.axle).rotation.T @ np.array([1.0, 0.0, 0.0])
    across = np.cross(np.array(mount.base.normal), along)
    if np.linalg.norm(across) < END_ON:
        return
    across = across / np.linalg.norm(across)
    places = [float(np.array(p) @ across) for s in seams for p in (s.begin, s.end)]
    need = max(places) - min(places) + 2.0 * float(mount.spec.leg)
    if need > float(width):
        wide = f"which is {float(width):.1f} mm wide"
        words = f"its feet and their beads take {need:.1f} mm across the {mount.base.words}, {wide}"
        raise GeometryFault(
            mount.label, words, f"make it {need - float(width):.1f} mm narrower, or plate the rail first"
        )
