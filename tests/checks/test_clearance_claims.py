"""Claims about clearance, each at its boundary: a block a hair nearer than wanted, and a hair farther."""

from pathlib import Path
from types import SimpleNamespace

import cadquery as cq
import numpy as np
import pytest
import trimesh

from fixturegen import keeping
from fixturegen.bodies import gap_exact
from fixturegen.bodies.clearing import Scene, pair_gap
from fixturegen.bodies.found_parts import found_items
from fixturegen.bodies.in_the_way import Item
from fixturegen.checks import registry
from fixturegen.checks.component_places import FOLDER
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault
from fixturegen.findings import Level
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.shapes import solids
from fixturegen.shapes.component_meshes import read_component
from fixturegen.shapes.meshes import Body, Mesh, mesh_of
from fixturegen.sheet.specs import Clearance
from fixturegen.studies.clearance_records import (
    AXLE,
    FRAME,
    LEFT,
    RIGHT,
    Gaps,
    Motion,
    Place,
    Thing,
    Tour,
    compared,
)
from fixturegen.studies.component_records import BoxShape, Component, FileShape, OutlineShape, PlaneShape
from tests.studies.study_jobs import REAR, case

CLAIMS = {c.code: c for c in registry.claims() if c.code.startswith("CLR")}
WANTED = Gaps({"static": 6.0, "moving": 12.0, "tyre": 20.0, "flex": 25.0})
CUBE = solids.box(-20, -20, -20, 20, 20, 20)
HAIR = 0.01
RISE = 30.0  # the axle comes up by so much at the second pose [mm]
PLACES = (Place(0.0, 0.0, 0.0, "ride"), Place(RISE, 0.0, 0.0, "bump"))


def tour():
    eyes = np.eye(3)[None].repeat(2, axis=0)
    up = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, RISE]])
    known = np.ones(2, np.bool_)
    return Tour(PLACES, {FRAME: Motion(eyes, 0.0 * up, known), AXLE: Motion(eyes, up, known)})


def job(*items, given=True):
    sheet, axle, plan = case(REAR)
    made = Job(sheet.model_copy(update={"clearance": Clearance() if given else None}), axle, plan)
    if items:
        made.store["clearance.scene"] = Scene(items, tour(), WANTED)
    return made


def below(name="cube", rides=AXLE, soft="", at=0.0, **more):
    return Item(Thing(name, name, rides, soft, accuracy=0.1, **more), solids.moved(CUBE, 0.0, 0.0, at))


def over(gap, soft="", rides=FRAME, name="block"):
    """A block whose underside stands so far over the top of the cube at ride."""
    return Item(Thing(name, name, rides, soft, accuracy=0.1), solids.box(-50, -50, 20 + gap, 50, 50, 90 + gap))


def levels(code, made):
    return {f.level for f in CLAIMS[code].check(made)}


def test_clr_01_what_rides_together_keeps_the_static_gap():
    assert levels("CLR-01", job(below(), over(6.0 + HAIR, rides=AXLE))) == {Level.PASS}
    assert levels("CLR-01", job(below(), over(6.0 - HAIR, rides=AXLE))) == {Level.FAIL}


def test_clr_02_what_comes_up_a_hair_too_far_is_named_with_its_pose():
    assert levels("CLR-02", job(below(), over(RISE + 12.0 + HAIR))) == {Level.PASS}
    made = job(below(), over(RISE + 12.0 - HAIR))
    assert levels("CLR-02", made) == {Level.FAIL}
    (finding,) = CLAIMS["CLR-02"].check(made)
    assert finding.pose == "bump" and finding.value == pytest.approx(12.0 - HAIR, abs=1e-6)
    assert "cube and block" in finding.words and "heave +1.18 in" in finding.words


def test_clr_03_a_tyre_keeps_more():
    assert levels("CLR-03", job(below(soft="tyre"), over(RISE + 20.0 + HAIR))) == {Level.PASS}
    assert levels("CLR-03", job(below(soft="tyre"), over(RISE + 20.0 - HAIR))) == {Level.FAIL}


