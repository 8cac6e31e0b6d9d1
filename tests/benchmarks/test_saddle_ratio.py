"""The edge of a plate on a tube against the kernel's boolean of the same to 0.01 mm; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_saddle_ratio.py -o addopts="" -s
--import-mode=importlib`. Aim: at least 50 times faster. The kernel cuts the tube, grown by the gap, from
the plate, looks along the plate's normal, and turns the border into arcs within 0.01 mm; tubes and plates
are invented.
"""

import time

import cadquery as cq
import numpy as np
import pytest

from fixturegen.plate.profile import Vertex, rectangle
from fixturegen.plate.saddles import saddle_base, wrap_ends
from fixturegen.shapes.faces import wire_of
from fixturegen.shapes.primitives import cylinder
from fixturegen.shapes.profiles import profile_of
from tests.plate.saddle_cases import stand

RADIUS, GAP, DEVIATION = 38.1, 0.8, 0.01
CASES = [(0.0, 0.0), (20.0, 0.0), (0.0, 20.0), (40.0, 0.0), (30.0, -30.0)]
TIMES = 20


def by_the_kernel(where) -> tuple[Vertex, ...]:
    """Border left on a plate by the tube: both faces of the cut plate, laid over each other.

    So the kernel is spared the two short lines between the half ellipses.
    """
    blank = cq.Solid.extrudeLinear(
        wire_of(rectangle(-90.0, 0.0, 90.0, 150.0), "blank"), [], cq.Vector(0.0, 0.0, where.thickness)
    )
    turn, origin = np.array(where.rotation), np.array(where.origin)
    ends = [tuple(float(v) for v in turn.T @ (np.array([0.0, s, 0.0]) - origin)) for s in (-400.0, 400.0)]
    left = blank.cut(cylinder(ends[0], ends[1], 2.0 * (RADIUS + GAP)))
    faces = [f for f in left.Faces() if abs(abs(f.normalAt().z) - 1.0) < 1e-6]
    low = min(faces, key=lambda f: f.Center().z)
    high = max(faces, key=lambda f: f.Center().z)
    both = low.intersect(high.moved(cq.Location(cq.Vector(0.0, 0.0, -where.thickness))))
    return profile_of(both.Faces()[0], deviation=DEVIATION).outer


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"yaw {c[0]:g}, lean {c[1]:g}")
def test_our_edge_against_the_kernels(case: tuple[float, float]) -> None:
    where = stand(*case)
    ours = theirs = 0.0
    arcs = 0
    for _ in range(TIMES):  # by turns, so that a busy machine slows both
        start = time.perf_counter()
        base = saddle_base(where, RADIUS, GAP, wrap_ends(where, 0.0, 60.0, 60.0), DEVIATION)
        between = time.perf_counter()
        outline = by_the_kernel(where)
        ours += between - start
        theirs += time.perf_counter() - between
        arcs = len(base.edge) - 1
    # without those lines it comes nearer by their sagitta, at most 0.06 mm here: that it is the same edge at all
    assert all(base.shadow.clearance(v.x, v.y) > -0.06 - DEVIATION for v in outline)
    words = f"yaw {case[0]:g}, lean {case[1]:g}: {arcs} pieces, kernel's outline {len(outline)}"
    print(f"\n{words}: {theirs / ours:.0f} times (aim 50), ours {1e3 * ours / TIMES:.2f} ms")
