"""ANG: what the jig sets the knuckles to, and that heights and the table have no say in it."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.axle.model import sign_of
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import JOB_RULE, PRACTICE, inch, simulation
from fixturegen.findings import Finding, Level
from fixturegen.studies.jig_deviations import Deviations, Ground, JigPose, actual, turned_knuckle
from fixturegen.studies.jig_pose import Simulation

CASTER_OFF = 0.25  # predicted from wanted [deg]
CAMBER_TARGET = 0.25  # [deg]
CAMBER_REJECT = 0.5  # [deg]
INCLINATION_REJECT = 0.5  # change of inclination [deg]
UNMOVED = 0.001  # caster that a move of 1 mm may cost [deg]
PLACE_OFF = 0.02  # part from plan: rounding in a maker, no more [mm]
MOVE = 1.0  # [mm]

# Each move is 1 mm: of a height, of a size, or of the table over the width of the stand's base.
MOVES = (
    ("stand 1 mm taller", {"stand_height": MOVE}),
    ("left cradle 1 mm taller", {"cradle_left": MOVE}),
    ("right cradle 1 mm taller", {"cradle_right": MOVE}),
    ("tube 1 mm larger", {"tube_diameter": MOVE}),
    ("table 1 mm higher", {"table_height": MOVE}),
    ("table 1 mm higher under the left cradle", {"rise_left": MOVE}),
    ("table 1 mm higher under the right cradle", {"rise_right": MOVE}),
)


def predicted(job: Job) -> JigPose:
    """How the knuckles come out with the tube ends as read and the trim made."""
    return simulation(job).trimmed(actual(job.sheet))[0]


@claim(
    "ANG-01",
    "each knuckle comes out at the caster asked for, on the bench and in the vehicle",
    holds="job",
    stage="numbers",
)
def check_caster(claim: Claim, job: Job) -> list[Finding]:
    """Predicted caster of each side against the caster asked for."""
    if job.axle.bench_caster is None or job.sheet.axle.caster is None:
        return []
    found = []
    pinion = float(job.sheet.axle.pinion_angle)
    pose = predicted(job)
    for knuckle in (pose.left, pose.right):
        off = knuckle.caster_bench - job.axle.bench_caster
        good = abs(off) <= CASTER_OFF
        words = (
            f"{knuckle.side}: caster {knuckle.caster_bench:.2f} deg on the bench with the pinion "
            f"level, {knuckle.caster_vehicle:.2f} deg in the vehicle with the pinion {pinion:.1f} "
            f"deg up; asked for {float(job.sheet.axle.caster):.2f} deg"
        )
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy="" if good else "the clock plates are not cut for this caster: make them anew",
                assembly="jig",
                value=abs(off),
                limit=CASTER_OFF,
                unit="deg",
                source=f"caster against plan within 0.25 deg: {PRACTICE}",
            )
        )
    return found


@claim(
    "ANG-02",
    "turning the knuckle leaves camber usable; inclination and toe change as told",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_turned(claim: Claim, job: Job) -> list[Finding]:
    """Camber, inclination and toe after turning, per side."""
    spec = job.sheet.knuckles
    if spec is None or job.axle.bench_caster is None:
        return []
    found = []
    pose = predicted(job)
    for knuckle in (pose.left, pose.right):
        camber = abs(knuckle.camber)
        level = Level.PASS if camber <= CAMBER_TARGET else Level.WARN
        level = Level.FAIL if camber > CAMBER_REJECT else level
        words = (
            f"{knuckle.side}: camber {float(spec.camber):+.2f} deg as made becomes "
            f"{knuckle.camber:+.2f} deg in the vehicle; toe-in gained {knuckle.toe:+.3f} deg a wheel, "
            "which the tie rod takes out"
        )
        remedy = "" if level is Level.PASS else "read camber on the stub pins before tacking"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                value=camber,
                limit=CAMBER_REJECT,
                unit="deg",
                source=f"camber target 0.25 deg, reject 0.5 deg each: {PRACTICE}",
            )
        )
        was = float(spec.inclination)
        made, _, _ = turned_knuckle(sign_of(knuckle.side), float(spec.made_for_caster), was, 0.0, 0.0)
        change = knuckle.inclination - made
        good = abs(change) <= INCLINATION_REJECT
        words = (
            f"{knuckle.side}: steering-axis inclination {was:.2f} deg at zero caster stands at "
            f"{knuckle.inclination:.2f} deg in the vehicle, {change:+.2f} deg against the caster it "
            "was made for"
        )
        found.append(
            claim.finding(
                Level.PASS if good else Level.WARN,
                words,
                remedy="" if good else "that much turn is unusual: measure the inclination again",
                value=abs(change),
                limit=INCLINATION_REJECT,
                unit="deg",
                source=f"inclination within 0.5 deg: {PRACTICE}",
            )
        )
    return found


@claim(
    "ANG-03",
    "stand height, cradle height, tube size and the table have no say in the caster",
    holds="job",
    stage="numbers",
)
def check_unmoved(claim: Claim, job: Job) -> list[Finding]:
    """Each move of 1 mm pushed through the simulation, the cradle screws set again to the bar."""
    if job.axle.bench_caster is None:
        return []
    return [unmoved(claim, simulation(job), actual(job.sheet))]


def unmoved(claim: Claim, jig: Simulation, base: Deviations) -> Finding:
    """What the moves come to, starting from given deviations."""
    worst, name = largest_move(jig, base)
    good = worst < UNMOVED
    words = (
        f"largest change of caster {worst:.5f} deg ({name}); stand, both cradles, tube and table "
        "were each moved 1 mm and the cradle screws set again to the readings at the tube ends"
    )
    return claim.finding(
        Level.PASS if good else Level.FAIL,
        words,
        assembly="jig",
        value=worst,
        limit=UNMOVED,
        remedy="" if good else "set the cradle screws to the bar, not to the table",
        unit="deg",
        source="limit of this job",
    )


def largest_move(jig: Simulation, base: Deviations) -> tuple[float, str]:
    """Largest change of either caster [deg] under the moves, and the move that made it."""
    home = jig.pose(base)
    worst, name = -1.0, ""
    base_width = jig.plan.stand.base[1] - jig.plan.stand.base[0]
    tilt = math.degrees(MOVE / base_width)
    for words, move in (*MOVES, ("table tilted 1 mm under the stand", {"table_pitch": tilt})):
        values = {k: v + getattr(base.ground, k) for k, v in move.items()}
        ground: Ground = replace(base.ground, **values)
        pose = jig.pose(replace(base, ground=ground))
        for a, b in ((pose.left, home.left), (pose.right, home.right)):
            change = abs(a.caster_bench - b.caster_bench)
            if change > worst:
                worst, name = change, words
    return worst, name


@claim("ANG-04", "the finger holes stand where the angle was worked out for", holds="assembly")
def check_finger_holes(claim: Claim, job: Job) -> list[Finding]:
    """Finger holes of the made clock plates against the plan, the plate hanging on the bar."""
    clock = job.plan.clock
    if clock is None:
        return []
    found = []
    for short in ("l", "r"):
        part = job.parts.get(f"clock-plate-{short}")
        if part is None or part.profile is None:
            found.append(
                claim.finding(
                    Level.NOT_CHECKED,
                    f"there is no clock plate {short.upper()} to look at",
                    assembly="jig",
                    unit="mm",
                )
            )
            continue
        holes = {h.label: h for h in part.profile.holes}
        worst, name = 0.0, "finger holes"
        for pair in clock.fingers:
            for letter, at in zip("ab", pair.bars, strict=True):
                x, z = clock.in_plate(at)
                hole = holes.get(f"finger {pair.pivot} {letter}")
                off = math.hypot(-hole.x - x, hole.y - z) if hole is not None else math.inf
                if off > worst:
                    worst, name = off, f"finger {pair.pivot} {letter}"
        good = worst <= PLACE_OFF
        words = f"{part.label}: {name} stands {inch(worst, 4)} from where the plan has it"
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                parts=(part.name,),
                assembly="jig",
                value=worst,
                limit=PLACE_OFF,
                unit="mm",
                source=JOB_RULE,
                remedy=""
                if good
                else "the plate hangs by half its bush's play: its finger holes stand that much higher",
            )
        )
    return found