def test_clr_04_what_gives_on_its_mounts_keeps_most():
    assert levels("CLR-04", job(below(), over(RISE + 25.0 + HAIR, soft="flex"))) == {Level.PASS}
    assert levels("CLR-04", job(below(), over(RISE + 25.0 - HAIR, soft="flex"))) == {Level.FAIL}


def test_clr_05_a_bracket_that_is_run_into_is_held_and_one_that_is_only_near_is_not():
    facts = {"lower-left": SimpleNamespace(parts=("lower-left-tab",), mount=None)}
    near = job(below(name="bracket-lower-left"), over(RISE + HAIR))
    met = job(below(name="bracket-lower-left"), over(RISE - HAIR))
    for made in (near, met):
        made.brackets = BracketSet(facts=facts)
    assert levels("CLR-05", near) == {Level.PASS}
    assert levels("CLR-05", met) == {Level.FAIL}
    (finding,) = CLAIMS["CLR-05"].check(met)
    assert finding.parts == ("lower-left-tab",) and finding.holds == "part"


def shrunk(by, rides=AXLE):
    """The cube, and a mesh of it that is smaller by so much all round; 0.1 mm is stated of it."""
    small = mesh_of(solids.box(by - 20, by - 20, by - 20, 20 - by, 20 - by, 20 - by))
    return Item(Thing("cube", "cube", rides, accuracy=0.1), mesh=Body(small, "cube"), form=CUBE)


def test_clr_06_a_mesh_that_is_farther_off_than_is_stated_is_found_out_and_the_lesser_gap_is_told():
    # closed form: 50 - 30 between cube and block at bump; the meshes say as much more as the cube's is smaller
    good, bad = job(shrunk(0.2 - HAIR), over(50.0)), job(shrunk(0.2 + HAIR), over(50.0))
    assert levels("CLR-06", good) == {Level.PASS} and levels("CLR-06", bad) == {Level.FAIL}
    (finding,) = CLAIMS["CLR-06"].check(bad)
    assert finding.value == pytest.approx(0.21) and finding.limit == pytest.approx(0.2) and finding.pose == "bump"
    assert "cube and block" in finding.words and finding.remedy
    assert levels("CLR-06", job(shrunk(-0.2 - HAIR), over(50.0))) == {Level.FAIL}
    for by, gap in ((0.2 - HAIR, 20.0), (0.2 + HAIR, 20.0), (-0.2 - HAIR, 20.0 - 0.21 - 0.2)):
        found = pair_gap(shrunk(by), over(50.0), tour(), WANTED)
        assert found.exact == pytest.approx(20.0, abs=1e-6) and found.gap == pytest.approx(gap, abs=1e-6)
        assert found.agrees == (abs(by) < 0.2)
    assert CLAIMS["CLR-06"].check(job(given=False)) == []


@pytest.mark.parametrize(("wanted", "told"), [(11.8, 12.10), (12.0, 12.05), (12.08, 12.05)])
def test_a_gap_that_is_missed_at_a_pose_the_meshes_did_not_choose_is_found(wanted, told):
    # the mesh of the cube is 0.15 mm low on top and true below. Right way up its top comes to 12.05 under the block,
    # which the mesh takes for 12.20; upside down it comes to 12.10, and the mesh knows that
    mesh = mesh_of(solids.box(-20, -20, -20, 20, 20, 20 - 0.15))
    cube = Item(Thing("cube", "cube", AXLE, accuracy=0.1), mesh=Body(mesh, "cube"), form=CUBE)
    upside = np.diag([1.0, -1.0, -1.0])
    known, none = np.ones(2, np.bool_), np.zeros((2, 3))
    there = Motion(np.stack([np.eye(3), upside]), np.array([[0.0, 0.0, 0.05], [0.0, 0.0, 0.0]]), known)
    made = Tour(PLACES, {FRAME: Motion(np.eye(3)[None].repeat(2, axis=0), none, known), AXLE: there})
    found = pair_gap(cube, over(12.10), made, Gaps(WANTED.kinds | {"moving": wanted}))
    assert found.met == (wanted < 12.05) and found.gap == pytest.approx(told, abs=1e-6)
    assert found.place.name == ("bump" if told == 12.10 else "ride") and found.agrees


