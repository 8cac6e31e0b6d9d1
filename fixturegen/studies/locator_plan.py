"""Where each locator stands: numbers only, frame T, before a plate is drawn.

A post holds the dummy bolt in two cheeks outside the ears, far enough out for bead and torch. Its
height is set by the cheeks themselves and fine-set by shims. Where the axle, the jig or the height
leave no room for a post, an arm on the axle tube holds it (`locator_arm`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import product
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel, Point, to_table
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import BracketFacts
from fixturegen.studies.jig_records import BEAD_ROOM, INCH, JigPlan
from fixturegen.studies.locator_error import place_error
from fixturegen.studies.locator_holes import table_places
from fixturegen.studies.locator_records import Locator, Matrix, Post
from fixturegen.studies.locator_room import Bulk, Flat, bases_of, bulks_of, filled, met, swept

Layout = Literal["both", "outboard", "inboard"]
"""Where two plates stand: outside both ears, or both outside the outer or the inner one."""
SHIM = INCH / 32.0  # posts are cut this much short, so that height is set both ways by shims [mm] (common practice)
TALLEST = 20.0 * INCH  # a plate post that is taller whips (common practice, no source)
LOWEST = 4.0 * INCH  # below it there is no room for base, cross plate and hand (common practice, no source)
STEEPEST = 12.0  # a bolt steeper than this does not go into standing cheeks [deg] (common practice, no source)
EDGE = 1.25  # steel beside the dummy bolt, in shanks, from the hole's middle [1] (common practice, no source)
LEAST_HEAD = 20.0  # least radius of a cheek's head [mm]
LEAST_GAP = 1.25 * INCH
"""From ear to cheek [mm]: nozzle and fingers. Only the slim round head may stand so near; what is below it keeps
2 in from every root (common practice, no source)."""
WIDEST_GAP = 5.0 * INCH  # farther apart the dummy bolt bends and the base grows [mm] (common practice, no source)
GAP_STEP = INCH / 8.0
FOOT_STEPS = (0.0, 20.0, -20.0, 40.0, -40.0, 60.0, -60.0, 80.0, -80.0)  # of the foot from under the bolt [mm]
SPAN = 3.0 * INCH  # between two plates that stand on one side of the ears [mm] (common practice, no source)
LAYOUTS: tuple[Layout, ...] = ("both", "outboard", "inboard")
BEYOND = INCH  # the dummy bolt stands out of plates and ears [mm]
SLEEVE = 8.0  # spacers are so much thicker in radius, and a little room [mm]
PULL_OUT = 1.25  # lengths of the dummy bolt that must be free before it [1]
WEB = 1.0  # plate thicknesses of steel beyond a slot [1] (common practice, no source)
CROSS = (16.0, 110.0, 0.45)  # cross plate: above the base, tallest [mm], and most of the cheek's height [1]
STRAIGHT = 0.8  # cosine: a bolt nearer to fore and aft lets its post leave along the axle only
PAST = 160.0  # travel after which ears are past the cheeks [mm]
AWAY = 350.0  # a post is moved so far before it is lifted off the table [mm]


def head_radius(shank: float) -> float:
    """Radius of the steel round the dummy bolt [mm]."""
    return max(LEAST_HEAD, EDGE * shank)


def frame_of(axle: AxleModel, plan: JigPlan, facts: BracketFacts, steepest: float = STEEPEST) -> tuple[Array, Array]:
    """(rotation with columns x, y, z, hardpoint) of a locator's plates in T, shapes (3, 3) and (3,).

    Raises:
        GeometryFault: When the bolt stands too steep.
    """
    turn, up = to_table(axle, plan.height)
    point, z = turn @ np.array(facts.mount.point) + up, turn @ np.array(facts.mount.bolt)
    steep = math.degrees(math.asin(min(1.0, abs(float(z[2])))))
    if steep > steepest:
        words = f"its bolt stands {steep:.0f} deg off level, its plates take {steepest:.0f} deg"
        raise GeometryFault(
            facts.mount.label, words, "hold it by a square and a rule, or give bolt_way nearer to level"
        )
    x = np.cross((0.0, 0.0, 1.0), z)
    x /= np.linalg.norm(x)
    return np.stack([x, np.cross(z, x), z], axis=1), point


def outer_faces(facts: BracketFacts) -> tuple[float, float]:
    """Where the ears end along the bolt, from the joint's middle (right, left) [mm]."""
    ends = [0.0]
    for ear in facts.ears:
        ends += [ear.offset, ear.offset + math.copysign(ear.thickness, ear.offset)]
    return min(ends), max(ends)


