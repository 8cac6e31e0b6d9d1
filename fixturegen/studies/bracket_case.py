"""One bracket under one force: what is given, and how the force comes to each of its two tabs.

Frame of the bracket: origin in the middle of the bolt between the tabs; x along the link, y across it
in the plane of the tabs, z along the bolt. The force is that of the joint on the bracket. The tabs
stand at z = +/- half their spacing; outward is from the root of a tab to its hole. In single shear the
origin is the middle of the joint and the one tab stands at z = -spacing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fixturegen.calc._bolts import CLAMP_SHARE
from fixturegen.calc._pins import bent_tab
from fixturegen.calc._welds import E70
from fixturegen.errors import Fault, InputFault
from fixturegen.studies.strength_records import RANGE, STANDARD, BoltSteel, Factors, Steel
from fixturegen.studies.weld_lines import Point, WeldLine

CLOSING_SHARE = 0.5
"""Of the clamp load, what may go into drawing the tabs in; the rest clamps. Common practice, no source."""

ORDINARY_GAP = 0.030 * 25.4
"""Room between tabs over the joint's width that every bolt of a link draws in, 0.010 to 0.030 in [mm]; common
practice, no source. A tab that is held near its hole yields a little as that is done, once, and stays drawn in."""

FULLY_PLASTIC = 1.5
"""Bending moment at which the whole of a plate's section yields, over that at which its surface does (geometry)."""

FRICTION = 0.15
"""Steel on steel with paint or oil between; common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class BracketCase:
    """A bracket of two tabs (or one, in single shear) and a force on its joint.

    Attributes:
        force: Of the joint on the bracket: along the link, across it, along the bolt (3,) [N].
        off_middle: Where it acts along the bolt, from the middle between the tabs [mm].
        joint_width: Measured [mm].
        gap: Room between the tabs less the joint's width; beside the one tab in single shear [mm].
        bolt: Size and strength.
        thread_in_plane: Whether thread lies where tab and joint meet.
        single_shear: Whether there is only one tab.
        tab: Material.
        thickness: Of a tab, measured [mm].
        hole: Diameter [mm].
        edge: Smallest distance from the middle of the hole to an edge [mm].
        width: Of the tab across the load at the hole [mm].
        root_width: Of the tab where it is welded, in its plane [mm].
        height: From the root to the middle of the hole [mm].
        brace: From a cross plate that holds the tabs apart to the middle of the hole; None without one [mm].
        brace_width: Of the tab along that cross plate; as wide as the root when None [mm].
        outward: From the link's direction to that from root to hole, about the bolt [deg].
        code: Rules for the plate at the hole: aisc for a structure, bth for a lifting device.
        welds: In the frame of the bracket; z above or below zero says of which tab.
        filler: Tensile strength of the weld metal [MPa].
        by_direction: Whether a weld across the load counts for more.
        tube: Material of the tube or rail the bracket stands on.
        tube_radius: Outside; 0 where it is flat [mm].
        rail_width: Of the flat side of a rectangular rail; 0 where it is none, or not known [mm].
        tube_wall: Thickness [mm].
        across_tube: Whether the tabs stand across the tube (True) or along it.
        tube_stress_share: Pressing stress in the tube from its own bending, over its yield strength [1].
        friction: Between tab and joint [1].
        factors: Asked for.
    """

    force: Point
    joint_width: float
    gap: float
    bolt: BoltSteel
    tab: Steel
    thickness: float
    hole: float
    edge: float
    width: float
    root_width: float
    height: float
    welds: tuple[WeldLine, ...]
    tube: Steel
    tube_wall: float
    tube_radius: float = 0.0
    rail_width: float = 0.0
    off_middle: float = 0.0
    thread_in_plane: bool = False
    single_shear: bool = False
    brace: float | None = None
    brace_width: float | None = None
    outward: float = 90.0
    code: Literal["aisc", "bth"] = "aisc"
    filler: float = E70
    by_direction: bool = False
    across_tube: bool = True
    tube_stress_share: float = 0.0
    friction: float = FRICTION
    factors: Factors = STANDARD

    @property
    def spacing(self) -> float:
        """Between the middles of the two tabs [mm]; of tab and joint in single shear."""
        if self.single_shear:
            return self.joint_width / 2 + self.gap + self.thickness / 2
        return self.joint_width + self.gap + self.thickness

    @property
    def free_height(self) -> float:
        """From what holds a tab sideways, root or cross plate, to the hole [mm]."""
        return self.height if self.brace is None else self.brace

    @property
    def held_width(self) -> float:
        """Of the tab along what holds it sideways, root or cross plate [mm]."""
        return self.root_width if self.brace is None or self.brace_width is None else self.brace_width

    @property
    def in_plane(self) -> float:
        """Size of the force in the plane of the tabs [N]."""
        return math.hypot(self.force[0], self.force[1])

    @property
    def clamp_load(self) -> float:
        """What the bolt clamps with when it is new and tight [N]."""
        return CLAMP_SHARE * self.bolt.proof * self.bolt.stress_area


@dataclass(frozen=True)
class TabLoad:
    """What one tab carries.

    Attributes:
        name: In words.
        z: Middle of the tab along the bolt [mm].
        at_hole: Force of the bolt in the tab's plane, along the link and across it (2,) [N].
        side: Force square to the tab at its hole [N].
        radial: Pull (positive) or push on the root, outward [N].
        tangential: Force at the hole square to outward, in the tab's plane [N].
        moment: In the tab's plane at its root [N*mm].
        side_moment: Out of the tab's plane at its root [N*mm].
    """

    name: str
    z: float
    at_hole: tuple[float, float]
    side: float
    radial: float
    tangential: float
    moment: float
    side_moment: float

    @property
    def size(self) -> float:
        """Of the force at the hole, in the tab's plane [N]."""
        return math.hypot(*self.at_hole)


