"""Stub pins: one for each pivot, made for what the pivot is; left and right are alike.

Every stub is turned in one setting between centres or in the chuck, so that gauge head and the part
in the pivot run true to each other. Local Z points away from the axle line along the steering axis.
"""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import KnuckleModel, sign_of, to_table
from fixturegen.errors import GeometryFault
from fixturegen.parts._stub_kinds import is_blind, strap_end, stub_of
from fixturegen.parts._stub_pieces import GROUP, JACK, STRAP_ROD, Piece
from fixturegen.parts.joinery import INCH, bolt_clearance, hole
from fixturegen.parts.layout import rack_material
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part, Placement, Profile, Purpose
from fixturegen.plate.outlines import filleted
from fixturegen.plate.part import Matrix, Vector
from fixturegen.studies.jig_records import Finger
from fixturegen.studies.stub_plan import PivotPlan, pivot_plans

STRAP_IN = 16.0  # strap beyond its screw, toward the middle of the axle [mm]


def make_stub_pins(context: Context) -> Made:
    """Stub pins of both pivots with washers, sleeves, rings or strap; nothing on a rear axle."""
    parts: list[Part] = []
    places: list[Placement] = []
    hardware: list[tuple[str, str, int, str]] = []
    steps: list[tuple[int, str]] = []
    for pivot in pivot_plans(context.sheet, context.axle, context.plan):
        stub = stub_of(pivot)
        parts += [p.part for p in stub.pieces]
        for knuckle in context.axle.knuckles:
            places += [_placed(context, knuckle, pivot, piece) for piece in stub.pieces]
        hardware += [(*h, f"{pivot.name} stub pins") for h in stub.hardware]
        steps.append((46 if stub.first else 56, f"Stub pins, {pivot.name}. In: {stub.into}"))
        steps.append((96, f"Stub pins, {pivot.name}. Out: {stub.out}"))
        if is_blind(pivot):
            finger = _finger(context, pivot)
            parts.append(_strap(context, pivot, finger))
            places += [_strap_place(context, k, pivot, finger) for k in context.axle.knuckles]
    return Made(tuple(parts), tuple(places), (), tuple(hardware), tuple(steps))


def _finger(context: Context, pivot: PivotPlan) -> Finger:
    clock = context.plan.clock
    if clock is None:  # pragma: no cover - without a clock plate there is no pivot
        raise GeometryFault("stub-strap", "there are no finger bars", "give a front axle")
    return next(f for f in clock.fingers if f.pivot == pivot.name)


def _strap(context: Context, pivot: PivotPlan, finger: Finger) -> Part:
    """Plate over a pair of finger bars; its screw holds a stub up in a blind cup bore."""
    thick = context.plan.stand_thickness
    reach = float(np.hypot(*(np.array(finger.bars[0]) - np.array(finger.bars[1])))) / 2.0
    leg = (pivot.finger + STRAP_ROD) / 2.0
    out, half = _strap_reach(context, pivot, finger), reach + leg + 10.0
    bolt = pivot.head / 2.0 + STRAP_ROD / 2.0 + 5.0
    corners = tuple((x, y, 6.0) for x, y in ((-half, -STRAP_IN), (half, -STRAP_IN), (half, out), (-half, out)))
    holes = [hole(0.0, 0.0, JACK.diameter, Purpose.TAP, "screw", context, thickness=thick, note=f"tap {JACK.name}")]
    for i, x in enumerate((-reach - leg, -reach + leg, reach - leg, reach + leg)):
        holes.append(
            hole(x, bolt, bolt_clearance(STRAP_ROD), Purpose.BOLT, f"u-bolt {i + 1}", context, thickness=thick)
        )
    return Part(
        name=f"stub-{pivot.name}-strap",
        label=f"strap of the {pivot.name} stub pin",
        kind="stub_pins",
        form="plate",
        thickness=thick,
        material=rack_material(context, float(context.sheet.jig.stand_plate)),
        profile=Profile(outer=filleted(corners), holes=tuple(holes)),
        quantity=2,
        datum="set screw; x across the bars, y outboard",
        notes=("lies on the outer side of both finger bars, U-bolts toward the clock plate",),
    )


def _strap_reach(context: Context, pivot: PivotPlan, finger: Finger) -> float:
    """How far the strap reaches outboard of its screw [mm], clear of the finger bars' flanges."""
    point = np.array(pivot.knuckle.axis_point) + strap_end(pivot) * np.array(pivot.place.outward)
    room = (context.plan.clock.inner if context.plan.clock else 0.0) - 3.0 / 8.0 * INCH - abs(float(point[1]))
    need = pivot.head / 2.0 + STRAP_ROD + 5.0 + 8.0
    if room - 1.0 < need:
        raise GeometryFault(
            f"stub-{pivot.name}-strap",
            f"the strap needs {need / INCH:.2f} in on the finger bars and has {room / INCH:.2f} in",
            "drill the arm through the cup's middle and give its diameter as through",
        )
    return min(room - 1.0, need + 10.0)


def _axes(context: Context, knuckle: KnuckleModel, pivot: PivotPlan) -> tuple[Array, Array, Array]:
    """Rotation (3, 3) of a stub, the axis' point at axle height and the outward direction, frame T."""
    turn, origin = to_table(context.axle, context.plan.height)
    place = knuckle.upper if pivot.name == "upper" else knuckle.lower
    z = turn @ np.array(place.outward)
    inboard = np.array([0.0, -float(sign_of(knuckle.side)), 0.0])
    x = inboard - float(inboard @ z) * z
    x /= np.linalg.norm(x)
    return np.column_stack([x, np.cross(z, x), z]), turn @ np.array(knuckle.axis_point) + origin, z


def _matrix(m: Array) -> Matrix:
    a, b, c = (_triple(row) for row in m)
    return a, b, c


def _placed(context: Context, knuckle: KnuckleModel, pivot: PivotPlan, piece: Piece) -> Placement:
    rotation, point, z = _axes(context, knuckle, pivot)
    at = point + piece.start * z
    return Placement(piece.part.name, _triple(at), _matrix(rotation), GROUP[knuckle.side])


def _triple(v: Array) -> Vector:
    return float(v[0]), float(v[1]), float(v[2])


def _strap_place(context: Context, knuckle: KnuckleModel, pivot: PivotPlan, finger: Finger) -> Placement:
    _, point, way = _axes(context, knuckle, pivot)
    normal = np.array([way[0], 0.0, way[2]]) / float(np.hypot(way[0], way[2]))
    y = np.array([0.0, float(sign_of(knuckle.side)), 0.0])
    end = point + strap_end(pivot) * way
    middle = np.array([finger.middle[0], 0.0, finger.middle[1] + context.plan.height])
    at = middle + pivot.finger / 2.0 * normal
    at[1] = end[1]
    rotation = np.column_stack([np.cross(y, normal), y, normal])
    return Placement(f"stub-{pivot.name}-strap", _triple(at), _matrix(rotation), GROUP[knuckle.side])
