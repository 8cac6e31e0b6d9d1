"""Pictures of the jig on the table with the axle as a ghost, from two sides and from the end; then of the brackets."""

from __future__ import annotations

import base64

from fixturegen.bodies.axle import bench_bodies, jig_solids
from fixturegen.bodies.colours import COLOURS, GHOST, group_colour
from fixturegen.checks.registry import Job
from fixturegen.papers.bracket_pictures import bracket_pictures
from fixturegen.papers.report import Picture
from fixturegen.papers.truss_pictures import truss_pictures
from fixturegen.shapes.pictures import pictures_bytes

SIZE = (1280, 860)


def jig_pictures(job: Job) -> tuple[Picture, ...]:
    """The whole jig from the front left, the rear left and the vehicle's left; brackets, locators, truss after it."""
    placements = job.assemblies["jig"].placements
    groups = {p.group for p in placements}
    items = [(solid, group_colour(placements[key[0]].group), 1.0) for key, solid in jig_solids(job).items()]
    items += [(solid, GHOST, 0.9 if name == "bar" else 0.3) for name, solid in bench_bodies(job).items()]
    legend = "; ".join(words for start, _, words in COLOURS if any(g.startswith(start) for g in groups))
    views = (
        ((1.0, 0.75, 0.55), "seen from the front left of the vehicle"),
        ((-1.0, 0.75, 0.55), "seen from the rear left of the vehicle"),
        ((0.0, 1.0, 0.0), "seen from the vehicle's left, front to the left of the picture"),
    )
    shots = pictures_bytes(items, [view for view, _ in views], SIZE)
    jig = tuple(
        Picture(
            base64.b64encode(shot).decode("ascii"),
            f"The jig on the table, axle as a ghost, {words}. {legend}.",
        )
        for shot, (_, words) in zip(shots, views, strict=True)
    )
    return (*jig, *bracket_pictures(job), *truss_pictures(job))
