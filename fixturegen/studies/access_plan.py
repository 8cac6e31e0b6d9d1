"""What is to come off a finished axle, on which ways, as numbers in frame A."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from fixturegen.axle import frames
from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.model import AxleModel, Point, Side, sign_of
from fixturegen.sheet.specs import Access, Sheet
from fixturegen.sheet.specs.truss import Fitting
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies import access_tools as tools
from fixturegen.studies.access_records import Removal, Rod, Shift, Try, Turn
from fixturegen.studies.tube_cuts import shaft_readings

COVER_RIM = 8.0  # mm, flange of a cover under its bolts [cp]
PLAY = 1.0  # mm round a socket that goes on by hand [cp]
ASIDE = 250.0  # mm, out of the way once it is off [cp]
SPARE = 5.0  # mm beyond a stud's end before a thing may go another way [cp]
TILTS = (12.0, 25.0)  # deg, that a third member is tipped on its way [cp]
CAP = 16.0  # mm, steel of a bearing cap round its bore [cp]
GEAR_WIDE = 31.75  # mm, of a ring gear along the axle; an envelope [cp]
POUND = 0.45359237  # kg; exact by definition
THREAD = 19.0  # mm of thread that a plug comes out by [cp]
HEX_HIGH = 0.45  # [1] height of a plug's hex over its width across flats [cp]
FACE_ON = frozenset({"housing", "studs", "cover", "tube-left", "tube-right"})
"""What a cover or a third member sits on, and came on past."""
DRIVE = frozenset({"nose", "pinion", "drive-shaft"})
DOWN: Point = (0.0, 0.0, -1.0)
SIDES: tuple[Side, Side] = ("left", "right")


def removals_at_face(sheet: Sheet, axle: AxleModel) -> Iterator[Removal]:
    """Bolts or nuts of the face, the cover, and what comes out through the face."""
    given = sheet.access or Access()
    yield from _bolts(sheet, axle, given)
    if sheet.housing.kind == "integral":
        yield _cover(sheet, axle, given)
        yield _carrier(sheet, axle, given)
    else:
        yield _third_member(sheet, axle, given)


def face_turn(axle: AxleModel) -> Array:
    """Rotation (3, 3) from the frame with the face vertical to A."""
    return frames.turn_about_y(-axle.table_turn)


def _bolts(sheet: Sheet, axle: AxleModel, given: Access) -> Iterator[Removal]:
    """Each bolt of a cover, or nut of a third member, by its number on the sheet."""
    studs = sheet.housing.face.studs
    integral = sheet.housing.kind == "integral"
    flats = tools.across_flats(studs.size)
    tool = tools.tool_for(flats, given)
    clamped = COVER_RIM if integral else float(given.carrier_flange)
    proud = max(0.0, studs.length - clamped)
    own = float(sheet.housing.cover.bolt_head_height) if integral else tools.NUT * thread_diameter(studs.size)
    # a socket comes off over the stud that stands in it
    head = max(own, proud)
    turn, sign = face_turn(axle), axle.face_sign
    way = turn @ np.array([sign, 0.0, 0.0])
    what = "cover bolt" if integral else "carrier nut"
    for n, (y, z) in enumerate(axle.studs, 1):
        foot = turn @ np.array([sign * (axle.face_distance + clamped), y, z])
        tries = _socket_tries(foot, way, head, tool, given)
        tries.append(tools.wrench_try(foot, way, own, flats))
        yield Removal(
            name=f"bolt-{n}",
            label=f"{what} {n} of {len(axle.studs)} at {_clock(axle, y, z)}",
            group="bolts",
            tries=tuple(tries),
            leave=frozenset({"housing", "studs", "cover"}) | DRIVE,
            wanted=PLAY,
            notes="the cover's own dome not looked at: hold a socket to it" if integral else "drive shaft off",
        )


def _socket_tries(foot: Array, way: Array, head: float, tool: tools.Tool, given: Access) -> list[Try]:
    """A socket and ratchet by themselves, then with each extension bar, the shortest first."""
    bars = sorted(given.extensions, key=float)
    plain = tools.socket_try(foot, way, head, tool)
    return [plain, *(tools.socket_try(foot, way, head, tool, float(e), e.text) for e in bars)]


def _clock(axle: AxleModel, y: float, z: float) -> str:
    """Where a bolt is round the face, in words."""
    angle = math.degrees(math.atan2(y - axle.face_middle[0], z - axle.face_middle[1]))
    return f"{abs(angle):.0f} deg {'left' if angle > 0.0 else 'right'} of the top"


def _cover(sheet: Sheet, axle: AxleModel, given: Access) -> Removal:
    out = _out(axle)
    pull = max(float(given.cover_pull), sheet.housing.face.studs.length + SPARE)
    far = float(sheet.housing.face.outside_diameter)
    asides: tuple[tuple[str, Point], ...] = (
        ("down", DOWN), ("to the left", (0.0, 1.0, 0.0)), ("to the right", (0.0, -1.0, 0.0)), ("up", (0.0, 0.0, 1.0)),
    )  # fmt: skip
    tries = [
        Try(f"{_inch(pull)} straight off the face, then {words}", steps=(Shift(out, pull), Shift(way, far)))
        for words, way in asides
    ]
    return Removal(
        "cover", "cover", "cover", tuple(tries), ("cover",), FACE_ON | {"caps"}, float(given.gap), notes="bolts out"
    )


def _gears(sheet: Sheet, axle: AxleModel) -> tuple[Rod, ...]:
    """Ring gear and carrier case as they lie in the bearing bores."""
    third, bearings = sheet.third_member, sheet.housing.bearings
    way = 1.0 if third.ring_gear_side == "left" else -1.0
    back = axle.bearing_middle + way * 0.36 * bearings.width_over
    half = bearings.width_over / 2.0
    return (
        Rod((0.0, back, 0.0), (0.0, back - way * GEAR_WIDE, 0.0), float(third.ring_gear_diameter), False),
        Rod(
            (0.0, axle.bearing_middle - half, 0.0), (0.0, axle.bearing_middle + half, 0.0),
            float(bearings.bore_diameter), False,
        ),
    )  # fmt: skip


def _carrier(sheet: Sheet, axle: AxleModel, given: Access) -> Removal:
    """Ring gear and case of an integral casting, out through its cover face."""
    out = _out(axle)
    pull = axle.face_distance + sheet.third_member.ring_gear_diameter / 2.0 + SPARE
    tries = [
        Try(f"{_inch(pull)} straight out of the face, then {words}", steps=(Shift(out, pull), Shift(way, ASIDE)),
            moving=_gears(sheet, axle))
        for words, way in (("down", DOWN), ("up", (0.0, 0.0, 1.0)))
    ]  # fmt: skip
    notes = f"cover, caps and axle shafts out; {_weight(sheet)}"
    leave = FACE_ON | DRIVE | {"caps"}
    return Removal(
        "carrier", "carrier with ring gear", "third-member", tuple(tries), (), leave, float(given.gap), notes=notes
    )


def _third_member(sheet: Sheet, axle: AxleModel, given: Access) -> Removal:
    """Straight off the studs; tipped about the bearing bores, which moves no gear against the opening; then down.

    Turned by t about the bore axis, the edge of a flange of radius R, b before that axis, comes back toward the
    face by R sin t + b (1 - cos t): so far, and off the studs, it must be out before it is tipped (geometry).
    """
    out, stud = _out(axle), float(sheet.housing.face.studs.length)
    full = axle.face_distance + sheet.third_member.ring_gear_diameter / 2.0 + SPARE
    radius, b = sheet.housing.face.outside_diameter / 2.0, axle.face_distance
    tries = [Try(f"{_inch(full)} straight out, then down", steps=(Shift(out, full), Shift(DOWN, ASIDE)))]
    for tilt in TILTS:
        t = math.radians(tilt)
        first = min(full, stud + SPARE + radius * math.sin(t) + b * (1.0 - math.cos(t)))
        for words, way in (("down", 1.0), ("up", -1.0)):
            turn = Turn((0.0, 1.0, 0.0), (0.0, 0.0, 0.0), axle.pinion_sign * way * tilt)
            steps = (Shift(out, first), turn, Shift(out, full - first), Shift(DOWN, ASIDE))
            said = f"{_inch(first)} straight off the studs, nose tipped {words} {tilt:.0f} deg"
            tries.append(Try(f"{said}, on to {_inch(full)}, then down", steps=steps))
    gears = _gears(sheet, axle)
    notes = f"drive shaft and axle shafts out; {_weight(sheet)}"
    return Removal(
        "third-member", "third member", "third-member",
        tuple(Try(t.words, steps=t.steps, moving=gears) for t in tries),
        ("nose", "pinion"), FACE_ON | {"drive-shaft"}, float(given.gap), notes=notes,
    )  # fmt: skip


def _weight(sheet: Sheet) -> str:
    mass = float(sheet.third_member.mass)
    heavy = f"it weighs {mass / POUND:.0f} lb ({mass:.0f} kg)"
    return f"{heavy}: carry it on a jack or hoist, never on the studs or by hand"


def _out(axle: AxleModel) -> Point:
    return as_point(face_turn(axle) @ np.array([axle.face_sign, 0.0, 0.0]))


def removals_of_fittings(sheet: Sheet) -> Iterator[Removal]:
    """Plugs and breather of the sheet: a tool on each, and the way it screws out."""
    given = sheet.access or Access()
    for n, one in enumerate(fittings_of(sheet), 1):
        seat, way = np.array([float(v) for v in one.at]), np.array([float(v) for v in one.out])
        way = way / np.linalg.norm(way)
        across = float(one.across)
        flats = tools.flats_of_outside(across)
        head = HEX_HIGH * flats
        out = Rod(
            as_point(seat + way * tools.OFF),
            as_point(seat + way * (head + max(THREAD, float(one.pull)))),
            across,
            False,
        )
        tool = tools.tool_of_outside(across)
        tries = _socket_tries(seat, way, head, tool, given)
        tries.append(tools.wrench_try(seat, way, head, flats))
        if one.kind == "breather":
            tries = [Try("its hose or cap drawn off")]
        yield Removal(
            name=f"fitting-{n}",
            label=one.name if one.kind in one.name.lower() else f"{one.kind} {one.name}",
            group="plugs",
            tries=tuple(Try(t.words, (*t.rods, out), t.swing) for t in tries),
            leave=FACE_ON | {"nose"},
            wanted=PLAY,
        )


def fittings_of(sheet: Sheet) -> tuple[Fitting, ...]:
    """Plugs and breather of [truss] and [access], each name once."""
    lists = (() if sheet.truss is None else sheet.truss.fittings, () if sheet.access is None else sheet.access.fittings)
    found: dict[str, Fitting] = {}
    for one in (f for some in lists for f in some):
        found.setdefault(one.name.casefold(), one)
    return tuple(found.values())


def removals_of_shafts(sheet: Sheet, axle: AxleModel) -> Iterator[Removal]:
    """Both axle shafts, straight out at the wheel ends: as long as from the carrier bearings to the wheel mount."""
    given = sheet.access or Access()
    long = {
        r.side: r.expected for r in shaft_readings(sheet, axle) if r.what.endswith("middle of the carrier bearings")
    }
    for side in SIDES:
        s = float(sign_of(side))
        start = axle.half_width
        wide = float(sheet.wheel_ends.flange_diameter)
        off = "wheel and brake off"
        if axle.front:
            wide = float(given.shaft_joint)
            knuckle = next(k for k in axle.knuckles if k.side == side)
            # the joint's cross; what of its inner yoke lies inboard of that is narrower
            start = s * knuckle.axis_point[1]
            off = "wheel, brake, hub and spindle off"
        end = axle.half_width + long[side]
        rod = Rod((0.0, s * start, 0.0), (0.0, s * end, 0.0), wide, False)
        own = {f"{head}-{side}" for head in ("wheel", "brake", "outer", "tube", "end-flange")}
        yield Removal(
            name=f"shaft-{side}",
            label=f"axle shaft, {side}",
            group="shafts",
            tries=(Try(f"{_inch(long[side])} straight out", (rod,)),),
            leave=frozenset(own) | FACE_ON | DRIVE,
            wanted=float(given.gap),
            notes=off,
        )


def missing_fittings(sheet: Sheet) -> tuple[str, ...]:
    """Kinds of fittings the sheet has no place of."""
    there = {f.kind for f in fittings_of(sheet)}
    kinds: Iterable[str] = ("fill plug", "drain plug", "breather")
    return tuple(k for k in kinds if k not in there)


def _inch(length: float) -> str:
    return f"{length / tools.INCH:.1f} in ({length:.0f} mm)"
