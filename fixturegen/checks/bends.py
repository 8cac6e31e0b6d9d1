"""BND-01 to BND-06: whether a flat can be bent on this brake, and whether it comes out as asked for."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import PRACTICE, inch
from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part
from fixturegen.plate.bend_limits import PUNCH_HALF, Opening, flanges, fouled, openings
from fixturegen.plate.bend_marks import grain_of
from fixturegen.plate.bend_rules import die_for
from fixturegen.plate.bending import ALONG_GRAIN, NATURAL, SHARPEST, hole_distance, least_flange
from fixturegen.plate.folds import Folded, folded
from fixturegen.plate.nearness import loop_to_point
from fixturegen.plate.profile import Purpose, Vertex, hole_loop
from fixturegen.studies.nesting_rules import plate_of

if TYPE_CHECKING:
    from fixturegen.shapes.folding import BendMeasure
    from fixturegen.shapes.kernel import Solid

EXACT = 0.01  # what a refolded size may differ from the one asked for [mm]: a tenth of what a caliper reads on a bend
SAME_ANGLE = 0.01  # [deg] likewise
ACROSS = 45.0  # a bend line at least so far from the grain counts as across it [deg] (common practice, no source)
LOOSE = (Purpose.ACCESS, Purpose.LIGHTENING, Purpose.RELIEF)  # may come out oval
COUPON = "coupons"
TEST_IT = "cut a strip of this plate, bend it to this radius and angle, measure it, and add it under [[brake.tests]]"


def _bent(job: Job) -> list[Part]:
    return [p for p in job.parts.values() if p.form == "bent"]


def _nominal(job: Job, part: Part) -> float:
    """Thickness the part's plate is sold by [mm]: what die and radius are chosen by."""
    plate = plate_of(job.sheet, part.thickness)
    return part.thickness if plate is None else float(plate.nominal)


def _each(claim: Claim, job: Job, look: Callable[[Claim, Job, Part, Folded], list[Finding]]) -> list[Finding]:
    """Findings of each bent part that can be folded at all; BND-05 speaks of the others."""
    found: list[Finding] = []
    for part in _bent(job):
        try:
            plan = folded(part)
        except GeometryFault as fault:
            words = f"it cannot be bent as drawn: {fault.words}"
            found.append(claim.finding(Level.NOT_CHECKED, words, remedy=fault.remedy, parts=(part.name,), frame="P"))
            continue
        found += look(claim, job, part, plan)
    return found


@claim("BND-01", "every flange is long enough for the die", holds="part")
def check_flange(claim: Claim, job: Job) -> list[Finding]:
    """Flat from bend line to edge against half the die opening (falls in) and 0.7 of it (should have)."""
    return _each(claim, job, _flange)


def _flange(claim: Claim, job: Job, part: Part, plan: Folded) -> list[Finding]:
    die = die_for(job.sheet.brake, _nominal(job, part))
    falls, should = least_flange(die)
    least = min((min(flanges(part, plan, i)), i) for i in range(len(plan.zones)))
    level = Level.FAIL if least[0] < falls else Level.WARN if least[0] < should else Level.PASS
    words = f"the shortest flange has {inch(least[0])} of flat from the line of bend {least[1] + 1}"
    if level is Level.FAIL:
        words += f" and falls into a die of {inch(die)} opening"
    elif level is Level.WARN:
        words += f", which holds on a die of {inch(die)} opening but may slip"
    return [
        claim.finding(
            level,
            words,
            remedy=""
            if level is Level.PASS
            else "lengthen the flange and trim it after bending, or take a narrower die",
            parts=(part.name,),
            frame="P",
            value=least[0],
            limit=falls if level is Level.FAIL else should,
            unit="mm",
            source=f"0.7 of the die opening: {PRACTICE}; half of it: geometry",
        )
    ]


@claim("BND-02", "holes lie far enough from bends to stay round", holds="part")
def check_holes(claim: Claim, job: Job) -> list[Finding]:
    """Edge of each hole to the bend line against 2.5 thicknesses and the inside radius."""
    return _each(claim, job, _holes)


def _holes(claim: Claim, job: Job, part: Part, plan: Folded) -> list[Finding]:
    found: list[Finding] = []
    nearest: tuple[float, float] | None = None
    for i, bend in enumerate(part.bends):
        limit = hole_distance(part.thickness, bend.radius)
        for opening in openings(part, i):
            nearest = min(nearest or (math.inf, 0.0), (opening.distance, limit))
            if opening.distance < limit:
                found.append(_too_near(claim, part, i + 1, opening, limit))
    if not found:
        words = "no opening lies near a bend"
        if nearest is not None:
            words = f"the opening nearest to a bend has {inch(nearest[0])} to its line"
        value, limit = nearest if nearest is not None else (None, None)  # type: ignore[assignment]
        found.append(
            claim.finding(
                Level.PASS, words, parts=(part.name,), frame="P", value=value, limit=limit, unit="mm", source=PRACTICE
            )
        )
    return found


