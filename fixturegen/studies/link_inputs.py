"""From the sheet's [links] to linkage, vehicle, steering, struts and shaft: points as the studies take them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

from fixturegen.axle.linkage import Joint, Kind, Link, Linkage, Stance
from fixturegen.axle.linkage_kinds import Leaf, leaf_springs, linkage_of
from fixturegen.axle.model import AxleModel, Point
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import HoseEnds, LeafSpring, LinkEnds, Links, Sheet, StrutEnds
from fixturegen.studies.link_hoses import Hose
from fixturegen.studies.link_lock import Box
from fixturegen.studies.link_metrics import Vehicle
from fixturegen.studies.link_shafts import DriveShaft
from fixturegen.studies.link_steering import Knuckle, Steering
from fixturegen.studies.link_struts import Strut
from fixturegen.studies.numbers import wheel_centre_out

BRAKE_SHARE = {True: 0.65, False: 0.35}  # of front and rear axle (common practice, no source)


def stance_of(sheet: Sheet, axle: AxleModel) -> Stance:
    """How the axle stands at ride height."""
    return Stance(
        front=axle.front,
        wheelbase=float(sheet.vehicle.wheelbase),
        loaded_radius=float(sheet.vehicle.tyre_loaded_radius),
        pinion_angle=float(sheet.axle.pinion_angle),
        half_track=axle.half_width + wheel_centre_out(sheet),
    )


def links_on(sheet: Sheet) -> Links:
    """The sheet's [links].

    Raises:
        InputFault: When it has none.
    """
    if sheet.links is None:
        remedy = "add [links] with kind, bump, droop, gravity_height and the points of each link: see the examples"
        raise InputFault(Fault("links", "nothing", "a [links] section", remedy))
    return sheet.links


def linkage_on(sheet: Sheet, axle: AxleModel) -> Linkage:
    """The linkage of the sheet.

    Raises:
        InputFault: When links are missing, too many, or no linkage.
    """
    links, stance = links_on(sheet), stance_of(sheet, axle)
    if links.kind == "leaf-springs":
        left, right = _leaves(links)
        return leaf_springs(stance, left, right)
    kind: Kind = links.kind
    return linkage_of(kind, stance, tuple(_lines(links)))


def vehicle_on(sheet: Sheet, axle: AxleModel) -> Vehicle:
    """What anti-squat and anti-dive are judged with."""
    links = links_on(sheet)
    share = BRAKE_SHARE[axle.front] if links.brake_share is None else float(links.brake_share)
    return Vehicle(float(links.gravity_height), float(links.drive_share), share)


def _lines(links: Links) -> Iterator[Link]:
    pairs = [("lower", links.lower), ("upper", links.upper)]
    for head, pair in pairs:
        if pair is None:
            continue
        if pair.left is not None:
            yield _link(f"{head}-left", pair.left)
            right = _link(f"{head}-right", pair.right) if pair.right is not None else None
            yield right or _mirrored(f"{head}-right", pair.left)
        elif pair.right is not None:
            yield _link(f"{head}-right", pair.right)
    if links.upper is not None and links.upper.middle is not None:
        yield _link("upper", links.upper.middle)
    if links.arm is not None:
        for side in ("left", "right"):
            arm = getattr(links.arm, side)
            source = arm or links.arm.left
            for end in ("front", "rear"):
                ends = getattr(source, end) if source is not None else None
                if ends is not None:
                    name = f"arm-{side}-{end}"
                    yield _link(name, ends) if arm is not None else _mirrored(name, ends)
    if links.track_bar is not None:
        yield _link("track-bar", links.track_bar)


def point_of(values: Sequence[float]) -> Point:
    """Three quantities of the sheet as a point [mm]."""
    x, y, z = (float(v) for v in values)
    return x, y, z


def _joint(ends: LinkEnds, which: Literal["frame", "axle"]) -> Joint:
    bolt = ends.frame_bolt if which == "frame" else ends.axle_bolt
    return Joint(
        point_of(ends.frame if which == "frame" else ends.axle),
        "vehicle" if which == "frame" else ends.at,
        point_of(bolt) if len(bolt) == 3 else None,
        None if ends.limit is None else float(ends.limit),
        # the one rate on the sheet is that of the link: it stands at the frame's end
        float(ends.rate) if which == "frame" and ends.rate is not None else None,
        float(ends.tolerance),
    )


def _link(name: str, ends: LinkEnds) -> Link:
    return Link(name, _joint(ends, "frame"), _joint(ends, "axle"))


def _mirrored(name: str, ends: LinkEnds) -> Link:
    made = _link(name, ends)
    return replace(made, frame=mirror(made.frame), axle=mirror(made.axle))


def mirror(joint: Joint) -> Joint:
    """The joint on the other side of the truck."""
    x, y, z = joint.point
    bolt = None if joint.bolt is None else (joint.bolt[0], -joint.bolt[1], joint.bolt[2])
    return replace(joint, point=(x, -y, z), bolt=bolt)


def _leaves(links: Links) -> tuple[Leaf, Leaf]:
    if links.leaf is None or links.leaf.left is None:
        remedy = "measure fixed_eye, shackle_eye and seat of the left spring, and of the right one if it differs"
        raise InputFault(Fault("links.leaf.left", "nothing", "the left leaf spring", remedy))
    left = _leaf(links.leaf.left)
    if links.leaf.right is not None:
        return left, _leaf(links.leaf.right)

    def over(p: Point) -> Point:
        return p[0], -p[1], p[2]

    return left, Leaf(over(left.fixed_eye), over(left.shackle_eye), over(left.seat), left.clamped)


def _leaf(spring: LeafSpring) -> Leaf:
    return Leaf(point_of(spring.fixed_eye), point_of(spring.shackle_eye), point_of(spring.seat), float(spring.clamped))


def struts_on(sheet: Sheet) -> tuple[tuple[str, Strut], ...]:
    """(kind, strut) of the left side; the right one moves as its mirror image does."""
    return tuple((s.kind, _strut(s)) for s in links_on(sheet).struts)


def _strut(s: StrutEnds) -> Strut:
    return Strut(
        s.name,
        Joint(point_of(s.frame)),
        Joint(point_of(s.axle), s.at),
        None if s.shortest is None else float(s.shortest),
        None if s.longest is None else float(s.longest),
    )


def steering_on(sheet: Sheet, axle: AxleModel) -> Steering | None:
    """The steering; None on a rear axle or where the sheet has none.

    The knuckles' axes are those of the axle as it will be built, at its bench angle.
    """
    given = links_on(sheet).steering
    if given is None or not axle.knuckles:
        return None
    tie = Joint(point_of(given.tie_end), given.at)
    by_side = {k.side: k for k in axle.knuckles}
    knuckles = [
        Knuckle(by_side[side].axis_point, by_side[side].axis, tie if side == "left" else mirror(tie))
        for side in ("left", "right")
    ]
    return Steering(
        knuckles[0], knuckles[1], point_of(given.pitman), Joint(point_of(given.drag_end), given.at), given.drag_on
    )


def box_on(sheet: Sheet) -> Box | None:
    """The steering box; None where the sheet does not say where the pitman arm turns."""
    given = links_on(sheet).steering
    if given is None or not given.sector_shaft:
        return None
    sweep = None if given.box_sweep is None else float(given.box_sweep)
    return Box(point_of(given.sector_shaft), point_of(given.sector_way), sweep)


def lock_on(sheet: Sheet) -> float | None:
    """Heading of the inner wheel on its knuckle stop [deg]; None where it is not on the sheet."""
    given = links_on(sheet).steering
    return None if given is None or given.lock is None else float(given.lock)


def rod_roll_on(sheet: Sheet) -> float:
    """Roll of the tie rod that its ends allow either way [deg]."""
    given = links_on(sheet).steering
    return 0.0 if given is None else float(given.rod_roll)


def hoses_on(sheet: Sheet) -> tuple[Hose, ...]:
    """The brake hoses of the sheet, each by itself."""
    return tuple(_hose(h) for h in links_on(sheet).hoses)


def _hose(h: HoseEnds) -> Hose:
    return Hose(
        name=h.name,
        frame=point_of(h.frame),
        frame_on=h.frame_on,
        axle=Joint(point_of(h.axle), h.at),
        axle_on=h.axle_on,
        length=float(h.length),
        bend=None if h.bend is None else float(h.bend),
        frame_way=point_of(h.frame_way) if len(h.frame_way) == 3 else None,
        axle_way=point_of(h.axle_way) if len(h.axle_way) == 3 else None,
    )


def shaft_on(sheet: Sheet, axle: AxleModel) -> DriveShaft | None:
    """The drive shaft; None where the sheet has none."""
    given = links_on(sheet).shaft
    if given is None:
        return None
    stance = stance_of(sheet, axle)
    pinion = point_of(given.pinion)
    if given.at == "vehicle":
        x, y, z = (float(v) for v in stance.to_axle(pinion))
        pinion = (x, y, z)
    way = 1.0 if axle.front else -1.0  # from the case toward the axle
    slope = math.radians(float(given.case_slope))
    return DriveShaft(
        case=point_of(given.case),
        case_axis=(way * math.cos(slope), 0.0, -math.sin(slope)),
        pinion=pinion,
        joints=given.joints,
        plunge=None if given.plunge is None else float(given.plunge),
        case_limit=None if given.case_limit is None else float(given.case_limit),
        pinion_limit=None if given.pinion_limit is None else float(given.pinion_limit),
    )
