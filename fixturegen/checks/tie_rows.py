"""FIT-11: the tie, with its keepers, goes through every hole of its row without contact."""

from __future__ import annotations

import math

import numpy as np

from fixturegen.checks.overlap import TOUCH, Overlap, overlap
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import (
    DEFLECTION,
    TABLE,
    Thing,
    chosen,
    gap_of_boxes,
    inches,
    parts_of,
    scene_of,
    turned_about_bar,
)
from fixturegen.findings import Finding, Level
from fixturegen.studies.jig_records import RowHole, row_point

TURNED = ("clock-l", "clock-r", "fingers-l", "fingers-r", "stubs-l", "stubs-r")
"""Groups that turn about the bar with the knuckles when the tie goes to another hole."""
TURN_OFF = 0.01  # what a row hole may be off the change of caster it stands for [deg]
SWING = 1.0  # step of the tie's swing from hole to hole [deg]
SWING_ROOM = 3.0  # what the tie keeps from the axle while it swings [mm]


def plate_turn(job: Job, hole: RowHole) -> float:
    """How far the clock plates turn about the bar when the tie takes one hole of its row [deg].

    Worked out from where the hole is in the plate as it hangs on its bush: the tie is free along the
    slot's length and holds the plate square to it.
    """
    nominal = hole.index_angle - hole.clock_angle
    tie = job.plan.tie
    place = next((p for p in job.assemblies["jig"].placements if p.part.startswith("clock-plate")), None)
    profile = job.parts[place.part].profile if place else None
    cut = [h for h in profile.holes if h.label == f"clock {hole.label}"] if profile else []
    if place is None or tie is None or not cut:
        return nominal
    turn_part = np.array(place.rotation)
    at = turn_part @ np.array([cut[0].x, cut[0].y, 0.0]) + np.array(place.origin)
    x, z = float(at[0]), float(at[2]) - job.plan.height
    lean = math.radians(cut[0].slot_angle) if cut[0].slot > 0.0 else None
    along = turn_part @ np.array([math.cos(lean), math.sin(lean), 0.0]) if lean is not None else None
    ux, uz = (float(along[0]), float(along[2])) if along is not None else (x, z)
    size = math.hypot(ux, uz)
    to = row_point(tie.radius, hole.index_angle)
    angle = math.radians(nominal)
    for _ in range(8):
        c, s = math.cos(angle), math.sin(angle)
        px, pz = c * x + s * z, -s * x + c * z
        vx, vz = (c * ux + s * uz) / size, (-s * ux + c * uz) / size
        # off square to the slot, forward positive
        off = (to[0] - px) * vz - (to[1] - pz) * vx
        angle += off / tie.radius
    return math.degrees(angle)


def at_hole(job: Job, things: tuple[Thing, ...], hole: RowHole, turned: float) -> tuple[list[Thing], list[Thing]]:
    """(tie, keepers and what turns, what stands still) with the tie in one hole of its row.

    Args:
        job: The job.
        things: The scene.
        hole: Of the row.
        turned: Turn of plates and knuckles about the bar [deg].
    """
    height = job.plan.height
    moved: list[Thing] = []
    still: list[Thing] = []
    for thing in things:
        if thing.group == "tie":
            moved.append(turned_about_bar(thing, hole.index_angle, height))
        elif thing.group in TURNED or thing.name.startswith("knuckle"):
            moved.append(turned_about_bar(thing, turned, height) if turned else thing)
        else:
            still.append(thing)
    return moved, still


def contacts(job: Job, hole: RowHole) -> tuple[list[Overlap], int]:
    """What the turned parts meet, and how many pairs were cut with each other."""
    from fixturegen.checks.no_interference import allowed_depth
    from fixturegen.shapes.meshes import State, clearance

    moved, still = at_hole(job, scene_of(job), hole, plate_turn(job, hole))
    found, tried = [], 0
    for i, one in enumerate(moved):
        # the turned parts among themselves: only the tie changes its place among them
        tie_side = [m for m in moved[i + 1 :] if (one.group == "tie") != (m.group == "tie")]
        for other in (*still, *tie_side):
            if not one.part and not other.part:
                continue
            if gap_of_boxes(one.box, other.box) > 0.0:
                continue
            near = clearance(one.body, other.body)
            if near.state is State.APART and near.measured > DEFLECTION:
                continue
            tried += 1
            hit = overlap(one, other)
            if hit is not None and hit.depth > max(TOUCH, allowed_depth(job, one, other)):
                found.append(hit)
    return found, tried


