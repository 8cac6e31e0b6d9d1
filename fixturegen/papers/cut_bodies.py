"""Bodies cut out for a picture, kept by what is cut: cutting takes longer than drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fixturegen.axle.frames import Array

if TYPE_CHECKING:
    from fixturegen.shapes.kernel import Shape


def piece_in(shape: Shape, low: Array, high: Array) -> Shape | None:
    """What of a shape lies in a box; None where nothing does.

    Args:
        shape: A solid or a compound of solids.
        low: Corner of the box (3,) [mm].
        high: The other corner (3,) [mm].

    Raises:
        GeometryFault: When the kernel cannot cut it.
    """
    from fixturegen.shapes import solids
    from fixturegen.shapes.cache import cached_shape, shape_key

    box = tuple(float(v) for v in (*low, *high))
    piece = cached_shape(("cut", shape_key(shape), box), lambda: solids.common(shape, solids.box(*box)))
    return piece if solids.solids_in(piece) else None
