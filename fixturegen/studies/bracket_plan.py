"""Which brackets are made, where they stand and how they are turned: numbers only, frame A.

The bolt is square to its link at ride, so that no misalignment is used up at rest, and as near to the
axle line as that allows; a link that runs along the axle (a track bar) has its bolt fore and aft.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import AxleModel, Point
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import BoltedJoint, Bracket, Sheet
from fixturegen.studies.bracket_records import (
    Base,
    BracketPlan,
    BracketSide,
    FlatBase,
    JointSize,
    Mount,
    TubeBase,
)
from fixturegen.studies.link_inputs import linkage_on, point_of, stance_of, struts_on
from fixturegen.units import Measure

ALONG_AXLE = 0.8
"""A link that runs along the axle line by more than this (cosine) has its bolt fore and aft."""
PARALLEL = 1e-6  # [1] sine of an angle between tube and rod that counts as none
SEAT_LINE = 100.0  # length of the line that says which way a leaf spring's seat looks [mm]
SAME_PLATE = 0.1  # mm; nominal thicknesses that are the same
WAYS: dict[str, Point] = {
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
}
LOOKS = {
    "up": "top",
    "down": "underside",
    "forward": "front",
    "rearward": "rear",
    "left": "left side",
    "right": "right side",
}


@dataclass(frozen=True)
class _Held:
    """A link or strut: its ends in A, axle end first."""

    name: str
    side: BracketSide
    axle: Array
    frame: Array


def bracket_plan(sheet: Sheet, axle: AxleModel) -> BracketPlan:
    """Every bracket of a sheet; none where it lists none.

    Raises:
        InputFault: When a bracket holds what is not there, or cannot be placed: every fault at once.
    """
    if not sheet.brackets:
        return BracketPlan()
    stance = stance_of(sheet, axle)
    held = {h.name: h for h in _held(sheet, axle, stance)}
    faults: list[Fault] = []
    mounts: list[Mount] = []
    for row, spec in enumerate(sheet.brackets):
        try:
            for one in _fellows(spec, row, held, stance):
                mounts.append(_mount(sheet, axle, stance, spec, row, one))
        except InputFault as wrong:
            faults += wrong.faults
    names = [m.name for m in mounts]
    for m in mounts:
        if names.count(m.name) > 1 and names.index(m.name) != mounts.index(m):
            remedy = "list each end once; of a left link the right bracket is made too"
            faults.append(Fault(f"brackets[{m.row + 1}].holds", m.label, "each end of a link once", remedy))
    if faults:
        raise InputFault(*faults)
    return BracketPlan(tuple(mounts))


def _on_own_truss(sheet: Sheet, axle: AxleModel, spec: Bracket, station: float) -> Bracket:
    """A bracket on the truss of this sheet, told what it stands on: its top, where the sheet does not say."""
    if sheet.truss is None or spec.on != "truss" or spec.surface is not None:
        return spec
    # only a sheet with a truss and something on it pays for its height
    from fixturegen.studies.truss_plan import top_of

    height, wall, width = top_of(sheet, axle, station)
    more = {"surface": height, "facing": "up", "wall": wall, "rail_width": width}
    return spec.model_copy(update={k: Measure(v) if isinstance(v, float) else v for k, v in more.items()})


def slug(text: str) -> str:
    """A name for files: lower case, words joined by hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")


def _held(sheet: Sheet, axle: AxleModel, stance: Stance) -> list[_Held]:
    """Links and struts of the sheet, each side by itself."""
    if sheet.links is None:
        return []
    found = []
    for link in linkage_on(sheet, axle).links:
        frame = stance.to_axle(link.frame.point)
        found.append(_Held(link.name, _side(link.name), stance.in_axle(link.axle), frame))
    for _, strut in struts_on(sheet):
        foot, top = stance.in_axle(strut.axle), stance.to_axle(strut.frame.point)
        for side, over in (("left", 1.0), ("right", -1.0)):
            turn = np.array([1.0, over, 1.0])
            found.append(_Held(f"{strut.name}-{side}", "left" if side == "left" else "right", foot * turn, top * turn))
    return found + _leaf_seats(sheet, stance)


def _leaf_seats(sheet: Sheet, stance: Stance) -> list[_Held]:
    """Seats of leaf springs; "frame" is a point over the seat, square to the line from eye to eye."""
    leaves = None if sheet.links is None else sheet.links.leaf
    if leaves is None or leaves.left is None:
        return []
    found = []
    sides: tuple[BracketSide, BracketSide] = ("left", "right")
    for side, spring in zip(sides, (leaves.left, leaves.right or leaves.left), strict=True):
        over = np.array([1.0, -1.0 if side == "right" and leaves.right is None else 1.0, 1.0])
        eye, far, seat = (np.array(point_of(p)) * over for p in (spring.fixed_eye, spring.shackle_eye, spring.seat))
        line = far - eye
        square = np.array([-line[2], 0.0, line[0]]) * np.sign(line[0])
        # a seat under the axle line looks down: the spring hangs below the tube
        square *= (1.0 if seat[2] >= stance.origin[2] else -1.0) / np.linalg.norm(square)
        here, there = stance.to_axle(as_point(seat)), stance.to_axle(as_point(seat + SEAT_LINE * square))
        found.append(_Held(f"leaf-seat-{side}", side, here, there))
    return found


