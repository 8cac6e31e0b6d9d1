"""Wraps for tube ends, as read back from the PDF, against the kernel's own intersection of two cylinders, unrolled."""

import math
from itertools import pairwise

import cadquery as cq
import numpy as np
import pytest
import shapely
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section

from fixturegen.pages import LETTER, TitleBlock, read_pdf
from fixturegen.templates.documents import documents
from fixturegen.templates.tiles import book_of
from fixturegen.templates.tiling import tiling_of
from fixturegen.templates.wraps import cope_wrap, landing, mitre_wrap, wraps_of
from tests.templates.toys import contents, tube_end

NEAR = 0.05  # [mm]


def _page(template):
    tiling = tiling_of(template.area, LETTER)
    book, proofs = book_of(template, tiling, TitleBlock("job"), LETTER)
    return read_pdf(book.pdf()).pages[0], proofs[0], tiling.turned


def _outline(template):
    """The outline read from the first page, in the template's own frame."""
    page, proof, turned = _page(template)
    path = min((p for p in page.paths if p.closed), key=lambda p: abs(p.length - proof.outlines[0]))
    points = []
    for piece in path.pieces:
        for t in np.linspace(0.0, 1.0, 2 if len(piece.points) == 2 else 24)[:-1]:
            points.append(_at(piece.points, t))
    (x0, y0), (sx, sy) = path.pieces[0].points[0], template.start
    moved = [(x - x0, y - y0) for x, y in points]
    if turned:  # a quarter counter-clockwise on the page
        moved = [(y, -x) for x, y in moved]
    return shapely.LinearRing([(x + sx, y + sy) for x, y in moved])


def _at(points, t):
    p = [np.array(q) for q in points]
    while len(p) > 1:
        p = [(1 - t) * a + t * b for a, b in pairwise(p)]
    return tuple(p[0])


def _kernel_points(r, big, lean, aside):
    """Points (n, 3) of the line two cylinders share; main along x, branch through (0, -aside, 0), upward."""
    main = cq.Solid.makeCylinder(big, 1200.0, cq.Vector(-600.0, 0.0, 0.0), cq.Vector(1.0, 0.0, 0.0))
    way = cq.Vector(math.cos(math.radians(lean)), 0.0, math.sin(math.radians(lean)))
    branch = cq.Solid.makeCylinder(r, 500.0, cq.Vector(0.0, -aside, 0.0), way)
    walls = [
        max(solid.Faces(), key=lambda f: f.Area() if f.geomType() == "CYLINDER" else 0.0) for solid in (main, branch)
    ]
    section = BRepAlgoAPI_Section(walls[0].wrapped, walls[1].wrapped)
    section.Build()
    points = []
    for edge in cq.Shape.cast(section.Shape()).Edges():
        curve = BRepAdaptor_Curve(edge.wrapped)
        for u in np.linspace(curve.FirstParameter(), curve.LastParameter(), 40):
            p = curve.Value(float(u))
            points.append((p.X(), p.Y(), p.Z()))
    return np.array(points)


CASES = [(38.1, 44.45, 55.0, 0.0), (50.8, 88.9, 90.0, 12.7), (44.45, 44.45, 90.0, 0.0), (30.0, 76.0, 125.0, -8.0)]


@pytest.mark.parametrize(("branch", "main", "angle", "offset"), CASES)
def test_wrap_and_landing_are_the_kernels_intersection_unrolled(branch, main, angle, offset):
    r, big, lean = branch / 2.0, main / 2.0, math.radians(angle)
    end = tube_end(branch, main, angle, offset)
    axis = np.array([math.cos(lean), 0.0, math.sin(lean)])
    side, aside = np.array([math.sin(lean), 0.0, -math.cos(lean)]), np.array([0.0, 1.0, 0.0])
    points = _kernel_points(r, big, angle, offset)
    assert len(points) > 60
    turns = np.arctan2(points @ aside + offset, points @ side) % (2.0 * math.pi)
    along = points @ axis
    wrap, place = _outline(cope_wrap(end, "in")), _outline(landing(end, "in"))
    low = along.min()
    # the kernel's lowest sampled point lies a hair above the true lowest one
    off = [wrap.distance(shapely.Point(r * t, z - low)) for t, z in zip(turns, along, strict=True)]
    assert max(off) < NEAR
    # seen from outside with the branch's line 0 (towards +x) up, y runs to the left
    around = -big * np.arctan2(points[:, 1], points[:, 2])
    off = [place.distance(shapely.Point(s, x)) for s, x in zip(around, points[:, 0], strict=True)]
    assert max(off) < NEAR


def test_both_papers_are_drawn_as_seen_from_outside_the_tube():
    # right x up on the paper must point out of the tube: then the paper is wrapped with its print outside
    lean = math.radians(55.0)
    axis, side = np.array([math.cos(lean), 0, math.sin(lean)]), np.array([math.sin(lean), 0, -math.cos(lean)])
    for t in (0.0, 1.0, 4.0):
        out = math.cos(t) * side + math.sin(t) * np.array([0, 1, 0])
        right = -math.sin(t) * side + math.cos(t) * np.array([0, 1, 0])
        assert np.cross(right, axis) == pytest.approx(out)
    right, up = np.array([0.0, -1.0, 0.0]), np.array([1.0, 0.0, 0.0])
    assert np.cross(right, up) == pytest.approx([0.0, 0.0, 1.0])


@pytest.mark.parametrize("angle", [60.0, 90.0, 115.0, 165.0])
def test_a_mitre_wrapped_round_its_tube_lies_in_one_plane_that_halves_the_corner(angle):
    ring = _outline(mitre_wrap(tube_end(50.0, None, angle, cut="mitre"), "in"))
    slope = math.tan(math.radians(90.0 - angle / 2.0))
    for x in np.linspace(0.5, math.pi * 50.0 - 0.5, 60):
        want = 25.0 * slope * (1.0 + math.cos(x / 25.0))  # closed form: plane z = slope (r + x)
        assert ring.distance(shapely.Point(x, want)) < NEAR


def test_the_strip_is_as_long_as_the_tube_is_round_and_its_lap_is_beyond():
    page, _, _ = _page(cope_wrap(tube_end(50.8, 88.9, 90.0), "in"))
    level = [ln.length for ln in page.lines if abs(ln.points[0][1] - ln.points[1][1]) < 1e-3]
    assert min(abs(v - math.pi * 50.8) for v in level) < NEAR
    words = page.text.replace("\r\n", " ")
    for told in (
        "LAP",
        "90",
        "180",
        "270",
        "square line",
        "2.000 in (50.80 mm) onto 3.500 in (88.90 mm)",
        "measure the tube",
    ):
        assert told in words


def test_tube_ends_of_odd_names_have_files_of_their_own():
    ends = (tube_end(name="שלום"), tube_end(name="\U0001f527"), tube_end(name="A b"), tube_end(name="a B", cut="mitre"))
    made = [d.path for d in documents(contents(tube_ends=ends))]
    assert len(made) == len(set(made)) == 14
    assert all(path.replace("templates/", "").replace(".", "").replace("-", "").isascii() for path in made)
    assert [t.name for t in wraps_of(ends[2], 3, "in")] == ["tube-end-3-a-b", "tube-end-3-a-b-landing"]
