"""Where the parts a person has stand: axle parts in frame A, parts of the chassis in V at ride height."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np

from fixturegen.axle.frames import Array, as_point, turn_about_y
from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import AxleModel, Point
from fixturegen.sheet.slugs import slug
from fixturegen.sheet.specs import Component as Spec
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.components import BoltCircle, NamedPoint
from fixturegen.studies.component_records import (
    UPRIGHT,
    BoxShape,
    Component,
    FileShape,
    OutlineShape,
    PlaneShape,
    Shape,
    Turn,
)
from fixturegen.studies.link_inputs import stance_of
from fixturegen.studies.rigid_fit import RigidFit, best_fit

ROOT_THREE = math.sqrt(3.0)
"""Three coordinates, each out by a tolerance, put a point out by this many of them."""


def components_of(sheet: Sheet, axle: AxleModel, folder: Path) -> tuple[Component, ...]:
    """Every component of the sheet, in its order, placed; no file is opened.

    Args:
        sheet: Free of contradictions.
        axle: Its axle.
        folder: The sheet's own; files stand beside it.
    """
    stance = stance_of(sheet, axle)
    return tuple(_component(spec, axle, stance, folder) for spec in sheet.components)


def _component(spec: Spec, axle: AxleModel, stance: Stance, folder: Path) -> Component:
    shape = _shape(spec, folder)
    name = slug(spec.name)
    if not spec.points:
        turn, origin = _standing(spec, stance)
        return Component(name, spec.name, spec.kind, spec.moves_with, shape, turn, origin, stated=float(spec.accuracy))
    own = np.array([[float(v) for v in p.own] for p in spec.points])
    places = np.array([_place(p, spec, axle, stance) for p in spec.points])
    fit = best_fit(own, places)
    error = ROOT_THREE * float(spec.tolerance) + float(spec.accuracy)
    return _placed(name, spec, shape, fit, error)


def _placed(name: str, spec: Spec, shape: Shape, fit: RigidFit, error: float) -> Component:
    return Component(
        name,
        spec.name,
        spec.kind,
        spec.moves_with,
        shape,
        _rows(fit.rotation),
        as_point(fit.origin),
        stated=float(spec.accuracy),
        placing=error,
        residual=fit.rms,
        residuals=tuple((p.name, float(r)) for p, r in zip(spec.points, fit.residuals, strict=True)),
        spread=fit.spread,
        points=tuple(as_point(np.array([float(v) for v in p.own])) for p in spec.points),
    )


def _shape(spec: Spec, folder: Path) -> Shape:
    if spec.box is not None:
        x, y, z = ([float(v) for v in side] for side in (spec.box.x, spec.box.y, spec.box.z))
        return BoxShape((x[0], y[0], z[0]), (x[1], y[1], z[1]))
    if spec.plane is not None:
        way = np.array([float(v) for v in spec.plane.beyond])
        return PlaneShape(
            as_point(np.array([float(v) for v in spec.plane.through])), as_point(-way / np.linalg.norm(way))
        )
    unit = spec.unit or "mm"
    if spec.outline is not None:
        file = FileShape(folder / spec.outline.file, unit) if spec.outline.file else None
        corners = tuple((float(c.x), float(c.y)) for c in spec.outline.corners)
        return OutlineShape(float(spec.outline.depth), corners, file)
    return FileShape(folder / (spec.file or ""), unit)


def _standing(spec: Spec, stance: Stance) -> tuple[Turn, Point]:
    """What takes the frame of `at` to the one the component stands in."""
    if (spec.at == "axle") == (spec.moves_with != "frame"):
        return UPRIGHT, (0.0, 0.0, 0.0)
    if spec.at == "axle":
        return _rows(stance.rotation), as_point(stance.origin)
    return _rows(stance.rotation.T), as_point(-stance.rotation.T @ stance.origin)


def _place(point: NamedPoint, spec: Spec, axle: AxleModel, stance: Stance) -> Array:
    """Where a named point stands, in the frame the component stands in (3,) [mm]."""
    if point.stud is not None:
        return stud_place(axle, point.stud)
    if point.angle is not None and spec.circle is not None:
        given = on_circle(spec.circle, float(point.angle))
    else:
        given = np.array([float(v) for v in point.place])
    turn, origin = _standing(spec, stance)
    return np.asarray(np.array(turn) @ given + np.array(origin), dtype=np.float64)


def stud_place(axle: AxleModel, number: int) -> Array:
    """Where a stud or cover bolt comes out of the machined face, frame A (3,) [mm].

    Args:
        axle: The axle.
        number: Of the stud, from 1, in the order of the sheet.
    """
    y, z = axle.studs[number - 1]
    return np.asarray(turn_about_y(-axle.table_turn) @ np.array([axle.face_sign * axle.face_distance, y, z]))


def on_circle(circle: BoltCircle, angle: float) -> Array:
    """A bolt's middle on a circle (3,) [mm], in the frame the circle is given in; angle [deg]."""
    axis, zero = np.array([float(v) for v in circle.axis]), np.array([float(v) for v in circle.zero])
    axis /= np.linalg.norm(axis)
    zero = zero - (zero @ axis) * axis
    zero /= np.linalg.norm(zero)
    a = math.radians(angle)
    way = math.cos(a) * zero + math.sin(a) * np.cross(axis, zero)
    return np.asarray(np.array([float(v) for v in circle.centre]) + float(circle.diameter) / 2.0 * way)


def _rows(turn: Array) -> Turn:
    a, b, c = (as_point(r) for r in turn)
    return a, b, c
