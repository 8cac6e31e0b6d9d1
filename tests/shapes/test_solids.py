"""Solids against closed forms of solid geometry and against their own meshes.

Source of the closed forms: Bronshtein et al., Handbook of Mathematics, stereometry (from memory).
"""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Part, Placement, Profile, Purpose, Turned, TurnedStep, Vertex
from fixturegen.plate.profile import circle, rectangle, reversed_loop, signed_area
from fixturegen.shapes import meshes, solids

PLATE = Profile(
    rectangle(0, 0, 100, 50),
    (rectangle(10, 10, 20, 20),),
    (
        Hole(50, 25, 20, Purpose.BOLT, "bolt", cut=18.0),
        Hole(80, 25, 10, Purpose.ANGLE, "index", cut=None),
    ),
)


def plate(profile, thickness=6.0):
    return Part("plate", "Plate", "test", "plate", thickness, profile=profile)


def turned(**data):
    return Part("bush", "Bush", "test", "turned", turned=Turned(**data))


def frustum(length, d0, d1):
    return math.pi * length / 12 * (d0**2 + d0 * d1 + d1**2)


def test_simple_solids_have_the_volume_of_the_closed_form():
    assert solids.volume(solids.box(1, 2, 3, 4, 6, 8)) == pytest.approx(60)
    bar = solids.cylinder((1, 2, 3), (4, 6, 3), 2)
    assert solids.volume(bar) == pytest.approx(math.pi * 5)
    assert solids.volume(solids.cone((0, 0, 0), (0, 9, 0), 6, 2)) == pytest.approx(frustum(9, 6, 2))
    assert solids.volume(solids.cone((0, 0, 0), (0, 0, 3), 2, 0)) == pytest.approx(math.pi)
    pipe = solids.tube((0, 0, 0), (0, 10, 0), 8, 6)
    assert solids.volume(pipe) == pytest.approx(math.pi * 10 * (16 - 9))
    assert solids.volume(solids.sphere((5, 0, 0), 6)) == pytest.approx(36 * math.pi)
    assert solids.surface(solids.sphere((5, 0, 0), 6)) == pytest.approx(36 * math.pi)
    # Source: Pappus and Guldin: area of the section times the path of its centroid
    ring = solids.revolve_xz([(9, 0), (11, 0), (11, 3), (9, 3)])
    assert solids.volume(ring) == pytest.approx(6 * 2 * math.pi * 10)
    back = solids.revolve_xz([(9, 3), (11, 3), (11, 0), (9, 0)])
    assert solids.volume(back) == pytest.approx(6 * 2 * math.pi * 10)


def test_boxes_and_centres_of_mass_are_where_geometry_puts_them():
    bar = solids.cylinder((0, -5, 0), (0, 5, 0), 4)
    assert solids.bounding_box(bar) == pytest.approx((-2, -5, -2, 2, 5, 2), abs=1e-6)
    # Source: centroid of a cone, a quarter of its height from the base
    spike = solids.cone((0, 0, 0), (0, 0, 8), 6, 0)
    assert solids.centre_of_mass(spike) == pytest.approx((0, 0, 2), abs=1e-9)


def test_union_and_difference_add_up_to_the_parts():
    a, b = solids.box(0, 0, 0, 10, 10, 10), solids.cylinder((5, 5, -5), (5, 5, 20), 6)
    both, shared = solids.fuse(a, b), solids.common(a, b)
    total = solids.volume(a) + solids.volume(b)
    assert solids.volume(both) + solids.volume(shared) == pytest.approx(total)
    assert solids.volume(solids.cut(a, b)) + solids.volume(shared) == pytest.approx(1000)
    apart = solids.common(a, solids.box(50, 0, 0, 60, 10, 10))
    assert solids.volume(apart) == 0
    pair = solids.compound([a, solids.box(50, 0, 0, 60, 10, 10)])
    assert len(solids.solids_in(pair)) == 2


def test_a_placement_turns_and_shifts_as_its_matrix_says():
    part = solids.box(0, 0, 0, 10, 2, 1)
    quarter = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    there = solids.placed(part, Placement("p", (100.0, 0.0, 5.0), quarter))
    assert solids.bounding_box(there) == pytest.approx((98, 0, 5, 100, 10, 6), abs=1e-6)
    back = solids.transformed(there, tuple(zip(*quarter, strict=True)), (0.0, 100.0, -5.0))
    assert solids.bounding_box(back) == pytest.approx((0, 0, 0, 10, 2, 1), abs=1e-6)
    # the part itself stays
    assert solids.bounding_box(part) == pytest.approx((0, 0, 0, 10, 2, 1), abs=1e-6)


