"""The plates of a box: ears, the shelf under the joint, the ribs at its ends."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.brackets.backs import TAB
from fixturegen.brackets.ears import Blank, base_edge, bored, needed_joint
from fixturegen.brackets.flanks import WEB, slot_steel
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.gussets import BEAD, LEAST, SNIPE, foot_line, stretches
from fixturegen.brackets.registry import BracketContext
from fixturegen.brackets.words import ends_of
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal, fraction
from fixturegen.parts.joinery import filleted, locating_room, slot, tab
from fixturegen.plate import Hole, Loop, Part, Profile, Vertex
from fixturegen.plate.nearness import encloses, loop_to_point
from fixturegen.plate.tab_outlines import FOOT, EdgeRules, TabHole, tab_outline
from fixturegen.studies.bracket_records import Ear, Mount, Seam, TubeBase

BELOW = 12.0  # the front ear reaches below the shelf, so that both sides of the shelf are welded to it [mm]
LEAN_ROOM = 0.5  # over the height at which a bar that leans leaves an ear [mm]
TAB_ROOM = 4.0  # of edge beside a tab: its relieved roots [mm]
BAR_ROOM = 3.0  # from the joint's body to steel under the bar [mm] (common practice, no source)


@dataclass(frozen=True, eq=False)
class Box:
    """Directions in A and measures of a box.

    Attributes:
        along: Along the tube, toward the bar, unit.
        up: Square to bolt and tube, away from the tube, unit.
        front: Along the bolt, away from the tube, unit.
        shelf: The shelf's frame: x along, y away from the tube, z up; origin under the hardpoint.
        under: From the hardpoint down to the shelf's middle plane [mm].
        wide: Half the room between the ribs [mm].
    """

    along: Array
    up: Array
    front: Array
    shelf: Stand
    under: float
    wide: float

    def on_shelf(self, ahead: float, over: float) -> float:
        """Height over the bolt's line of the plane `over` above the shelf's middle, `ahead` of the joint's middle."""
        z = self.shelf.rotation[:, 2]
        return float((over - self.under - ahead * (z @ self.front)) / (z @ self.up))


def ear_frame(mount: Mount, ways: tuple[Array, Array, Array], ahead: float) -> Stand:
    """Of an ear: x along, y up, its face with z = 0 at the lower end along z, `ahead` of the joint's middle."""
    along, up, front = ways
    z = np.cross(along, up)
    start = ahead if float(z @ front) > 0.0 else ahead + mount.thickness
    return Stand(np.array(mount.point) + start * front, np.stack([along, up, z], axis=1))


@dataclass(frozen=True, eq=False)
class BoxEar:
    """An ear of a box as drawn.

    Attributes:
        part: Its plate.
        stand: Where it stands.
        holes: For the bolt.
        rules: Steel round them.
        ahead: Of its nearer face from the joint's middle, away from the tube [mm].
        low: Its lower edge along y [mm].
        top: Its highest hole along y [mm].
        over: From the first hole to the weld on the shelf [mm].
        outer: Its face away from the joint along z [mm].
        tab: Middle of its tab in the far rib, along y [mm].
    """

    part: Part
    stand: Stand
    holes: tuple[Hole, ...]
    rules: EdgeRules
    ahead: float
    low: float
    top: float
    over: float
    outer: float
    tab: float

    @property
    def high(self) -> float:
        """Height of its edge on the far rib [mm]."""
        return self.top - self.low

    def root(self, box: Box, leg: float) -> Seam:
        """Its root on the shelf, as a line on its face away from the joint; the far rib goes on with it."""
        x, z = box.wide, self.outer
        return Seam(self.part.name, self.stand.outward(-x, -self.over, z), self.stand.outward(x, -self.over, z), leg)


