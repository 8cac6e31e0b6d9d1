"""Mass and volume of every part of the examples, worked out in ways that do not know of one another.

The kernel's volume of each solid stands against: the mesh of its surface (divergence theorem); for
plates, area by Green's theorem and by a general geometry library, times thickness; for lathe parts, the
closed forms of cylinder and frustum. Source: any handbook of mathematics (mensuration);
density of carbon steel 7850 kg/m3 (handbook value, from memory).
"""

import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from fixturegen.parts.registry import make_jig
from fixturegen.plate import Part, Turned
from fixturegen.plate.profile import polyline
from fixturegen.shapes import meshes, solids
from fixturegen.write.staging import density
from fixturegen.write.step import flat_volume
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

DEFLECTION = 0.05  # [mm] farthest a facet lies off the surface
CHORD = 0.001  # [mm] farthest a chord of the polygon lies off its arc


@cache
def parts_of(name: str) -> dict[str, Part]:
    made, _ = make_jig(*case(name))
    return {p.name: p for p in made}


@cache
def solid(name: str, part: str):
    return solids.solid_of(parts_of(name)[part])


EXAMPLES = [DROPOUT, INTEGRAL, REAR]


def of_form(name: str, form: str) -> list[str]:
    return [n for n, p in parts_of(name).items() if p.form == form]


def frustum(length: float, low: float, high: float) -> float:
    """Volume of a frustum of end diameters low and high."""
    return math.pi / 12.0 * length * (low * low + low * high + high * high)


def stack(turned: Turned) -> tuple[float, float]:
    """Volume of the outside steps, and of the bores inside each other's union (bores in line only)."""
    outside = sum(frustum(s.length, s.diameter, s.end_diameter or s.diameter) for s in turned.steps)
    cuts = sorted({z for low, high, *_ in turned.bores for z in (low, high)})
    inside = 0.0
    for low, high in pairwise(cuts):
        here = [b for b in turned.bores if b[0] <= low and high <= b[1]]
        # among bores that overlap along the axis, the widest takes the steel (all straight there)
        inside += max((frustum(high - low, *ends(b, low, high)) for b in here), default=0.0)
    return outside, inside


def ends(bore, low: float, high: float) -> tuple[float, float]:
    start, stop, first, last, _ = bore
    last = first if last is None else last
    at = lambda z: first + (last - first) * (z - start) / (stop - start)  # noqa: E731 - one line of a ramp
    return at(low), at(high)


def plain(turned: Turned) -> bool:
    """Whether steps and bores are all there is."""
    return not (turned.flats or turned.cross_holes or turned.axial_holes or turned.saw_cut)


def mesh_agrees(name: str, part: str) -> None:
    body = solid(name, part)
    mesh = meshes.mesh_of(body, DEFLECTION)
    # a surface moved by at most d changes the volume by at most d times the area, to first order
    assert abs(solids.volume(body) - mesh.volume) <= 1.01 * DEFLECTION * body.Area(), part
    assert solids.volume(body) > 0.0, part


def plate_agrees(name: str, part: str) -> None:
    made = parts_of(name)[part]
    assert made.profile is not None
    assert solids.volume(solid(name, part)) == pytest.approx(flat_volume(made), rel=1e-9), part
    shape = Polygon(polyline(made.profile.outer, CHORD), [polyline(i, CHORD) for i in made.profile.inner])
    rim = shape.length
    for hole in made.profile.holes:
        if hole.slot:
            a, half = math.radians(hole.slot_angle), hole.slot / 2.0
            run = Polygon(
                Point(hole.x - half * math.cos(a), hole.y - half * math.sin(a))
                .buffer(hole.finished / 2.0, quad_segs=512)
                .union(
                    Point(hole.x + half * math.cos(a), hole.y + half * math.sin(a)).buffer(
                        hole.finished / 2.0, quad_segs=512
                    )
                )
                .convex_hull.exterior
            )
        else:
            run = Point(hole.x, hole.y).buffer(hole.finished / 2.0, quad_segs=512)
        shape, rim = shape.difference(run), rim + run.length
    # chords lie at most CHORD off the curve, all along the rim
    assert solids.volume(solid(name, part)) == pytest.approx(
        shape.area * made.thickness, abs=CHORD * rim * made.thickness
    )


