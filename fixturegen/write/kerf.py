"""The path of the torch's middle, for a controller that does not allow for the kerf itself."""

from __future__ import annotations

from dataclasses import replace

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Part
from fixturegen.plate.profile import reversed_loop
from fixturegen.write.dxf import cut_diameter


def torch_part(part: Part, kerf: float) -> Part:
    """The part with every contour moved half a kerf into the scrap.

    The outside grows, openings and holes shrink; corners of the outside become arcs, as a torch
    makes them. Pilot marks and marks stay where they are.

    Args:
        part: A plate part.
        kerf: Measured width of the cut [mm]; 0 gives the part back as it is.

    Raises:
        GeometryFault: When an opening is narrower than the kerf.
    """
    if part.profile is None or kerf == 0.0:
        return part
    from fixturegen.shapes.profiles import offset_loop

    outer = offset_loop(part.profile.outer, kerf / 2.0, part.name)
    inner = tuple(
        reversed_loop(offset_loop(reversed_loop(loop), -kerf / 2.0, part.name)) for loop in part.profile.inner
    )
    holes = tuple(_shrunk(hole, kerf, part.name) for hole in part.profile.holes)
    return replace(part, profile=replace(part.profile, outer=outer, inner=inner, holes=holes))


def _shrunk(hole: Hole, kerf: float, name: str) -> Hole:
    cut = cut_diameter(hole)
    if cut is None:
        return hole
    if cut <= kerf:
        raise GeometryFault(name, f"hole of {cut:.2f} mm is no wider than the kerf of {kerf:.2f} mm", "drill it")
    return replace(hole, cut=cut - kerf)
