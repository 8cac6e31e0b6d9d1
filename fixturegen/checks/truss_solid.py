"""TRS: what the truss as drawn measures against the axle as drawn: roots, air, what comes off, tabs, places."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.brackets_room import axle_things, shared
from fixturegen.checks.brackets_solid import things_of
from fixturegen.checks.overlap import TOUCH
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing, inches
from fixturegen.checks.tabs_enter import LEAST_ROOM, joint_pairs
from fixturegen.checks.truss import ASSEMBLY, PRACTICE, drawn_plan
from fixturegen.findings import Finding, Level
from fixturegen.plate.profile import polyline
from fixturegen.studies.truss_records import TrussPlan

ROUND_OFF = 0.05  # [mm] nearer than asked by less is what lines and arcs of an edge may come to
WIDE = 0.25  # [mm] over what was asked at a root: a tenth of a millimetre of edge and one of section
CORNER = 4.0  # [mm] beside a corner of an edge a root is judged by its neighbour
NEAR = 200.0  # [mm] boxes farther apart than this are not measured


def truss_things(job: Job) -> tuple[Thing, ...]:
    """The parts of the truss where they stand, frame A; drawn once."""
    from fixturegen.bodies.axle import jig_solids

    kept: tuple[Thing, ...] | None = job.store.get("truss.things")
    if kept is None:
        kept = ()
        if ASSEMBLY in job.assemblies:
            drawn = jig_solids(job, ASSEMBLY)
            kept = tuple(Thing(name, ASSEMBLY, name, solid, i) for (i, name), solid in drawn.items())
        job.store["truss.things"] = kept
    return kept


def edge_in_axle(job: Job, plan: TrussPlan, name: str) -> Array:
    """Points along the cut outline of a side plate in the plan's plane, (station, height) (n, 2) [mm]."""
    place = next(p for p in job.assemblies[ASSEMBLY].placements if p.part == name)
    profile = job.parts[name].profile
    plate = next(p for p in plan.plates if p.name == name)
    flat = np.array(polyline(profile.outer, 0.005)) if profile else np.zeros((0, 2))
    flat = np.concatenate([flat, flat[:1]])
    world = np.column_stack([flat, np.zeros(len(flat))]) @ np.array(place.rotation).T + np.array(place.origin)
    return np.column_stack([world[:, 1], plate.lies * world[:, 0] if plate.lies else world[:, 2]])


def root_openings(job: Job, plan: TrussPlan, name: str) -> Array:
    """Opening between a plate's edge and what it is welded to, along its beads (n, 3): station, height, opening [mm].

    The edge is that of the part as it is cut; the axle is cut by the planes of both faces and of the middle.
    """
    import shapely
    from shapely.geometry import LineString
    from shapely.ops import unary_union

    from fixturegen.bodies.axle import bodies_in
    from fixturegen.shapes.sections import section_lines

    plate = next(p for p in plan.plates if p.name == name)
    bodies = {n: s for n, s in bodies_in(job, "A").items() if n in ("housing", "tube-left", "tube-right")}
    axis = (0.0, 0.0, 1.0) if plate.lies else (1.0, 0.0, 0.0)
    lines = []
    for at in (plate.x[0], sum(plate.x) / 2.0, plate.x[1]):
        point = (axis[0] * at, 0.0, axis[2] * at)
        for shape in bodies.values():
            for cut in section_lines(shape, point, axis):
                high = plate.lies * cut[:, 0] if plate.lies else cut[:, 2]
                lines.append(LineString(np.column_stack([cut[:, 1], high])))
    steel = unary_union(lines)
    edge = LineString(edge_in_axle(job, plan, name))
    rows = []
    for run in plan.welds:
        if run.part != name or run.onto == "top":
            continue
        flat = LineString([(p[1], plate.lies * p[0] if plate.lies else p[2]) for p in run.points])
        n = max(2, math.ceil(flat.length / 3.0))
        for k in range(n):
            asked = flat.interpolate((k + 0.5) / n, normalized=True)
            at = edge.interpolate(edge.project(asked))
            rows.append((at.x, at.y, float(shapely.distance(at, steel))))
    return np.array(rows)