def bead_gap(
    axle: AxleModel, plan: JigPlan, facts: BracketFacts, rotation: Array, corners: tuple[tuple[float, float], ...]
) -> float:
    """Gap from ear to plate that keeps 2 in round every root of the bracket's welds [mm].

    Args:
        axle: The axle.
        plan: The jig.
        facts: The bracket.
        rotation: Columns are the plate's x, y and z in T, z along the bolt, shape (3, 3).
        corners: Outline of a plate below its head, convex, in its frame [mm].
    """
    turn, up = to_table(axle, plan.height)
    point = turn @ np.array(facts.mount.point) + up
    roots = np.array([p for s in facts.seams for p in (s.begin, s.end)]).reshape(-1, 3)
    if not len(roots):
        return LEAST_GAP
    local = (roots @ turn.T + up - point) @ rotation
    steel = filled(corners, 4.0)
    flat = np.array([float(np.min(np.hypot(*(steel - r[:2]).T))) for r in local])
    low, high = outer_faces(facts)
    gap = LEAST_GAP
    for near, root in zip(flat, local, strict=True):
        beyond = math.sqrt(max(0.0, BEAD_ROOM**2 - near**2))
        gap = max(gap, root[2] + beyond - high, low - (root[2] - beyond))
    return math.ceil(gap / GAP_STEP - 1e-9) * GAP_STEP


