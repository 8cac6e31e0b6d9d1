"""Parts the person has (scans, drawings, boxes) as bodies of the scene, in the place of what was drawn for them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from fixturegen.axle.frames import as_point
from fixturegen.bodies.in_the_way import WITH_KNUCKLE, Item
from fixturegen.shapes import solids
from fixturegen.shapes.component_meshes import component_solid
from fixturegen.shapes.meshes import Body, Mesh
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, RIGHT, Thing
from fixturegen.studies.component_records import Component, PlaneShape

STANDS_FOR = {"cover": ("cover",), "housing": ("housing",), "third-member": ("nose", "pinion")}
"""Kinds of parts, and the drawn bodies that are left out for them."""
AT_A_WHEEL = ("brake", "wheel")
"""Kinds of parts that are there once a side, and stand for the drawn body of that side."""
SOFT = {"wheel": "tyre", "exhaust": "flex"}
"""A wheel comes with its tyre; an exhaust hangs in rubber."""
RIDES = {"frame": FRAME, "axle": AXLE, "left": LEFT, "right": RIGHT}


def found_items(
    parts: Iterable[tuple[Component, Mesh]], steered: bool = False
) -> tuple[tuple[Item, ...], frozenset[str], tuple[str, ...]]:
    """The parts as bodies, names of drawn bodies they stand for, and what is to be said of it.

    A part on the axle is not compared with the axle's own bodies, which it is bolted to; one on a knuckle is
    compared with those that the knuckle turns past.

    Args:
        parts: Placed parts with their surface in their own frame; its deflection is their whole accuracy.
        steered: Whether knuckles turn in the poses that are looked at.
    """
    items, gone, notes = [], set(), []
    for part, mesh in parts:
        placed = _placed(part, mesh)
        drawn = _drawn(part, placed)
        gone |= set(drawn)
        if drawn:
            notes.append(f"{part.label} was looked at as you have it, not as it is drawn")
        if steered and part.kind in AT_A_WHEEL and part.moves_with == "axle":
            notes.append(f'{part.label} was not steered: write moves_with = "left" or "right" where it turns')
        if not isinstance(part.shape, PlaneShape) and not _closed(mesh):
            notes.append(f"{part.label} is open: distances to its surface hold, but what lies inside it was not told")
        items.append(_item(part, placed, drawn[0] if drawn else f"part-{part.name}"))
    return tuple(items), frozenset(gone), tuple(notes)


def _closed(mesh: Mesh) -> bool:
    """Whether every edge has two triangles."""
    faces = np.asarray(mesh.faces, dtype=np.int64)
    ends = np.sort(np.stack([faces, np.roll(faces, -1, axis=1)], axis=2).reshape(-1, 2), axis=1)
    _, counts = np.unique(ends[:, 0] * (int(faces.max()) + 1) + ends[:, 1], return_counts=True)
    return bool((counts == 2).all())


def _placed(part: Component, mesh: Mesh) -> Mesh:
    turn, at = np.array(part.rotation, dtype=np.float64), np.array(part.origin, dtype=np.float64)
    return Mesh(np.asarray(mesh.vertices @ turn.T + at, dtype=np.float64), mesh.faces, mesh.deflection)


def _drawn(part: Component, placed: Mesh) -> tuple[str, ...]:
    """Names of the drawn bodies a part stands for."""
    if part.moves_with == "frame":
        return ()
    if part.kind in AT_A_WHEEL:
        side = part.moves_with
        if side == "axle":
            side = "left" if float(placed.bounds[:, 1].mean()) > 0.0 else "right"
        return (f"{part.kind}-{side}",)
    return STANDS_FOR.get(part.kind, ()) if part.moves_with == "axle" else ()


def _item(part: Component, placed: Mesh, name: str) -> Item:
    soft = SOFT.get(part.kind, "")
    rides = RIDES[part.moves_with]
    beside = {f"{head}{rides}" for head in WITH_KNUCKLE} if rides in (LEFT, RIGHT) else set()
    # a mesh alone is told by all it may be off; of what it was made from, what is stated and placed remains
    found = component_solid(part)
    flat = isinstance(part.shape, PlaneShape)
    given = placed.deflection if flat else 0.0 if found is None else placed.deflection - found[1]
    thing = Thing(
        name,
        part.label,
        rides,
        "tyre" if soft == "tyre" else "flex" if soft == "flex" else "",
        own=rides == AXLE,
        beside=frozenset(beside - {name}),
        accuracy=placed.deflection,
        given=given,
    )
    if isinstance(part.shape, PlaneShape):
        turn, at = np.array(part.rotation, dtype=np.float64), np.array(part.origin, dtype=np.float64)
        through = turn @ np.array(part.shape.point) + at
        return Item(thing, plane=(as_point(through), as_point(-turn @ np.array(part.shape.way))))
    form = None if found is None else solids.transformed(found[0], part.rotation, part.origin)
    return Item(thing, mesh=Body(placed, part.label), form=form)