def _side(name: str) -> BracketSide:
    words = name.split("-")
    return "left" if "left" in words else "right" if "right" in words else "middle"


def _fellows(spec: Bracket, row: int, held: dict[str, _Held], stance: Stance) -> list[_Held]:
    """What a row is made for: what it names, and of a left one the right one too."""
    if spec.point:
        return _by_hand(spec, row, held, stance)
    name = spec.holds
    if name not in held and f"{name}-left" in held:
        name = f"{name}-left"
    if name not in held:
        known = ", ".join(sorted({h.removesuffix("-left") for h in held if not h.endswith("-right")})) or "no link"
        remedy = "name a link or strut of [links], or give point and toward"
        raise InputFault(Fault(f"brackets[{row + 1}].holds", spec.holds, known, remedy))
    made = [held[name]]
    other = name.replace("left", "right")
    if held[name].side == "left" and other in held:
        made.append(held[other])
    return made


def _by_hand(spec: Bracket, row: int, held: dict[str, _Held], stance: Stance) -> list[_Held]:
    if len(spec.point) != 3 or len(spec.toward) != 3:
        given = f"point with {len(spec.point)} and toward with {len(spec.toward)} numbers"
        remedy = 'write both as ["forward", "left", "up"]'
        raise InputFault(Fault(f"brackets[{row + 1}].point", given, "three numbers each", remedy))
    here, there = stance.to_axle(point_of(spec.point)), stance.to_axle(point_of(spec.toward))
    ends = (here, there) if spec.end == "axle" else (there, here)
    one = _Held(spec.holds, _side(spec.holds), *ends)
    if one.side != "left" or f"{spec.holds.replace('left', 'right')}" in held:
        return [one]
    turn = np.array([1.0, -1.0, 1.0])
    return [one, _Held(spec.holds.replace("left", "right"), "right", ends[0] * turn, ends[1] * turn)]


def _mount(sheet: Sheet, axle: AxleModel, stance: Stance, spec: Bracket, row: int, held: _Held) -> Mount:
    here, there = (held.axle, held.frame) if spec.end == "axle" else (held.frame, held.axle)
    line = there - here
    along = line / np.linalg.norm(line)
    spec = _on_own_truss(sheet, axle, spec, float(here[1]))
    base = _base(sheet, axle, stance, spec, row, here, held.side)
    name = slug(held.name) + ("" if spec.end == "axle" else "-frame")
    words = held.name.replace("-", " ") + (", on the frame" if spec.end == "frame" else "")
    return Mount(
        name=name,
        label=words,
        side=held.side,
        holds=held.name,
        point=as_point(here),
        bolt=as_point(_bolt(spec, along, stance, held.side, base)),
        along=as_point(along),
        joint=_joint(sheet, spec, row),
        base=base,
        thickness=_thickness(sheet, spec, row),
        spec=spec,
        row=row,
    )


def _bolt(spec: Bracket, along: Array, stance: Stance, side: BracketSide, base: Base) -> Array:
    """Unit direction of the bolt; to the left, or forward where it runs fore and aft.

    On a hoop its tabs stand across the tube; a steering stabilizer's bolt is square to tube and rod.
    """
    if len(spec.bolt_way) == 3:
        way = np.array(point_of(spec.bolt_way))
        if side == "right":
            way[1] = -way[1]
        bolt = stance.rotation.T @ way
    elif spec.kind == "stabilizer-tab" and isinstance(base, TubeBase):
        bolt = np.cross(np.array(base.along), along)
        if np.linalg.norm(bolt) < PARALLEL:
            bolt = np.array(WAYS["forward"])
            bolt = bolt - (bolt @ np.array(base.along)) * np.array(base.along)
    elif spec.kind == "hoop-tab" and isinstance(base, TubeBase) and abs(along @ np.array(base.along)) < ALONG_AXLE:
        bolt = np.array(base.along) - (along @ np.array(base.along)) * along
    else:
        line = np.array(WAYS["left"]) if abs(along[1]) < ALONG_AXLE else stance.rotation.T @ np.array(WAYS["forward"])
        bolt = line - (line @ along) * along
    bolt = np.asarray(bolt / np.linalg.norm(bolt), dtype=np.float64)
    # an exact zero stays one: most links are held by a bolt along the axle
    bolt[np.abs(bolt) < 1e-12] = 0.0
    return bolt if bolt[1] > 0.0 or (bolt[1] == 0.0 and bolt[0] > 0.0) else -bolt


