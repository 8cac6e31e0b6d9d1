"""The top of a truss: flat runs that meet at the knees, or one plate bent there."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from fixturegen.parts.joinery import filleted, locating_room, slot
from fixturegen.plate import Loop, Part, Placement, Profile, Weld
from fixturegen.plate.bend_marks import bend_part
from fixturegen.plate.bend_rules import BendRule, rule_for
from fixturegen.plate.bending import Fold, bent_strip
from fixturegen.plate.part import Matrix
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.truss_records import TopRun, TrussPlan
from fixturegen.truss.shared import ASSEMBLY, KIND, TAB, Drawn, beside_middle, rib_top_tab, top_tabs

ROUND = 8.0  # of the outer corners [mm]
KNEE = "open V across the knee, filled flush from above"


def make_top(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """The top, marked face up; nothing for a brace."""
    if not plan.runs:
        return Drawn()
    if plan.bend_radius > 0.0:
        return Drawn((_folded(sheet, plan),), (_placement(plan.runs[0], plan.runs[0].x[1]),))
    parts = tuple(_run(sheet, plan, r, k) for k, r in enumerate(plan.runs))
    welds = tuple(
        Weld((a.name, b.name), a.thickness, a.x[1] - a.x[0], KNEE)
        for a, b in zip(plan.runs[:-1], plan.runs[1:], strict=True)
    )
    return Drawn(parts, tuple(_placement(r, 0.0) for r in plan.runs), welds)


def _placement(run: TopRun, front: float) -> Placement:
    """Part x to the left along the run, y rearward from `front` [mm], at the right end of its underside."""
    c, s = (f(math.radians(run.slope)) for f in (math.cos, math.sin))
    turn: Matrix = ((0.0, -1.0, 0.0), (c, 0.0, -s), (s, 0.0, c))
    return Placement(run.name, (front, *run.right), turn, ASSEMBLY)


def along(run: TopRun, station: float) -> float:
    """How far along a run a station lies, from its right end [mm]."""
    return (station - run.right[0]) / math.cos(math.radians(run.slope))


def turned(before: TopRun, after: TopRun) -> float:
    """How far the top turns down from one run to the next, going left [deg]; negative where it turns up."""
    return before.slope - after.slope


def hollow(before: TopRun, after: TopRun) -> float:
    """What both runs are shorter where they meet in a hollow, so that their upper edges do not overlap [mm]."""
    return before.thickness * math.tan(math.radians(max(0.0, -turned(before, after))) / 2.0)


def _run(sheet: Sheet, plan: TrussPlan, run: TopRun, number: int) -> Part:
    low, high = -run.x[1], -run.x[0]
    last = number == len(plan.runs) - 1
    right, left = (ROUND if number == 0 else 0.0), (ROUND if last else 0.0)
    start = 0.0 if number == 0 else hollow(plan.runs[number - 1], run)
    end = run.length - (0.0 if last else hollow(run, plan.runs[number + 1]))
    outer = filleted(((start, low, right), (end, low, left), (end, high, left), (start, high, right)))
    return Part(
        name=run.name,
        label=run.label,
        kind=KIND,
        form="plate",
        thickness=run.thickness,
        material=plan.top_material,
        profile=Profile(outer=outer, inner=_slots(sheet, plan, run, 0.0)),
        datum="right end over the axle line; x to the left along it, y rearward",
        notes=() if last else (f"meets its neighbour at the knee, {beside_middle(run.left[0])}: {KNEE}",),
    )


def _slots(sheet: Sheet, plan: TrussPlan, run: TopRun, front: float) -> tuple[Loop, ...]:
    """For the tabs of the side plates, the first of each plate locating; and of the ribs."""
    kerf, room = float(sheet.process.kerf), locating_room(sheet)
    found = []
    for plate in plan.plates:
        y = front - (plate.x[0] + plate.x[1]) / 2.0
        for k, station in enumerate(top_tabs(run)):
            tight = k == 0 and (plan.bend_radius == 0.0 or run.slope == 0.0)
            at = _flat_x(sheet, plan, run, station)
            found.append(slot(at, y, 0.0, TAB, plate.thickness, kerf, locating=tight, room=room))
    for rib in plan.ribs:
        wide = rib_top_tab(plan, rib)
        if wide and run.right[0] <= rib.station <= run.left[0]:
            middle = front - (rib.lower[0].x + rib.lower[-1].x) / 2.0
            found.append(slot(along(run, rib.station), middle, 90.0, wide, plan.thickness, kerf, locating=False))
    return tuple(found)


def _rule(sheet: Sheet, plan: TrussPlan) -> BendRule:
    plate = min(sheet.plates, key=lambda p: abs(p.measured - plan.runs[0].thickness))
    return rule_for(sheet.brake, plate)


def _flat_x(sheet: Sheet, plan: TrussPlan, run: TopRun, station: float) -> float:
    """Where a station of a run lies along its part: of a bent plate along the flat [mm]."""
    at = along(run, station)
    if plan.bend_radius == 0.0:
        return at
    rule, r, x = _rule(sheet, plan), plan.bend_radius, 0.0
    for before, after in pairwise(plan.runs):
        if before is run:
            break
        # seen along the underside a straight ends short of the knee by the setback of that face
        back = (r if turned(before, after) > 0.0 else r + run.thickness) * _half_tan(before, after)
        x += before.length - back + rule.allowance(run.thickness, r, abs(turned(before, after))) - back
        if after is run:
            break
    return x + at


def _half_tan(before: TopRun, after: TopRun) -> float:
    return math.tan(math.radians(abs(turned(before, after))) / 2.0)


def _folded(sheet: Sheet, plan: TrussPlan) -> Part:
    """One plate: its right slope stays put, both bends go away from the marked face."""
    thick, rule = plan.runs[0].thickness, _rule(sheet, plan)
    # outside sizes: of a bend downward the upper face is outside, of one upward the underside
    more = [thick * _half_tan(a, b) if turned(a, b) > 0.0 else 0.0 for a, b in pairwise(plan.runs)]
    lengths = [r.length + a + b for r, a, b in zip(plan.runs, [0.0, *more], [*more, 0.0], strict=True)]
    folds = tuple(Fold(abs(turned(a, b)), plan.bend_radius, up=turned(a, b) < 0.0) for a, b in pairwise(plan.runs))
    front = plan.runs[0].x[1]
    flat = bent_strip(lengths, folds, front - plan.runs[0].x[0], thick, rule)
    slots = tuple(s for r in plan.runs for s in _slots(sheet, plan, r, front))
    return bend_part(
        plan.runs[0].name,
        "Top of the truss, folded",
        KIND,
        replace(flat, profile=Profile(outer=flat.profile.outer, inner=slots)),
        material=plan.top_material,
        datum="front corner of its right end; x to the left along the flat, y rearward",
        notes=("bend it to the side plates, not to a number: lay it on them before its tabs are welded",),
    )
