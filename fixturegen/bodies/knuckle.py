"""Inner knuckles (C): neck on the tube, two arms, bosses with their real bores, in frame A."""

from __future__ import annotations

import math

from fixturegen.axle.model import KnuckleModel, sign_of
from fixturegen.bodies.drawing import hull, turned_about_y
from fixturegen.errors import GeometryFault
from fixturegen.plate.part import Vector
from fixturegen.shapes import solids
from fixturegen.shapes.cache import cached_shape
from fixturegen.sheet.specs import Knuckles, Pivot

FOOT = 304.8  # a taper is given per foot [mm]
SPOT_FACE = 0.85  # of the boss, faced flat on its inside [cp]
BEYOND = 1.0  # cutters stand this far beyond what they cut [mm]


def _on_axis(spec: Knuckles, side: int, station: float, along: float) -> Vector:
    """Point [mm] on the steering axis of the C at zero caster, `along` from axle height, up positive."""
    tilt = math.radians(spec.inclination)
    return (
        float(spec.axis_offset),
        side * (station - along * math.sin(tilt)),
        along * math.cos(tilt),
    )


def knuckle_body(spec: Knuckles, knuckle: KnuckleModel, bench_caster: float) -> solids.Solid:
    """One C at its bench angle, frame A.

    Args:
        spec: The sheet's knuckle.
        knuckle: Where it stands.
        bench_caster: Caster with the pinion level [deg].
    """
    side = sign_of(knuckle.side)
    station, weld = abs(knuckle.axis_point[1]), abs(knuckle.weld_station)
    # the C's offset and its lean turn together about the axle line
    return turned_about_y(
        cached_shape(("knuckle", spec, side, station, weld), lambda: _at_no_caster(spec, knuckle)), -bench_caster
    )


def _at_no_caster(spec: Knuckles, knuckle: KnuckleModel) -> solids.Solid:
    """One C as it stands at a bench caster of 0, frame A."""
    side = sign_of(knuckle.side)
    station = abs(knuckle.axis_point[1])
    weld = abs(knuckle.weld_station)
    neck_end = weld + spec.neck_length
    neck = solids.cylinder((0.0, side * weld, 0.0), (0.0, side * neck_end, 0.0), float(spec.neck_diameter))
    pieces = [neck, _base(spec, side, neck_end)]
    away = [
        solids.cylinder((0.0, side * (weld - BEYOND), 0.0), (0.0, side * (neck_end + 1.0), 0.0), float(spec.bore)),
        _joint_room(spec, side, neck_end, station),
    ]
    bosses, bores = [], []
    for way, pivot in ((1.0, spec.upper), (-1.0, spec.lower)):
        pieces.append(_arm(spec, pivot, side, station, weld, way))
        boss, bore = _pivot(spec, pivot, side, station, way)
        bosses.append(boss)
        bores += bore
        away.append(_spot_face(spec, pivot, side, station, way))
    pins = [_pin(spec, p, side, station, w) for w, p in ((1.0, spec.upper), (-1.0, spec.lower))]
    # bosses come after the room between the arms, which would bite into them
    body = solids.cut(solids.fuse(solids.cut(solids.fuse(*pieces), *away), *bosses), *bores)
    body = solids.fuse(body, *[p for p in pins if p is not None])
    return solids.checked(body, f"knuckle-{knuckle.side}")


def _base(spec: Knuckles, side: int, neck_end: float) -> solids.Solid:
    thick = min(0.35 * spec.neck_length, 18.0)
    return solids.cylinder(
        (0.0, side * (neck_end - thick), 0.0),
        (0.0, side * neck_end, 0.0),
        spec.neck_diameter + 12.0,
    )


def _joint_room(spec: Knuckles, side: int, neck_end: float, station: float) -> solids.Solid:
    """Room between the arms in which the axle joint swings."""
    inner = min(
        spec.pivot_spread / 2.0 - spec.upper.arm_thickness / 2.0,
        spec.pivot_spread / 2.0 - spec.lower.arm_thickness / 2.0,
    )
    tilt = math.radians(spec.inclination)
    # the lower arm's inner face comes nearest to the axle line at its inboard edge
    edge = inner * math.cos(tilt) - spec.lower.boss_diameter / 2.0 * math.sin(tilt)
    return solids.cylinder(
        (0.0, side * neck_end, 0.0),
        (0.0, side * (max(station, neck_end) + 400.0), 0.0),
        2.0 * max(edge - 1.0, spec.bore / 2.0),
    )


