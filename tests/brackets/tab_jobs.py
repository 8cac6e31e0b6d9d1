"""Tabs and seats of every kind on one invented axle, made once, and what is measured on their solids."""

import math
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import cadquery as cq
import numpy as np

from fixturegen.axle.model import axle_of
from fixturegen.brackets import registry
from fixturegen.brackets.registry import BracketContext
from fixturegen.checks.registry import Job, claims
from fixturegen.checks.release import release
from fixturegen.errors import GeometryFault
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.shapes.meshes import exact_distance
from fixturegen.shapes.primitives import box, cylinder, placed, transformed
from fixturegen.shapes.solids import solid_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.bracket_records import TubeBase
from fixturegen.studies.jig_plan import plan_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "rear-dropout.toml"
GAP = 25.4 / 64.0  # the usual root gap of the sheet [mm]
EYE = {"name": "eye", "width": "38 mm", "body": "44 mm", "bolt": "M14", "shank": "13.97 mm", "grade": "10.9"}
STRAP = {"name": "strap", "width": "13 mm", "body": "50 mm", "bolt": "M12", "shank": "11.97 mm", "grade": "10.9"}
HOOP = {
    "diameter": "44.5 mm",
    "wall": "3.2 mm",
    "begin": ["-2900 mm", "600 mm", "1070 mm"],
    "end": ["-2900 mm", "100 mm", "1070 mm"],
}
RAIL = {"on": "rail", "facing": "down"}
SHOCK_ENDS = {"point": ["-2930 mm", "430 mm", "440 mm"], "toward": ["-2900 mm", "350 mm", "1010 mm"]}
STRAP_ENDS = {"point": ["-2770 mm", "300 mm", "490 mm"], "toward": ["-2770 mm", "280 mm", "880 mm"]}
UPPER_ENDS = {"frame": ["-2030 mm", "470 mm", "690 mm"], "axle": ["-2820 mm", "130 mm", "660 mm"]}
COIL_ENDS = {"point": ["-2845 mm", "420 mm", "530 mm"], "toward": ["-2810 mm", "400 mm", "800 mm"]}
STOP_ENDS = {"point": ["-2850 mm", "560 mm", "560 mm"], "toward": ["-2850 mm", "560 mm", "700 mm"]}
LEAF_ENDS = {"point": ["-2845 mm", "620 mm", "510 mm"], "toward": ["-2845 mm", "620 mm", "610 mm"]}
RODS = {"point": ["-2760 mm", "-300 mm", "490 mm"], "toward": ["-2740 mm", "200 mm", "500 mm"]}
COIL = {"coil_inside": "105 mm", "coil_outside": "135 mm"}


PLATE_CLAIMS = ("BND", "CUT", "HOL", "JNT", "MRK", "NST", "TAB", "TCH")


def other_end(ends):
    return {"point": ends["toward"], "toward": ends["point"], "end": "frame"}


ROWS = {
    "shock-tab": {"holds": "shock-left", "joint": "eye", "plate": "10 mm", **SHOCK_ENDS},
    "hoop-tab": {
        "holds": "shock-left", "joint": "eye", "plate": "10 mm", **other_end(SHOCK_ENDS), "on": "hoop", "hoop": HOOP,
    },
    "strap-tab": {"holds": "strap-left", "joint": "strap", "plate": "6 mm", **STRAP_ENDS},
    "coil-seat": {"holds": "coil-left", "plate": "6 mm", **COIL, **COIL_ENDS},
    "bump-pad": {"holds": "stop-left", "plate": "6 mm", **STOP_ENDS},
    "spring-pad": {
        "holds": "leaf-left", "plate": "10 mm", "length": "76 mm", "width": "140 mm", "pin": "14 mm", **LEAF_ENDS,
    },
    "stabilizer-tab": {"holds": "rod", "joint": "eye", "plate": "10 mm", **RODS},
}  # fmt: skip
RAIL_ROWS = {
    "strap-tab": {"holds": "strap-left", "joint": "strap", "plate": "6 mm", **other_end(STRAP_ENDS), **RAIL,
                  "surface": "940 mm", "ears": "outer"},
    "coil-seat": {"holds": "coil-left", "plate": "6 mm", **COIL, **other_end(COIL_ENDS), **RAIL,
                  "surface": "860 mm", "retainer": "M12"},
    "bump-pad": {"holds": "stop-left", "plate": "6 mm", **other_end(STOP_ENDS), **RAIL, "surface": "706.1 mm"},
}  # fmt: skip


def data(*rows):
    """The example with other brackets: (kind, row, changes) each."""
    raw = tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))
    del raw["truss"]  # rows of these jobs say themselves what they stand on
    raw["joints"] += [EYE, STRAP]
    raw["links"]["upper"]["left"] |= UPPER_ENDS
    raw["links"]["struts"] = []  # rows of these jobs give their own points
    raw["brackets"] = [{"kind": kind, **row, **more} for kind, row, more in rows]
    return raw


@dataclass
class Made:
    """Brackets without their locators, which have tests of their own."""

    job: Job
    placements: tuple

    def mount(self, name):
        return self.job.brackets.facts[name].mount

    def solids(self, group, word=""):
        """Solids of a bracket's parts in A, by place; of those whose name ends with a word."""
        return [
            placed(solid_of(self.job.parts[p.part]), p)
            for p in self.placements
            if p.group == group and p.part.endswith(word)
        ]

    def gone(self):
        return {u.mount: u.words for u in self.job.brackets.unmade}


