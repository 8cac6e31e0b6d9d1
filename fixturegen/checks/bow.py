"""TCH-03: how flat a plate that sets an angle must be, against the caster it may cost."""

from __future__ import annotations

from fixturegen.checks.budget import budget
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part
from fixturegen.plate.profile import bounds
from fixturegen.studies.error_budget import CASTER_WORST
from fixturegen.studies.jig_records import ClockPlan
from fixturegen.studies.plate_bow import (
    bow_of,
    caster_from_tilt,
    end_tilt,
    in_plane_turn,
    rolled_bow,
    tilt_for_caster,
)

SOURCE = (
    "arc over a chord, derived; what is left of the caster's limit is limit of this job; "
    "flatness as rolled from EN 10029, from memory"
)


@claim("TCH-03", "the bow a straightedge still shows costs no more caster than is left", holds="nothing", needed=False)
def check_bow(claim: Claim, job: Job) -> list[Finding]:
    """The bow each clock plate may have over its width; other plates set no angle by their flatness."""
    clock = job.plan.clock
    if clock is None or job.axle.bench_caster is None:
        words = "no plate of this jig sets an angle that a bow could turn: none carries finger bars"
        return [claim.finding(Level.PASS, words, source=SOURCE)]
    plates = [p for p in job.parts.values() if p.profile is not None and p.name.startswith("clock-plate")]
    return [_plate(claim, job, clock, p) for p in plates]


def _plate(claim: Claim, job: Job, clock: ClockPlan, part: Part) -> Finding:
    x0, y0, x1, y1 = bounds(part.profile.outer) if part.profile else (0.0, 0.0, 0.0, 0.0)
    wide, long = x1 - x0, y1 - y0
    b = budget(job)
    left = CASTER_WORST - (b.caster_right if part.hand == "R" else b.caster_left)
    reach = max(clock.inner - f.tip for f in clock.fingers)
    stand = sum(f.along for f in clock.fingers)
    allowed = bow_of(tilt_for_caster(left, reach, stand), wide) if left > 0.0 else 0.0
    rolled = rolled_bow(part.thickness, wide)
    turned = in_plane_turn(rolled_bow(part.thickness, long), long)
    feeler = float(job.sheet.tools.feeler)
    good = allowed >= feeler
    worth = caster_from_tilt(end_tilt(rolled, wide), reach, stand)
    words = (
        f"lay a straightedge across {part.name} at both finger pairs, {inch(wide, 1)} over all: no light over "
        f"{inch(allowed)}; so much tilts the finger bars at their reach of {inch(reach, 1)} by the "
        f"{max(0.0, left):.3f} deg of caster the budget has left, which counts no bow; plate as rolled may stand "
        f"off {inch(rolled)}, worth {worth:.1f} deg; the angle in the plate's own plane turns by {turned:.3f} deg "
        "at the most, over its whole length"
    )
    remedy = (
        f"the feeler on the sheet, {inch(feeler)}, cannot show that: spot-face the seats of the finger bars in the "
        "same setting as their holes, or make room in the error budget (BUD-03)"
    )
    return claim.finding(
        Level.PASS if good else Level.WARN,
        words,
        remedy="" if good else remedy,
        parts=(part.name,),
        assembly="jig",
        value=allowed,
        limit=feeler,
        unit="mm",
        source=SOURCE,
    )