def test_where_the_kernel_fails_the_meshes_tell_and_say_why(monkeypatch):
    def broken(*_):
        raise GeometryFault("distance", "the nearest points cannot be made", "")

    monkeypatch.setattr(gap_exact, "nearest", broken)
    with keeping.cache_used(False):
        found = pair_gap(below(), over(50.0), tour(), WANTED)
    # closed form less both deflections
    assert found.exact is None and found.told_by == "mesh" and found.gap == pytest.approx(50.0 - RISE - 0.2, abs=1e-6)
    assert found.why == "the solid kernel could not measure it (the nearest points cannot be made)"


def test_nothing_is_said_where_the_sheet_asks_for_no_clearance():
    made = job(given=False)
    assert [f for c in CLAIMS.values() for f in c.check(made)] == []


def test_what_lies_wholly_within_another_is_no_gap_and_says_so():
    whole = Item(Thing("tank", "tank", accuracy=0.1), solids.box(-200, -200, -200, 200, 200, 200))
    (finding,) = CLAIMS["CLR-02"].check(job(below(), whole))
    assert finding.level is Level.FAIL and "wholly within" in finding.words


def test_names_that_are_not_there_are_told_once_with_what_there_is():
    sheet, axle, plan = case(
        REAR,
        clearance__rounds=[{"name": "shok", "diameter": "51 mm"}],
        clearance__pairs=[{"first": "housing", "second": "no such thing", "gap": "3 mm"}],
    )
    found = [f for c in CLAIMS.values() for f in c.check(Job(sheet, axle, plan))]
    assert [f.level for f in found] == [Level.FAIL] * 2
    assert "clearance.rounds[1].name" in found[0].words and "shok" in found[0].words and "shock" in found[0].words
    assert "clearance.pairs[1].second" in found[1].words and "housing" in found[1].words


@pytest.mark.parametrize("lean", [0.0, 0.3])
def test_a_bar_over_a_plane_stands_as_high_as_geometry_has_it(lean):
    # closed form: a round bar of half length h, radius r, leaning by a: lowest point h sin a + r cos a below
    bar = solids.transformed(
        solids.cylinder((-100.0, 0.0, 0.0), (100.0, 0.0, 0.0), 40.0),
        ((np.cos(lean), 0.0, np.sin(lean)), (0.0, 1.0, 0.0), (-np.sin(lean), 0.0, np.cos(lean))),
    )
    item = Item(Thing("bar", "bar", AXLE, accuracy=0.1), bar)
    floor = Item(Thing("floor", "floor"), plane=((0.0, 0.0, 130.0), (0.0, 0.0, 1.0)))
    found = pair_gap(item, floor, tour(), Gaps(WANTED.kinds))
    height = 130.0 - RISE - 100.0 * np.sin(lean) - 20.0 * np.cos(lean)
    assert found.place.name == "bump" and found.exact == found.gap == pytest.approx(height, abs=1e-6)
    assert height - 1e-6 <= found.measured <= height + 0.1
    # the points: on the plane, and straight below it on the bar
    assert found.other[2] == pytest.approx(130.0, abs=1e-6) and found.point[2] == pytest.approx(
        130.0 - height, abs=1e-6
    )
    assert found.point[:2] == pytest.approx(found.other[:2], abs=1e-6)
    past = pair_gap(item, Item(floor.thing, plane=((0.0, 0.0, 40.0), (0.0, 0.0, 1.0))), tour(), WANTED)
    assert past.state == "overlap" and past.touching == (1 if lean == 0.0 else 2)
    # past it the gap is negative: how far
    assert past.gap == pytest.approx(height - 90.0, abs=1e-6)


def test_a_part_the_person_has_stands_for_what_was_drawn_and_its_accuracy_is_taken_off():
    # a scanned third member 300 mm long in place of the drawn one; closed form: box to box
    mesh = mesh_of(solids.box(-10.0, -10.0, 0.0, 10.0, 10.0, 300.0))
    stated = Mesh(mesh.vertices, mesh.faces, 2.5)
    part = Component("mine", "my third member", "third-member", "axle", FileShape(Path("mine.stl"), "mm"),
                     ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 100.0), stated=2.0)  # fmt: skip
    items, gone, notes = found_items([(part, stated)])
    assert gone == {"nose", "pinion"} and "my third member" in notes[0]
    (item,) = items
    assert (item.thing.rides, item.thing.own, item.thing.label) == (AXLE, True, "my third member")
    found = pair_gap(item, Item(Thing("b", "b", accuracy=0.1), solids.box(-5, -5, 450, 5, 5, 460)), tour(), WANTED)
    assert found.exact is None and found.place.name == "bump" and found.told_by == "mesh"
    assert found.why == "my third member: a mesh without an exact solid"
    assert found.measured == pytest.approx(450.0 - 400.0 - RISE) and found.gap == pytest.approx(20.0 - 2.5 - 0.1)


