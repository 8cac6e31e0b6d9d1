"""The solid axle against closed forms and plain rotation matrices; every body valid, hollow where it must be."""

import dataclasses
import math

import numpy as np
import pytest

from fixturegen.bodies.axle import axle_bodies, bench_bodies, jig_solids, undrawn_parts
from fixturegen.bodies.drawing import bowl, revolved_about_x
from fixturegen.bodies.housing import bearing_stations
from fixturegen.errors import GeometryFault
from fixturegen.plate.profile import signed_area
from fixturegen.shapes import solids
from fixturegen.shapes.meshes import exact_distance, interferes, mesh_of
from tests.checks.bench_jobs import DROPOUT, INTEGRAL, REAR, job

ALL = (DROPOUT, INTEGRAL, REAR)
_DRAWN = {}


def drawn(name):
    if name not in _DRAWN:
        made = job(name)
        _DRAWN[name] = axle_bodies(made.sheet, made.axle)
    return _DRAWN[name]


def rotation(angle):
    """Right-handed turn about +Y, written out: z goes to (sin, 0, cos)."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])


def tup(v):
    return tuple(float(x) for x in v)


@pytest.mark.parametrize("name", ALL)
def test_every_body_is_valid_and_its_mesh_holds_the_same_volume(name):
    for key, shape in drawn(name).items():
        assert shape.isValid(), key
        assert solids.volume(shape) > 0.0, key
        # a mesh within 0.1 mm of the surface: its volume is off by less than area times 0.1 mm
        mesh = mesh_of(shape, 0.1)
        assert abs(mesh.volume - solids.volume(shape)) <= 0.1 * solids.surface(shape), key


@pytest.mark.parametrize("name", (DROPOUT, REAR))
def test_a_tube_has_the_volume_of_its_section_times_its_length(name):
    made = job(name)
    tubes = made.sheet.tubes
    area = math.pi * tubes.wall * (tubes.outside_diameter - tubes.wall)
    for side, spec in (("left", tubes.left), ("right", tubes.right)):
        volume = solids.volume(drawn(name)[f"tube-{side}"])
        assert math.isclose(volume, area * (spec.length + spec.insertion), rel_tol=1e-9)


@pytest.mark.parametrize("name", ALL)
def test_left_and_right_are_mirror_images(name):
    for stem in ("knuckle", "end-flange", "brake", "wheel", "outer"):
        if f"{stem}-left" not in drawn(name):
            continue
        left, right = drawn(name)[f"{stem}-left"], drawn(name)[f"{stem}-right"]
        assert math.isclose(solids.volume(left), solids.volume(right), rel_tol=1e-6)
        a, b = solids.centre_of_mass(left), solids.centre_of_mass(right)
        assert all(math.isclose(p, q, abs_tol=1e-4) for p, q in zip(a, (b[0], -b[1], b[2]), strict=True))


@pytest.mark.parametrize("name", ALL)
def test_the_datum_face_stands_where_it_was_measured_and_upright_on_the_bench(name):
    made = job(name)
    axle, sign = made.axle, made.axle.face_sign
    housing = bench_bodies(made)["housing"]
    y, z = axle.face_middle
    ring = (made.sheet.housing.face.opening_diameter + made.sheet.housing.face.outside_diameter) / 4.0
    beside = [axle.face_distance * sign + sign * 3.0, 0, 0]
    for a in (10.0, 80.0, 190.0, 280.0):
        at = (beside[0], y + ring * math.sin(math.radians(a)), made.plan.height + z + ring * math.cos(math.radians(a)))
        ball = solids.sphere(at, 1.0)
        # 3 mm off the face, less the ball's radius, wherever on the ring
        assert math.isclose(exact_distance(housing, ball)[0], 2.5, abs_tol=1e-6)


@pytest.mark.parametrize("name", ALL)
def test_frame_a_is_the_bench_turned_back_by_the_face_angle(name):
    made = job(name)
    # front: a pinion to -X stands at +f when the face is upright; rear: to +X (frames, derived)
    turn = rotation((1.0 if made.axle.front else -1.0) * made.axle.face_angle)
    here = np.array(solids.centre_of_mass(drawn(name)["housing"]))
    there = np.array(solids.centre_of_mass(bench_bodies(made)["housing"]))
    assert np.allclose(turn @ here + [0, 0, made.plan.height], there, atol=1e-6)


@pytest.mark.parametrize("name", ALL)
def test_the_housing_is_open_and_hollow_as_far_as_the_bar(name):
    made = job(name)
    housing, axle = bench_bodies(made)["housing"], made.axle
    y, z = axle.face_middle
    bearing = axle.bearing_middle
    tongue = solids.box(
        *(-45.0 if axle.face_sign > 0 else -axle.face_distance - 5, bearing - 20, made.plan.height + z - 40),
        *(axle.face_distance + 5 if axle.face_sign > 0 else 45.0, bearing + 20, made.plan.height + z + 40),
    )
    assert interferes(housing, tongue) == 0.0
    # and closed behind
    x, h = -axle.face_sign * 400.0, made.plan.height
    far = solids.box(x - 1, y - 1, h - 1, x + 1, y + 1, h + 1)
    assert exact_distance(housing, far)[0] > 100.0


@pytest.mark.parametrize("name", ALL)
def test_the_bar_passes_everything_that_is_bare(name):
    made = job(name)
    bodies = bench_bodies(made)
    for key, shape in bodies.items():
        if key != "bar":
            assert interferes(shape, bodies["bar"]) == 0.0, key


@pytest.mark.parametrize("name", ALL)
def test_bodies_of_the_bare_axle_do_not_stand_in_each_other(name):
    bodies = bench_bodies(job(name))
    names = [n for n in bodies if n != "bar"]
    for i, a in enumerate(names):
        for b in names[i + 1 :]:
            if {a.split("-")[0], b.split("-")[0]} <= {"housing", "studs", "welded", "tube", "caps", "end"}:
                shared = interferes(bodies[a], bodies[b])
                # caps meet their webs, studs their threads; nothing overlaps by more than a film
                assert shared < 0.01 * solids.volume(bodies[a]), (a, b)
            else:
                assert interferes(bodies[a], bodies[b]) < 1.0, (a, b)


def axis_points(made, side, along):
    """Point on the steering axis at a distance from axle height, by plain rotation matrices."""
    spec = made.sheet.knuckles
    tilt = math.radians(spec.inclination)
    station = made.sheet.axle.wheel_mount_width / 2.0 - spec.axis_to_wheel_mount
    at_zero = np.array([spec.axis_offset, side * (station - along * math.sin(tilt)), along * math.cos(tilt)])
    caster = made.sheet.axle.caster + made.sheet.axle.pinion_angle  # common practice, no source
    return rotation(-caster) @ at_zero


@pytest.mark.parametrize("name", (DROPOUT, INTEGRAL))
@pytest.mark.parametrize("side", (1, -1))
def test_a_pin_of_the_measured_size_fits_each_pivot_and_a_larger_one_does_not(name, side):
    made = job(name)
    spec = made.sheet.knuckles
    knuckle = drawn(name)[f"knuckle-{'left' if side > 0 else 'right'}"]
    for way, pivot in ((1.0, spec.upper), (-1.0, spec.lower)):
        half = pivot.arm_thickness / 2.0
        out = way * (spec.pivot_spread / 2.0 + half)
        into = way * (spec.pivot_spread / 2.0 - half)
        large, small = (out, into) if pivot.large_end == "outside" else (into, out)
        if pivot.kind == "taper":
            drop = pivot.taper_per_foot * pivot.arm_thickness / (12 * 25.4)  # taper per foot, by definition
            sizes = (pivot.diameter, pivot.diameter - drop)
            ends = axis_points(made, side, large), axis_points(made, side, small)
        elif pivot.kind == "cup":
            floor = large + (small - large) * pivot.depth / pivot.arm_thickness
            sizes = (pivot.diameter, pivot.diameter)
            ends = axis_points(made, side, large), axis_points(made, side, floor)
        else:
            sizes = (pivot.diameter, pivot.diameter)
            ends = axis_points(made, side, out), axis_points(made, side, into)
        for more, fits in ((-0.02, True), (0.02, False)):
            pin = solids.cone(tup(ends[0]), tup(ends[1]), sizes[0] + more, sizes[1] + more)
            assert (interferes(knuckle, pin) < 1e-3) is fits, (pivot.kind, more)


@pytest.mark.parametrize("name", (DROPOUT, INTEGRAL))
def test_the_boss_is_as_thick_as_the_arm_was_measured(name):
    made = job(name)
    spec = made.sheet.knuckles
    knuckle = drawn(name)["knuckle-left"]
    # a washer laid on the outer face touches it and does not enter
    out = spec.pivot_spread / 2.0 + spec.upper.arm_thickness / 2.0
    for lift, touches in ((0.01, False), (-0.01, True)):
        washer = solids.cylinder(
            tup(axis_points(made, 1, out + lift)), tup(axis_points(made, 1, out + 3.0)), spec.upper.boss_diameter - 2.0
        )
        assert (interferes(knuckle, washer) > 0.0) is touches


def test_a_male_pin_left_in_place_stands_out_by_its_length():
    made = job(DROPOUT)
    spec = made.sheet.knuckles
    pin = spec.lower.model_copy(update={"kind": "pin", "length": spec.lower.depth})
    sheet = made.sheet.model_copy(update={"knuckles": spec.model_copy(update={"lower": pin})})
    bare = axle_bodies(sheet, made.axle)["knuckle-left"]
    out = -(spec.pivot_spread / 2.0 + pin.arm_thickness / 2.0)
    beyond = [tup(axis_points(made, 1, out - pin.length - far)) for far in (5.0, 9.0)]
    probe = solids.cylinder(*beyond, 4.0)
    assert math.isclose(exact_distance(bare, probe)[0], 5.0, abs_tol=1e-6)


def test_a_pivot_larger_than_its_boss_is_refused_in_words():
    made = job(DROPOUT)
    spec = made.sheet.knuckles
    upper = spec.upper.model_copy(update={"diameter": type(spec.upper.diameter)(spec.upper.boss_diameter + 1.0)})
    sheet = made.sheet.model_copy(update={"knuckles": spec.model_copy(update={"upper": upper})})
    with pytest.raises(GeometryFault, match="leaves no steel"):
        axle_bodies(sheet, made.axle)


def test_caps_and_webs_hold_a_bearing_of_the_measured_size():
    made = job(INTEGRAL)
    bore = made.sheet.housing.bearings.bore_diameter
    for low, high in bearing_stations(made.sheet, made.axle.bearing_middle):
        for more, fits in ((-0.02, True), (0.2, False)):
            cup = solids.tube((0, low, 0), (0, high, 0), bore + more, bore - 20.0)
            shared = interferes(drawn(INTEGRAL)["caps"], cup) + interferes(drawn(INTEGRAL)["housing"], cup)
            assert (shared < 1e-3) is fits


def test_studs_stand_at_their_measured_points():
    made = job(REAR)
    studs = solids.solids_in(bench_bodies(made)["studs"])
    points = made.sheet.housing.face.studs.points
    assert len(studs) == len(points)
    # the sheet's y runs from the middle of the bearings, its z from the bore axis
    wanted = {(round(made.axle.bearing_middle + p.y, 3), round(p.z + made.plan.height, 3)) for p in points}
    got = {(round(c[1], 3), round(c[2], 3)) for c in map(solids.centre_of_mass, studs)}
    assert got == wanted


def test_the_dished_outline_is_tangent_and_closed():
    loop = bowl(150.0, 50.0, -20.0, -120.0)
    solid = revolved_about_x(loop, 1, 0.0, 0.0)
    x0, y0, _, x1, y1, _ = solids.bounding_box(solid)
    assert all(math.isclose(a, b, abs_tol=1e-5) for a, b in zip((x0, y0, x1, y1), (-120, -150, 50, 150), strict=True))
    # Pappus: volume = 2 pi * centroid radius * area; bounded by the drum and the drum without corner
    assert math.pi * 150**2 * 70 < solids.volume(solid) < math.pi * 150**2 * 170
    assert signed_area(loop) != 0.0


def test_parts_placed_twice_are_drawn_once_and_faults_are_kept_by_name():
    made = job(DROPOUT)
    placed = jig_solids(made)
    assert len(placed) == len(made.assemblies["jig"].placements)
    broken = dataclasses.replace(
        made, parts={**made.parts, "tie": dataclasses.replace(made.parts["tie"], turned=None)}, store={}
    )
    assert set(undrawn_parts(broken)) == {"tie"}
    assert len(jig_solids(broken)) == len(placed) - 1
