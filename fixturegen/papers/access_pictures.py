"""Pictures of what does not come out just so: the thing, where it is stopped, and what stops it."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array
from fixturegen.checks.access import level_of, said
from fixturegen.errors import GeometryFault
from fixturegen.findings import Level
from fixturegen.papers.cut_bodies import piece_in
from fixturegen.papers.report import Picture
from fixturegen.studies.access_records import AccessStudy, Met, Result, Swing

if TYPE_CHECKING:
    from fixturegen.bodies.access import Standing
    from fixturegen.bodies.clearing import Scene
    from fixturegen.shapes.kernel import Shape
    from fixturegen.shapes.meshes import Body, Mesh

Colour = tuple[float, float, float]
MOST = 5  # pictures; the rest is told in the table
THING, ROOM, STOPS, WELDED = (0.93, 0.60, 0.13), (0.96, 0.80, 0.45), (0.16, 0.42, 0.72), (0.70, 0.12, 0.12)
GHOST = (0.62, 0.65, 0.68)
DIM, HALF, SWEPT, CLEAR = 0.13, 0.45, 0.16, 0.55
"""Opacity of what stands beside, of where a thing is stopped, of a handle's sweep, of a tool's room."""
SHOWN = frozenset({"housing", "tube-left", "tube-right", "nose"})  # drawn, though what comes off sits in it
ABOUT = 150.0  # mm round the thing; what lies farther off is cut away
SIZE = (720, 520)
COARSE = 0.8  # mm, sag of the meshes


def access_pictures(scene: Scene, study: AccessStudy) -> tuple[Picture, ...]:
    """One picture of each removal that is not free; of mirror images only the first."""
    from fixturegen.bodies.access import standing
    from fixturegen.studies.access_struts import pose_index

    shown: dict[str, Result] = {}
    for result in study.results:
        if level_of(result) is not Level.PASS:
            shown.setdefault(re.sub(r"\b(left|right)\b|\d+", "", result.removal.label), result)
    pictures = []
    for result in list(shown.values())[:MOST]:
        at = pose_index(scene.tour, result.removal.pose)
        if at is not None:
            pictures.append(_picture(result, standing(scene, at)))
    return tuple(pictures)


def _picture(result: Result, about: tuple[Standing, ...]) -> Picture:
    """The picture, kept between runs by what is in it."""
    first = result.met[0] if result.met else result.nearest
    own = tuple(s for s in about if s.item.thing.name in result.removal.bodies)
    things = _things(result, own, first)
    low, high = _box(things)
    beside = tuple(_beside(result, first, [s for s in about if s not in own], low, high))
    eye = _eye(low, high)

    def drawn() -> bytes:
        from fixturegen.shapes.pictures import picture_bytes

        cut = ((_cut(one, low, high), colour, opacity) for one, colour, opacity in beside)
        return picture_bytes([*things, *(c for c in cut if c[0] is not None)], eye, SIZE, COARSE)

    told = (
        tuple((mesh.digest, colour, opacity) for mesh, colour, opacity in things),
        tuple((one.item.digest, one.pose, colour, opacity) for one, colour, opacity in beside),
        eye, SIZE, COARSE, low.tobytes(), high.tobytes(),
    )  # fmt: skip
    shot = keeping.kept("access-png", keeping.key_of(("access picture", told)), drawn)
    words = f"{said(result)}. Amber: what comes out, or the tool's room; pale amber: where it is stopped, or the "
    words += "handle's sweep; blue: what unbolts; dark red: what is welded on."
    return Picture(base64.b64encode(shot).decode("ascii"), words)


def _things(result: Result, own: tuple[Standing, ...], first: Met | None) -> list[tuple[Mesh, Colour, float]]:
    """What comes out, where it is stopped, rooms of tools and the handle's sweep."""
    from fixturegen.bodies.access import movers, rooms
    from fixturegen.shapes.sweeps import pose_after

    one = result.taken
    parts = movers(one, (s.body for s in own))
    things = [(_mesh(b), THING, 1.0) for b in parts]
    if first is not None and first.travel > 0.0:
        things += [(_mesh(b.at(pose_after(b, one.steps, first.travel))), ROOM, HALF) for b in parts]
    # what stands in a tool's room must be seen through it
    things += [(_mesh(b), THING, CLEAR) for b in rooms(one)]
    if one.swing is not None and (first is None or first.handle or result.barred):
        things.append((_disc(one.swing), ROOM, SWEPT))
    return things


def _beside(
    result: Result, first: Met | None, others: list[Standing], low: Array, high: Array
) -> Iterator[tuple[Standing, Colour, float]]:
    """What stops it in full colour, and what else reaches into the picture, pale."""
    names = {m.name for m in result.met or result.barred} or ({first.name} if first is not None else set())
    for other in others:
        thing = other.item.thing
        if other.item.plane is not None:
            continue
        box = other.body.box
        if bool((box[0] > high).any() or (box[1] < low).any()):
            continue
        # pieces of what telescopes hang on the whole travel: beside the matter they only make pictures change
        piece = thing.whole != thing.name
        if thing.whole in names:
            yield other, WELDED if thing.whole in result.fixed else STOPS, 1.0
        elif not piece and thing.whole not in result.removal.leave - SHOWN:
            yield other, GHOST, DIM


def _cut(one: Standing, low: Array, high: Array) -> Shape | Mesh | None:
    """What of a body lies in a box (3,) to (3,) [mm]; None where nothing does; a mesh is not cut."""
    from fixturegen.shapes import solids

    if one.item.solid is None:
        return _mesh(one.body)
    box = one.body.box
    whole = solids.transformed(one.item.solid, *one.pose)
    if bool((box[0] >= low).all() and (box[1] <= high).all()):
        return whole
    try:
        return piece_in(whole, low, high)
    except GeometryFault:
        return whole


def _mesh(body: Body) -> Mesh:
    from fixturegen.shapes.meshes import Mesh

    return Mesh(body.world(body.mesh.vertices), body.mesh.faces, body.mesh.deflection)


def _disc(swing: Swing) -> Mesh:
    from fixturegen.shapes.sweeps import bar

    foot, axis = np.array(swing.foot), np.array(swing.axis)
    x, y, z = (float(v) for v in foot + axis * swing.height)
    return bar(swing.foot, (x, y, z), 2.0 * swing.reach).mesh


def _box(things: list[tuple[Mesh, Colour, float]]) -> tuple[Array, Array]:
    """Low and high corner (3,) [mm] of what is drawn: the thing on its way, and some room about it."""
    every = np.vstack([mesh.vertices for mesh, _, _ in things])
    return every.min(axis=0) - ABOUT, every.max(axis=0) + ABOUT


def _eye(low: Array, high: Array) -> tuple[float, float, float]:
    """From the side of the axle the thing is on, and from above."""
    middle = (low + high) / 2.0
    return (1.0 if middle[0] >= 0.0 else -1.0), (0.7 if middle[1] >= 0.0 else -0.7), 0.8
