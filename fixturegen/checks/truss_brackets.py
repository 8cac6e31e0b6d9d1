"""TRS: brackets beside the beads of a truss, and brackets on a truss that nobody draws."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.checks.truss import ASSEMBLY, PRACTICE, drawn_plan
from fixturegen.findings import Finding, Level

if TYPE_CHECKING:
    from fixturegen.axle.model import Point
    from fixturegen.studies.bracket_records import BracketFacts
    from fixturegen.studies.truss_records import TrussPlan

APART = 12.7  # from toe to toe of two beads along the tube at least [mm] (common practice, no source)
ROUNDING = 0.05  # [mm] closer than asked by less is what straight pieces of a bead come to


@claim("TRS-13", "Beads of brackets on the tube keep half an inch from those of the truss.", holds="part")
def check_beads(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket on the axle's tube: a fail where beads run into each other, a caution where nearly."""
    plan = drawn_plan(job)
    if plan is None:
        return []
    found = []
    for facts in job.brackets.facts.values():
        near = toes_apart(float(job.sheet.tubes.outside_diameter) / 2.0, facts, plan)
        if near is None:
            continue
        gap, part = near
        words = f"{facts.mount.label}: {inches(gap)} of tube from the toe of its bead to that of {part}"
        level, remedy = Level.PASS, ""
        if gap < APART - ROUNDING:
            level = Level.FAIL if gap < 0.0 else Level.WARN
            remedy = "cover less of the tube with wrap, turn its point away, or set truss.front or truss.rear in"
            words = f"{facts.mount.label}: its bead runs into that of {part}" if gap < 0.0 else words
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                parts=facts.parts,
                assembly="brackets",
                value=gap,
                limit=APART,
                unit="mm",
                source=PRACTICE,
                frame="A",
            )
        )
    return found


def toes_apart(radius: float, facts: BracketFacts, plan: TrussPlan) -> tuple[float, str] | None:
    """Tube left between the toes of a bracket and of the truss, and the plate of the truss; None beside no tube [mm].

    Over the round of the tube, unrolled.

    Args:
        radius: Outside of the tube [mm].
        facts: Of the bracket.
        plan: Of the truss.
    """
    from shapely.geometry import LineString

    from fixturegen.studies.bracket_records import TubeBase

    base, spec = facts.mount.base, facts.mount.spec
    if not isinstance(base, TubeBase) or spec.end != "axle" or abs(base.along[1]) != 1.0 or not facts.seams:
        return None

    def flat(point: Point) -> tuple[float, float]:
        return radius * math.atan2(point[0], point[2]), point[1]

    lies = {p.name: p.lies for p in plan.plates}
    beads = [w for w in plan.welds if w.onto in ("tube-left", "tube-right")]
    runs = [
        (w, LineString([_below(radius, p, lies[w.part], side) for p in w.points]))
        for w in beads
        for side in ((1.0, -1.0) if w.sides == 2 else (1.0,))
    ]
    rows = [
        (line.distance(LineString([flat(s.begin), flat(s.end)])) - s.leg - w.leg, w.part)
        for s in facts.seams
        for w, line in runs
    ]
    return min(rows, default=None)


def _below(radius: float, point: Point, lies: int, side: float) -> tuple[float, float]:
    """Where on the unrolled tube the outer face of a plate meets it, (over the round, station) [mm].

    An edge cut square stands on the skin with its inner corner; its bead fills what is open up to the outer face.
    Of a plate that lies level the upper face (side 1) or the lower one (-1).
    """
    x, y, z = point
    if lies:
        return lies * radius * math.acos(max(-1.0, min(1.0, side * z / radius))), y
    return radius * math.asin(max(-1.0, min(1.0, x / radius))), y


@claim(
    "TRS-14",
    "What stands on a truss stands on one that is drawn.",
    holds="nothing",
    needed=False,
    stage="travel",
)
def check_drawn_below(claim: Claim, job: Job) -> list[Finding]:
    """A caution for each bracket on a truss that is not drawn; one pass for those on the sheet's own."""
    stand = [(n, b) for n, b in enumerate(job.sheet.brackets) if b.on == "truss" and b.end == "axle"]
    if not stand:
        return []
    found = []
    for _, spec in stand:
        if spec.surface is None:
            continue
        words = (
            f"{spec.holds}: the truss it stands on is not drawn; the bracket is fitted to its measured height of "
            f"{inches(spec.surface)} alone, and nothing is known of its strength, its ends and what it clears"
        )
        remedy = "hold the plates to the truss before you weld; or describe it in [truss] and leave surface out"
        found.append(claim.finding(Level.WARN, words, remedy=remedy, assembly="brackets", source="sheet", frame="A"))
    if found:
        return found
    words = f"{len(stand)} of the sheet's brackets stand on the truss of [truss], which is drawn"
    return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=float(len(stand)), unit="1", source="sheet")]