@claim("TRS-04", "Along its beads the truss stands off the axle by the gap that was asked for.", holds="part")
def check_root(claim: Claim, job: Job) -> list[Finding]:
    """One finding a side plate: least and largest opening, the part as cut against the axle as cut by its planes."""
    plan = drawn_plan(job)
    if plan is None or ASSEMBLY not in job.assemblies:
        return []
    found = []
    for plate in plan.plates:
        rows = root_openings(job, plan, plate.name)
        if not len(rows):
            words = f"{plate.name} is welded to nothing of the axle"
            remedy = "let the truss reach over the tubes"
            found.append(claim.finding(Level.FAIL, words, remedy=remedy, parts=(plate.name,), assembly=ASSEMBLY))
            continue
        least, most = float(rows[:, 2].min()), float(rows[:, 2].max())
        worst = rows[rows[:, 2].argmax()] if most > plan.gap + WIDE else rows[rows[:, 2].argmin()]
        good = least >= plan.gap - ROUND_OFF and most <= plan.gap + WIDE
        words = f"{plate.name}: root open {inches(least)} to {inches(most)}, asked {inches(plan.gap)}"
        x = sum(plate.x) / 2.0
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy="" if good else f"cut nothing of it: its edge does not follow the axle at {inches(worst[0])}",
                parts=(plate.name,),
                assembly=ASSEMBLY,
                point=(x, float(worst[0]), float(worst[1])),
                value=most if most > plan.gap + WIDE else least,
                limit=plan.gap,
                unit="mm",
                source="truss.gap",
                frame="A",
            )
        )
    return found


def kept_free(job: Job, plan: TrussPlan) -> Iterator[tuple[str, object, float, str]]:
    """What the truss keeps off with air: (name, solid in A, gap wanted [mm], key it comes from)."""
    from fixturegen.bodies.axle import bodies_in
    from fixturegen.bodies.drawing import along, turned_about_y
    from fixturegen.shapes import solids
    from fixturegen.studies.centre_shape import taken_off
    from fixturegen.studies.truss_edges import fittings_of

    truss = job.sheet.truss
    if truss is None:
        return
    bodies, beside = bodies_in(job, "A"), float(truss.beside)
    for name in ("cover", "studs"):
        if name in bodies:
            yield name, bodies[name], beside, "truss.beside"
    if plan.bridged:
        yield f"{job.sheet.housing.material} casting", bodies["housing"], plan.air, "truss.air"
    for k, one in enumerate(taken_off(job.sheet, job.axle)):
        (u0, radius), (u1, _) = one.knots[0], one.knots[-1]
        # from just off the face: what is bolted down does not move through it
        rod = solids.cylinder(along(one.sign, u0 + 0.5, one.y, one.z), along(one.sign, u1, one.y, one.z), 2.0 * radius)
        name = one.name if k == 0 else f"socket on stud {k}"
        yield f"{name}, pulled straight off", turned_about_y(rod, -job.axle.table_turn), beside, "truss.beside"
    for fitting in fittings_of(job.sheet):
        at, out = (np.array([float(v) for v in w]) for w in (fitting.at, fitting.out))
        far = at + out / np.linalg.norm(out) * float(fitting.pull)
        rod = solids.cylinder(_spot(at), _spot(far), float(fitting.across))
        yield f"{fitting.name} and what goes on it", rod, beside, "truss.beside"


def _spot(v: Array) -> tuple[float, float, float]:
    return float(v[0]), float(v[1]), float(v[2])


@claim(
    "TRS-05",
    "Air stays between the truss and casting, cover, bolts with socket, plugs, and what comes straight off.",
    holds="part",
)
def check_air(claim: Claim, job: Job) -> list[Finding]:
    """A fail for each thing a plate comes too near to, naming both; else the tightest place."""
    from fixturegen.shapes.meshes import clearance

    plan = drawn_plan(job)
    things = truss_things(job)
    if plan is None or not things:
        return []
    found, least = [], (math.inf, 0.0, "", "")
    for name, solid, wanted, key in kept_free(job, plan):
        other = Thing(name, "axle", "", solid)
        near = [t for t in things if _apart(t, other) < wanted + NEAR]
        gaps = [(clearance(t.body, other.body), t) for t in near]
        if not gaps:
            continue
        gap, thing = min(gaps, key=lambda g: g[0].measured)
        if gap.measured - wanted < least[0] - least[1]:
            least = (gap.measured, wanted, thing.name, name)
        if gap.measured < wanted - ROUND_OFF:
            away = "stands in" if gap.measured <= 0.0 else f"comes within {inches(gap.measured)} of"
            found.append(
                claim.finding(
                    Level.FAIL,
                    f"{thing.name} {away} the {name}, and {inches(wanted)} are wanted",
                    remedy=f"move the plates off it by {inches(wanted - max(0.0, gap.measured))}: truss.front or "
                    f"truss.rear, a higher truss, or a smaller {key} if you have tried it by hand",
                    parts=(thing.name,),
                    assembly=ASSEMBLY,
                    value=gap.measured,
                    limit=wanted,
                    unit="mm",
                    source=key,
                    frame="A",
                )
            )
    if found or math.isinf(least[0]):
        return found
    words = f"nearest: {least[2]} {inches(least[0])} from the {least[3]}, {inches(least[1])} wanted"
    return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=least[0], limit=least[1], unit="mm", frame="A")]