def made(raw):
    """Brackets of a sheet, each through its own maker."""
    sheet = Sheet.model_validate(raw)
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    found = bracket_plan(sheet, axle)
    context = BracketContext(sheet, axle, plan, found)
    everything = [registry.maker_of(m.spec.kind)(context, m) for m in found.mounts]
    places = tuple(p for m in everything for p in m.placements)
    parts = [completed(p, sheet, [q for q in places if q.part == p.name]) for m in everything for p in m.parts]
    welds = tuple(w for m in everything for w in m.welds)
    assembly = Assembly("brackets", "A", places, welds, (), ())
    facts = {m.facts.mount.name: m.facts for m in everything}
    brackets = BracketSet(tuple(parts), (assembly,), facts)
    job = Job(sheet, axle, plan, {p.name: p for p in parts}, {"brackets": assembly}, brackets=brackets)
    return Made(job, places)


@cache
def every():
    """One bracket of each kind on the axle or its hoop, and those on rails."""
    rows = [(k, r, {}) for k, r in ROWS.items()] + [(k, r, {}) for k, r in RAIL_ROWS.items()]
    return made(data(*rows))


def one(kind, row=None, **more):
    """A bracket with changes, made alone."""
    return made(data((kind, row or ROWS[kind], more)))


def refused(kind, row=None, **more):
    """The sentence a bracket is refused with."""
    try:
        one(kind, row, **more)
    except GeometryFault as fault:
        return str(fault.words), fault.remedy
    return "", ""


@cache
def held():
    """Part name to why it is held, by every claim about plates, holes, marks and cutting."""
    job = every().job
    asked = [c for c in claims() if c.code[:3] in PLATE_CLAIMS or c.code == "FIT-01"]
    findings = [f for c in asked for f in c.check(job)]
    assert findings
    return release(job.parts.values(), job.assemblies.values(), findings)


def base_solid(mount, reach=200.0):
    """What a bracket stands on, drawn by the test itself: a bar as thick as the tube, or a block under the face."""
    base, point = mount.base, np.array(mount.point)
    if isinstance(base, TubeBase):
        along, start = np.array(base.along), np.array(base.point)
        middle = start + along * float((point - start) @ along)
        return cylinder(tuple(middle - reach * along), tuple(middle + reach * along), 2.0 * base.radius)
    n = np.array(base.normal)
    u = np.cross(n, (0.3, 1.0, 0.2))
    u /= np.linalg.norm(u)
    turn = np.stack([u, np.cross(n, u), n], axis=1)
    return transformed(box(-reach, -reach, -20.0, reach, reach, 0.0), tuple(map(tuple, turn.tolist())), base.point)


def gaps(made_, group, word):
    """Distance of each part to what the bracket stands on, by the kernel [mm]."""
    base = base_solid(made_.mount(group))
    return [exact_distance(s, base)[0] for s in made_.solids(group, word)]


def bore_axes(solid, diameter):
    """(a point, unit direction) of every round hole of a diameter in a solid."""
    found = []
    for face in solid.Faces():
        if face.geomType() == "CYLINDER":
            round_ = face._geomAdaptor().Cylinder()
            if abs(2.0 * round_.Radius() - diameter) < 1e-6:
                axis = round_.Axis()
                p, d = axis.Location(), axis.Direction()
                line = np.array([p.X(), p.Y(), p.Z()]), np.array([d.X(), d.Y(), d.Z()])
                # the wall of one hole is two faces
                if not any(off_line(line[0], other) < 1e-6 for other in found):
                    found.append(line)
    return found


def off_line(point, axis):
    """Distance of a point from a line (point, direction) [mm]."""
    return float(np.linalg.norm(np.cross(np.array(point) - axis[0], axis[1])))


def flats(solid):
    """(height along its normal, unit normal, area) of every plane face."""
    found = []
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            n, c = face.normalAt(), face.Center()
            n, c = np.array([n.x, n.y, n.z]), np.array([c.x, c.y, c.z])
            found.append((float(c @ n), n, face.Area()))
    return found


def mirrored_boxes(made_, left, right, word=""):
    """Largest difference of boxes and volumes between a left bracket, mirrored, and the right one."""
    flipped = cq.Compound.makeCompound(made_.solids(left, word)).mirror("XZ")
    other = cq.Compound.makeCompound(made_.solids(right, word))
    a, b = flipped.BoundingBox(1e-4), other.BoundingBox(1e-4)
    sides = [abs(getattr(a, k) - getattr(b, k)) for k in ("xmin", "xmax", "ymin", "ymax", "zmin", "zmax")]
    return max(sides), abs(flipped.Volume() / other.Volume() - 1.0)


def in_axle(point, pinion=12.0, wheelbase=2845.0, radius=445.0):
    """A point of the vehicle in the axle frame by hand: A is V turned about Y by -p on a rear axle (frames)."""
    x, y, z = (float(str(v).removesuffix(" mm")) for v in point)
    x, z, p = x + wheelbase, z - radius, math.radians(pinion)
    return np.array([x * math.cos(p) + z * math.sin(p), y, -x * math.sin(p) + z * math.cos(p)])