def tab_stiffness(case: BracketCase) -> float:
    """Force at the hole that moves a tab sideways by one millimetre [N/mm].

    Args:
        case: The bracket.

    Source: geometry, cantilever, 3 E I / h^3 with I = w t^3 / 12.
    """
    return 3 * case.tab.modulus * case.held_width * case.thickness**3 / 12 / case.free_height**3


def closing_force(case: BracketCase) -> float:
    """Force of the bolt that draws both tabs to the joint, each by half the gap [N]; 0 in single shear.

    A tab that yields through is drawn in by no more than the force that makes it yield.

    Args:
        case: The bracket.

    Source: geometry, cantilever; elastic, then perfectly plastic.
    """
    if case.single_shear:
        return 0.0
    through = FULLY_PLASTIC * case.tab.yield_strength / _stress_per_force(case)
    return min(tab_stiffness(case) * case.gap / 2, through)


def _stress_per_force(case: BracketCase) -> float:
    """Bending stress in a tab per force at its hole [MPa/N]."""
    return float(bent_tab(1.0, case.free_height, case.held_width, case.thickness))


def closing_stress(case: BracketCase) -> float:
    """Bending stress in a tab that is drawn to the joint, as if it did not yield [MPa].

    Args:
        case: The bracket.

    Source: geometry, cantilever.
    """
    return 0.0 if case.single_shear else tab_stiffness(case) * case.gap / 2 * _stress_per_force(case)


def closable_gap(case: BracketCase) -> float:
    """Largest gap that the bolt draws in with half its clamp left and no tab at yield [mm]; 0 in single shear.

    Args:
        case: The bracket.

    Source: geometry, cantilever; practice, half the clamp load.
    """
    if case.single_shear:
        return 0.0
    by_yield = case.tab.yield_strength / case.factors.closing.value / _stress_per_force(case)
    return 2 * min(CLOSING_SHARE * case.clamp_load, by_yield) / tab_stiffness(case)


def drawn_tight(case: BracketCase) -> bool:
    """Whether the bolt draws the tabs to the joint, half its clamp left.

    No tab may yield over it, or the gap is an ordinary one: then a tab held near its hole yields a little
    where it is held, once, and is drawn in all the same.

    Args:
        case: The bracket.

    Source: practice, half the clamp load, ordinary gap.
    """
    if case.gap <= closable_gap(case) * (1 + RANGE):
        return True
    ordinary = case.gap <= ORDINARY_GAP * (1 + RANGE) and not case.single_shear
    return ordinary and closing_force(case) <= CLOSING_SHARE * case.clamp_load


def tab_loads(case: BracketCase) -> tuple[TabLoad, ...]:
    """What each tab carries; one in single shear, else the one at +z and the one at -z.

    In the plane the force splits by the lever along the bolt. A side force goes half into each tab
    where the bolt holds them together, else all into the one it pushes at (each is told as that one).
    With a cross plate its moment about the root becomes a pull on one tab and a push on the other.

    Args:
        case: The bracket.

    Source: geometry, lever and couple.
    """
    if case.single_shear:
        arm = case.spacing + case.off_middle
        return (_load(case, "the tab", -case.spacing, 1.0, case.force[2], 0.0, arm),)
    spacing = case.spacing
    side = case.force[2] / 2 if drawn_tight(case) else case.force[2]
    couple = 0.0 if case.brace is None else case.force[2] * case.height / spacing
    more = case.off_middle / spacing
    return (
        _load(case, "tab at +z", spacing / 2, 0.5 + more, side, -couple),
        _load(case, "tab at -z", -spacing / 2, 0.5 - more, side, couple),
    )


