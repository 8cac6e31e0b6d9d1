"""Pictures of the brackets on the axle, and of the locators that hold them on the table."""

from __future__ import annotations

import base64
from typing import Any

from fixturegen.axle.model import to_table
from fixturegen.bodies.axle import bodies_in, jig_solids
from fixturegen.bodies.colours import BRACKET, GHOST, HOLDER, TURNED, Colour
from fixturegen.bodies.drawing import rows
from fixturegen.checks.registry import Job
from fixturegen.papers.report import Picture
from fixturegen.shapes import solids
from fixturegen.shapes.pictures import pictures_bytes

TRUSS = "truss"
THROUGH = 0.3  # opacity of the axle beside the locators [1]
SIZE = (1280, 860)
ON_AXLE = (
    ((1.0, 0.75, 0.55), "seen from the front left and above"),
    ((-1.0, 0.75, -0.45), "seen from the rear left and below"),
)
ON_TABLE = (((1.0, 0.75, 0.55), "seen from the front left"),)


def bracket_pictures(job: Job) -> tuple[Picture, ...]:
    """The brackets on axle and truss from two sides, then the locators with them; none without brackets on the axle."""
    on_axle = {f.mount.name for f in job.brackets.facts.values() if f.mount.spec.end == "axle"}
    if not on_axle:
        return ()
    places = job.assemblies["brackets"].placements
    items = [(s, BRACKET, 1.0) for (i, _), s in jig_solids(job, "brackets").items() if places[i].group in on_axle]
    if not items:
        return ()
    items += [(solid, GHOST, 1.0) for solid in (*bodies_in(job, "A").values(), *jig_solids(job, TRUSS).values())]
    on = "axle and its truss, which has its own pictures" if TRUSS in job.assemblies else "bare axle"
    found = _shots(items, ON_AXLE, f"The brackets: amber; on the {on}; pinion level")
    return (*found, *_locators(job))


def _locators(job: Job) -> tuple[Picture, ...]:
    if "locators" not in job.assemblies:
        return ()
    places = job.assemblies["locators"].placements
    own = {p.part for p in job.assemblies["brackets"].placements}
    items = [
        (solid, BRACKET if name in own else TURNED if job.parts[name].form == "turned" else HOLDER, 1.0)
        for (i, name), solid in jig_solids(job, "locators").items()
        if i < len(places)
    ]
    items += [(solid, GHOST, THROUGH) for solid in (*bodies_in(job, "T").values(), *_truss_on_table(job))]
    words = "The locators on the table: posts and arms dark blue, dummy bolts, spools and spacers light blue, brackets "
    return _shots(items, ON_TABLE, words + "amber, axle as a ghost; the caster jig is left out")


def _truss_on_table(job: Job) -> list[Any]:
    """The truss as it stands with the axle on the table: it is on before the brackets are."""
    turn, up = to_table(job.axle, job.plan.height)
    at = (float(up[0]), float(up[1]), float(up[2]))
    return [solids.transformed(s, rows(turn), at) for s in jig_solids(job, TRUSS).values()]


def _shots(
    items: list[tuple[Any, Colour, float]], views: tuple[tuple[tuple[float, float, float], str], ...], words: str
) -> tuple[Picture, ...]:
    shots = pictures_bytes(items, [view for view, _ in views], SIZE)
    return tuple(
        Picture(base64.b64encode(shot).decode("ascii"), f"{words}, {seen}.")
        for shot, (_, seen) in zip(shots, views, strict=True)
    )