def _joint(sheet: Sheet, spec: Bracket, row: int) -> JointSize | None:
    if not spec.joint:
        return None
    found = next((j for j in sheet.joints if j.name == spec.joint), None)
    if found is None:
        known = ", ".join(j.name for j in sheet.joints) or "no [[joints]] are listed"
        remedy = "measure the joint and list it under [[joints]]"
        raise InputFault(Fault(f"brackets[{row + 1}].joint", spec.joint, known, remedy))
    return _size(found)


def _size(given: BoltedJoint) -> JointSize:
    return JointSize(
        given.name,
        float(given.width),
        float(given.body),
        given.bolt,
        float(given.shank),
        given.grade,
        None if given.limit is None else float(given.limit),
        None if given.rating is None else float(given.rating),
    )


def _thickness(sheet: Sheet, spec: Bracket, row: int) -> float:
    for plate in sheet.plates:
        if abs(plate.nominal - spec.plate) < SAME_PLATE:
            return float(plate.measured)
    rack = ", ".join(p.nominal.text for p in sheet.plates)
    remedy = "name a plate of the rack by its nominal thickness, or list the plate under [[plates]]"
    raise InputFault(Fault(f"brackets[{row + 1}].plate", spec.plate.text, rack, remedy))


def _base(
    sheet: Sheet, axle: AxleModel, stance: Stance, spec: Bracket, row: int, here: Array, side: BracketSide
) -> Base:
    if spec.on == "hoop" or spec.hoop is not None:
        return _hoop(stance, spec, row, side)
    if spec.surface is None and spec.end == "axle":
        return axle_tube(sheet, axle, float(here[1]))
    return _flat(stance, spec, row, here, side)


def axle_tube(sheet: Sheet, axle: AxleModel, station: float) -> TubeBase:
    """The axle's tube on the side of a station [mm]: from the centre section to its end."""
    right, left = axle.section
    low, high = (left, axle.tube_ends[1]) if station >= axle.bearing_middle else (axle.tube_ends[0], right)
    name: Literal["left", "right"] = "left" if station >= axle.bearing_middle else "right"
    return TubeBase(
        point=(0.0, 0.0, 0.0),
        along=(0.0, 1.0, 0.0),
        radius=float(sheet.tubes.outside_diameter) / 2.0,
        wall=float(sheet.tubes.wall),
        reach=(low, high),
        words=f"{name} axle tube",
    )


def _hoop(stance: Stance, spec: Bracket, row: int, side: BracketSide) -> TubeBase:
    if spec.hoop is None:
        remedy = "add hoop = { diameter = ..., wall = ..., begin = [...], end = [...] }"
        raise InputFault(Fault(f"brackets[{row + 1}].hoop", "nothing", "the tube it stands on", remedy))
    over = np.array([1.0, -1.0 if side == "right" else 1.0, 1.0])
    begin, end = (stance.to_axle(as_point(np.array(point_of(p)) * over)) for p in (spec.hoop.begin, spec.hoop.end))
    long = float(np.linalg.norm(end - begin))
    if long < 1.0:
        remedy = "give two points on its middle line a foot apart or more"
        raise InputFault(Fault(f"brackets[{row + 1}].hoop.end", "the same point as begin", "another point", remedy))
    return TubeBase(
        point=as_point(begin),
        along=as_point((end - begin) / long),
        radius=float(spec.hoop.diameter) / 2.0,
        wall=float(spec.hoop.wall),
        reach=(0.0, long),
        words="hoop tube",
    )


def _flat(stance: Stance, spec: Bracket, row: int, here: Array, side: BracketSide) -> FlatBase:
    if spec.facing is None or spec.surface is None:
        remedy = 'say which way the surface looks and where it is: facing = "up", surface = "5 in"'
        raise InputFault(Fault(f"brackets[{row + 1}].surface", "nothing", f"where the {spec.on} is", remedy))
    way = np.array(WAYS[spec.facing])
    place = np.abs(way) * float(spec.surface)
    if side == "right":
        way[1], place[1] = -way[1], -place[1]
    if spec.end == "frame":
        place, way = stance.to_axle(as_point(place)), stance.rotation.T @ way
    looks: str = spec.facing
    if side == "right":
        looks = {"left": "right", "right": "left"}.get(looks, looks)
    foot = here - ((here - place) @ way) * way
    return FlatBase(as_point(foot), as_point(way), f"{LOOKS[looks]} of the {spec.on}")
