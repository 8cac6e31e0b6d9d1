"""FIT-06 and FIT-07: a torch reaches the knuckle's weld, and nothing stands in its heat."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fixturegen.axle.model import sign_of
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import (
    DEFLECTION,
    Thing,
    chosen,
    gap_of_boxes,
    inches,
    jig_of,
    parts_of,
    scene_of,
)
from fixturegen.findings import Finding, Level
from fixturegen.plate.part import Matrix, Vector
from fixturegen.studies.jig_records import BEAD_ROOM

if TYPE_CHECKING:
    from fixturegen.shapes.meshes import Body

PRACTICE = "common practice, no source"
NOZZLE = 0.75 * 25.4  # torch nozzle across [mm] [cp]
NOZZLE_LONG = 5.0 * 25.4  # straight part of the torch that must have room [mm] [cp]
STICK_OUT = 0.5 * 25.4  # wire from nozzle to bead [mm] [cp]
STEP = 5  # of the walk round the bead [deg]
ENOUGH = 300.0  # of the joint that a torch must reach [deg] [cp]
WORK = (45.0, 35.0, 55.0, 25.0, 65.0)  # torch above the tube, best first [deg] [cp]
TRAVEL = (0.0, 20.0, -20.0, 40.0, -40.0)  # torch leaning along the bead [deg] [cp]


@dataclass(frozen=True)
class Bead:
    """A round weld that is still to be made.

    Attributes:
        name: In words.
        station: Y of its plane [mm].
        inward: -1 or +1, the way along Y in which the torch stands.
        radius: Of the tube it runs on [mm].
        neck: Outside of the steel it joins to the tube [mm], radius.
    """

    name: str
    station: float
    inward: float
    radius: float
    neck: float


def beads(job: Job) -> tuple[Bead, ...]:
    """Welds made on the bench: knuckle to tube, or bearing end to tube on a rear axle."""
    tube = job.sheet.tubes.outside_diameter / 2.0
    if job.sheet.knuckles is not None and job.axle.knuckles:
        neck = job.sheet.knuckles.neck_diameter / 2.0
        return tuple(
            Bead(f"{k.side} knuckle", k.weld_station, -float(sign_of(k.side)), tube, float(neck))
            for k in job.axle.knuckles
        )
    thick = 3.0 * float(job.sheet.wheel_ends.end_flange_thickness)
    right, left = job.axle.tube_ends
    return (
        Bead("left bearing end", left - thick, -1.0, tube, tube + 5.0),
        Bead("right bearing end", right + thick, 1.0, tube, tube + 5.0),
    )


def _aims(bead: Bead, angle: float) -> Iterator[Vector]:
    """Unit directions from the bead to the torch, best first."""
    a = math.radians(angle)
    radial = np.array([math.sin(a), 0.0, math.cos(a)])
    round_about = np.array([math.cos(a), 0.0, -math.sin(a)])
    along = np.array([0.0, bead.inward, 0.0])
    for lean in TRAVEL:
        for work in WORK:
            w, t = math.radians(work), math.radians(lean)
            v = math.cos(t) * (math.sin(w) * radial + math.cos(w) * along) + math.sin(t) * round_about
            yield float(v[0]), float(v[1]), float(v[2])


def _pointing(way: Vector) -> Matrix:
    """Rotation that takes local Z to a unit direction."""
    z = np.array(way)
    x = np.cross([0.0, 1.0, 0.0] if abs(z[1]) < 0.9 else [1.0, 0.0, 0.0], z)
    x = x / np.linalg.norm(x)
    rows = np.stack([x, np.cross(z, x), z], axis=1)
    a, b, c = ((float(r[0]), float(r[1]), float(r[2])) for r in rows)
    return a, b, c


def reach(job: Job, bead: Bead, things: tuple[Thing, ...]) -> tuple[list[int], dict[str, int]]:
    """Angles round the bead that no torch reaches [deg], and what stands in the way how often."""
    from fixturegen.shapes import solids
    from fixturegen.shapes.meshes import body_of

    torch = body_of(
        solids.cylinder((0.0, 0.0, STICK_OUT), (0.0, 0.0, STICK_OUT + NOZZLE_LONG), NOZZLE + 2.0 * DEFLECTION),
        "torch",
        DEFLECTION,
    )
    room = NOZZLE_LONG + STICK_OUT + NOZZLE + bead.radius
    y, z = bead.station, job.plan.height
    box = (-room, y - room, z - room, room, y + room, z + room)
    near = [t for t in things if gap_of_boxes(t.box, box) <= 0.0]
    blocked: list[int] = []
    culprits: dict[str, int] = {}
    for angle in range(0, 360, STEP):
        first = _blocker(job, bead, angle, torch, near)
        if first is not None:
            blocked.append(angle)
            culprits[first.name] = culprits.get(first.name, 0) + STEP
    return blocked, culprits


def _blocker(job: Job, bead: Bead, angle: float, torch: Body, near: list[Thing]) -> Thing | None:
    """What blocks the best aim when every aim is blocked; None when one is free."""
    from fixturegen.shapes.meshes import meshes_collide

    a, r = math.radians(angle), bead.radius + 2.0
    start = (r * math.sin(a), bead.station + 2.0 * bead.inward, job.plan.height + r * math.cos(a))
    first: Thing | None = None
    for way in _aims(bead, angle):
        there = torch.at((_pointing(way), start))
        low, high = there.box
        box = (*(float(v) for v in low), *(float(v) for v in high))
        hit = next(
            (
                t
                for t in near
                if gap_of_boxes(t.box, box) <= 0.0 and meshes_collide(there, t.body)  # type: ignore[arg-type]
            ),
            None,
        )
        if hit is None:
            return None
        first = first or hit
    return first


@claim("FIT-06", "A torch reaches at least 300 deg of every joint welded in the jig.", holds="assembly")
def check_torch_reaches(claim: Claim, job: Job) -> list[Finding]:
    """One finding per joint, walked round in steps of 5 deg with a nozzle of 3/4 in by 5 in."""
    things = chosen(scene_of(job), lambda t: t.group != "ends")
    found = []
    for bead in beads(job):
        blocked, culprits = reach(job, bead, things)
        free = 360.0 - STEP * len(blocked)
        worst = sorted(culprits, key=lambda n: -culprits[n])[:3]
        ways = ", ".join(f"{name} ({culprits[name]} deg)" for name in worst)
        words = f"a torch reaches {free:.0f} deg of the {bead.name} joint"
        if blocked:
            words += f"; {_spans(blocked)} are shut by {ways}"
        fail = free < ENOUGH
        named = chosen(things, lambda t, w=worst: t.name in w)  # type: ignore[misc]
        found.append(
            claim.finding(
                Level.FAIL if fail else Level.PASS,
                words,
                remedy=f"move or narrow {worst[0]}" if fail else "",
                parts=parts_of(*named) if fail else (),
                assembly="jig",
                point=(0.0, bead.station, job.plan.height + bead.radius),
                value=free,
                limit=ENOUGH,
                unit="deg",
                source=PRACTICE,
                data={"blocked": blocked},
            )
        )
    return found


def _spans(angles: list[int]) -> str:
    """Angles [deg] as spans in words; 0 up, 90 forward."""
    spans: list[list[int]] = []
    for angle in angles:
        if spans and angle == spans[-1][1] + STEP:
            spans[-1][1] = angle
        else:
            spans.append([angle, angle])
    return ", ".join(f"{a} to {b} deg" if a != b else f"{a} deg" for a, b in spans)


@claim(
    "FIT-07",
    "Nothing of the jig stands within 2 in of a weld that is still to be made.",
    holds="assembly",
)
def check_bead_zone(claim: Claim, job: Job) -> list[Finding]:
    """The nearest part of the jig to every bead; the bar lies inside the tube and is let off."""
    from fixturegen.shapes import solids
    from fixturegen.shapes.meshes import body_of, mesh_distance

    # end checks are slid back before anything is welded
    parts = chosen(jig_of(scene_of(job)), lambda t: t.group not in ("bar", "ends"))
    found = []
    z = job.plan.height
    for bead in beads(job):
        y = bead.station
        ring = body_of(
            solids.tube((0.0, y - 0.5, z), (0.0, y + 0.5, z), 2.0 * bead.neck, 2.0 * bead.radius - 1.0),
            "bead",
            DEFLECTION,
        )
        far = BEAD_ROOM + bead.neck
        box = (-far, y - far, z - far, far, y + far, z + far)
        near = [t for t in parts if gap_of_boxes(t.box, box) <= 0.0]
        gaps = [(mesh_distance(t.body, ring), t) for t in near]
        tight = [(d[0] - 2.0 * DEFLECTION, d[1], t) for d, t in gaps if d[0] - 2.0 * DEFLECTION < BEAD_ROOM]
        found += [_too_near(claim, bead, gap, point, thing) for gap, point, thing in tight]
        if not tight:
            nearest = min(gaps, key=lambda g: g[0][0], default=None)
            words = f"nothing stands within {inches(BEAD_ROOM)} of the {bead.name} weld"
            if nearest is not None:
                words += f"; nearest {nearest[1].name} at {inches(nearest[0][0])}"
            found.append(
                claim.finding(
                    Level.PASS,
                    words,
                    assembly="jig",
                    limit=BEAD_ROOM,
                    unit="mm",
                    source=PRACTICE,
                    value=nearest[0][0] - 2.0 * DEFLECTION if nearest else None,
                )
            )
    return found


def _too_near(claim: Claim, bead: Bead, gap: float, point: Vector, thing: Thing) -> Finding:
    pin = thing.group.startswith("stubs")
    remedy = f"keep {thing.name} 2 in from the bead, or take it off before welding"
    if pin:
        # its place is the knuckle's, and it is drawn while warm
        remedy = "grease it against seizing, weld in short runs, and draw it while it is warm"
    return claim.finding(
        Level.WARN if pin else Level.FAIL,
        f"{thing.name} stands {inches(max(0.0, gap))} from the {bead.name} weld",
        remedy=remedy,
        parts=parts_of(thing),
        assembly="jig",
        point=point,
        value=gap,
        limit=BEAD_ROOM,
        unit="mm",
        source=PRACTICE,
    )