@pytest.mark.parametrize(
    ("matrix", "words"),
    [
        (((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)), "mirrors"),
        (((2.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), "no rotation"),
        (((math.nan, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), "finite"),
    ],
)
def test_a_matrix_that_is_no_rotation_is_refused(matrix, words):
    with pytest.raises(GeometryFault, match=words):
        solids.transformed(solids.box(0, 0, 0, 1, 1, 1), matrix)


def test_a_plate_has_finished_holes_or_those_of_the_cutter():
    finished = solids.volume(solids.solid_of(plate(PLATE)))
    assert finished == pytest.approx(6 * (5000 - 100 - math.pi * (100 + 25)))
    as_cut = solids.volume(solids.solid_of(plate(PLATE), as_cut=True))
    assert as_cut == pytest.approx(6 * (5000 - 100 - math.pi * 81))
    box = solids.bounding_box(solids.solid_of(plate(PLATE)))
    assert box == pytest.approx((0, 0, 0, 100, 50, 6), abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.floats(20, 200), st.floats(20, 200), st.sampled_from((0.0, 0.3, -0.3, 0.9)), st.floats(1, 20))
def test_area_by_greens_theorem_is_that_of_the_kernel(wide, high, bulge, thickness):
    loop = (Vertex(0, 0), Vertex(wide, 0, bulge), Vertex(wide, high), Vertex(0, high))
    if bulge < 0 and -bulge * high / 2 > wide / 2:
        return
    solid = solids.solid_of(plate(Profile(loop), thickness))
    assert solids.volume(solid) == pytest.approx(signed_area(loop) * thickness, rel=1e-9)
    other_way = solids.solid_of(plate(Profile(reversed_loop(loop)), thickness))
    assert solids.volume(other_way) == pytest.approx(solids.volume(solid), rel=1e-12)


BOW_TIE = (Vertex(0, 0), Vertex(10, 10), Vertex(10, 0), Vertex(0, 12))
SIDE = rectangle(0, 0, 100, 50)


@pytest.mark.parametrize(
    ("profile", "words"),
    [
        (Profile(BOW_TIE), "cross"),
        (Profile(SIDE, (), (Hole(100, 25, 20, Purpose.BOLT),)), "breaks out"),
        (Profile(SIDE, (), (Hole(300, 25, 20, Purpose.BOLT),)), "breaks out"),
        (Profile(SIDE, (), (Hole(10, 25, 20, Purpose.BOLT),)), "breaks out"),
        (Profile(SIDE, (rectangle(90, 10, 110, 20),)), "cut-out near .* breaks out"),
        (
            Profile(SIDE, (), (Hole(40, 25, 20, Purpose.BOLT), Hole(55, 25, 20, Purpose.BOLT, "b"))),
            "hole 'b' at .* runs into bolt hole",
        ),
        (
            Profile(SIDE, (), (Hole(40, 25, 20, Purpose.BOLT), Hole(40, 25, 8, Purpose.BOLT))),
            "lie in each other",
        ),
        (Profile(SIDE, (), (Hole(40, 25, -1, Purpose.BOLT),)), "diameter -1"),
        (Profile((Vertex(0, 0), Vertex(9, 0), Vertex(9, 0), Vertex(0, 9))), "fall together"),
        (Profile((Vertex(0, 0), Vertex(math.nan, 0), Vertex(0, 9))), "finite"),
        (Profile((Vertex(0, 0),)), "fewer than two"),
    ],
)
def test_a_bad_loop_or_hole_is_a_fault_that_names_the_part_and_the_place(profile, words):
    with pytest.raises(GeometryFault, match=words) as caught:
        solids.solid_of(plate(profile))
    assert caught.value.part == "plate"


def test_a_hole_that_just_stays_inside_is_made():
    solid = solids.solid_of(plate(Profile(SIDE, (), (Hole(10.01, 25, 20, Purpose.BOLT),))))
    assert solids.volume(solid) == pytest.approx(6 * (5000 - math.pi * 100))


def test_a_turned_part_is_its_steps_less_its_bores():
    part = turned(
        steps=(TurnedStep(10, 20), TurnedStep(5, 30), TurnedStep(15, 30, 12)),
        bores=((0, 30, 6, None, ""), (0, 4, 10, 6, "chamfer")),
    )
    want = frustum(10, 20, 20) + frustum(5, 30, 30) + frustum(15, 30, 12)
    want -= frustum(30, 6, 6) + frustum(4, 10, 6) - frustum(4, 6, 6)
    solid = solids.solid_of(part)
    assert solids.volume(solid) == pytest.approx(want)
    assert solids.bounding_box(solid) == pytest.approx((-15, -15, 0, 15, 15, 30), abs=1e-6)


def segment(radius, distance):
    """Area of a circle beyond a chord at a distance from its centre."""
    half = math.acos(distance / radius)
    return radius**2 * (half - math.sin(half) * math.cos(half))


def test_flats_holes_and_saw_cuts_of_a_turned_part_take_what_geometry_says():
    bar = (TurnedStep(20, 20),)
    whole = math.pi * 100 * 20
    flat = solids.solid_of(turned(steps=bar, flats=((0, 5, 8, 90),)))
    assert solids.volume(flat) == pytest.approx(whole - 5 * segment(10, 8))
    lowered = solids.solid_of(turned(steps=bar, flats=((0, 20, 8, 90),)))
    assert solids.bounding_box(lowered)[4] == pytest.approx(8, abs=1e-6)
    axial = solids.solid_of(turned(steps=bar, axial_holes=((6, 0, 4, ""),)))
    assert solids.volume(axial) == pytest.approx(whole - math.pi * 4 * 20)
    cross = solids.solid_of(turned(steps=bar, cross_holes=((10, 4, 0, ""),)))
    # half of the solid two crossed bars share, numerically: 4 int sqrt(R^2-y^2) sqrt(r^2-y^2) dy
    steps = [2 * math.sin((k + 0.5) / 4000 * math.pi / 2) for k in range(4000)]
    weights = [2 * math.cos((k + 0.5) / 4000 * math.pi / 2) * math.pi / 8000 for k in range(4000)]
    shared = 8 * sum(math.sqrt(100 - y * y) * math.sqrt(4 - y * y) * w for y, w in zip(steps, weights, strict=True))
    # the kernel integrates over the crossing edge to some parts in a million
    assert solids.volume(cross) == pytest.approx(whole - shared / 2, rel=1e-5)
    collar = turned(steps=(TurnedStep(20, 40),), bores=((0, 20, 20, None, ""),), saw_cut=2.0)
    ring = math.pi * (400 - 100) * 20
    cut = 20 * (
        2 * (0.5 * math.sqrt(399) + 200 * math.asin(1 / 20)) - 2 * (0.5 * math.sqrt(99) + 50 * math.asin(1 / 10))
    )
    assert solids.volume(solids.solid_of(collar)) == pytest.approx(ring - cut)


@pytest.mark.parametrize(
    "data",
    [
        {"steps": ()},
        {"steps": (TurnedStep(0, 20),)},
        {"steps": (TurnedStep(10, 20),), "bores": ((0, 12, 5, None, ""),)},
        {"steps": (TurnedStep(10, 20),), "bores": ((0, 10, 30, None, ""),)},
        {"steps": (TurnedStep(10, 20),), "axial_holes": ((0, 0, 40, ""),)},
        {"steps": (TurnedStep(10, math.inf),)},
    ],
)
def test_a_turned_part_that_cannot_be_is_a_fault(data):
    with pytest.raises(GeometryFault, match=r"bush|round bar|turned shape"):
        solids.solid_of(turned(**data))


def test_a_part_cut_in_two_is_a_fault_that_says_so():
    ring = replace(
        turned(steps=(TurnedStep(10, 40),), bores=((0, 10, 30, None, ""),), saw_cut=1.0),
        name="collar",
    )
    assert solids.volume(solids.solid_of(ring)) > 0
    parted = replace(ring, turned=replace(ring.turned, flats=((0, 10, 0.5, 180),)))
    with pytest.raises(GeometryFault, match="collar: it falls into 2 pieces"):
        solids.solid_of(parted)


def test_round_and_square_tubes_have_the_section_of_their_standard():
    pipe = Part("t", "T", "test", "tube", tube=(60.0, 5.0, 100.0, False))
    assert solids.volume(solids.solid_of(pipe)) == pytest.approx(math.pi * (900 - 625) * 100)
    # Source: EN 10219-2, table of square hollow sections: 50 x 50 x 3: A = 5.41 cm2 (from memory)
    square = Part("t", "T", "test", "tube", tube=(50.0, 3.0, 100.0, True))
    assert solids.volume(solids.solid_of(square)) / 100 == pytest.approx(541, abs=0.5)
    thick = Part("t", "T", "test", "tube", tube=(20.0, 5.5, 100.0, True))
    with pytest.raises(GeometryFault, match="too thick"):
        solids.solid_of(thick)
    with pytest.raises(GeometryFault, match="is no tube"):
        solids.solid_of(replace(pipe, tube=(60.0, 30.0, 100.0, False)))


def test_a_part_without_data_for_its_form_is_a_fault():
    with pytest.raises(GeometryFault, match="carries no data"):
        solids.solid_of(Part("p", "P", "test", "plate", 5.0))
    with pytest.raises(GeometryFault, match="thickness 0 mm"):
        solids.solid_of(plate(PLATE, 0.0))
    with pytest.raises(GeometryFault, match="side is not positive"):
        solids.box(0, 0, 0, 1, -1, 1)
    with pytest.raises(GeometryFault, match="bore smaller"):
        solids.tube((0, 0, 0), (0, 0, 1), 5, 6)


def test_volume_agrees_with_the_mesh_within_what_its_deflection_allows():
    disc = Profile(circle(0, 0, 80), (), (Hole(0, 20, 15, Purpose.BOLT),))
    solid = solids.solid_of(plate(disc, 12.0))
    mesh = meshes.mesh_of(solid, 0.05)
    lost = solids.volume(solid) - mesh.volume
    # chords lie inside the rim and inside the hole's steel: at most deflection x wall on each
    assert -0.05 * math.pi * 15 * 12 <= lost <= 0.05 * math.pi * 80 * 12
