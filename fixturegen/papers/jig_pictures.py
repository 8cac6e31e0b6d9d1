"""Pictures of the jig on the table with the axle as a ghost, from two sides and from the end; then of the brackets."""

from __future__ import annotations

import base64

from fixturegen.bodies.axle import bench_bodies, jig_solids
from fixturegen.checks.registry import Job
from fixturegen.papers.bracket_pictures import bracket_pictures
from fixturegen.papers.report import Picture
from fixturegen.shapes.pictures import pictures_bytes

Colour = tuple[float, float, float]

# told apart by lightness too, for people who do not see red and green apart
COLOURS: tuple[tuple[str, Colour, str], ...] = (
    ("stand", (0.27, 0.40, 0.58), "stand: dark blue"),
    ("index", (0.78, 0.27, 0.17), "index and puck plate: red"),
    ("steady", (0.49, 0.36, 0.60), "steady: violet"),
    ("cradle", (0.42, 0.56, 0.45), "cradles: grey green"),
    ("clock", (0.90, 0.65, 0.16), "clock plates: amber"),
    ("fingers", (0.22, 0.22, 0.24), "finger bars: black"),
    ("stubs", (0.25, 0.66, 0.75), "stub pins: light blue"),
    ("tie", (0.55, 0.20, 0.48), "tie and keepers: purple"),
    ("ends", (0.25, 0.66, 0.75), "end check discs: light blue"),
)
OTHER: Colour = (0.55, 0.55, 0.55)
GHOST: Colour = (0.78, 0.78, 0.74)
SIZE = (1280, 860)


def _colour(group: str) -> Colour:
    return next((c for start, c, _ in COLOURS if group.startswith(start)), OTHER)


def jig_pictures(job: Job) -> tuple[Picture, ...]:
    """The whole jig seen from the front left, the rear left and the vehicle's left; brackets and locators after it."""
    placements = job.assemblies["jig"].placements
    groups = {p.group for p in placements}
    items = [(solid, _colour(placements[key[0]].group), 1.0) for key, solid in jig_solids(job).items()]
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
    return (*jig, *bracket_pictures(job))
