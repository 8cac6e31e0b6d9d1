"""TRS: what the plan of a truss holds to, by numbers; nothing where the sheet has no [truss]."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fixturegen.checks.registry import TRUSS_PLAN, Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.errors import GeometryFault, InputFault
from fixturegen.findings import Finding, Level

if TYPE_CHECKING:
    from fixturegen.studies.bracket_records import Mount
    from fixturegen.studies.truss_records import Cell, TrussPlan

ASSEMBLY = "truss"
Span = tuple[float, float]
PRACTICE = "common practice, no source"
STEEPEST = 45.0  # a truss that tapers off more steeply ends at once, and the tube cracks there [deg] [cp]
SHORT = 12.7  # from its end to the bead of a knuckle or end flange at least [mm] [cp]
FAR = 25.4 * 1.5  # more than this is said [mm]: what is not braced there bends
LEAN = 45.0
"""Skin of the tube under the outer face of a plate [deg]: 135 deg between both, the largest angle at which a skewed
T-joint is a common fillet (AWS D1.1, from memory)."""
GROOVE = 60.0  # beyond this there is no fillet but a flare groove of unknown depth [deg] (AWS D1.1, from memory)
HAIR = 1e-6  # mm; rounding


def plan_in(job: Job) -> TrussPlan | GeometryFault | None:
    """The plan of the truss, or why there is none; worked out once a job."""
    if job.sheet.truss is None:
        return None
    # only a sheet with a truss pays for its plan
    from fixturegen.studies.truss_plan import truss_plan

    if TRUSS_PLAN not in job.store:
        try:
            job.store[TRUSS_PLAN] = truss_plan(job.sheet, job.axle, mounts_in(job))
        except GeometryFault as fault:
            job.store[TRUSS_PLAN] = fault
        except InputFault as fault:
            one = fault.faults[0]
            job.store[TRUSS_PLAN] = GeometryFault(one.key, f"given {one.given}, allowed {one.allowed}", one.remedy)
    made: TrussPlan | GeometryFault | None = job.store[TRUSS_PLAN]
    return made


def mounts_in(job: Job) -> tuple[Mount, ...]:
    """Brackets of the plan; none where BRK-01 says that they cannot be placed."""
    from fixturegen.studies.bracket_plan import bracket_plan

    if "truss.mounts" not in job.store:
        try:
            job.store["truss.mounts"] = bracket_plan(job.sheet, job.axle).mounts
        except InputFault:
            job.store["truss.mounts"] = ()
    found: tuple[Mount, ...] = job.store["truss.mounts"]
    return found


def drawn_plan(job: Job) -> TrussPlan | None:
    """The plan where there is one."""
    plan = plan_in(job)
    return None if plan is None or isinstance(plan, GeometryFault) else plan


def webs(plan: TrussPlan, section: tuple[float, float]) -> tuple[float, float, str]:
    """(least height of a side plate, station, name of the plate) [mm], openings left aside; drains counted.

    Args:
        plan: The truss.
        section: Sides of the centre section, right and left [mm].
    """
    from fixturegen.studies.truss_records import SidePlate

    found = []
    for plate in plan.plates:
        bare = SidePlate(plate.name, plate.label, plate.way, plate.x, plate.lower, plate.upper, (), plate.lies)
        # outboard of both, a plate tapers off to what the sheet wants at its end
        low = max(plan.ends[0], min(plan.knees[0], section[0]))
        high = min(plan.ends[1], max(plan.knees[1], section[1]))
        for k in range(1, 400):
            y = low + (high - low) * k / 400.0
            found.append((sum(b - a for a, b in bare.spans(y)), y, plate.name))
    return min(found)


@claim("TRS-01", "The truss can be drawn, with a web left over all it spans.", holds="assembly", stage="travel")
def check_drawn(claim: Claim, job: Job) -> list[Finding]:
    """A fail with what is in the way; else the least web, which must be three thicknesses high."""
    from fixturegen.studies.truss_height import MIN_WEB

    plan = plan_in(job)
    if plan is None:
        return []
    if isinstance(plan, GeometryFault):
        return [claim.finding(Level.FAIL, f"{plan.part}: {plan.words}", remedy=plan.remedy, assembly=ASSEMBLY)]
    web, station, name = webs(plan, job.axle.section)
    limit = MIN_WEB * plan.thickness
    good = web >= limit - HAIR
    words = f"{name} is {inches(web)} high where it is lowest, at station {inches(station)}"
    told = f"; top {inches(plan.height)} above the axle line, {plan.why}"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words + (told if good else f", and must be {inches(limit)}, three thicknesses"),
            remedy="" if good else f"make truss.height {inches(limit - web)} larger, or the plate thinner",
            assembly=ASSEMBLY,
            parts=(name,),
            value=web,
            limit=limit,
            unit="mm",
            source=PRACTICE,
            frame="A",
        )
    ]


@claim("TRS-02", "The truss tapers off and ends short of knuckle and end flange.", holds="assembly", stage="travel")
def check_ends(claim: Claim, job: Job) -> list[Finding]:
    """One finding an end."""
    from fixturegen.studies.truss_ends import end_weld

    plan = drawn_plan(job)
    if plan is None:
        return []
    found = []
    for side, end, taper in zip((-1, 1), plan.ends, plan.taper, strict=True):
        weld = end_weld(job.sheet, job.axle, side)
        what = "the knuckle's weld" if job.axle.knuckles else "the sleeve of the bearing end"
        short = side * (weld - end)
        word = "left" if side > 0 else "right"
        words = f"its {word} end stands {inches(short)} short of {what} and tapers off at {taper:.0f} deg"
        level, remedy = Level.PASS, ""
        if short < SHORT - HAIR or taper > STEEPEST + HAIR:
            level = Level.FAIL
            remedy = (
                f"let it end at station {inches(weld - side * SHORT)} or farther in, at {STEEPEST:.0f} deg or flatter"
            )
        elif short > FAR:
            words += "; the tube outboard of it carries alone, and its stress at the end of the truss decides"
        found.append(
            claim.finding(
                level, words, remedy=remedy, assembly=ASSEMBLY, value=short, limit=SHORT, unit="mm", source=PRACTICE
            )
        )
    return found


@claim("TRS-03", "Truss and link towers stay under what is above at full bump.", holds="assembly", stage="travel")
def check_space(claim: Claim, job: Job) -> list[Finding]:
    """A fail for each box that the top or a tower reaches; not checked where the sheet lists nothing above."""
    from fixturegen.studies.truss_height import boxes_above, space_above
    from fixturegen.studies.truss_plan import plate_faces

    plan = drawn_plan(job)
    if plan is None or plan.form == "back-brace":
        return []
    faces = plate_faces(job.sheet, plan.thickness)
    asked: list[tuple[str, float | None, Span, tuple[Span, Span]]] = [("the top of the truss", None, plan.ends, faces)]
    for mount in mounts_in(job):
        if mount.spec.on == "truss" and mount.spec.end == "axle":
            x, y, z = mount.point
            half = (mount.joint.body if mount.joint else 0.0) / 2.0
            wide = mount.inside / 2.0 + mount.thickness
            there = ((x - half, x), (x, x + half))
            asked.append((f"the {mount.label} bracket", z + half, (y - wide, y + wide), there))
    boxes = boxes_above(job.sheet, job.axle)
    found, least = [], (math.inf, "", "")
    for what, fixed, ends, faces in asked:
        worst: dict[str, tuple[float, float, float]] = {}
        for room, name, y in space_above(boxes, ends, faces):
            height = plan.top(y) if fixed is None else fixed
            worst[name] = min(worst.get(name, (math.inf, 0.0, 0.0)), (room - height, height, room))
        for name, (_, height, room) in worst.items():
            least = min(least, (room - height, what, name))
            if height > room + HAIR:
                words = (
                    f"{what} is {inches(height)} above the axle line and the {name} leaves {inches(room)} at full bump"
                )
                found.append(
                    claim.finding(
                        Level.FAIL,
                        words,
                        remedy=f"make it {inches(height - room)} lower, or take that much bump travel away",
                        assembly=ASSEMBLY,
                        value=height,
                        limit=room,
                        unit="mm",
                        source="[clearance], gap wanted; axle lifted straight up",
                        frame="A",
                    )
                )
    if found:
        return found
    if math.isinf(least[0]):
        words = "no box of the frame in [clearance] stands above the truss"
        return [claim.finding(Level.WARN, words, remedy="list oil pan and frame there", assembly=ASSEMBLY)]
    words = f"{least[1]} stays {inches(least[0])} under the {least[2]} at full bump, beyond the gap wanted"
    return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=least[0], limit=0.0, unit="mm")]


@claim(
    "TRS-06",
    "Every room in the truss drains and vents, and no breather is tapped under it.",
    holds="assembly",
    stage="travel",
)
def check_rooms(claim: Claim, job: Job) -> list[Finding]:
    """A fail for each room that holds water or gas, and for each breather inside."""
    plan = drawn_plan(job)
    if plan is None or not plan.cells:
        return []
    found = []
    for cell in plan.cells:
        missing = [w for w, there in (("drain", cell.drains), ("vent", cell.vents)) if not there]
        if missing and not is_open(job, plan, cell):
            words = (
                f"the room from station {inches(cell.right)} to {inches(cell.left)} has no {' and no '.join(missing)}"
            )
            remedy = "make the truss higher there, the ribs farther apart, or drill both plates before welding"
            found.append(claim.finding(Level.FAIL, words, remedy=remedy, assembly=ASSEMBLY, source=PRACTICE))
    found += _breathers(claim, job, plan)
    if found:
        return found
    words = f"{len(plan.cells)} rooms, each with a drain in its floor and an opening above, or open to the air"
    return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=len(plan.cells), unit="1", source=PRACTICE)]


def is_open(job: Job, plan: TrussPlan, cell: Cell) -> bool:
    """Whether a room is open by an end, or by the air over a bridged casting."""
    low, high = job.axle.section
    return cell.open_ends > 0 or (plan.bridged and cell.left > low and cell.right < high)


def _breathers(claim: Claim, job: Job, plan: TrussPlan) -> list[Finding]:
    from fixturegen.studies.truss_edges import fittings_of
    from fixturegen.studies.truss_plan import outer_faces

    rear, front = outer_faces(job.sheet)
    found = []
    for one in fittings_of(job.sheet):
        x, y, z = (float(v) for v in one.at)
        inside = rear < x < front and plan.ends[0] < y < plan.ends[1] and 0.0 < z < plan.underside(y)
        if one.kind == "breather" and inside:
            words = f"the {one.name} is tapped inside the truss, {inches(y)} left of the middle"
            remedy = "plug it and tap one beside the truss, above the oil, with its hose led high"
            found.append(claim.finding(Level.FAIL, words, remedy=remedy, assembly=ASSEMBLY, source=PRACTICE))
    return found


@claim(
    "TRS-07", "No weld of the truss is on a casting or over its joint with a tube.", holds="assembly", stage="travel"
)
def check_iron(claim: Claim, job: Job) -> list[Finding]:
    """A fail for iron that is welded; a caution for cast steel."""
    from fixturegen.studies.truss_edges import JOINT_ROOM

    plan, material = drawn_plan(job), job.sheet.housing.material
    if plan is None or material == "fabricated steel":
        return []
    on = sum(w.length for w in plan.welds if w.onto == "housing")
    low, high = job.axle.section
    runs = [w for w in plan.welds if w.onto in ("tube-left", "tube-right")]
    off = min((d for w in runs for s in w.stations for d in (low - s, s - high) if d > -JOINT_ROOM), default=math.inf)
    if on > 0.0:
        steel = material == "cast steel"
        words = f"{inches(on)} of its beads lie on the centre section, which is {material}"
        remedy = "preheat, low-hydrogen filler, slow cooling, by a welder who has proved it" if steel else ""
        remedy = remedy or 'stand it over the casting with air: truss.centre = "bridge"'
        level = Level.WARN if steel else Level.FAIL
        return [claim.finding(level, words, remedy=remedy, assembly=ASSEMBLY, value=on, limit=0.0, unit="mm")]
    good = off >= JOINT_ROOM - 1.0
    words = f"no bead on the {material}; the nearest stops {inches(off)} from its joint with a tube"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            remedy="" if good else f"keep beads {inches(JOINT_ROOM)} off that joint",
            assembly=ASSEMBLY,
            value=off,
            limit=JOINT_ROOM,
            unit="mm",
            source=PRACTICE,
        )
    ]


@claim("TRS-11", "The side plates stand on the tube where a fillet can be laid.", holds="part", stage="travel")
def check_lean(claim: Claim, job: Job) -> list[Finding]:
    """One finding a plate: how far the skin of the tube leans under its outer face."""
    plan = drawn_plan(job)
    if plan is None or plan.form == "back-brace":
        return []
    radius = job.sheet.tubes.outside_diameter / 2.0
    found = []
    for plate in plan.plates:
        outer = max(abs(v) for v in plate.x)
        lean = math.degrees(math.asin(min(1.0, outer / radius)))
        level, remedy = Level.PASS, ""
        words = f"the skin of the tube leans {lean:.0f} deg under the outer face of {plate.name}"
        if lean > LEAN + 0.1:
            level = Level.FAIL if lean > GROOVE else Level.WARN
            remedy = (
                f"stand it {inches(outer - radius * math.sin(math.radians(LEAN)))} nearer to the middle of the tube"
            )
            words += ": that is a groove and no fillet, and nobody knows how deep it is welded" if lean > GROOVE else ""
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                parts=(plate.name,),
                assembly=ASSEMBLY,
                value=lean,
                limit=LEAN,
                unit="deg",
                source="AWS D1.1, skewed T-joints, from memory",
            )
        )
    return found


@claim(
    "TRS-10",
    "Jack pads stand off centre section, knuckles and tie rod, and the truss can be lifted.",
    holds="assembly",
    stage="travel",
)
def check_jacking(claim: Claim, job: Job) -> list[Finding]:
    """A finding for each pad; a caution where no lift hole found room."""
    from fixturegen.studies.jack_pads import OFF_CENTRE, OFF_ROD, OFF_WELD
    from fixturegen.studies.truss_ribs import LIFT

    plan = drawn_plan(job)
    if plan is None:
        return []
    found = []
    for pad in plan.pads:
        rows = (
            ("the centre section", pad.off_centre, OFF_CENTRE),
            ("the weld at the tube's end", pad.off_weld, OFF_WELD),
            ("the tie rod", pad.off_rod, OFF_ROD),
        )
        name, off, limit = min(rows, key=lambda r: r[1] - r[2])
        good = off >= limit - HAIR
        words = f"the jack pad at station {inches(pad.station)} stands {inches(off)} off {name}"
        remedy = "" if good else f"move it along the tube: {inches(limit)} are wanted"
        level = Level.PASS if good else Level.FAIL
        more = {"value": off, "limit": limit, "unit": "mm", "source": PRACTICE}
        found.append(claim.finding(level, words, remedy=remedy, assembly=ASSEMBLY, **more))
    if job.sheet.truss is not None and job.sheet.truss.lift and plan.form == "box":
        lifts = [o for o in plan.plates[0].openings if abs(o[1].x - o[0].x - LIFT) < 1e-3]
        good = len(lifts) == 2
        words = f"{len(lifts)} of 2 lift holes found a place, an inch bar goes through both side plates"
        remedy = "" if good else "lift it by a strap round the tubes, or make the truss higher at that end"
        level = Level.PASS if good else Level.WARN
        found.append(claim.finding(level, words, remedy=remedy, assembly=ASSEMBLY, source=PRACTICE))
    return found