def plates_at(
    facts: BracketFacts, gap: float, thick: float, layout: Layout
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Faces of the two plates along the bolt, right one first [mm]."""
    low, high = outer_faces(facts)
    if layout == "both":
        return (low - gap - thick, low - gap), (high + gap, high + gap + thick)
    # the bolt points to the left (or forward): outboard is its left end on the left side
    if (layout == "outboard") == (facts.mount.side != "right"):
        first = high + gap
        return (first, first + thick), (first + thick + SPAN, first + 2.0 * thick + SPAN)
    last = low - gap
    return (last - 2.0 * thick - SPAN, last - thick - SPAN), (last - thick, last)


def overhang_of(plates: tuple[tuple[float, float], tuple[float, float]]) -> float:
    """From the nearer plate to the joint's middle [mm]; 0 where the plates stand on both sides of it."""
    (a, b), (c, d) = plates
    return 0.0 if b <= 0.0 <= c else min(abs(a), abs(b), abs(c), abs(d))


def cheek_corners(head: float, foot: float, half: float, floor: float) -> tuple[tuple[float, float], ...]:
    """The convex outline of a cheek, its head as a square, counter-clockwise [mm]."""
    return ((foot - half, floor), (foot + half, floor), (head, -head), (head, head), (-head, head), (-head, -head))


def _cross(head: float, foot: float, floor: float) -> tuple[float, float, float]:
    """(x, y from, y to) of the cross plate: low between the cheeks, on the middle of their columns [mm]."""
    up, tallest, share = CROSS
    low = floor + up
    high = low + min(tallest, share * abs(floor))
    down = ((low + high) / 2.0 + head) / (floor + head)
    return foot * min(1.0, down), low, high


def plan_post(
    sheet: Sheet, axle: AxleModel, plan: JigPlan, facts: BracketFacts, taken: tuple[Flat, ...] = ()
) -> Locator:
    """A table post for a bracket's dummy bolt.

    Args:
        sheet: The build sheet.
        axle: The axle.
        plan: The jig.
        facts: The bracket.
        taken: Bases that stand on the table already [mm].

    Raises:
        GeometryFault: When no post goes there, naming what is in the way.
    """
    rotation, point = frame_of(axle, plan, facts)
    label = facts.mount.label
    if not LOWEST <= point[2] <= TALLEST:
        words = f"its bolt stands {point[2] / INCH:.1f} in above the table, a post takes 4 to 20 in"
        raise GeometryFault(label, words, "use an arm on the tube, or set jig.axle_height")
    bulks = bulks_of(sheet, axle, plan)
    bases = (*bases_of(plan), *taken)
    met_last = "the jig"
    for layout, foot in product(LAYOUTS, FOOT_STEPS):
        try:
            return _post_at(sheet, axle, plan, facts, rotation, point, (layout, foot), bulks, bases)
        except GeometryFault as fault:
            met_last = fault.words if (layout, foot) == (LAYOUTS[0], 0.0) else met_last
    raise GeometryFault(label, f"no table post goes there: {met_last}", "use an arm on the tube")


def _post_at(
    sheet: Sheet,
    axle: AxleModel,
    plan: JigPlan,
    facts: BracketFacts,
    rotation: Array,
    point: Array,
    choice: tuple[Layout, float],
    bulks: tuple[Bulk, ...],
    bases: tuple[Flat, ...],
) -> Locator:
    mount, thick = facts.mount, plan.stand_thickness
    layout, foot = choice
    joint = mount.joint
    if joint is None:
        raise GeometryFault(mount.label, "it holds no joint", "a pad or a seat is set by its tape numbers")
    head = head_radius(joint.shank)
    floor = -float((point[2] - SHIM - thick) / rotation[2, 1])
    half = max(1.5 * head, min(70.0, 0.22 * abs(floor)))
    corners = cheek_corners(head, foot, half, floor)
    gap = bead_gap(axle, plan, facts, rotation, (*corners[:3], corners[-1]))
    cross = _cross(head, foot, floor)
    if gap > WIDEST_GAP:
        words = f"bead and torch would want the cheeks {gap / INCH:.1f} in outside the ears"
        raise GeometryFault(mount.label, words, "use an arm on the tube")
    plates = plates_at(facts, gap, thick, layout)
    floors = _floors(point, rotation, plates, SHIM + thick)
    steel = _steel(rotation, point, plates, corners)
    stop = met(steel, bulks)
    if stop:
        raise GeometryFault(mount.label, f"its cheeks would stand in the {stop}", "use an arm on the tube")
    pull = pull_of(mount.side, rotation, point, plates, outer_faces(facts), joint.shank, bulks)
    feet = _feet(rotation, point, plates, foot, half, min(floors), WEB * thick)
    base, pins, bolts = table_places(
        sheet, plan, mount.label, feet, _kept_free(rotation, point, plates, (foot, half, cross[0])), bases
    )
    plate = filled(((base[0], base[2]), (base[1], base[2]), (base[1], base[3]), (base[0], base[3])), 15.0)
    moving = np.concatenate([steel, np.column_stack([plate, np.full(len(plate), SHIM + thick / 2.0)])])
    leave = _leave(rotation, point, moving, bulks, gap)
    return Locator(
        mount=mount,
        form="post",
        point=point_of(point),
        bolt=point_of(rotation[:, 2]),
        rotation=rows_of(rotation),
        ears=outer_faces(facts),
        plates=plates,
        pull=pull,
        leave=leave,
        post=Post(gap, foot, half, cross, floors, base, pins, bolts),
        error=place_error(sheet, "post", joint.shank, 0.0, overhang_of(plates), plates[1][0] - plates[0][1]),
    )


def _floors(point: Array, rotation: Array, plates: tuple[tuple[float, float], ...], top: float) -> tuple[float, float]:
    """Lower edge (y) of each cheek [mm]: its lower face touches the base, the other hangs over by the bolt's lean."""
    found = [max((top - point[2] - face * rotation[2, 2]) / rotation[2, 1] for face in faces) for faces in plates]
    return float(found[0]), float(found[1])


def _steel(
    rotation: Array, point: Array, plates: Iterable[tuple[float, float]], corners: tuple[tuple[float, float], ...]
) -> Array:
    """Points all over both cheeks in T, shape (n, 3) [mm]."""
    flat = filled(corners)
    found = []
    for face in (f for faces in plates for f in faces):
        local = np.column_stack([flat, np.full(len(flat), face)])
        found.append(local @ rotation.T + point)
    return np.concatenate(found)


def _leave(rotation: Array, point: Array, steel: Array, bulks: tuple[Bulk, ...], gap: float) -> Point:
    """Level way on which a post leaves: straight away from the axle line, or square to its bolt.

    Raises:
        GeometryFault: When something stands in every way.
    """
    side = 1.0 if float(point[0]) >= 0.0 else -1.0
    level = rotation[:, 0] * (1.0 if float(rotation[0, 0]) >= 0.0 else -1.0)
    ways = [np.array([1.0, 0.0, 0.0]), level] if abs(float(level[0])) > STRAIGHT else [level]
    stops = []
    for sign in (side, -side):
        for way in ways:
            # the ears stay between the cheeks until they are past
            sideways = PAST * abs(float(way @ rotation[:, 2]))
            stop = met(swept(steel, sign * way, AWAY), bulks, 2.0) or ("ears" if sideways > gap - 2.0 else "")
            if not stop:
                return point_of(sign * way)
            stops.append(stop)
    raise GeometryFault("post", f"it could not be taken away for the {stops[0]}", "use an arm on the tube")


def pull_of(
    side: str,
    rotation: Array,
    point: Array,
    plates: tuple[tuple[float, float], tuple[float, float]],
    ears: tuple[float, float],
    shank: float,
    bulks: tuple[Bulk, ...],
) -> int:
    """Which end the dummy bolt is drawn to: outboard where that is free, +1 for its left end.

    Raises:
        GeometryFault: When it is free at neither end.
    """
    long = max(plates[1][1], ears[1]) - min(plates[0][0], ears[0]) + 2.0 * BEYOND
    first = -1 if side == "right" else 1
    ends = (plates[0][0], plates[1][1], *ears)
    bare, sleeved = (
        point + np.linspace(min(ends) - more, max(ends) + more, 80)[:, None] * rotation[:, 2] for more in (BEYOND, 0.0)
    )
    stop = met(bare, bulks, shank / 2.0 + 2.0) or met(sleeved, bulks, shank / 2.0 + SLEEVE)
    if stop:
        raise GeometryFault("dummy bolt", f"it would lie in the {stop}", "use an arm on the tube")
    for way in (first, -first):
        end = max(plates[1][1], ears[1]) if way > 0 else min(plates[0][0], ears[0])
        along = end + way * np.linspace(0.0, PULL_OUT * long, 60)
        line = point + along[:, None] * rotation[:, 2]
        stop = met(line, bulks, shank / 2.0 + 2.0)
        if not stop:
            return way
    raise GeometryFault("dummy bolt", f"it could not be drawn out for the {stop}", "use a shorter bolt from each side")


def _feet(
    rotation: Array,
    point: Array,
    plates: tuple[tuple[float, float], tuple[float, float]],
    foot: float,
    half: float,
    floor: float,
    web: float,
) -> Flat:
    """Rectangle on the table that holds both cheeks' feet and the steel round their slots [mm]."""
    local = np.array([(foot + w * (half - 6.0), floor, face) for w in (-1, 1) for face in (plates[0][0], plates[1][1])])
    there = local @ rotation.T + point
    return (
        float(there[:, 0].min()) - web,
        float(there[:, 0].max()) + web,
        float(there[:, 1].min()) - web,
        float(there[:, 1].max()) + web,
    )


def _kept_free(
    rotation: Array,
    point: Array,
    plates: tuple[tuple[float, float], tuple[float, float]],
    lie: tuple[float, float, float],
) -> tuple[Array, ...]:
    """Lines along the plates that stand on a base, each of shape (n, 2) in T [mm]: wrenches keep off them."""
    foot, half, cross = lie
    found = []
    for faces in plates:
        middle = sum(faces) / 2.0
        local = np.array([(x, 0.0, middle) for x in np.linspace(foot - half, foot + half, 40)])
        found.append((local @ rotation.T + point)[:, :2])
    across = np.array([(cross, 0.0, z) for z in np.linspace(plates[0][1], plates[1][0], 40)])
    found.append((across @ rotation.T + point)[:, :2])
    return tuple(found)


def point_of(v: Array) -> Point:
    """A vector as three numbers."""
    return float(v[0]) + 0.0, float(v[1]) + 0.0, float(v[2]) + 0.0


def rows_of(m: Array) -> Matrix:
    """A rotation as its rows."""
    a, b, c = (point_of(r) for r in m)
    return a, b, c


def posts_of(
    sheet: Sheet, axle: AxleModel, plan: JigPlan, facts: Iterable[BracketFacts]
) -> Iterator[tuple[BracketFacts, Locator | GeometryFault]]:
    """Each axle-side bracket with a joint, and its post or why there is none; no two posts in one place."""
    taken: tuple[Flat, ...] = ()
    for one in facts:
        if one.mount.spec.end != "axle" or one.mount.joint is None or not one.ears:
            continue
        try:
            made = plan_post(sheet, axle, plan, one, taken)
        except GeometryFault as fault:
            yield one, fault
            continue
        if made.post is not None:
            taken = (*taken, made.post.base)
        yield one, made
