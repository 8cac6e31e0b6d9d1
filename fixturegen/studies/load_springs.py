"""Where the springs of an axle push on it."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.axle.linkage import Joint
from fixturegen.axle.model import AxleModel, Point, Side
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import Sheet, StrutEnds
from fixturegen.studies.link_inputs import links_on, mirror, point_of, stance_of

SIDES: tuple[Side, Side] = ("left", "right")
PLAIN = "as told on the sheet"
COIL_OVER = "the sheet has no spring: the shocks are taken as coil-overs"
LEAF = "leaf springs push straight up at their seats; the lines that stand for them are approximate"


@dataclass(frozen=True)
class SpringLine:
    """The line a spring pushes along.

    Attributes:
        side: left or right.
        name: Of the strut.
        axle: Its end on the axle, in A [mm].
        frame: Its end on the frame, in V [mm]; None where it pushes straight up.
        how: Where the line comes from.
    """

    side: Side
    name: str
    axle: Point
    frame: Point | None
    how: str = PLAIN


def springs_on(sheet: Sheet, axle: AxleModel) -> tuple[SpringLine, ...]:
    """The springs of a sheet, left ones first; shocks stand for them where it has none.

    Raises:
        InputFault: When it has neither springs nor shocks nor leaves.
    """
    links, stance = links_on(sheet), stance_of(sheet, axle)

    def in_axle(joint: Joint) -> Point:
        x, y, z = (float(v) for v in stance.in_axle(joint))
        return x, y, z

    if links.kind == "leaf-springs" and links.leaf is not None and links.leaf.left is not None:
        left = Joint(point_of(links.leaf.left.seat))
        right = mirror(left) if links.leaf.right is None else Joint(point_of(links.leaf.right.seat))
        return (
            SpringLine("left", "leaf", in_axle(left), None, LEAF),
            SpringLine("right", "leaf", in_axle(right), None, LEAF),
        )
    kinds = {s.kind for s in links.struts}
    kind = next((k for k in ("spring", "shock") if k in kinds), None)
    if kind is None:
        remedy = 'add [[links.struts]] of kind "spring" with both its ends'
        raise InputFault(Fault("links.struts", "no spring and no shock", "a spring on the left side", remedy))
    how = PLAIN if kind == "spring" else COIL_OVER
    rows = [s for s in links.struts if s.kind == kind]
    return tuple(strut_line(sheet, axle, row, side, how) for side in SIDES for row in rows)


def strut_line(sheet: Sheet, axle: AxleModel, row: StrutEnds, side: Side, how: str = PLAIN) -> SpringLine:
    """The line of one strut of the sheet, on either side.

    Args:
        sheet: The sheet.
        axle: The axle.
        row: The strut, of the left side.
        side: Which side.
        how: Where the line comes from.
    """
    frame, end = Joint(point_of(row.frame)), Joint(point_of(row.axle), row.at)
    if side == "right":
        frame, end = mirror(frame), mirror(end)
    x, y, z = (float(v) for v in stance_of(sheet, axle).in_axle(end))
    return SpringLine(side, row.name, (x, y, z), frame.point, how)
