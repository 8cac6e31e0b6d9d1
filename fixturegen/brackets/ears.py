"""Ears: the plates of a bracket that a bolt goes through, from the edge they sit on to the steel round each hole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.brackets.frames import ALONG, Stand
from fixturegen.brackets.registry import BracketContext
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import joint_hole
from fixturegen.plate import Hole, Loop, Profile
from fixturegen.plate.part import Matrix
from fixturegen.plate.profile import edge_between
from fixturegen.plate.saddles import Base, flat_base, saddle_base, wrap_ends
from fixturegen.plate.shadows import Stand as OnTube
from fixturegen.plate.tab_outlines import EdgeRules, TabHole, edge_rules, tab_outline
from fixturegen.studies.bracket_records import Ear, FlatBase, JointSize, Mount, Seam, TubeBase

FOOT_OUT = 12.0  # feet on a plate stand this far beyond the steel round the holes [mm] (common practice, no source)
PIECES = 4  # straight pieces a curved seam is told in
SQUARE = 1e-9  # [1] sine of an angle that counts as none


@dataclass(frozen=True, eq=False)
class Blank:
    """An ear as drawn.

    Attributes:
        profile: Its flat form, slots not yet in it.
        base: The edge it sits on.
        stand: Where it stands.
        rules: Steel round its holes.
    """

    profile: Profile
    base: Base
    stand: Stand
    rules: EdgeRules


def needed_joint(mount: Mount) -> JointSize:
    """The joint a bracket holds.

    Raises:
        GeometryFault: When its row names none.
    """
    if mount.joint is None:
        words = "its row names no joint, so neither width nor bolt is known"
        raise GeometryFault(mount.label, words, "measure the joint, list it under [[joints]] and name it")
    return mount.joint


def blank(
    context: BracketContext,
    mount: Mount,
    stand: Stand,
    more: tuple[tuple[float, float, float], ...] = (),
    foot: float = 0.0,
) -> Blank:
    """An ear on a stand whose origin is the bolt's line.

    Args:
        context: The job.
        mount: The bracket.
        stand: Where the plate stands; y away from what it sits on.
        more: Steel wanted elsewhere, as discs (x, y, radius) [mm].
        foot: Least half width of a foot on a flat face, or along a tube [mm].

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    holes, rules = bored(context, mount, stand)
    tabs = tab_holes(holes, rules)
    tabs += [TabHole(x, y, EdgeRules(r, r, r), "the cross plate's slot") for x, y, r in more]
    wide = max(rules.along, *(abs(x) + r for x, _, r in more)) if more else rules.along
    try:
        base = base_edge(mount, stand, max(wide + FOOT_OUT, foot))
        outer = tab_outline(tabs, base)
    except GeometryFault:
        raise
    except ValueError as fault:
        raise undrawn(mount, fault) from fault
    return Blank(Profile(outer=outer, holes=holes), base, stand, rules)


def undrawn(mount: Mount, fault: ValueError) -> GeometryFault:
    """What is told of an outline that cannot be drawn."""
    return GeometryFault(mount.label, str(fault), "check its point, joint and plate, or raise wrap")


def bored(context: BracketContext, mount: Mount, stand: Stand) -> tuple[tuple[Hole, ...], EdgeRules]:
    """Holes of an ear and the steel round each of them."""
    joint = needed_joint(mount)
    pull = stand.direction(mount.along)
    way = math.degrees(math.atan2(pull[1], pull[0])) if math.hypot(pull[0], pull[1]) > 0.2 else None
    holes = _holes(context, mount, joint)
    return holes, edge_rules(joint.shank, mount.thickness, way, holes[0].finished)


def tab_holes(holes: tuple[Hole, ...], rules: EdgeRules) -> list[TabHole]:
    """The same as an outline is drawn round them."""
    return [TabHole(h.x, h.y, rules, h.label) for h in holes]


def _holes(context: BracketContext, mount: Mount, joint: JointSize) -> tuple[Hole, ...]:
    rules, metric = context.rules(mount), context.sheet.job.units == "mm"
    count = 1 + mount.spec.extra_holes
    return tuple(
        joint_hole(
            0.0,
            k * float(mount.spec.hole_pitch),
            joint.shank,
            f"{mount.holds} bolt" if count == 1 else f"{mount.holds} bolt {k + 1}",
            rules,
            metric=metric,
        )
        for k in range(count)
    )


