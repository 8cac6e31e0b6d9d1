"""Invented housings for the tests of the housing beam: a tube with or without a truss of one section, level loads."""

import math
from dataclasses import dataclass, replace

from fixturegen.axle.model import axle_of
from fixturegen.studies.axle_loads import carried
from fixturegen.studies.housing_section import TUBE, Cut, Seam, Strip
from fixturegen.studies.load_records import LoadCase, Push
from tests.studies.load_jobs import INCH, LBF, plane_axle, straight_up
from tests.studies.study_jobs import REAR, sheet_of


@dataclass(frozen=True)
class PlainTruss:
    """Two side plates and a top from end to end, its ends cut at a slope (0: square), welded on the whole length.

    Sizes in inches: `ends` from right to left, top `high` above the axle line, plates `half` off the middle.
    """

    ends: tuple
    diameter: float
    high: float = 5.0
    half: float = 1.25
    plate: float = 0.25
    taper: float = 0.0
    welded: float = 1.0
    leg: float = 0.25
    inset: float = 0.0
    bridge: tuple = ()
    hold: bool = False

    def cut_at(self, station, filled=False):
        y = station / INCH
        if not self.ends[0] <= y <= self.ends[1]:
            return Cut()
        foot = math.sqrt((self.diameter / 2) ** 2 - self.half**2)
        away = min(y - self.ends[0], self.ends[1] - y)
        top = self.high if not self.taper else min(self.high, self.diameter / 2 + away * self.taper)
        strips, seams = [], []
        joined = self.welded if any(a * INCH <= station <= b * INCH for a, b in self._spans()) else 0.0
        for name, x in (("front", self.half), ("rear", -self.half)):
            strips.append(Strip(name, (x * INCH, foot * INCH), (x * INCH, top * INCH), self.plate * INCH))
            seams.append(Seam(f"{name} to tube", name, TUBE, (x * INCH, foot * INCH), self.leg * INCH, 1, joined))
            seams.append(Seam(f"{name} to top", name, "top", (x * INCH, top * INCH), self.leg * INCH))
        z = (top - self.plate / 2) * INCH
        strips.append(Strip("top", (-self.half * INCH, z), (self.half * INCH, z), self.plate * INCH))
        return Cut(tuple(strips), tuple(seams))

    def _spans(self):
        low, high = self.ends[0] + self.inset, self.ends[1] - self.inset
        return ((low, self.bridge[0]), (self.bridge[1], high)) if self.bridge else ((low, high),)

    def spans(self, roots):
        low, high = self.ends[0] + self.inset, self.ends[1] - self.inset
        inner = self.bridge or (roots[0] / INCH, roots[1] / INCH)
        return ((low * INCH, inner[0] * INCH), (inner[1] * INCH, high * INCH))

    def anchored(self):
        return self.hold


def pushed(force_left, force_right, name="tried", half=30.0, below=0.0):
    """A case with one force a side, `half` [in] off the middle, `below` the axle line [in], in pounds."""
    pushes = [
        Push(f"tyre-{side}", (0.0, way * half * INCH, 0.0), tuple(LBF * f for f in force), (0.0, 0.0, -below * INCH))
        for side, way, force in (("left", 1, force_left), ("right", -1, force_right))
    ]
    return LoadCase(name, "forces at both wheels", tuple(pushes))


def housing(*cases, diameter=3.5, wall=0.25, section=(0.0, 0.0), ends=(-30.0, 30.0), springs=18.0):
    """Sheet, axle and loads of a rear axle on level links, springs straight up, wheels 60 in apart."""
    sheet = sheet_of(REAR, tubes__outside_diameter=f"{diameter} in", tubes__wall=f"{wall} in")
    axle = replace(
        axle_of(sheet),
        section=tuple(INCH * y for y in section),
        tube_ends=tuple(INCH * y for y in ends),
        half_width=30.0 * INCH,
    )
    return sheet, axle, carried(plane_axle(8.0), straight_up(springs), cases or (pushed((0, 0, 3000), (0, 0, 3000)),))
