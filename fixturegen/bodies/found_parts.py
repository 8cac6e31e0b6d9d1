"""Parts the person has (scans, drawings, boxes) as bodies of the scene, in the place of what was drawn for them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.bodies.in_the_way import Item
from fixturegen.shapes.meshes import Body, Mesh
from fixturegen.studies.clearance_records import AXLE, FRAME, Thing
from fixturegen.studies.component_records import Component, PlaneShape

STANDS_FOR = {"cover": ("cover",), "housing": ("housing",), "third-member": ("nose", "pinion")}
"""Kinds of parts, and the drawn bodies that are left out for them."""
SOFT = {"wheel": "tyre", "exhaust": "flex"}
"""A wheel comes with its tyre; an exhaust hangs in rubber."""


def found_items(parts: Iterable[tuple[Component, Mesh]]) -> tuple[tuple[Item, ...], frozenset[str], tuple[str, ...]]:
    """The parts as bodies, names of drawn bodies they stand for, and what is to be said of it.

    A part on the axle is not compared with the axle's own bodies, which it is bolted to.

    Args:
        parts: Placed parts with their surface in their own frame; its deflection is their whole accuracy.
    """
    items, gone, notes = [], set(), []
    for part, mesh in parts:
        drawn = STANDS_FOR.get(part.kind, ()) if part.moves_with == "axle" else ()
        gone |= set(drawn)
        if drawn:
            notes.append(f"{part.label} was looked at as you have it, not as it is drawn")
        items.append(_item(part, mesh, drawn[0] if drawn else f"part-{part.name}"))
    return tuple(items), frozenset(gone), tuple(notes)


def _item(part: Component, mesh: Mesh, name: str) -> Item:
    turn, at = np.array(part.rotation, dtype=np.float64), np.array(part.origin, dtype=np.float64)
    on_axle = part.moves_with == "axle"
    soft = SOFT.get(part.kind, "")
    thing = Thing(
        name,
        part.label,
        AXLE if on_axle else FRAME,
        "tyre" if soft == "tyre" else "flex" if soft == "flex" else "",
        own=on_axle,
        accuracy=mesh.deflection,
    )
    if isinstance(part.shape, PlaneShape):
        through = turn @ np.array(part.shape.point) + at
        return Item(thing, plane=(_point(through), _point(-turn @ np.array(part.shape.way))))
    placed = Mesh(np.asarray(mesh.vertices @ turn.T + at, dtype=np.float64), mesh.faces, mesh.deflection)
    return Item(thing, mesh=Body(placed, part.label))


def _point(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