def _apart(a: Thing, b: Thing) -> float:
    from fixturegen.checks.scene import gap_of_boxes

    return gap_of_boxes(a.box, b.box)


@claim("TRS-08", "What stands on the truss stands on its top plate, over a web.", holds="part")
def check_standing(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket on the truss: how far its beads stay inside the edges of the top."""
    plan = drawn_plan(job)
    if plan is None or not plan.runs:
        return []
    found = []
    for facts in job.brackets.facts.values():
        if facts.mount.spec.on != "truss" or facts.mount.spec.end != "axle":
            continue
        points = [p for s in facts.seams for p in (s.begin, s.end)]
        run = plan.run_at(facts.mount.point[1])
        if run is None or not points:
            continue
        rear, front = run.x
        inside = min(min(x - rear, front - x, y - run.right[0], run.left[0] - y) for x, y, _ in points)
        inside -= float(facts.mount.spec.leg)
        good = inside >= 0.0
        words = f"{facts.mount.label}: its beads stay {inches(inside)} inside the edges of the top"
        if not good:
            words = f"{facts.mount.label}: its beads reach {inches(-inside)} beyond the flat of the top it stands on"
        remedy = "move the point over the truss, make the foot narrower, or the truss wider: truss.front, truss.rear"
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy="" if good else remedy,
                parts=facts.parts,
                assembly=ASSEMBLY,
                value=inside,
                limit=0.0,
                unit="mm",
                point=facts.mount.point,
                source=PRACTICE,
                frame="A",
            )
        )
    return found


@claim("TRS-09", "Tabs of the truss enter their slots.", holds="part")
def check_tabs(claim: Claim, job: Job) -> list[Finding]:
    """A fail for each joint without room; else the tightest."""
    if ASSEMBLY not in job.assemblies:
        return []
    found = [j for _, _, joints in joint_pairs(job, ASSEMBLY) for j in joints]
    tight = [j for j in found if j.room < LEAST_ROOM]
    if tight:
        return [
            claim.finding(
                Level.FAIL,
                f"{j.tab} has {inches(j.room)} beside it in {j.slot}",
                remedy="measure both plates again and correct [[plates]]; the slot follows the thickness",
                parts=(j.tab, j.slot),
                assembly=ASSEMBLY,
                point=j.point,
                value=j.room,
                limit=LEAST_ROOM,
                unit="mm",
                source=PRACTICE,
                frame="A",
            )
            for j in tight
        ]
    if not found:
        return []
    least = min(found, key=lambda j: j.room)
    words = f"{len(found)} tabs; the tightest is {least.tab} in {least.slot} with {inches(least.room)}"
    return [
        claim.finding(
            Level.PASS, words, assembly=ASSEMBLY, value=least.room, limit=LEAST_ROOM, unit="mm", point=least.point
        )
    ]


@claim("TRS-12", "No part of the truss stands in another, in the axle or in a bracket.", holds="part")
def check_places(claim: Claim, job: Job) -> list[Finding]:
    """A fail for each two that share steel; else one pass."""
    things = truss_things(job)
    if not things:
        return []
    others = (*axle_things(job), *(t for t in things_of(job) if _on_axle(job, t)))
    pairs = [(a, b) for i, a in enumerate(things) for b in (*things[i + 1 :], *others)]
    found = []
    for a, b in pairs:
        hit = shared(a, b)
        if hit is None:
            continue
        found.append(
            claim.finding(
                Level.FAIL,
                f"{a.name} and {b.part or b.name} are in one place, at least {inches(hit.depth)} deep",
                remedy="let the truss end before it, or move what stands there: truss.left_end, truss.right_end",
                parts=tuple(n for n in (a.part, b.part) if n),
                assembly=ASSEMBLY,
                point=hit.point,
                value=hit.depth,
                limit=TOUCH,
                unit="mm",
                frame="A",
            )
        )
    if found:
        return found
    words = f"{len(things)} parts, none in another, in the axle or in a bracket"
    return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=0.0, limit=TOUCH, unit="mm", frame="A")]


def _on_axle(job: Job, thing: Thing) -> bool:
    facts = job.brackets.facts.get(thing.group)
    return facts is not None and facts.mount.spec.end == "axle"
