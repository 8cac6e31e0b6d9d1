"""Link brackets bent from one plate, towers and track-bar brackets on one invented axle, made once."""

from functools import cache

import numpy as np

from fixturegen.checks.registry import claims
from fixturegen.checks.release import release
from fixturegen.shapes.meshes import exact_distance, interferes
from fixturegen.shapes.primitives import box, common, transformed
from tests.brackets import tab_jobs
from tests.brackets.tab_jobs import PLATE_CLAIMS

INCH = 25.4
GAP = tab_jobs.GAP
SHANK = {"lower joint": 19.96, "upper joint": 17.97, "bar joint": 15.97}
BAR = {"name": "bar joint", "width": "50 mm", "body": "48 mm", "bolt": "M16", "shank": "15.97 mm", "grade": "10.9"}
LOWER = {"holds": "lower-left", "joint": "lower joint", "plate": "6 mm"}
UPPER = {
    "holds": "upper-left", "joint": "upper joint", "plate": "6 mm", "on": "truss", "facing": "up",
    "surface": "85 mm",
}  # fmt: skip
AHEAD = {"point": ["-2960 mm", "-330 mm", "545 mm"], "toward": ["-2960 mm", "420 mm", "610 mm"]}
OVER = {"point": ["-2845 mm", "-430 mm", "560 mm"], "toward": ["-2845 mm", "400 mm", "620 mm"]}
TRACK = {"holds": "bar", "joint": "bar joint", "plate": "6 mm", **AHEAD, "extra_holes": 1, "hole_pitch": "35 mm"}
RAIL = {
    "holds": "bar", "joint": "bar joint", "plate": "6 mm", "point": AHEAD["toward"], "toward": AHEAD["point"],
    "end": "frame", "on": "rail", "facing": "down", "surface": "690 mm",
}  # fmt: skip


def data(*rows):
    raw = tab_jobs.data(*rows)
    raw["joints"].append(BAR)
    return raw


def one(kind, row, **more):
    """A bracket with changes, made alone."""
    return tab_jobs.made(data((kind, row, more)))


def refused(kind, row, **more):
    """The sentence and the remedy a bracket is refused with."""
    try:
        one(kind, row, **more)
    except tab_jobs.GeometryFault as fault:
        return fault.words, fault.remedy
    return "", ""


@cache
def every():
    """Folded lower links, towers, a track bar ahead of the tube with its other end on a rail."""
    rows = (("folded", LOWER), ("tower", UPPER), ("track-bar", TRACK), ("track-bar", RAIL))
    return tab_jobs.made(data(*((k, r, {}) for k, r in rows)))


@cache
def held():
    """Part name to why it is held, by every claim about plates, holes, bends, marks and cutting."""
    job = every().job
    findings = [f for c in claims() if c.code[:3] in PLATE_CLAIMS for f in c.check(job)]
    return release(job.parts.values(), job.assemblies.values(), findings)


def axes(made, name):
    """Axes of the bolt's holes in every part of a bracket that has some, by part."""
    (size,) = {h.finished for p in made.job.brackets.facts[name].ears for h in made.job.parts[p.part].profile.holes}
    found = [(p, tab_jobs.bore_axes(s, size)) for p, s in parts(made, name)]
    return [(p, a) for p, a in found if a]


def parts(made, name):
    """(name of the part, its solid in A), by place."""
    names = [p.part for p in made.placements if p.group == name]
    return list(zip(names, made.solids(name), strict=True))


def overlaps(made, name):
    """Common volume of every two plates of a bracket [mm3]."""
    there = parts(made, name)
    return [interferes(a, b) for i, (_, a) in enumerate(there) for _, b in there[i + 1 :]]


def slab(solid, mount, low, high):
    """What of a solid lies from `low` to `high` along the bolt, from the hardpoint."""
    z = np.array(mount.bolt)
    x = np.cross(z, (0.31, 0.2, 0.93))
    x /= np.linalg.norm(x)
    turn = tuple(map(tuple, np.stack([x, np.cross(z, x), z], axis=1).tolist()))
    return common(solid, transformed(box(-400, -400, low, 400, 400, high), turn, mount.point))


def gap(shape, mount):
    """Distance of a shape to what its bracket stands on, by the kernel [mm]."""
    return exact_distance(shape, tab_jobs.base_solid(mount))[0]


__all__ = ["every", "held", "tab_jobs"]