def _too_near(claim: Claim, part: Part, number: int, opening: Opening, limit: float) -> Finding:
    loose = opening.hole is None or opening.hole.purpose in LOOSE
    return claim.finding(
        Level.WARN if loose else Level.FAIL,
        f"{opening.label} lies {inch(opening.distance)} from the line of bend {number} and will be pulled out of shape",
        remedy=f"keep {inch(limit)} (2.5 thicknesses and the inside radius), or drill it after bending",
        parts=(part.name,),
        frame="P",
        point=(opening.x, opening.y, 0.0),
        value=opening.distance,
        limit=limit,
        unit="mm",
        source=PRACTICE,
    )


@claim("BND-03", "no bend is sharper than the plate stands", holds="part")
def check_radius(claim: Claim, job: Job) -> list[Finding]:
    """Inside radius against one thickness, two along the grain; and what the die will give."""
    return _each(claim, job, _radius)


def _radius(claim: Claim, job: Job, part: Part, plan: Folded) -> list[Finding]:
    nominal, grain = _nominal(job, part), grain_of(part)
    found = []
    for i, bend in enumerate(part.bends, 1):
        along = grain is not None and _from_grain(part, i - 1, grain) < ACROSS
        least = nominal * (ALONG_GRAIN if along else SHARPEST)
        if bend.radius >= least - 1e-9:
            continue
        fail = bend.radius < nominal * SHARPEST - 1e-9
        words = f"bend {i} has an inside radius of {inch(bend.radius)}, {bend.radius / nominal:.2f} thicknesses"
        words += " along the grain" if along else ""
        found.append(
            claim.finding(
                Level.FAIL if fail else Level.WARN,
                f"{words}: the outside may crack",
                remedy=f"bend it to {inch(least)} or more" + (", or turn it across the grain" if along else ""),
                parts=(part.name,),
                frame="P",
                value=bend.radius,
                limit=least,
                unit="mm",
                source=PRACTICE,
            )
        )
    if found:
        return found
    least = min(b.radius for b in part.bends)
    low, high = (n * die_for(job.sheet.brake, nominal) for n in NATURAL)
    words = f"the sharpest bend has an inside radius of {inch(least)}"
    if not all(b.measured for b in part.bends):
        words += f"; bent in air this die gives {inch(low)} to {inch(high)}, so gauge the first bend"
    return [
        claim.finding(
            Level.PASS,
            words,
            parts=(part.name,),
            frame="P",
            value=least,
            limit=nominal * SHARPEST,
            unit="mm",
            source=PRACTICE,
        )
    ]


def _from_grain(part: Part, number: int, grain: float) -> float:
    """Angle between a bend line and the grain [deg], 0 along it and 90 across it."""
    bend = part.bends[number]
    line = math.degrees(math.atan2(bend.y1 - bend.y0, bend.x1 - bend.x0))
    off = abs(line - grain) % 180.0
    return min(off, 180.0 - off)


@claim("BND-04", "bend lines lie across the grain, or it is said", holds="nothing", needed=False)
def check_grain(claim: Claim, job: Job) -> list[Finding]:
    """The grain arrow of each bent part against its bend lines."""
    found = []
    for part in _bent(job):
        grain = grain_of(part)
        if grain is None:
            words = "no arrow says which way the grain is to run"
            remedy = "mark the blank with the way it was rolled and bend across it"
            found.append(claim.finding(Level.WARN, words, remedy=remedy, parts=(part.name,), frame="P"))
            continue
        least, number = min((_from_grain(part, i, grain), i + 1) for i in range(len(part.bends)))
        fail = least < ACROSS
        words = f"bend {number} runs {least:.0f} deg from the grain"
        words = f"{words}, along it rather than across: its outside cracks sooner" if fail else f"{words}, the nearest"
        found.append(
            claim.finding(
                Level.WARN if fail else Level.PASS,
                words,
                remedy="make that bend with twice the radius, or look at its outside for cracks" if fail else "",
                parts=(part.name,),
                frame="P",
                value=least,
                limit=ACROSS,
                unit="deg",
                source=PRACTICE,
            )
        )
    return found


