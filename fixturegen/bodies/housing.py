"""The centre section: fabricated drop-out shell or integral casting, hollow, in frame A."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.bodies.drawing import along, bowl, revolved_about_x, turned_about_y
from fixturegen.shapes import solids
from fixturegen.shapes.cache import cached_shape
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.centre_shape import CAST_SOCKET, RIB, bowl_depth

CAP_WALL = 16.0  # steel of a bearing cap round its bore [mm]
SHAFT_ROOM = 6.0  # passage for bar or shaft behind a flange that is near the axle line [mm]
MORE = 400.0  # longer than any centre section is wide [mm]


@dataclass(frozen=True)
class _Frame:
    """The numbers both kinds share; u = sign * x, face vertical [mm]."""

    sign: int
    face: float
    middle: tuple[float, float]
    bearing: float
    low: float
    high: float
    radius: float
    opening: float
    flange: float
    skin: float
    tube: float


def _frame(sheet: Sheet, axle: AxleModel) -> _Frame:
    spec = sheet.housing
    return _Frame(
        sign=axle.face_sign,
        face=axle.face_distance,
        middle=axle.face_middle,
        bearing=axle.bearing_middle,
        low=axle.section[0],
        high=axle.section[1],
        radius=spec.height / 2.0,
        opening=spec.face.opening_diameter / 2.0,
        flange=float(spec.face.flange_thickness),
        skin=float(spec.skin),
        tube=sheet.tubes.outside_diameter / 2.0,
    )


def housing_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Shape]:
    """The centre section and what is bolted to it, by name, frame A.

    "housing" alone for a drop-out; with "caps" (bearing caps) and "cover" for an integral casting;
    "studs" where the sheet gives them a length.
    """
    frame = _frame(sheet, axle)
    made = {}
    if sheet.housing.kind == "drop-out":
        made["housing"] = cached_shape(("drop-out", sheet.housing, frame), lambda: _dropout(sheet, frame))
    else:
        made["housing"] = _casting(sheet, axle, frame)
        made["caps"] = _caps(sheet, frame)
        made["cover"] = _cover(sheet, axle, frame)
    studs = _studs(sheet, axle, frame)
    if studs is not None:
        made["studs"] = studs
    # everything above is drawn with the face vertical
    return {name: turned_about_y(shape, -axle.table_turn) for name, shape in made.items()}


def _ring(frame: _Frame, outside: float) -> solids.Solid:
    y, z = frame.middle
    back = along(frame.sign, frame.face - frame.flange, y, z)
    return solids.cylinder(back, along(frame.sign, frame.face, y, z), 2.0 * outside)


def _opening(frame: _Frame, depth: float) -> solids.Solid:
    y, z = frame.middle
    start = along(frame.sign, frame.face - depth, y, z)
    return solids.cylinder(start, along(frame.sign, frame.face + 1.0, y, z), 2.0 * frame.opening)


def _slice(low: float, high: float) -> solids.Solid:
    return solids.box(-MORE, low, -MORE, MORE, high, MORE)


def _necks(frame: _Frame, middle: float, end: float) -> solids.Shape:
    """Two cones from the bearings' middle to the sides, radius `middle` and `end` [mm]."""
    left = solids.cone((0.0, frame.bearing, 0.0), (0.0, frame.high, 0.0), 2.0 * middle, 2.0 * end)
    right = solids.cone((0.0, frame.bearing, 0.0), (0.0, frame.low, 0.0), 2.0 * middle, 2.0 * end)
    return solids.fuse(left, right)


def _through(frame: _Frame) -> solids.Solid:
    """The holes for the tubes, right through both sides."""
    return solids.cylinder((0.0, frame.low - 1.0, 0.0), (0.0, frame.high + 1.0, 0.0), 2.0 * frame.tube)


