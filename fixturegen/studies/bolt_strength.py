"""Strength of the joint bolt: shear, bending over the gap, both together, and what its clamp alone would hold."""

from __future__ import annotations

import math

from fixturegen.calc._bolts import bolt_shear, cantilever_moment, pin_moment, pin_stress, shank_area
from fixturegen.findings import Trust, weakest
from fixturegen.studies.bracket_case import (
    CLOSING_SHARE,
    BracketCase,
    TabLoad,
    closing_force,
    drawn_tight,
    tab_loads,
)
from fixturegen.studies.strength_records import FATIGUE, IMPACT, Factor, Given, Strength

SLEEVE_CONTACT = 2.0
"""Widths of a joint, in bolt diameters, over which the stiff sleeve of a joint drawn tight bears on its
bolt: one diameter at each end. Common practice, no source; it is why a tight joint bends its bolt less."""

NOT_COVERED = (FATIGUE, IMPACT, "a bolt that has been loose or bent before")

NOTHING_ASKED = Factor(1.0, "told to be known", "practice", Trust.PRACTICE)


def bolt_strengths(case: BracketCase) -> tuple[Strength, ...]:
    """Shear of the bolt, its bending loose and drawn tight, both together, and the friction of its clamp.

    Args:
        case: The bracket.
    """
    worst = max(tab_loads(case), key=lambda load: load.size)
    shear = _shear(case, worst)
    tight = drawn_tight(case)
    ways = [_bending(case, worst, loose=True, judged=case.single_shear or not tight)]
    if not case.single_shear:
        ways.append(_bending(case, worst, loose=False, judged=tight))
    bending = next(way for way in ways if way.judged)
    return (shear, *ways, _together(case, shear, bending), _friction(case))


def bolt_moment(case: BracketCase, load: TabLoad, loose: bool) -> float:
    """Largest bending moment in the bolt at its worse tab [N*mm].

    Args:
        case: The bracket.
        load: Of that tab.
        loose: Whether the joint stands free at the measured gap, its load even over its width; else
            it is drawn tight and bears at its ends.

    Source: pin-bending, M = P / 2 (t1 / 2 + t2 / 4 + gap); single shear: geometry, arm between the middles.
    """
    if case.single_shear:
        arm_gap = case.gap + case.off_middle
        return float(cantilever_moment(load.size, case.thickness, case.joint_width, arm_gap))
    if loose:
        return float(pin_moment(2 * load.size, case.thickness, case.joint_width, case.gap / 2))
    contact = min(case.joint_width, SLEEVE_CONTACT * case.bolt.diameter)
    return float(pin_moment(2 * load.size, case.thickness, contact, 0.0))


def _shear(case: BracketCase, load: TabLoad) -> Strength:
    """The plane at the worse tab."""
    bolt, factor = case.bolt, case.factors.bolt_shear
    area = bolt.stress_area if case.thread_in_plane else float(shank_area(bolt.diameter))
    where = "stress area of the thread" if case.thread_in_plane else "area of the shank"
    planes = "single" if case.single_shear else "double"
    return Strength(
        what=f"bolt in {planes} shear, the plane at {load.name}",
        demand=load.size,
        capacity=float(bolt_shear(area, bolt.tensile)),
        unit="N",
        factor=factor,
        given=(
            Given("force in the plane of the tabs", case.in_plane, "N"),
            Given("off the middle along the bolt", case.off_middle, "mm"),
            Given(where, area, "mm^2"),
            Given(f"tensile strength of {bolt.name}", bolt.tensile, "MPa"),
        ),
        formula=f"strength of one plane = 0.6 tensile strength x {where}",
        source="practice",
        section="shear strength 0.6 of tensile strength",
        trust=weakest(Trust.PRACTICE, bolt.trust, factor.trust),
        not_covered=NOT_COVERED,
    )


def _bending(case: BracketCase, load: TabLoad, *, loose: bool, judged: bool) -> Strength:
    """Elastic bending against yield."""
    bolt, factor = case.bolt, case.factors.bolt_bending
    diameter = bolt.root if case.thread_in_plane else bolt.diameter
    gap = Given("gap at each tab", case.gap / 2, "mm")
    if case.single_shear:
        how, formula = "from one tab", "M = P (t / 2 + joint / 2 + gap); stress = 32 M / (pi d^3)"
        gap = Given("gap", case.gap, "mm")
    elif loose:
        how = "joint loose at the measured gap"
        formula = "M = P (t / 2 + joint / 4 + gap), P at the worse tab; stress = 32 M / (pi d^3)"
    else:
        how = "joint drawn tight, bearing at its ends"
        formula = "M = P (t / 2 + contact / 4), contact = 2 d at most; stress = 32 M / (pi d^3)"
        gap = Given("gap left", 0.0, "mm")
    told = "" if judged else "told to be known: the joint "
    if told:
        told += "can be drawn tight by its bolt" if loose else "cannot be drawn tight by its bolt"
    return Strength(
        what=f"bolt bent, {how}",
        demand=float(pin_stress(bolt_moment(case, load, loose), diameter)),
        capacity=bolt.yield_strength,
        unit="MPa",
        factor=factor,
        given=(
            Given(f"force at {load.name}", load.size, "N"),
            Given("thickness of tab", case.thickness, "mm"),
            Given("width of joint", case.joint_width, "mm"),
            gap,
            Given("diameter that bends", diameter, "mm"),
            Given(f"yield strength of {bolt.name}", bolt.yield_strength, "MPa"),
        ),
        formula=formula,
        source="pin-bending",
        section="even load over plate and joint, the tight case by common practice",
        trust=weakest(Trust.MEMORY, bolt.trust, factor.trust),
        not_covered=NOT_COVERED,
        judged=judged,
        note=told,
    )


def _together(case: BracketCase, shear: Strength, bending: Strength) -> Strength:
    """Shear and bending in one bolt."""
    return Strength(
        what="bolt, shear and bending together",
        demand=math.hypot(shear.used, bending.used),
        capacity=1.0,
        unit="1",
        factor=case.factors.bolt_bending,
        given=(Given("share used by shear", shear.used, "1"), Given("share used by bending", bending.used, "1")),
        formula="sqrt(shear share^2 + bending share^2) <= 1 / factor",
        source="pin-bending",
        section="interaction of shear and bending in a pin",
        trust=weakest(shear.trust, bending.trust),
        not_covered=NOT_COVERED,
        note=f"bending taken as: {bending.what}",
    )


def _friction(case: BracketCase) -> Strength:
    """What the clamp alone would hold by friction, told to be known."""
    faces = 1 if case.single_shear else 2
    left = max(0.0, case.clamp_load - closing_force(case)) if drawn_tight(case) else 0.0
    return Strength(
        what="friction of the clamped tabs",
        demand=case.in_plane,
        capacity=case.friction * faces * left,
        unit="N",
        factor=NOTHING_ASKED,
        given=(
            Given("clamp load of a new, tight bolt", case.clamp_load, "N"),
            Given("spent to draw the tabs in", min(closing_force(case), case.clamp_load), "N"),
            Given("friction", case.friction, "1"),
            Given("faces", faces, "1"),
        ),
        formula="friction x faces x (0.75 proof strength x stress area - force that draws the tabs in)",
        source="practice",
        section="clamp 0.75 of proof load",
        trust=Trust.PRACTICE,
        not_covered=("a bolt that has lost its clamp", "paint that creeps"),
        judged=False,
        note=f"none where more than {CLOSING_SHARE:g} of the clamp goes into drawing the tabs in",
    )
