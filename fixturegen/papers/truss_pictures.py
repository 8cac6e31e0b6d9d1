"""Pictures of the truss on the axle with cover or third member and its brackets, from four sides."""

from __future__ import annotations

import base64

from fixturegen.bodies.axle import bodies_in, jig_solids
from fixturegen.bodies.colours import BRACKET, GHOST, HOLDER, TURNED
from fixturegen.bodies.ends import third_member_bodies
from fixturegen.checks.registry import Job
from fixturegen.papers.report import Picture
from fixturegen.shapes.pictures import pictures_bytes

TRUSS = "truss"
SIZE = (1280, 800)
VIEWS = (
    ((1.0, 0.75, 0.55), "seen from the front left and above"),
    ((-1.0, -0.75, 0.45), "seen from the rear right and above"),
    ((1.0, 0.1, 0.05), "seen from the front"),
    ((-0.6, 0.5, -0.8), "seen from the rear left and below"),
)
INSIDE = "ring-gear"
KNUCKLE = "knuckle-"


def truss_pictures(job: Job) -> tuple[Picture, ...]:
    """The truss with what comes off the housing in place; none without a truss."""
    if TRUSS not in job.assemblies:
        return ()
    items = [(solid, HOLDER, 1.0) for solid in jig_solids(job, TRUSS).values()]
    if "brackets" in job.assemblies:
        on_axle = {f.mount.name for f in job.brackets.facts.values() if f.mount.spec.end == "axle"}
        places = job.assemblies["brackets"].placements
        own = jig_solids(job, "brackets").items()
        items += [(solid, BRACKET, 1.0) for (i, _), solid in own if places[i].group in on_axle]
    # knuckles turn with the caster, which a truss does not hang on: without them its pictures stay as they are
    for name, solid in bodies_in(job, "A").items():
        if not name.startswith(KNUCKLE):
            items.append((solid, TURNED if name == "cover" else GHOST, 1.0))
    items += [(s, TURNED, 1.0) for n, s in third_member_bodies(job.sheet, job.axle).items() if n != INSIDE]
    words = "The truss on the axle: dark blue; brackets amber, cover or third member light blue; knuckles left out"
    return tuple(
        Picture(base64.b64encode(shot).decode("ascii"), f"{words}, {seen}.")
        for shot, (_, seen) in zip(pictures_bytes(items, [v for v, _ in VIEWS], SIZE), VIEWS, strict=True)
    )