def _dropout(sheet: Sheet, frame: _Frame) -> solids.Solid:
    """A shell like a banjo: drum, rounded back, sides tapering to the tubes, face ring."""
    back = float(sheet.housing.cover.projection)
    skin, y, z = frame.skin, *frame.middle
    front = frame.face - frame.flange
    knee = -0.25 * back
    drum = revolved_about_x(bowl(frame.radius, front, knee, -back), frame.sign, y, z)
    end = frame.tube + skin
    waist = max(end, min(front - 2.0, 0.8 * back, 0.85 * frame.radius))
    outside = solids.fuse(solids.common(drum, _slice(frame.low, frame.high)), _necks(frame, waist, end))
    hollow = revolved_about_x(bowl(frame.radius - skin, front - skin, knee, skin - back), frame.sign, y, z)
    hollow = solids.common(hollow, _slice(frame.low + skin, frame.high - skin))
    shell = solids.fuse(outside, _ring(frame, sheet.housing.face.outside_diameter / 2.0))
    shell = solids.cut(
        shell,
        hollow,
        _necks(frame, waist - skin, frame.tube),
        _through(frame),
        _opening(frame, frame.flange + skin + 1.0),
    )
    return solids.checked(shell, "housing")


def _casting(sheet: Sheet, axle: AxleModel, frame: _Frame) -> solids.Solid:
    """A casting: bowl round the ring gear, snout, cast sockets, flange with bosses, bearing webs."""
    y, z = frame.middle
    skin, bottom = frame.skin, bowl_depth(sheet)
    front = frame.face - frame.flange
    knee = min(front - 5.0, 0.15 * bottom)
    body = revolved_about_x(bowl(frame.radius - RIB, front, knee, bottom), frame.sign, y, z)
    end = frame.tube + CAST_SOCKET
    waist = min(0.8 * frame.radius, max(end, 0.75 * abs(bottom)))
    sides = _necks(frame, waist, end)
    # the sockets may not stand in front of the machined face
    sides = solids.common(sides, _behind(frame, frame.face))
    snout, snout_bore = _snout(sheet, axle, frame)
    outside = solids.fuse(solids.common(body, _slice(frame.low, frame.high)), sides, snout)
    outside = solids.fuse(
        outside,
        _ring(frame, sheet.housing.face.outside_diameter / 2.0),
        *_bosses(axle, frame),
        _ribs(frame, knee, bottom),
    )
    inner = min(frame.radius - RIB - skin, frame.opening + skin)
    hollow = revolved_about_x(bowl(inner, front + 1.0, knee, bottom + skin), frame.sign, y, z)
    hollow = solids.common(hollow, _slice(frame.low + skin, frame.high - skin))
    # the flange stays whole: where it is nearer than the tube's radius, the tube gives way
    through = solids.cut(_through(frame), _flange_zone(sheet, frame))
    shaft = solids.cylinder((0.0, frame.low - 1.0, 0.0), (0.0, frame.high + 1.0, 0.0), sheet.bar.diameter + SHAFT_ROOM)
    holes = [hollow, through, shaft, _opening(frame, frame.flange + 2.0), snout_bore]
    shell = solids.cut(outside, *holes, *_tapped(sheet, axle, frame))
    webs = _webs(sheet, frame, hollow)
    return solids.checked(solids.fuse(shell, *webs), "housing")


def _behind(frame: _Frame, u: float) -> solids.Solid:
    """Half space on the pinion side of u."""
    low, high = sorted((frame.sign * u, -frame.sign * MORE))
    return solids.box(low, -3000.0, -MORE, high, 3000.0, MORE)