def _load(
    case: BracketCase, name: str, z: float, share: float, side: float, couple: float, arm: float = 0.0
) -> TabLoad:
    """The load of one tab from its share of the force, which acts an arm beside the tab in single shear."""
    along, across = share * case.force[0], share * case.force[1]
    turn = math.radians(case.outward)
    radial = along * math.cos(turn) + across * math.sin(turn)
    tangential = -along * math.sin(turn) + across * math.cos(turn)
    return TabLoad(
        name=name,
        z=z,
        at_hole=(along, across),
        side=side,
        radial=radial + couple,
        tangential=tangential,
        moment=tangential * case.height,
        side_moment=(side * case.height if case.brace is None else 0.0) - radial * arm,
    )


def check_case(case: BracketCase) -> None:
    """Refuse a bracket that cannot be one.

    Raises:
        InputFault: With everything that is wrong.
    """
    faults = [
        Fault(key, f"{value:g} mm", "a finite number over zero", "measure it and give it")
        for key, value in (
            ("joint width", case.joint_width),
            ("tab thickness", case.thickness),
            ("hole", case.hole),
            ("edge distance", case.edge),
            ("tab width", case.width),
            ("root width", case.root_width),
            ("hole height", case.height),
            ("tube wall", case.tube_wall),
        )
        if not (math.isfinite(value) and value > 0)
    ]
    if not all(math.isfinite(n) for n in (*case.force, case.off_middle, case.outward)):
        faults.append(Fault("force", "a number that is not finite", "finite numbers", "mend the load case"))
    faults = faults or _wrong(case)
    if faults:
        raise InputFault(*faults)


def _wrong(case: BracketCase) -> list[Fault]:
    """What of the sizes does not go together."""
    found = []
    if not 0 <= case.gap < math.inf:
        allowed = f"zero or more; the joint is {case.joint_width:g} mm wide"
        found.append(Fault("gap", f"{case.gap:g} mm", allowed, "widen the bracket: the joint does not go in"))
    if case.hole < case.bolt.diameter - 1e-6:
        allowed = f"{case.bolt.diameter:g} mm and more for {case.bolt.name}"
        found.append(Fault("hole", f"{case.hole:g} mm", allowed, "the bolt does not go in: drill larger"))
    if case.edge <= case.hole / 2:
        allowed = f"more than half the hole, {case.hole / 2:g} mm"
        found.append(Fault("edge distance", f"{case.edge:g} mm", allowed, "no plate is left: move the hole in"))
    if case.width <= case.hole:
        allowed = f"more than the hole, {case.hole:g} mm"
        found.append(Fault("tab width", f"{case.width:g} mm", allowed, "no plate is left beside the hole"))
    if case.brace is not None and not 0 < case.brace <= case.height:
        allowed = f"over zero, up to the height of the hole, {case.height:g} mm"
        found.append(Fault("cross plate", f"{case.brace:g} mm", allowed, "measure from the plate to the hole"))
    if abs(case.off_middle) > case.joint_width / 2:
        allowed = f"within half the joint, {case.joint_width / 2:g} mm"
        found.append(Fault("off middle", f"{case.off_middle:g} mm", allowed, "the force acts inside the joint"))
    if not (case.tube_radius == 0 or case.tube_wall <= case.tube_radius < math.inf):
        allowed = "0 for flat, else the wall's thickness and more"
        found.append(Fault("tube radius", f"{case.tube_radius:g} mm", allowed, "measure the tube"))
    if case.rail_width and not (case.tube_radius == 0 and 2 * case.tube_wall < case.rail_width < math.inf):
        allowed = "0 beside a round tube, else more than two walls"
        found.append(Fault("rail width", f"{case.rail_width:g} mm", allowed, "measure the rail"))
    if not (0 <= case.tube_stress_share < 1 and math.isfinite(case.friction) and case.friction >= 0):
        found.append(
            Fault("tube stress share, friction", "", "share from 0 to below 1, friction from 0", "mend the plan")
        )
    return found