def lathe_agrees(name: str, part: str) -> None:
    turned = parts_of(name)[part].turned
    assert turned is not None
    outside, inside = stack(turned)
    volume = solids.volume(solid(name, part))
    if plain(turned):
        assert volume == pytest.approx(outside - inside, rel=1e-9), part
    else:
        # flats, cross holes and saw cuts take steel away and add none
        away = sum(
            math.pi / 4.0 * d * d * max(s.diameter for s in turned.steps) / 2.0 for _, d, _, _ in turned.cross_holes
        )
        length, widest = sum(s.length for s in turned.steps), max(s.diameter for s in turned.steps)
        away += sum(math.pi / 4.0 * d * d * length for _, _, d, _ in turned.axial_holes)
        away += turned.saw_cut * length * widest / 2.0
        away += sum(segment(widest / 2.0, d) * (high - low) for low, high, d, _ in turned.flats)
        assert outside - inside - away - 1e-6 <= volume < outside - inside, part


def segment(radius: float, distance: float) -> float:
    """Area of a circle beyond a chord at a distance from its middle."""
    if distance >= radius:
        return 0.0
    return radius**2 * math.acos(distance / radius) - distance * math.sqrt(radius**2 - distance**2)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_solid_and_its_mesh_hold_the_same_volume(name: str) -> None:
    for part in parts_of(name):
        mesh_agrees(name, part)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_plate_holds_its_area_times_its_thickness(name: str) -> None:
    for part in of_form(name, "plate"):
        plate_agrees(name, part)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_lathe_part_holds_its_cylinders_and_cones_less_its_bores(name: str) -> None:
    for part in of_form(name, "turned"):
        lathe_agrees(name, part)


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_strip_bent_once_holds_two_flanges_and_a_quarter_of_a_ring(name: str) -> None:
    for part in of_form(name, "bent"):
        made = parts_of(name)[part]
        assert made.profile is not None
        (bend,) = made.bends
        points = np.array(polyline(made.profile.outer))
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        long, wide, t, r = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0), made.thickness, bend.radius
        flanges = (long - bend.allowance) * wide * t
        ring = math.radians(bend.angle) / 2.0 * ((r + t) ** 2 - r**2) * wide
        assert solids.volume(solid(name, part)) == pytest.approx(flanges + ring, rel=1e-9)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_form_of_the_examples_is_measured(name: str) -> None:
    # the examples make no part from tube; tubes are measured in tests/shapes/test_solids.py
    measured = [part for form in ("plate", "turned", "bent") for part in of_form(name, form)]
    assert len(measured) == len(parts_of(name))
    assert of_form(name, "bent")
    assert any(plain(parts_of(name)[p].turned) for p in of_form(name, "turned"))


def test_steel_weighs_what_the_handbook_says() -> None:
    # carbon steel, 0.2836 lb/in3 (handbook value, from memory)
    pound, inch = 0.45359237, 25.4
    for material in {p.material for n in EXAMPLES for p in parts_of(n).values()}:
        assert density(material) == pytest.approx(0.2836 * pound / inch**3, rel=5e-3)


def test_a_part_drawn_with_one_more_hole_is_noticed() -> None:
    name, part = REAR, of_form(REAR, "plate")[0]
    made = parts_of(name)[part]
    drilled = solids.cut(solid(name, part), solids.cylinder((*inside(made), -1.0), (*inside(made), 99.0), 3.0))
    assert solids.volume(drilled) != pytest.approx(flat_volume(made), rel=1e-9)


def inside(part: Part) -> tuple[float, float]:
    assert part.profile is not None
    point = Polygon(
        polyline(part.profile.outer, 0.1), [polyline(i, 0.1) for i in part.profile.inner]
    ).representative_point()
    return point.x, point.y