def _snout(sheet: Sheet, axle: AxleModel, frame: _Frame) -> tuple[solids.Solid, solids.Solid]:
    """Snout round the pinion and its bore, drawn in A and turned to the vertical face."""
    third = sheet.third_member
    nose = float(third.nose_diameter)
    z, sign = -float(third.pinion_below), axle.pinion_sign
    station = axle.face_middle[0]
    reach = third.pinion_length - 30.0
    root = 0.62 * abs(bowl_depth(sheet))
    start = along(sign, root, station, z)
    waist = along(sign, reach - 0.35 * (reach - root), station, z)
    tip = along(sign, reach, station, z)
    body = solids.fuse(solids.cone(start, waist, 1.5 * nose, nose), solids.cylinder(waist, tip, nose))
    beyond = along(sign, reach + 1.0, station, z)
    bore = solids.cylinder(along(sign, root - 30.0, station, z), beyond, 0.62 * nose)
    turn = axle.table_turn
    return turned_about_y(body, turn), turned_about_y(bore, turn)


def _bosses(axle: AxleModel, frame: _Frame) -> list[solids.Solid]:
    """Steel behind the flange for each cover bolt."""
    start, end = frame.face - frame.flange - 14.0, frame.face - frame.flange / 2.0
    return [solids.cylinder(along(frame.sign, start, y, z), along(frame.sign, end, y, z), 24.0) for y, z in axle.studs]


def _tapped(sheet: Sheet, axle: AxleModel, frame: _Frame) -> list[solids.Solid]:
    depth = frame.face - frame.flange - 8.0
    size = thread_diameter(sheet.housing.face.studs.size)
    return [
        solids.cylinder(along(frame.sign, depth, y, z), along(frame.sign, frame.face + 1.0, y, z), size)
        for y, z in axle.studs
    ]


def _ribs(frame: _Frame, knee: float, bottom: float) -> solids.Solid:
    """Cast ribs over and under the bowl, from the flange to the snout."""
    y, z = frame.middle
    front = frame.face - frame.flange
    grown = revolved_about_x(bowl(frame.radius, front, knee, bottom - RIB), frame.sign, y, z)
    return solids.common(grown, solids.box(-MORE, y - 6.0, -MORE, MORE, y + 6.0, MORE))


def bearing_stations(sheet: Sheet, bearing: float) -> tuple[tuple[float, float], ...]:
    """(y from, y to) of both carrier bearing bores [mm]; `bearing` is their middle [mm]."""
    spec = sheet.housing.bearings
    half, width = spec.width_over / 2.0, float(spec.bore_width)
    return (bearing - half, bearing - half + width), (bearing + half - width, bearing + half)


def _webs(sheet: Sheet, frame: _Frame, hollow: solids.Solid) -> list[solids.Solid]:
    """The half of each bearing bore that is cast on, joined to the bowl."""
    bore = float(sheet.housing.bearings.bore_diameter)
    outer = bore / 2.0 + CAP_WALL
    webs = []
    for low, high in bearing_stations(sheet, frame.bearing):
        x0, x1 = sorted((0.0, -frame.sign * MORE))
        block = solids.box(x0, low, -outer, x1, high, outer)
        # a little into the wall, so that web and casting are one
        web = solids.common(block, _grown(sheet, frame))
        hole = solids.cylinder((0.0, low - 1.0, 0.0), (0.0, high + 1.0, 0.0), bore)
        webs.append(solids.cut(web, hole))
    return webs


def _grown(sheet: Sheet, frame: _Frame) -> solids.Solid:
    y, z = frame.middle
    bottom = bowl_depth(sheet)
    front = frame.face - frame.flange
    knee = min(front - 5.0, 0.15 * bottom)
    inner = min(frame.radius - RIB - frame.skin, frame.opening + frame.skin) + 0.4 * frame.skin
    return revolved_about_x(bowl(inner, front + 1.0, knee, bottom + 0.5 * frame.skin), frame.sign, y, z)


