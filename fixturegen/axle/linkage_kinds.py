"""The linkages by name: which links each has, and what stands for leaf springs."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import Joint, Kind, Link, Linkage, Stance
from fixturegen.axle.linkage_faults import refuse
from fixturegen.axle.model import Point
from fixturegen.errors import Fault, InputFault

LOWERS = ("lower-left", "lower-right")
UPPERS = ("upper-left", "upper-right")
TRACK_BAR = "track-bar"
ARMS = ("arm-left-front", "arm-left-rear", "arm-right-front", "arm-right-rear")

LINKS_OF: dict[Kind, tuple[str, ...]] = {
    "four-link": (*LOWERS, *UPPERS),
    "three-link": (*LOWERS, "upper", TRACK_BAR),
    "five-link": (*LOWERS, *UPPERS, TRACK_BAR),
    "wishbone": (*LOWERS, *UPPERS),
    "radius-arms": (*ARMS, TRACK_BAR),
    "truck-arms": (*ARMS, TRACK_BAR),
}
"""Names of the links of each kind; the legs of a wishbone are its upper links, an arm has two lines."""

PART_OF_BEAM = 0.75
"""Length of the link that stands for half a leaf spring, over the length of that half."""


def linkage_of(kind: Kind, stance: Stance, links: tuple[Link, ...]) -> Linkage:
    """The linkage of a kind, with its links in the order of the kind.

    Args:
        kind: Which linkage; leaf springs have `leaf_springs`.
        stance: How the axle stands at ride height.
        links: Its links by name, in any order.

    Raises:
        InputFault: When a link is missing or one too many, or the links are no linkage.
    """
    wanted = LINKS_OF[kind]
    given = {k.name: k for k in links}
    faults = []
    for name in wanted:
        if name not in given:
            key = Link(name, Joint((0.0, 0.0, 0.0)), Joint((0.0, 0.0, 0.0))).key
            faults.append(Fault(key, "", f"both ends: a {kind} linkage has {len(wanted)} lines", "measure both ends"))
    for link in links:
        if link.name not in wanted:
            faults.append(
                Fault(link.key, link.name, ", ".join(wanted), f"leave it out, or name another kind than {kind}")
            )
    if faults:
        raise InputFault(*faults)
    made = Linkage(kind, stance, tuple(_with_body(kind, given[name]) for name in wanted))
    refuse(made)
    return made


def _with_body(kind: Kind, link: Link) -> Link:
    """The link as a line of the arm or the wishbone it belongs to."""
    if kind == "wishbone" and link.name in UPPERS:
        return replace(link, part="wishbone", body="upper")
    if link.name in ARMS:
        return replace(link, part="arm", body=link.name.rsplit("-", 1)[0])
    return link


@dataclass(frozen=True)
class Leaf:
    """One leaf spring.

    Attributes:
        fixed_eye: Centre of the eye that is bolted to the frame, in V [mm].
        shackle_eye: Centre of the spring's other eye at ride height, in V [mm].
        seat: Middle of the clamped stretch, in V at ride height [mm].
        clamped: Length the clamps keep from bending [mm].
    """

    fixed_eye: Point
    shackle_eye: Point
    seat: Point
    clamped: float = 0.0


def leaf_springs(stance: Stance, left: Leaf, right: Leaf) -> Linkage:
    """The three-link equivalent of an axle on two leaf springs: approximate, and marked so.

    A half of the spring that bends to a circle moves its eye along an arc of 3/4 of the half's length.
    So a link of 3/4 of the fixed half, from the fixed eye to a point on the axle, takes its place. The
    shackle gives way along the spring. Halves of unlike length a (fixed) and b turn the seat by
    (1/a - 1/b) per heave, as two springs of one section in balance do: an upper line that meets the
    links where this turn has its centre stands for it. Sideways the axle is held at the height of the eyes.

    Args:
        stance: How the axle stands at ride height.
        left: The left spring.
        right: The right one.

    Formula: x = L - 2 d^2 / (3 L) for a beam bent to a circle by d, so that its arc has radius 3 L / 4;
        turn per heave = (1/a - 1/b) from d_a / a^2 = d_b / b^2.
    Holds: for springs nearly flat, without wind-up; shackle angle and leaf friction are left out.
    Source: geometry, beam bent to a circle; the three-link picture of the SAE leaf spring manual, from memory.

    Raises:
        InputFault: When a spring's seat does not stand between its eyes, or the result is no linkage.
    """
    links, mids, heights = [], [], []
    turns = []
    for side, leaf in (("left", left), ("right", right)):
        eye, seat, far = (np.array(p, dtype=np.float64) for p in (leaf.fixed_eye, leaf.seat, leaf.shackle_eye))
        a, b = abs(eye[0] - seat[0]) - leaf.clamped / 2.0, abs(far[0] - seat[0]) - leaf.clamped / 2.0
        if min(a, b) <= 0.0 or (eye[0] - seat[0]) * (far[0] - seat[0]) >= 0.0:
            key = f"links.leaf.{side}.seat"
            raise InputFault(
                Fault(key, "a seat not between the eyes", "fixed eye, seat, other eye in a row", "measure")
            )
        share = PART_OF_BEAM * a / abs(eye[0] - seat[0])
        end = eye + share * (seat - eye)
        links.append(Link(f"leaf-{side}", Joint(leaf.fixed_eye), Joint(as_point(end))))
        mids.append((eye, end))
        heights.append(eye[2] + (far[2] - eye[2]) * (stance.origin[0] - eye[0]) / (far[0] - eye[0]))
        turns.append(math.copysign(1.0, eye[0] - seat[0]) * (1.0 / a - 1.0 / b))
    turn = sum(turns) / 2.0
    links.append(_upper(stance, [m[0] for m in mids], [m[1] for m in mids], turn))
    beside = (float(stance.origin[0]), 0.0, sum(heights) / 2.0)
    links.append(Link("leaf-sideways", Joint(beside), Joint(beside), part="guide", direction=(0.0, 1.0, 0.0)))
    made = Linkage("leaf-springs", stance, tuple(links), approximate=True)
    refuse(made)
    return made


def _upper(stance: Stance, eyes: list[Array], ends: list[Array], turn: float) -> Link:
    """The line that gives the axle its turn per heave: from above the links' ends, toward the same centre.

    Args:
        stance: How the axle stands.
        eyes: Fixed eyes in V, left and right [mm].
        ends: Ends of the links on the axle in V [mm].
        turn: Of the axle per heave of its centre, about the point ahead where both lines meet [rad/mm].
    """
    eye, end = np.mean(eyes, axis=0), np.mean(ends, axis=0)
    rise = np.array([0.0, 0.0, 0.5 * abs(float(eye[0] - end[0]))])
    low, top = end - eye, rise
    foot, head = end + top, eye + top
    if abs(turn) > 1e-12:
        # both lines meet 1/turn ahead of the axle centre; the upper one keeps its length along X
        ahead = float(stance.origin[0]) + 1.0 / turn
        height = end[2] + low[2] / low[0] * (ahead - end[0])
        slope = (height - foot[2]) / (ahead - foot[0])
        head = np.array([eye[0], 0.0, foot[2] + slope * (eye[0] - foot[0])])
    foot, head = foot * [1.0, 0.0, 1.0], head * [1.0, 0.0, 1.0]
    return Link("leaf-turn", Joint(as_point(head)), Joint(as_point(foot)))