def swing(job: Job, low: float, high: float) -> tuple[float, str, float]:
    """Least gap of the swinging tie to axle, stand and cradles [mm], to what, and at what angle [deg]."""
    from fixturegen.shapes.meshes import mesh_distance

    things = scene_of(job)
    ties = chosen(things, lambda t: t.part == "tie")
    fixed = [t for t in things if t.group not in ("tie", "index", "steady", TABLE, *TURNED)]
    best = (float("inf"), "", 0.0)
    steps = max(2, round((high - low) / SWING) + 1)
    for k in range(steps):
        angle = low + (high - low) * k / (steps - 1)
        for tie in ties:
            there = turned_about_bar(tie, angle, job.plan.height)
            for other in fixed:
                if gap_of_boxes(there.box, other.box) > min(best[0], 60.0):
                    continue
                gap = mesh_distance(there.body, other.body)[0] - 2.0 * DEFLECTION
                if gap < best[0]:
                    best = (gap, other.name, angle)
    return best


@claim(
    "FIT-11",
    "The tie goes through every hole of its row, and swings between them, without contact.",
    holds="assembly",
)
def check_tie_rows(claim: Claim, job: Job) -> list[Finding]:
    """One finding per hole of the row, and one for the swing."""
    tie = job.plan.tie
    if tie is None:
        return [claim.finding(Level.PASS, "a rear axle has no tie")]
    if not chosen(scene_of(job), lambda t: t.part == "tie"):
        return [claim.finding(Level.NOT_CHECKED, "no tie in the jig", assembly="jig")]
    found: list[Finding] = []
    for hole in tie.row:
        hits, tried = contacts(job, hole)
        found += _turn(claim, job, hole)
        found += [_hit(claim, hole, one) for one in hits] or [
            claim.finding(
                Level.PASS,
                f"tie in hole {hole.label} ({hole.index_angle:+.1f} deg, caster {hole.caster_change:+.1f} deg): "
                f"{tried} near pairs cut with each other, none shares more than its fit",
                assembly="jig",
                value=0.0,
                limit=TOUCH,
                unit="mm",
            )
        ]
    angles = [h.index_angle for h in tie.row]
    gap, name, angle = swing(job, min(angles), max(angles))
    return [*found, _swung(claim, gap, name, angle)]


def _turn(claim: Claim, job: Job, hole: RowHole) -> list[Finding]:
    """A warning where the hole does not give the change of caster its label says."""
    change, meant = -plate_turn(job, hole), hole.caster_change
    if abs(change - meant) <= TURN_OFF:
        return []
    return [
        claim.finding(
            Level.WARN,
            f"hole {hole.label} changes the caster by {change:+.3f} deg as the plate hangs on its bush, not by "
            f"{meant:+.3f} deg",
            remedy="place the side holes of the clock plates higher by the hang, as the finger holes are",
            parts=("clock-plate-l", "clock-plate-r"),
            assembly="jig",
            value=change - meant,
            limit=TURN_OFF,
            unit="deg",
        )
    ]


def _hit(claim: Claim, hole: RowHole, one: Overlap) -> Finding:
    return claim.finding(
        Level.FAIL,
        f"tie in hole {hole.label}: {one.first.name} meets {one.second.name}, {inches(one.depth)} deep",
        remedy="use another tie_radius, or leave this hole out",
        parts=parts_of(one.first, one.second),
        assembly="jig",
        point=one.point,
        value=one.depth,
        limit=TOUCH,
        unit="mm",
    )


def _swung(claim: Claim, gap: float, name: str, angle: float) -> Finding:
    # between two steps of 1 deg the tie moves less than 3 mm each way at 12 in
    if gap == float("inf"):
        return claim.finding(
            Level.PASS,
            "the swinging tie stays more than 2 in from axle, stand and cradles",
            assembly="jig",
            limit=SWING_ROOM,
            unit="mm",
        )
    fail = gap < SWING_ROOM
    return claim.finding(
        Level.FAIL if fail else Level.PASS,
        f"the swinging tie passes {name} at {inches(max(0.0, gap))} ({angle:+.1f} deg)",
        remedy="use a larger tie_radius" if fail else "",
        parts=("tie",) if fail else (),
        assembly="jig",
        value=gap,
        limit=SWING_ROOM,
        unit="mm",
    )


__all__ = ["at_hole", "check_tie_rows", "contacts", "plate_turn", "swing"]