def _spot_face(spec: Knuckles, pivot: Pivot, side: int, station: float, way: float) -> solids.Solid:
    """Room for washer and nut under the boss, down to the wall of the bore for the tube."""
    inside = spec.pivot_spread / 2.0 - pivot.arm_thickness / 2.0
    low = min(inside - 1.0, spec.bore / 2.0 + 1.0)
    return solids.cylinder(
        _on_axis(spec, side, station, way * low),
        _on_axis(spec, side, station, way * inside),
        SPOT_FACE * pivot.boss_diameter,
    )


def _arm(spec: Knuckles, pivot: Pivot, side: int, station: float, weld: float, way: float) -> solids.Solid:
    """An arm from the neck outward to its boss: curved in the front view, tapering in the side view."""
    half = pivot.arm_thickness / 2.0
    neck = spec.neck_diameter / 2.0
    centre = _on_axis(spec, side, station, way * spec.pivot_spread / 2.0)
    out, up = side * centre[1], way * centre[2]
    # starts near the weld, so that steel is left beside the room for the stub's nut
    root = weld + half + 4.0
    knee = (root + 0.3 * (out - root), 0.35 * neck + 0.65 * up)
    front = [
        hull(((side * root, way * 0.55 * neck, half), (side * knee[0], way * knee[1], 1.05 * half)), "yz", -MOST, MOST),
        hull(((side * knee[0], way * knee[1], 1.05 * half), (side * out, way * up, half)), "yz", -MOST, MOST),
    ]
    boss = pivot.boss_diameter / 2.0
    sight = hull(
        (
            (0.0, 0.0, 0.98 * neck),
            (centre[2], centre[0], max(0.82 * boss, half)),
            (way * 0.55 * up, centre[0] / 2.0, 0.92 * neck),
        ),
        "zx",
        *sorted((side * (weld - MOST), side * (station + MOST))),
    )
    return solids.common(solids.fuse(*front), sight)


MOST = 300.0  # wider than any knuckle [mm]


def _pivot(
    spec: Knuckles, pivot: Pivot, side: int, station: float, way: float
) -> tuple[solids.Solid, list[solids.Solid]]:
    """The boss of a pivot and what is bored out of it."""
    middle, half = spec.pivot_spread / 2.0, pivot.arm_thickness / 2.0
    inside, outside = middle - half, middle + half

    def at(along: float) -> Vector:
        return _on_axis(spec, side, station, way * along)

    boss = solids.cylinder(at(inside), at(outside), float(pivot.boss_diameter))
    if pivot.diameter >= pivot.boss_diameter:
        raise GeometryFault(
            f"knuckle {'upper' if way > 0 else 'lower'} pivot",
            f"bore {pivot.diameter:.2f} mm leaves no steel in a boss of {pivot.boss_diameter:.2f} mm",
            "measure bore and boss again",
        )
    if pivot.kind == "pin":
        return boss, []
    low, high = inside - BEYOND, outside + BEYOND
    if pivot.kind == "taper":
        slope = float(pivot.taper_per_foot or 0.0) / FOOT
        large, small = float(pivot.diameter), pivot.diameter - slope * pivot.arm_thickness
        if pivot.large_end == "outside":
            first, last = small - slope * BEYOND, large + slope * BEYOND
        else:
            first, last = large + slope * BEYOND, small - slope * BEYOND
        return boss, [solids.cone(at(low), at(high), first, last)]
    if pivot.kind == "cup":
        depth = float(pivot.depth or pivot.arm_thickness)
        ends = (outside - depth, high) if pivot.large_end == "outside" else (low, inside + depth)
        bores = [solids.cylinder(at(ends[0]), at(ends[1]), float(pivot.diameter))]
        if pivot.through > 0.0:
            bores.append(solids.cylinder(at(low), at(high), float(pivot.through)))
        return boss, bores
    return boss, [solids.cylinder(at(low), at(high), float(pivot.diameter))]


def _pin(spec: Knuckles, pivot: Pivot, side: int, station: float, way: float) -> solids.Solid | None:
    """A male pin left in place, pointing away from the axle line."""
    if pivot.kind != "pin":
        return None
    start = spec.pivot_spread / 2.0
    end = start + pivot.arm_thickness / 2.0 + float(pivot.length or 0.0)
    return solids.cylinder(
        _on_axis(spec, side, station, way * start),
        _on_axis(spec, side, station, way * end),
        float(pivot.diameter),
    )