@pytest.mark.parametrize("sort", ["box", "outline", "step", "stl"])
def test_of_a_part_that_is_no_scan_the_gap_is_exact_but_for_what_is_stated_of_it(sort, tmp_path):
    # a round post of 30 mm radius, or a box as wide, 1 mm stated: closed form, 70 mm over the cube's top at bump
    ball = solids.cylinder((0.0, 0.0, 0.0), (0.0, 0.0, 50.0), 60.0)
    square = ((-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0))
    made = {
        "box": BoxShape((-30.0, -30.0, 0.0), (30.0, 30.0, 50.0)),
        "outline": OutlineShape(50.0, square),
        "step": FileShape(tmp_path / "post.step", "mm"),
        "stl": FileShape(tmp_path / "post.stl", "mm"),
    }
    cq.exporters.export(cq.Workplane(ball), str(tmp_path / "post.step"))
    whole = mesh_of(ball)
    trimesh.Trimesh(whole.vertices, whole.faces).export(tmp_path / "post.stl")
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    part = Component("pan", "pan", "oil-pan", "frame", made[sort], upright, (0.0, 0.0, 20.0 + RISE + 70.0), 1.0)
    ((item,), _, _) = found_items([(part, read_component(part)[1])])
    found = pair_gap(below(), item, tour(), WANTED)
    assert found.place.name == "bump" and found.measured == pytest.approx(70.0, abs=1e-3)
    if sort == "stl":
        assert found.exact is None and found.why == "pan: a mesh without an exact solid"
        return
    assert found.exact == pytest.approx(70.0, abs=1e-6) and found.told_by == "exact" and not found.why
    # what is stated of it comes off all the same, and what its triangles are off does not
    assert found.gap == pytest.approx(69.0, abs=1e-5) and found.agrees
    assert found.resting(lambda v: f"{v:.2f} mm") == "exact, less 1.00 mm as stated"


