"""Where the plates of the stand meet: one set of numbers for stand, index plates and steady.

Stand, index plates and steady are made in three modules that do not import each other; slots and
tabs agree because both come from here. `u` and z as in the plan (z from the bar).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from fixturegen.parts.joinery import INCH, bolt_clearance, hole, tab, thread_diameter
from fixturegen.parts.marking import revision_words
from fixturegen.parts.registry import Context
from fixturegen.plate import Hole, Loop, Mark, Part, Profile, Purpose, Vertex
from fixturegen.plate.outlines import Corner, filleted, mirrored
from fixturegen.studies.jig_records import JigPlan

BUTT = INCH / 64.0  # gap where a plate butts the face plate; it closes in the tack [mm]
BACK_HIGH = 110.0  # height of the stand's back [mm]
BACK_IN = 10.0  # from the base's far edge to the back [mm]
COPE = 24.0  # radius of the cope of a rib over a table pin: two fingers take the pin [mm]
WRENCH = 32.0  # from a table bolt to the next plate [mm]
TAB = 50.0  # usual length of a tab [mm]
RIB_TAB = 45.0
STOP_TAB = 20.0  # tab of the y stop
STOP_NUT = 11.0 / 16.0 * INCH  # across flats of a 1/2-13 coupling nut
STUD_ROOM = INCH / 8.0  # studs locate nothing [mm]
OPENING_IN = 5.0  # the face plate's opening is this much smaller in radius than the housing's [mm]
LEG = 3.0 / 16.0 * INCH  # fillets of the stand
PAD_SCREW = 3.0 / 8.0 * INCH  # screw of a pad button
PART_GAP = 5.0  # room of an index plate that is still to be turned, in the face plate's slot [mm]
FIXED_GAP = 2.0  # the same where it is welded in [mm]


Place = tuple[float, float]


@dataclass(frozen=True)
class Layout:
    """Meeting places of the stand's plates.

    Attributes:
        floor: z of the top of the base [mm].
        edge: u where plates behind the face plate begin [mm].
        back: u of the back's two faces [mm].
        back_top: z of the back's upper edge [mm].
        back_tab: (z, length) of the tab of each side in the back [mm].
        foot_tabs: (u, length) of the tabs of each side in the base [mm].
        rib_foot: u where a rib ends on the base [mm].
        rib_tab: (u, length) of a rib's tab in the base [mm].
        rib_face_tabs: (z, length) of a rib's tabs in the face plate [mm].
        cope: u of the cope over the table pins [mm].
        face_tabs: (y from the face's middle, length) of the face plate's tabs in the base [mm].
        side_face_tabs: (z, length) of a stand side's tabs in the face plate (integral) [mm].
        clamps: (u, z) of the bolts that hold the index plate (integral) [mm].
    """

    floor: float
    edge: float
    back: Place
    back_top: float
    back_tab: Place
    foot_tabs: tuple[Place, ...]
    rib_foot: float
    rib_tab: Place
    rib_face_tabs: tuple[Place, ...]
    cope: float
    face_tabs: tuple[Place, ...]
    side_face_tabs: tuple[Place, ...]
    clamps: tuple[Place, ...]


def middle_of(context: Context) -> Place:
    """(y, z) of the middle of the datum face [mm], z from the bar."""
    return context.axle.face_middle


def layout_of(context: Context) -> Layout:
    """The meeting places for a plan."""
    plan = context.plan
    floor = -plan.height + plan.stand_thickness
    edge = plan.stand.face_plate[1] + BUTT
    far = plan.stand.foot - BACK_IN
    back = (far - plan.stand_thickness, far)
    foot = back[0] - edge
    cope = abs(plan.stand.pins[0][0])
    rib_foot = abs(plan.stand.bolts[0][0]) - WRENCH
    middle_z = middle_of(context)[1]
    return Layout(
        floor=floor,
        edge=edge,
        back=back,
        back_top=floor + BACK_HIGH,
        back_tab=(floor + BACK_HIGH / 2.0, TAB),
        foot_tabs=((edge + 0.24 * foot, TAB), (edge + 0.74 * foot, TAB)),
        rib_foot=rib_foot,
        rib_tab=((cope + COPE + rib_foot) / 2.0, RIB_TAB),
        rib_face_tabs=(
            (floor + 62.0, TAB),
            (middle_z + 0.35 * context.sheet.housing.face.outside_diameter / 2.0, TAB),
        ),
        cope=cope,
        face_tabs=_between_walls(plan),
        side_face_tabs=_beside_slot(plan, floor) if plan.kind == "integral" else (),
        clamps=((edge + 55.0, -72.0), (edge + 55.0, 72.0)) if plan.kind == "integral" else (),
    )


def _between_walls(plan: JigPlan) -> tuple[Place, ...]:
    """Tabs of the face plate, in the middle of each clear length between the plates behind it."""
    middle = (plan.stand.base[2] + plan.stand.base[3]) / 2.0
    walls = sorted((*plan.stand.sides, *plan.stand.ribs))
    spans = [(a, b) for a, b in pairwise(walls) if b - a > 70.0]
    return tuple(((a + b) / 2.0 - middle, min(TAB, b - a - 40.0)) for a, b in spans)


def _beside_slot(plan: JigPlan, floor: float) -> tuple[Place, ...]:
    """Tabs of the stand sides in the face plate: below the index plate's slot, which lies beside."""
    top = plan.index.pads[0][0] - PART_GAP - 1.5 * plan.stand_thickness
    low = floor + 22.0
    room = top - low
    if room < 2.0 * TAB + 20.0:
        return ((low + room / 2.0, min(TAB, room)),)
    return ((low + TAB / 2.0, TAB), (top - TAB / 2.0, TAB))


def uz_loop(context: Context, items: tuple[Corner | Loop, ...]) -> Loop:
    """A counter-clockwise outline drawn in (u, z), in the frame of an XZ plate (x = -X)."""
    loop = filleted(items)
    return mirrored(loop) if context.plan.face_sign > 0 else loop


def uz_place(context: Context, u: float, z: float) -> Place:
    """(x, y) in the frame of an XZ plate of a point (u, z) [mm]."""
    return -context.plan.face_sign * u, z


def xz_hole(
    context: Context,
    place: Place,
    finished: float,
    purpose: Purpose,
    label: str,
    stack: str = "",
    clearance: float = INCH / 16.0,
) -> Hole:
    """A hole of a clock-thickness XZ plate at (x, z) of T [mm], z from the bar; see `joinery.hole`."""
    return hole(
        -place[0],
        place[1],
        finished,
        purpose,
        label,
        context,
        thickness=context.plan.clock_thickness,
        stack=stack,
        clearance=clearance,
    )


def nose(radius: float) -> tuple[Vertex, ...]:
    """The round nose of a tongue about the bar, from its upper to its lower edge."""
    return (Vertex(0.0, radius, 1.0), Vertex(0.0, -radius, 0.0))


def revision_of(context: Context) -> str:
    """What stands beside the name of every plate: "REV A"."""
    return revision_words(context.sheet)


def across(context: Context, y: float) -> float:
    """X of a YZ plate of the stand (in its part frame) for a station [mm]."""
    return -context.plan.face_sign * (y - middle_of(context)[0])


def opening_radius(context: Context) -> float:
    """Radius of the face plate's opening [mm]: as the housing's less 5 mm, less where bolts are near."""
    face = context.sheet.housing.face
    thick = context.plan.stand_thickness
    y0, z0 = middle_of(context)
    stud = thread_diameter(face.studs.size) + STUD_ROOM
    holes = [(y, z, stud) for y, z in context.axle.studs]
    holes += [(y, z, bolt_clearance(PAD_SCREW)) for y, z in context.plan.stand.pad_buttons]
    near = min(math.hypot(y - y0, z - z0) - d / 2.0 for y, z, d in holes)
    return min(float(face.opening_diameter) / 2.0 - OPENING_IN, near - thick)


def stop_depth(context: Context) -> float:
    """How far the y stop reaches from the face plate under the flange's edge [mm]."""
    first = context.plan.stand.face_plate[0]
    flange = context.sheet.housing.face.flange_thickness
    return float(first - context.plan.index.face + flange + 6.0)


def stop_tab(context: Context) -> Place:
    """(y, z) of the y stop's tab in the face plate, left of the face, under its screw [mm].

    The screw meets the flange at its middle; where the tube is in the way, below the tube.
    """
    y, z = middle_of(context)
    outside = context.sheet.housing.face.outside_diameter / 2.0
    tube = context.sheet.tubes.outside_diameter / 2.0
    if context.plan.stand.face_plate[0] - stop_depth(context) < tube + 6.0:
        z = -tube - 6.0 - STOP_NUT / 2.0
    return y + outside + 16.0, z - STOP_NUT / 2.0 - context.plan.stand_thickness / 2.0


def stand_plate(
    context: Context,
    kind: str,
    name: str,
    label: str,
    profile: Profile,
    *,
    datum: str,
    notes: tuple[str, ...],
    marks: tuple[Mark, ...] = (),
    quantity: int = 1,
) -> Part:
    """A part of the stand's plate thickness."""
    return Part(
        name=name,
        label=label,
        kind=kind,
        form="plate",
        thickness=context.plan.stand_thickness,
        material=rack_material(context, float(context.sheet.jig.stand_plate)),
        profile=profile,
        quantity=quantity,
        marks=marks,
        datum=datum,
        notes=notes,
    )


def rack_material(context: Context, nominal: float) -> str:
    """Material of the rack's plate of a nominal thickness [mm]."""
    return min(context.sheet.plates, key=lambda p: abs(p.nominal - nominal)).material


def rib_bottom(context: Context, lay: Layout) -> tuple[Corner | Loop, ...]:
    """A rib's edge on the base, from the face plate outward: cope over the table pin, one tab."""
    u, length = lay.rib_tab
    kerf, thick = float(context.sheet.process.kerf), context.plan.stand_thickness
    cope = (Vertex(lay.cope - COPE, lay.floor, -1.0), Vertex(lay.cope + COPE, lay.floor, 0.0))
    return (
        (lay.edge, lay.floor, 0.0),
        cope,
        tab(u, lay.floor, 0.0, length, thick, kerf),
        (lay.rib_foot, lay.floor, 0.0),
    )


def rib_face_edge(context: Context, lay: Layout) -> tuple[Loop, ...]:
    """A rib's tabs in the face plate, from the upper one down."""
    kerf, thick = float(context.sheet.process.kerf), context.plan.stand_thickness
    tabs = sorted(lay.rib_face_tabs, reverse=True)
    return tuple(tab(lay.edge, z, -90.0, n, thick + BUTT, kerf) for z, n in tabs)