def box_ear(context: BracketContext, mount: Mount, box: Box, front: bool) -> BoxEar:
    """The rear ear, which stands on the shelf, or the front one, against which the shelf ends.

    Raises:
        GeometryFault: When its hole stands too near to the weld.
    """
    half, thick, gap = mount.inside / 2.0, mount.thickness, float(mount.spec.gap)
    ahead = half if front else -half - thick
    stand = ear_frame(mount, (box.along, box.up, box.front), ahead)
    holes, rules = bored(context, mount, stand)
    faces = (ahead, ahead + thick)
    if front:
        over = -box.on_shelf(half, thick / 2.0)
        low = min(box.on_shelf(f, -thick / 2.0) for f in faces) - BELOW
    else:
        low = max(box.on_shelf(f, thick / 2.0) for f in faces) + gap
        low = max(low, _off_tube(mount, stand))
        over = -low
    if over < rules.base:
        words = f"{holes[0].label} stands {over:.1f} mm from the weld of its ear and must stand {rules.base:.1f} mm off"
        raise GeometryFault(mount.label, words, "move the point out, or take a smaller bolt")
    top, wide, kerf = holes[-1].y, box.wide, float(context.sheet.process.kerf)
    snipe = max(SNIPE, float(mount.spec.leg) + BEAD)
    r = rules.across
    quarter = math.tan(math.pi / 8.0)
    # a bar that leans still has its distance ahead of the hole
    lean = abs(float(np.array(mount.along) @ box.up))
    high = top + wide * lean / math.sqrt(1.0 - lean**2) + LEAN_ROOM
    shoulders = ((wide, high, quarter), (wide - r, high + r, 0.0), (r - wide, high + r, quarter), (-wide, high, 0.0))
    head = tuple(Vertex(*v) for v in shoulders)
    start = low + (0.0 if front else snipe)
    tooth = (start + high) / 2.0
    if high - start < TAB + 2.0 * TAB_ROOM:
        words = f"an ear has {high - start:.0f} mm on the far rib, its tab needs {TAB + 2.0 * TAB_ROOM:.0f} mm"
        raise GeometryFault(mount.label, words, "take a thicker plate, or move the point up, away from the tube")
    outer = filleted(
        (
            (-wide + (0.0 if front else snipe), low, 0.0),
            (wide, low, 3.0),
            head,
            tab(-wide, tooth, -90.0, TAB, thick, kerf),
            (-wide, low + (0.0 if front else snipe), 0.0),
        )
    )
    end = ends_of(mount)[1 if (front == (float(box.front @ np.array(mount.bolt)) > 0.0)) else 0]
    part = context.plate(
        mount,
        name=f"{mount.name}-ear-{end}",
        label=f"{end.capitalize()} ear of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer, holes=holes),
        datum="on the bolt's line; x toward the bar, y away from the shelf",
        notes=(
            f"{decimal(mount.inside)} between the ears, joint {fraction(needed_joint(mount).width)} wide",
            *(
                ()
                if len(holes) == 1
                else ("both ears are reamed in one stack; the bolt goes through one pair of holes",)
            ),
        ),
    )
    outside = thick if float(stand.rotation[:, 2] @ (box.front if front else -box.front)) > 0.0 else 0.0
    return BoxEar(part, stand, holes, rules, ahead, low, top, over, outside, tooth)


def _off_tube(mount: Mount, stand: Stand) -> float:
    """Lowest place along y at which a plate of an ear is clear of the tube [mm]; minus infinite where it passes it."""
    base = mount.base
    if not isinstance(base, TubeBase):
        return -math.inf
    off = np.array(base.point) - stand.origin
    tube = np.array(base.along)
    off = off - tube * float(off @ stand.rotation[:, 0]) / float(tube @ stand.rotation[:, 0])
    y, z = float(off @ stand.rotation[:, 1]), float(off @ stand.rotation[:, 2])
    beside = max(0.0, -z, z - mount.thickness)
    reach = base.radius + float(mount.spec.gap)
    return -math.inf if beside >= reach else y + math.sqrt(reach**2 - beside**2)


def told(mount: Mount, e: BoxEar, offset: float) -> Ear:
    """What checks need to know of an ear; offset of its inner face from the joint's middle [mm]."""
    return Ear(e.part.name, offset, mount.thickness, e.holes[0].finished, e.over, e.rules.across, e.rules.along, True)


