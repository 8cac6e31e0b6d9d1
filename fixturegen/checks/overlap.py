"""How deep two solids stand in each other, and what a body meets on its way.

Depth of an overlap is 2 V / A of the common solid: its thickness where it is thin, which is what a
fit that is too tight, a weld gap that is too small or a corner that touches has. For thick overlaps
it understates the depth and is far beyond every tolerance all the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fixturegen.checks.scene import (
    DEFLECTION,
    BoxOf,
    Thing,
    gap_of_boxes,
    joined_box,
    moved_box,
)
from fixturegen.plate.part import Vector

TOUCH = 0.05  # depth of an overlap that is still a touch: half of a 0.004 in feeler [mm]
SHALLOW = 0.3  # an overlap this shallow is tried again, nudged [mm]
NUDGES: tuple[Vector, ...] = ((0.013, 0.007, -0.011), (-0.013, -0.007, 0.011))  # [mm]
NEAR = 2.0 * DEFLECTION  # nearer than this two meshes tell nothing [mm]
CLOSE_STEP = 2.0  # step of a motion while two bodies slide along each other [mm]
KERNEL_STEP = 6.0  # of a motion between two cuts by the kernel [mm]
LEAST_STEP = 0.25  # shortest step of a motion [mm]


@dataclass(frozen=True)
class Overlap:
    """Two things in one place.

    Attributes:
        first: The moving thing, where one moves.
        second: The other.
        depth: How deep [mm].
        volume: Of what they share [mm3].
        point: Middle of what they share (3,) [mm].
        travel: How far the first had moved [mm].
    """

    first: Thing
    second: Thing
    depth: float
    volume: float
    point: Vector
    travel: float = 0.0


def overlap(first: Thing, second: Thing, way: Vector = (0.0, 0.0, 0.0), travel: float = 0.0) -> Overlap | None:
    """What two things share, the first shifted by `way` [mm]; None when they only touch."""
    from fixturegen.shapes import solids

    moved = solids.moved(first.solid, *way) if any(way) else first.solid
    return overlap_of(first, second, moved, second.solid, travel)


def overlap_of(first: Thing, second: Thing, one: object, other: object, travel: float = 0.0) -> Overlap | None:
    """What two solids share, named as two things; None when they share nothing.

    Faces that touch along a line (a bar in a hole of its own size) make the kernel report slivers
    that are not there; a shallow overlap counts only when it stays while the second is nudged.
    """
    from fixturegen.shapes import solids

    found = _deepest(first, second, one, other, travel)
    if found is None or not TOUCH < found.depth < SHALLOW:
        return found
    for nudge in NUDGES:
        again = _deepest(first, second, one, solids.moved(other, *nudge), travel)
        if again is None or again.depth <= TOUCH:
            return again
    return found


def _deepest(first: Thing, second: Thing, one: object, other: object, travel: float) -> Overlap | None:
    from fixturegen.shapes.cache import shared_piece

    piece = shared_piece(one, other)
    return None if piece is None else Overlap(first, second, *piece, travel)


@dataclass(frozen=True)
class Passage:
    """How a motion went.

    Attributes:
        hits: First overlap of every pair that met.
        least: Smallest gap kept by pairs that never slid along each other [mm]; None when all did.
        between: Names of that pair.
        point: Where [mm].
        slid: Pairs that slid along each other, and at what travel they first did.
    """

    hits: tuple[Overlap, ...]
    least: float | None
    between: tuple[str, str]
    point: Vector | None
    slid: tuple[tuple[str, str], ...]


def slide(
    moving: Iterable[Thing],
    fixed: Iterable[Thing],
    way: Vector,
    length: float,
    *,
    allowed: float = TOUCH,
    first_only: bool = False,
) -> Passage:
    """What the moving things meet on a straight way.

    While a pair is apart the step is its distance less both deflections, so nothing can be met
    between two steps. While a pair is nearer than both deflections the step is 2 mm; where the
    meshes cross the kernel is asked, at least every 6 mm, which is less than any plate is thick.
    What slides past unseen there is less deep than 0.4 mm.

    Args:
        moving: What moves, all together.
        fixed: What stands still.
        way: Unit direction (3,).
        length: How far [mm].
        allowed: Depth that counts as touching [mm].
        first_only: Stop at the first pair that meets.
    """
    hits: list[Overlap] = []
    slid: list[tuple[str, str]] = []
    least: tuple[float, tuple[str, str], Vector] | None = None
    still = tuple(fixed)
    for one in moving:
        swept = _swept(one.box, way, length)
        for other in still:
            if gap_of_boxes(swept, other.box) > NEAR or (first_only and hits):
                continue
            hit, gap, point = _pair(one, other, way, length, allowed)
            if hit is not None:
                hits.append(hit)
            elif gap is None:
                slid.append((one.name, other.name))
            elif gap < float("inf") and (least is None or gap < least[0]):
                least = (gap, (one.name, other.name), point)
    return Passage(
        tuple(hits),
        least[0] if least else None,
        least[1] if least else ("", ""),
        least[2] if least else None,
        tuple(slid),
    )


def _swept(box: BoxOf, way: Vector, length: float) -> BoxOf:
    return joined_box(box, moved_box(box, _along(way, length)))


def _along(way: Vector, travel: float) -> Vector:
    return way[0] * travel, way[1] * travel, way[2] * travel


def _pair(
    one: Thing, other: Thing, way: Vector, length: float, allowed: float
) -> tuple[Overlap | None, float | None, Vector]:
    """First overlap; else the least gap (None when they slid) and where."""
    from fixturegen.shapes.meshes import mesh_distance, meshes_collide

    travel, least, where = 0.0, float("inf"), (0.0, 0.0, 0.0)
    asked = -KERNEL_STEP
    while True:
        apart = gap_of_boxes(moved_box(one.box, _along(way, travel)), other.box)
        if apart > NEAR:
            # boxes tell how far is safe to go, not how near the things are
            step = apart
        else:
            there = one.shifted(_along(way, travel))
            if meshes_collide(there, other.body):
                here, step = 0.0, CLOSE_STEP
                if travel - asked >= KERNEL_STEP or travel >= length:
                    asked = travel
                    found = overlap(one, other, _along(way, travel), travel)
                    if found is not None and found.depth > allowed:
                        return found, None, found.point
            else:
                measured, point, _ = mesh_distance(there, other.body)
                here = measured - NEAR
                step = max(here, CLOSE_STEP if here < LEAST_STEP else LEAST_STEP)
                if here < least:
                    where = point
            least = min(least, here)
        if travel >= length:
            break
        travel = min(length, travel + step)
    return None, (None if least <= 0.0 else least), where
