"""Solids of revolution whose outline has arcs."""

from __future__ import annotations

import cadquery as cq

from fixturegen.plate import Loop
from fixturegen.shapes.faces import wire_of
from fixturegen.shapes.kernel import Solid, kernel_faults
from fixturegen.shapes.primitives import transformed, volume


def revolve_loop(loop: Loop) -> Solid:
    """A solid of revolution about Z from a loop of lines and arcs.

    Args:
        loop: Outline in (radius, z), radius >= 0 everywhere [mm].
    """
    with kernel_faults("turned shape", "the revolved outline"):
        axis = cq.Vector(0, 0, 0), cq.Vector(0, 1, 0)
        solid = cq.Solid.revolve(wire_of(loop, "turned shape"), [], 360.0, *axis)
        # an outline that runs the other way round makes a solid inside out
        if volume(solid) < 0.0:
            solid = cq.Solid(solid.wrapped.Reversed())
        return transformed(solid, ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)))