def box_shelf(context: BracketContext, mount: Mount, box: Box) -> tuple[Part, tuple[Seam, ...], float, Stand]:
    """The shelf, its seams, the length of its ends, and where it stands."""
    thick, gap, wide = mount.thickness, float(mount.spec.gap), box.wide
    kerf = float(context.sheet.process.kerf)
    snipe = max(SNIPE, float(mount.spec.leg) + BEAD)
    far = _shelf_end(mount, box)
    low = {x: foot_line(mount, box.shelf, x, thick) for x in (-wide, -wide + snipe, wide - snipe, wide)}
    long = far - max(low.values())
    need = TAB + 2.0 * (snipe + TAB_ROOM)
    if long < need or 2.0 * (wide - snipe) < LEAST:
        words = f"its shelf is left {max(0.0, long):.0f} mm from the tube to the front ear"
        raise GeometryFault(mount.label, words, f"{need:.0f} mm are needed: move the point out")
    way = far_side(box)
    middle = _shelf_tab(mount, box)
    tooth = tab(way * wide, middle, 90.0 if way > 0.0 else -90.0, TAB, thick, kerf)
    right, left = ([tooth] if way > 0.0 else []), ([tooth] if way < 0.0 else [])
    cut = {s: (snipe if s == way else 0.0) for s in (-1.0, 1.0)}
    outer = filleted(
        (
            (-wide + snipe, low[-wide + snipe], 0.0),
            (wide - snipe, low[wide - snipe], 0.0),
            (wide, low[wide] + snipe, 0.0),
            *right,
            (wide, far - cut[1.0], 0.0),
            *([(wide - snipe, far, 0.0)] if way > 0.0 else []),
            *([(-wide + snipe, far, 0.0)] if way < 0.0 else []),
            (-wide, far - cut[-1.0], 0.0),
            *left,
            (-wide, low[-wide] + snipe, 0.0),
        )
    )
    part = context.plate(
        mount,
        name=f"{mount.name}-shelf",
        label=f"Shelf of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer),
        datum="under the joint; y away from the tube, marked face to the joint",
        notes=(
            f"lies along the {mount.base.words}, with {decimal(gap)} at the root; its sniped corners stay open "
            "so that water leaves and welds run on",
        ),
    )
    a, b = (box.shelf.outward(x, low[x], 0.0) for x in (-wide + snipe, wide - snipe))
    found = stretches(part.name, a, b, float(mount.spec.leg))
    return (
        part,
        found,
        long - 2.0 * snipe,
        Stand(np.array(box.shelf.outward(0.0, 0.0, -thick / 2.0)), box.shelf.rotation),
    )


def far_side(box: Box) -> float:
    """Side of the shelf, along its x, that lies away from the bar."""
    return -1.0 if float(box.shelf.rotation[:, 0] @ box.along) > 0.0 else 1.0


def _shelf_end(mount: Mount, box: Box) -> float:
    """Where the shelf ends along its y: both its faces before the front ear [mm]."""
    d, z = box.shelf.rotation[:, 1], box.shelf.rotation[:, 2]
    room = mount.inside / 2.0 - float(mount.spec.gap)
    return min(
        (room - (s * mount.thickness / 2.0 - box.under) * float(z @ box.front)) / float(d @ box.front)
        for s in (-1.0, 1.0)
    )


def _shelf_tab(mount: Mount, box: Box) -> float:
    """Middle of the shelf's tab along y [mm]: half way from the tube to the front ear."""
    low = foot_line(mount, box.shelf, far_side(box) * box.wide, mount.thickness)
    return (low + _shelf_end(mount, box)) / 2.0


@dataclass(frozen=True, eq=False)
class BoxRib:
    """A rib of a box as drawn.

    Attributes:
        part: Its plate.
        blank: The same with the edge it sits on and where it stands.
        face: Its face away from the box along z [mm].
        far: Whether it stands away from the bar.
    """

    part: Part
    blank: Blank
    face: float
    far: bool