def test_a_plane_the_person_gives_is_off_by_what_is_stated_of_it():
    mesh = read_component(plane := Component(
        "road", "road", "other", "frame", PlaneShape((0.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
        ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 100.0), 3.0,
    ))[1]  # fmt: skip
    ((item,), _, _) = found_items([(plane, mesh)])
    found = pair_gap(below(), item, tour(), WANTED)
    # closed form: the cube's top comes to 50
    assert found.exact == pytest.approx(50.0, abs=1e-6) and found.gap == pytest.approx(47.0, abs=1e-5)


def turned(angle):
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def test_a_caliper_on_a_knuckle_swings_with_the_steering_and_one_on_the_axle_does_not():
    # a block 10 square at 200 behind a steering axis along Z; full lock 30 deg; closed form: a corner on its circle
    mesh = mesh_of(solids.box(-205.0, -5.0, -5.0, -195.0, 5.0, 5.0))
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    eyes, none = np.eye(3)[None].repeat(2, axis=0), np.zeros((2, 3))
    known = np.ones(2, np.bool_)
    lock = Motion(np.stack([np.eye(3), turned(np.radians(30.0))]), none, known)
    still = Motion(eyes, none, known)
    places = (Place(0.0, 0.0, 0.0, "ride"), Place(0.0, 0.0, 30.0, "ride+lock-L"))
    made = Tour(places, {FRAME: still, AXLE: still, LEFT: lock, RIGHT: still})
    wall = Item(Thing("spring", "spring", AXLE, accuracy=0.1), solids.box(-300.0, -200.0, -50.0, -100.0, -120.0, 50.0))
    for moves, name, lowest in (
        ("left", "brake-left", -205.0 * 0.5 - 5.0 * 3**0.5 / 2.0),
        ("axle", "brake-right", -5.0),
    ):
        part = Component(
            "caliper", "caliper", "brake", moves, FileShape(Path("c.stl"), "mm"), upright, (0.0, 0.0, 0.0), 0.5
        )
        items, gone, notes = found_items([(part, Mesh(mesh.vertices, mesh.faces, 0.5))], steered=True)
        (item,) = items
        # one on the axle stands for the brake of the side it is on; the middle of this one is the vehicle's right
        assert item.thing.rides == (LEFT if moves == "left" else AXLE) and name in gone
        assert any("not steered" in n for n in notes) == (moves == "axle")
        gap = pair_gap(item, wall, made, WANTED)
        if moves == "left":
            assert gap.place.name == "ride+lock-L" and gap.kind == "moving"
            assert gap.measured == pytest.approx(120.0 + lowest, abs=1e-6)
            assert gap.gap == pytest.approx(gap.measured - 0.6, abs=1e-6)
            # the knuckle it is bolted to is no pair; the inner one it turns past is
            assert not compared(item.thing, Thing("outer-left", "outer knuckle", LEFT, own=True))
            assert compared(item.thing, Thing("knuckle-left", "inner knuckle", AXLE, own=True))
        else:
            assert gap is None or gap.place.name == "ride"


@pytest.mark.parametrize("seed", range(8))
def test_the_gap_to_a_noisy_scan_stays_within_what_is_stated(seed):
    # a ball of 80 mm radius, its middle 200 mm up; the cube's top comes to 50 mm: 70 mm apart (closed form). Points
    # are out by up to 0.5 mm, and facets of 6 mm sag by 80 (1 - cos(3 / 80)) = 0.06 mm: 0.6 mm covers both
    rng = np.random.default_rng(seed)
    ball = trimesh.creation.icosphere(subdivisions=4, radius=80.0)
    noise = np.clip(rng.normal(0.0, 0.2, len(ball.vertices)), -0.5, 0.5)
    scan = Mesh(np.asarray(ball.vertices * (1.0 + noise / 80.0)[:, None]), np.asarray(ball.faces, np.int64), 0.6)
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    part = Component("pan", "pan", "oil-pan", "frame", FileShape(Path("p.stl"), "mm"), upright, (0.0, 0.0, 200.0), 0.6)
    ((item,), _, _) = found_items([(part, scan)])
    found = pair_gap(below(), item, tour(), WANTED)
    assert found.place.name == "bump" and found.bound == pytest.approx(0.7)
    assert abs(found.measured - 70.0) <= found.bound
    assert found.gap <= 70.0 and found.gap >= 70.0 - 2.0 * found.bound


def test_an_open_scan_is_told_for_what_lies_inside_it():
    mesh = mesh_of(solids.box(-10.0, -10.0, 0.0, 10.0, 10.0, 300.0))
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    part = Component("pan", "pan", "oil-pan", "frame", FileShape(Path("p.stl"), "mm"), upright, (0.0, 0.0, 0.0), 0.5)
    assert found_items([(part, mesh)])[2] == ()
    (note,) = found_items([(part, Mesh(mesh.vertices, mesh.faces[1:], 0.5))])[2]
    assert "pan is open" in note


def test_a_part_that_cannot_be_read_is_told_and_not_passed_over(tmp_path):
    (tmp_path / "pan.stl").write_bytes(b"solid of nothing")
    pan = {
        "name": "pan", "kind": "oil-pan", "moves_with": "frame", "at": "vehicle", "accuracy": "1 mm",
        "file": "pan.stl", "unit": "mm",
    }  # fmt: skip
    sheet, axle, plan = case(REAR, components=[pan])
    found = CLAIMS["CLR-01"].check(Job(sheet, axle, plan, store={FOLDER: tmp_path}))
    assert [f.level for f in found] == [Level.FAIL] and "pan" in found[0].words


def test_a_part_of_a_size_no_axle_has_is_told_and_no_distance_to_it(tmp_path):
    # a pan of 300 mm written in inches and taken for millimetres
    small = mesh_of(solids.box(0.0, 0.0, 0.0, 300.0 / 25.4, 200.0 / 25.4, 150.0 / 25.4))
    trimesh.Trimesh(small.vertices, small.faces).export(tmp_path / "pan.stl")
    pan = {
        "name": "pan", "kind": "oil-pan", "moves_with": "frame", "at": "vehicle", "accuracy": "1 mm",
        "file": "pan.stl", "unit": "mm", "as_it_stands": True,
    }  # fmt: skip
    sheet, axle, plan = case(REAR, components=[pan])
    found = CLAIMS["CLR-01"].check(Job(sheet, axle, plan, store={FOLDER: tmp_path}))
    assert [f.level for f in found] == [Level.FAIL]
    words = found[0].words
    assert "pan" in words and "CMP-03" in words and "written in inches and taken for millimetres" in words
    # an oil pan is at least a tenth of the wheel mount width (common practice, no source)
    least = 0.1 * float(sheet.axle.wheel_mount_width)
    assert f"{least / (300.0 / 25.4):.3g} times too small" in words


def binary_stl(triangles, count=None, cut=0):
    """Bytes of a binary STL; fewer or more triangles than it promises where asked."""
    body = b"".join(np.zeros(3, "<f4").tobytes() + t.astype("<f4").tobytes() + b"\0\0" for t in triangles)
    whole = b"scan".ljust(80) + (len(triangles) if count is None else count).to_bytes(4, "little") + body
    return whole[: len(whole) - cut]


def spoilt(triangles, share):
    """The same with that share of the triangles given a corner that is no number."""
    out = triangles.copy()
    out[: max(1, round(share * len(out))), 0, 0] = np.nan
    return out


BLOCK = mesh_of(solids.box(0.0, 0.0, 0.0, 300.0, 200.0, 150.0)).triangles
BAD_FILES = {
    "empty": (b"", "the file is empty"),
    "cut off": (binary_stl(BLOCK, cut=60), "cut off"),
    "promises more than there is": (binary_stl(BLOCK, count=500), "of the 500 triangles"),
    "no triangle": (binary_stl(BLOCK[:0]), "no triangle"),
    "all corners no numbers": (binary_stl(BLOCK * np.nan), "no triangle has three corners that are numbers"),
    "some corners no numbers": (binary_stl(spoilt(BLOCK, 0.1)), "corners that are no numbers (CMP-01)"),
    "promises a hundred million": (binary_stl(BLOCK, count=100_000_000), "of the 100000000 triangles"),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_a_bad_scan_is_one_plain_sentence_and_no_distance(name, tmp_path):
    content, told = BAD_FILES[name]
    (tmp_path / "pan.stl").write_bytes(content)
    pan = {
        "name": "pan", "kind": "oil-pan", "moves_with": "frame", "at": "vehicle", "accuracy": "1 mm",
        "file": "pan.stl", "unit": "mm", "as_it_stands": True,
    }  # fmt: skip
    sheet, axle, plan = case(REAR, components=[pan])
    (found,) = CLAIMS["CLR-01"].check(Job(sheet, axle, plan, store={FOLDER: tmp_path}))
    assert found.level is Level.FAIL and "pan" in found.words and told in found.words
    assert "Traceback" not in found.words and "\n" not in found.words


@pytest.mark.parametrize("sort", ["as it is", "turned inside out", "half of it turned", "open"])
def test_a_body_within_a_scan_is_found_whatever_way_its_triangles_look(sort, tmp_path):
    triangles = BLOCK.copy()
    if sort != "as it is":
        triangles[: len(triangles) // (2 if sort == "half of it turned" else 1)] = triangles[
            : len(triangles) // (2 if sort == "half of it turned" else 1), ::-1
        ]
    if sort == "open":
        triangles = triangles[1:]
    (tmp_path / "tank.stl").write_bytes(binary_stl(triangles))
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    file, middle = FileShape(tmp_path / "tank.stl", "mm"), (-150.0, -100.0, -75.0)
    part = Component("tank", "tank", "tank", "frame", file, upright, middle, 0.5)
    reading, mesh = read_component(part)
    items, _, notes = found_items([(part, mesh)])
    found = pair_gap(below(), items[0], tour(), WANTED)
    assert found.state == "inside" and not found.met
    assert (reading.volume is None) == (sort == "open") == any("is open" in n for n in notes)