def base_edge(mount: Mount, stand: Stand, half: float) -> Base:
    """The edge by which a plate of a bracket sits on its tube or face.

    Args:
        mount: The bracket.
        stand: Where the plate stands.
        half: Half the width of a foot on a flat face [mm].

    Raises:
        ValueError: When there is no such edge.
    """
    gap, on = float(mount.spec.gap), mount.base
    if isinstance(on, FlatBase):
        plate = OnTube(as_point(stand.origin), _rows(stand.rotation), mount.thickness)
        height = float(np.dot(on.point, on.normal))
        low = float(stand.inward(on.point)[1])
        return flat_base(plate, on.normal, height, gap, ((-half, low), (half, low)))
    turn = tube_axes(on)
    runs_along = abs(float(stand.direction(on.along)[2])) < ALONG
    plate = OnTube(as_point(turn @ (stand.origin - np.array(on.point))), _rows(turn @ stand.rotation), mount.thickness)
    if runs_along:
        return saddle_base(plate, on.radius, gap, ((-half, 0.0), (half, 0.0)))
    # by the middle of the plate, or a left plate would not be the mirror image of a right one
    there = turn @ (np.array(stand.outward(0.0, 0.0, mount.thickness / 2.0)) - np.array(on.point))
    clock = math.degrees(math.atan2(there[0], there[2]))
    half_wrap = float(mount.spec.wrap) / 2.0
    return saddle_base(plate, on.radius, gap, wrap_ends(plate, clock, half_wrap, half_wrap))


def tube_axes(base: TubeBase) -> Array:
    """Rows of the turn that takes A to the frame of a tube, which runs along its +Y, shape (3, 3)."""
    along = np.array(base.along)
    up = np.array([0.0, 0.0, 1.0]) if abs(along[2]) < 0.9 else np.array([1.0, 0.0, 0.0])
    x = np.cross(along, up)
    x /= np.linalg.norm(x)
    return np.stack([x, along, np.cross(x, along)])


def is_square(mount: Mount) -> bool:
    """Whether all plates square to the bolt cut what the bracket stands on alike."""
    if isinstance(mount.base, FlatBase):
        return abs(float(np.dot(mount.base.normal, mount.bolt))) < SQUARE
    return float(np.linalg.norm(np.cross(mount.base.along, mount.bolt))) < SQUARE


def ear(mount: Mount, made: Blank, part: str, offset: float, braced: bool) -> Ear:
    """What checks need to know of an ear; offset of its inner face from the joint's middle [mm]."""
    hole = made.profile.holes[-1]
    over = min(made.base.shadow.clearance(h.x, h.y) for h in made.profile.holes)
    return Ear(part, offset, mount.thickness, hole.finished, over, made.rules.across, made.rules.along, braced)


def seams(mount: Mount, made: Blank, part: str, face: float) -> tuple[Seam, ...]:
    """The weld of an ear along its edge, on the face at z = `face` [mm], told in straight pieces."""
    points: list[tuple[float, float]] = []
    for a, b in pairwise(made.base.edge):
        edge = edge_between(a, b)
        n = 1 if edge.centre is None else max(1, PIECES // max(1, len(made.base.edge) - 1))
        for k in range(n):
            points.append(_on(edge.x0, edge.y0, edge, k / n))
    last = made.base.edge[-1]
    points.append((last.x, last.y))
    lengthwise = isinstance(mount.base, FlatBase) or not is_square(mount)
    return tuple(
        Seam(part, made.stand.outward(*p, face), made.stand.outward(*q, face), float(mount.spec.leg), lengthwise)
        for p, q in pairwise(points)
    )


def _on(x: float, y: float, edge: object, share: float) -> tuple[float, float]:
    centre, sweep = getattr(edge, "centre", None), getattr(edge, "sweep_rad", 0.0)
    if centre is None or share == 0.0:
        return x, y
    c, s = math.cos(share * sweep), math.sin(share * sweep)
    dx, dy = x - centre[0], y - centre[1]
    return centre[0] + dx * c - dy * s, centre[1] + dx * s + dy * c


def edge_length(made: Blank) -> float:
    """Length of an ear's welded edge [mm]."""
    return made.base.length


def _rows(m: Array) -> Matrix:
    a, b, c = (as_point(r) for r in m)
    return a, b, c


def with_openings(made: Blank, openings: tuple[Loop, ...]) -> Profile:
    """The ear's flat form with cut-outs."""
    return Profile(outer=made.profile.outer, inner=openings, holes=made.profile.holes)