def box_rib(context: BracketContext, mount: Mount, box: Box, ears: list[BoxEar], far: bool) -> BoxRib:
    """A plate square to the ears at an end of the shelf; x is the shelf's z, y its y."""
    thick, kerf = mount.thickness, float(context.sheet.process.kerf)
    side = far_side(box) if far else -far_side(box)
    x, y = box.shelf.rotation[:, 2], box.shelf.rotation[:, 1]
    turn = np.stack([x, y, np.cross(x, y)], axis=1)  # z is against the shelf's x
    stand = Stand(np.array(box.shelf.outward(box.wide + thick if side > 0.0 else -box.wide, 0.0, 0.0)), turn)
    steel = _far_steel(mount, box, stand, ears, kerf) if far else _near_steel(mount, box)
    tabs = [TabHole(px, py, EdgeRules(r, r, r), "the box") for px, py, r in steel]
    base = base_edge(mount, stand, 0.0)
    outer = tab_outline(tabs, base, foot=max(FOOT, WEB * thick))
    inner = tuple(_slots(context, mount, box, stand, ears)) if far else ()
    if not far:
        _demand_bar(mount, outer, stand)
    part = context.plate(
        mount,
        name=f"{mount.name}-rib-{'far' if far else 'near'}",
        label=f"{'Far' if far else 'Near'} rib of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer, inner=inner),
        datum="level with the joint on the shelf's middle; y away from the tube",
        notes=(
            "away from the bar, against both ears and the shelf"
            if far
            else "under the bar, against the end of the shelf",
            f"sits on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root",
        ),
    )
    made = Blank(part.profile or Profile(outer), base, stand, EdgeRules(thick, thick, thick))
    return BoxRib(part, made, 0.0 if side > 0.0 else thick, far)


def _in_rib(box: Box, stand: Stand, ahead: float, high: float, mount: Mount) -> tuple[float, float]:
    """A place `ahead` of the joint's middle and `high` over the bolt's line, in a rib's frame [mm]."""
    p = stand.inward(np.array(mount.point) + ahead * box.front + high * box.up)
    return float(p[0]), float(p[1])


def _far_steel(
    mount: Mount, box: Box, stand: Stand, ears: list[BoxEar], kerf: float
) -> list[tuple[float, float, float]]:
    """Discs over the ears' ends and round every slot."""
    thick = mount.thickness
    discs = list(slot_steel(0.0, _shelf_tab(mount, box), TAB, thick, kerf))
    radius = slot_steel(0.0, 0.0, TAB, thick, kerf)[0][2]
    for e in ears:
        tooth = e.tab
        for high in (e.low + radius if e.ahead > 0.0 else tooth, tooth - TAB / 2.0, tooth + TAB / 2.0, e.top):
            for ahead in (e.ahead, e.ahead + thick):
                discs.append((*_in_rib(box, stand, ahead, high, mount), radius))
    return discs


def _near_steel(mount: Mount, box: Box) -> list[tuple[float, float, float]]:
    """Discs whose upper edge is flush with the shelf's upper face, as far as the front ear."""
    thick = mount.thickness
    radius = 2.0 * thick
    end = (mount.inside / 2.0 + box.under * float(box.shelf.rotation[:, 2] @ box.front)) / float(
        box.shelf.rotation[:, 1] @ box.front
    )
    x = thick / 2.0 - radius
    return [(x, end - radius - thick, radius), (x, min(0.0, end - 2.0 * radius - thick), radius)]


def _slots(context: BracketContext, mount: Mount, box: Box, stand: Stand, ears: list[BoxEar]) -> list[Loop]:
    kerf, room, thick = float(context.sheet.process.kerf), locating_room(context.sheet), mount.thickness
    found = [slot(0.0, _shelf_tab(mount, box), 90.0, TAB, thick, kerf, locating=True, room=room)]
    way = stand.direction(box.up)
    angle = math.degrees(math.atan2(way[1], way[0]))
    for e in ears:
        x, y = _in_rib(box, stand, e.ahead + thick / 2.0, e.tab, mount)
        found.append(slot(x, y, angle, TAB, thick, kerf, locating=True, room=room))
    return found


def _demand_bar(mount: Mount, outer: Loop, stand: Stand) -> None:
    """The near rib leaves the bar its room."""
    p, need = stand.inward(mount.point), needed_joint(mount).body / 2.0 + BAR_ROOM
    room = loop_to_point(outer, float(p[0]), float(p[1]))
    room = -room if encloses(outer, float(p[0]), float(p[1])) else room
    if room < need:
        words = f"its near rib leaves {room:.0f} mm round the middle of the bar, whose joint needs {need:.0f} mm"
        raise GeometryFault(mount.label, words, "lower wrap, or move the point up and away from the tube")