@claim("BND-05", "bent as said, the flat gives the sizes asked for", holds="part")
def check_refolded(claim: Claim, job: Job) -> list[Finding]:
    """The bent solid is measured on its surfaces; corners are followed back to the flat."""
    from fixturegen.bodies.axle import part_solid

    found = []
    for part in _bent(job):
        try:
            plan = folded(part)
            solid = part_solid(job, part.name)
            off, words = refolded(part, plan, solid)
        except GeometryFault as fault:
            finding = claim.finding(Level.FAIL, fault.words, remedy=fault.remedy, parts=(part.name,), frame="P")
            found.append(finding)
            continue
        fail = off > EXACT
        level, remedy = (Level.FAIL, "work the flat out anew from the outside sizes") if fail else (Level.PASS, "")
        rules = {b.rule or "an unnamed rule" for b in part.bends if not b.measured}
        if not fail and rules and part.kind != COUPON:
            level, remedy = Level.WARN, TEST_IT
            words += f"; but its blank length is only as good as a bend test on your brake ({', '.join(sorted(rules))})"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                parts=(part.name,),
                frame="P",
                value=off,
                limit=EXACT,
                unit="mm",
                source="geometry: refolding, measured on the solid",
            )
        )
    return found


def refolded(part: Part, plan: Folded, solid: Solid) -> tuple[float, str]:
    """(worst deviation [mm], in words) of the bent solid from the flat and the sizes it was drawn for.

    Args:
        part: A bent part.
        plan: Its folding.
        solid: The bent solid, measured on its surfaces.
    """
    from fixturegen.shapes.folding import measured

    bends = measured(solid, part.thickness)
    if len(bends) != len(part.bends):
        return math.inf, f"{len(part.bends)} bends were asked for and {len(bends)} are found on the bent part"
    worst, said = _corners_back(part, plan, solid), "a corner of it comes from no edge of the flat"
    sizes = []
    for i, (bend, zone, pose) in enumerate(zip(part.bends, plan.zones, plan.poses, strict=True), 1):
        height = plan.thickness + bend.radius if bend.up else -bend.radius
        axis = pose.point((*zone.start, height))
        here = min(bends, key=lambda m, a=axis: math.dist(m.middle, a))  # type: ignore[misc]
        off = _deviation(here, bend.radius, bend.angle, bend.outside)
        if off[0] > worst:
            worst, said = off[0], f"bend {i}: {off[1]}"
        if bend.outside is not None:
            sizes.append(f"bend {i} {inch(bend.outside[0])} x {inch(bend.outside[1])}")
    if worst > EXACT:
        return worst, said
    listed = ", ".join(sizes) if sizes else "radius and angle of each bend"
    return worst, f"refolded it measures, outside: {listed}"


def _deviation(
    found: BendMeasure, radius: float, angle: float, outside: tuple[float, float] | None
) -> tuple[float, str]:
    offs = [(abs(found.radius - radius), f"inside radius {inch(found.radius)} instead of {inch(radius)}")]
    turned = abs(found.angle - angle) * EXACT / SAME_ANGLE
    offs.append((turned, f"{found.angle:.2f} deg instead of {angle:.2f} deg"))
    if outside is not None:
        for is_, wanted in zip(sorted(found.outside), sorted(outside), strict=True):
            offs.append((abs(is_ - wanted), f"outside size {inch(is_)} instead of {inch(wanted)}"))
    return max(offs)


def _corners_back(part: Part, plan: Folded, solid: Solid) -> float:
    """How far a corner of the solid comes to lie from every edge of the flat, when followed back [mm]."""
    if part.profile is None:
        return math.inf
    loops = [part.profile.outer, *part.profile.inner, *(hole_loop(h) for h in part.profile.holes)]
    loops += [tuple(Vertex(x, y) for x, y in z.corners()) for z in plan.zones]
    worst = 0.0
    for vertex in solid.Vertices():
        x, y, z = plan.flat((vertex.X, vertex.Y, vertex.Z))
        worst = max(worst, min(abs(z), abs(z - part.thickness)), min(loop_to_point(loop, x, y) for loop in loops))
    return worst


@claim("BND-06", "a straight punch has room at every bend, in the order given", holds="nothing", needed=False)
def check_order(claim: Claim, job: Job) -> list[Finding]:
    """Earlier flanges against the punch of later bends of the same face."""
    return _each(claim, job, _order)


def _order(claim: Claim, job: Job, part: Part, plan: Folded) -> list[Finding]:
    found = [
        claim.finding(
            Level.WARN,
            f"at bend {later} the flange of bend {earlier} swings to {inch(room)} from the middle of the punch",
            remedy="use a gooseneck punch, or shorten that flange",
            parts=(part.name,),
            frame="P",
            value=room,
            limit=PUNCH_HALF,
            unit="mm",
            source=f"geometry; half width of a straight punch: {PRACTICE}",
        )
        for later, earlier, room in fouled(part, plan)
    ]
    if not found:
        words = "no flange bent earlier swings into a straight punch"
        if len(part.bends) == 1:
            words = "a single bend has no order"
        found = [claim.finding(Level.PASS, words, parts=(part.name,), frame="P")]
    return found