def _caps(sheet: Sheet, frame: _Frame) -> solids.Shape:
    """Both bearing caps with their bolts."""
    bore = float(sheet.housing.bearings.bore_diameter)
    outer = bore / 2.0 + CAP_WALL
    caps = []
    for low, high in bearing_stations(sheet, frame.bearing):
        x0, x1 = sorted((0.0, frame.sign * MORE))
        ring = solids.tube((0.0, low, 0.0), (0.0, high, 0.0), 2.0 * outer, bore)
        cap = solids.common(ring, solids.box(x0, low, -MORE, x1, high, MORE))
        heads = []
        for z in (-1.0, 1.0):
            at = z * (bore / 2.0 + CAP_WALL / 2.0)
            foot = along(frame.sign, 0.0, (low + high) / 2.0, at)
            top = along(frame.sign, 0.55 * outer, (low + high) / 2.0, at)
            heads.append(solids.cylinder(foot, top, CAP_WALL - 1.0))
        hole = solids.cylinder((0.0, low - 1.0, 0.0), (0.0, high + 1.0, 0.0), bore)
        caps.append(solids.cut(solids.fuse(cap, *heads), hole))
    return solids.compound(caps)


def _cover(sheet: Sheet, axle: AxleModel, frame: _Frame) -> solids.Shape:
    """A domed cover with its bolts; taken off on the bench."""
    y, z = frame.middle
    rim = sheet.housing.face.outside_diameter / 2.0
    lip, thick = frame.face + 10.0, 4.0
    top = max(float(sheet.housing.cover.projection), lip + 10.0)
    dome = revolved_about_x(bowl(frame.opening + thick, frame.face, lip, top), frame.sign, y, z)
    inside = revolved_about_x(bowl(frame.opening, frame.face - 1.0, lip, top - thick), frame.sign, y, z)
    plate = solids.cylinder(along(frame.sign, frame.face, y, z), along(frame.sign, lip - 2.0, y, z), 2.0 * rim)
    size = thread_diameter(sheet.housing.face.studs.size)
    heads = [
        solids.cylinder(
            along(frame.sign, lip - 2.0, sy, sz),
            along(frame.sign, lip - 2.0 + sheet.housing.cover.bolt_head_height, sy, sz),
            1.7 * size,
        )
        for sy, sz in axle.studs
    ]
    return solids.fuse(solids.cut(solids.fuse(dome, plate), inside), *heads)


def _studs(sheet: Sheet, axle: AxleModel, frame: _Frame) -> solids.Shape | None:
    length = float(sheet.housing.face.studs.length)
    if length <= 0.0:
        return None
    size = thread_diameter(sheet.housing.face.studs.size)
    return solids.compound(
        [
            solids.cylinder(along(frame.sign, frame.face, y, z), along(frame.sign, frame.face + length, y, z), size)
            for y, z in axle.studs
        ]
    )


def flange_zone(sheet: Sheet, axle: AxleModel) -> solids.Solid:
    """Where the cover flange of a casting stands and no tube may, frame A."""
    return turned_about_y(_flange_zone(sheet, _frame(sheet, axle)), -axle.table_turn)


def _flange_zone(sheet: Sheet, frame: _Frame) -> solids.Solid:
    y, z = frame.middle
    start = along(frame.sign, frame.face - frame.flange - 1.0, y, z)
    rim = float(sheet.housing.face.outside_diameter) + 2.0
    return solids.cylinder(start, along(frame.sign, MORE, y, z), rim)


def welded_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Solid]:
    """What is welded on already, by name "welded-N", frame A."""
    made = {}
    radius = sheet.tubes.outside_diameter / 2.0
    for i, item in enumerate(sheet.welded, start=1):
        low, high = sorted((float(item.station_from), float(item.station_to)))
        half = item.width / 2.0
        # the foot of a block as wide as this stands lower than the crown of the tube
        foot = math.sqrt(max(0.0, radius**2 - min(half, radius) ** 2))
        block = solids.box(-half, low, foot, half, high, radius + item.height)
        tube = solids.cylinder((0.0, low - 1.0, 0.0), (0.0, high + 1.0, 0.0), 2.0 * radius)
        made[f"welded-{i}"] = turned_about_y(solids.cut(block, tube), float(item.clock))
    return made


__all__ = ["bearing_stations", "flange_zone", "housing_bodies", "welded_bodies"]
