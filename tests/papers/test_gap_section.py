"""The section about clearance: closed gaps of cubes in words, colours that are told apart, a picture of what misses."""

import base64
import re
from dataclasses import fields
from itertools import pairwise

import numpy as np
import pytest

from fixturegen.bodies.clearing import Scene, clearance_study
from fixturegen.bodies.in_the_way import Item
from fixturegen.checks.clearance import SCENE, STUDY
from fixturegen.checks.registry import Job
from fixturegen.papers.gap_list import STOPS, gap_list, heat, hexed, ink_on, luminance, verdict
from fixturegen.papers.gap_pictures import page_pictures, pairs_shown
from fixturegen.papers.gap_section import gap_sections, gap_table
from fixturegen.papers.report import Report, rendered
from fixturegen.shapes import solids
from fixturegen.shapes.meshes import Body, mesh_of
from fixturegen.sheet.specs import Clearance
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, Gaps, Motion, PairGap, Place, Thing, Tour
from tests.studies.study_jobs import REAR, case

WANTED = Gaps({"static": 6.0, "moving": 12.0, "tyre": 20.0, "flex": 25.0})
PLACES = (
    Place(0.0, 0.0, 0.0, "ride"),
    Place(30.0, 0.0, 0.0, "bump"),
    Place(-30.0, 0.0, 0.0, "droop"),
    Place(0.0, 0.0, 30.0, "ride+lock-L"),
)


def scene(over, beside=100.0):
    """A cube that comes up 30 and goes aside 10 with the lock; a block so far over it, and a post so far beside."""
    eyes = np.eye(3)[None].repeat(4, axis=0)
    up = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 30.0], [0.0, 0.0, -30.0], [0.0, 10.0, 0.0]])
    known = np.ones(4, np.bool_)
    tour = Tour(PLACES, {FRAME: Motion(eyes, 0.0 * up, known), AXLE: Motion(eyes, up, known)})
    items = (
        Item(Thing("cube", "cube", AXLE, accuracy=0.1), solids.box(-20, -20, -20, 20, 20, 20)),
        Item(Thing("block", "block, left", accuracy=0.1), solids.box(-50, -30, 20 + over, 50, 15, 90 + over)),
        Item(Thing("post", "post", accuracy=0.1), solids.box(-5, 20 + beside, -300, 5, 60 + beside, 300)),
    )
    return Scene(items, tour, WANTED, ("the floor was not looked at",))


def job_with(made):
    sheet, axle, plan = case(REAR)
    job = Job(sheet.model_copy(update={"clearance": Clearance()}), axle, plan)
    job.store[SCENE], job.store[STUDY] = made, clearance_study(made)
    return job


def pair(gap, wanted=10.0, state="apart"):
    return PairGap("a", "b", ("a", "b"), "moving", wanted, state, gap, gap, 0.2, gap, PLACES[0], (0,) * 3, (0,) * 3)


def test_the_smallest_gap_is_told_at_each_end_of_the_travel_and_where():
    # closed forms: block 50 over the cube's top at ride, 20 at bump, 80 at droop; post 100 beside, 90 at lock
    job = job_with(scene(50.0))
    (section,) = gap_sections(job)
    found = {m.name: (round(m.pair.gap, 3), m.pair.labels[1], m.poses) for m in job.store[STUDY].moments if m.pair}
    # 80 over and 15 of 20 covered: the block is the nearest at droop as well; boxes are met by their meshes exactly
    assert found["ride"] == (pytest.approx(50.0, abs=0.21), "block, left", 1)
    assert found["bump"] == (pytest.approx(20.0, abs=1e-6), "block, left", 1)
    assert found["droop"] == (pytest.approx(80.0, abs=0.21), "block, left", 1)
    # the lock moves nothing that steers nearer here: only what steers is told there
    assert "crossed" not in found and "lock" not in found
    lock = next(m for m in job.store[STUDY].moments if m.name == "lock")
    assert lock.pair is None and lock.poses == 1
    assert any(n.startswith("Smallest gap at full lock") and "nothing" in n for n in section.notes)
    bump = next(n for n in section.notes if n.startswith("Smallest gap at full bump"))
    # V has its origin under the front axle: the cube stands a wheelbase ahead of this rear axle
    ahead = float(re.search(r"(\d+) mm ahead of the axle line", bump)[1])
    assert ahead == pytest.approx(float(job.sheet.vehicle.wheelbase), abs=20.5) and "60 mm above the ground" in bump
    assert "20.00 mm" in bump and "12.00 mm" in bump and "cube and block, left" in bump


def test_what_steers_is_told_at_full_lock():
    # a post on the knuckle, 200 behind its axis, that goes aside by 200 sin 30 at the lock; closed form: wall at 150
    made = scene(50.0)
    turn = np.array([[3**0.5 / 2, -0.5, 0.0], [0.5, 3**0.5 / 2, 0.0], [0.0, 0.0, 1.0]])
    eyes = np.eye(3)[None].repeat(4, axis=0)
    lock = Motion(np.concatenate([eyes[:3], turn[None]]), np.zeros((4, 3)), np.ones(4, np.bool_))
    tour = Tour(made.tour.places, made.tour.motions | {LEFT: lock})
    caliper = Item(Thing("caliper", "caliper", LEFT, accuracy=0.1), solids.box(-205, -5, -5, -195, 5, 5))
    wall = Item(Thing("wall", "wall", accuracy=0.1), solids.box(-300, -250, -50, -50, -150, 50))
    study = clearance_study(Scene((*made.items[:2], caliper, wall), tour, WANTED))
    told = {m.name: m.pair for m in study.moments}["lock"]
    assert told.labels == ("caliper", "wall") and told.place.name == "ride+lock-L"
    assert told.gap == pytest.approx(150.0 - 205.0 * 0.5 - 5.0 * 3**0.5 / 2.0, abs=0.21)


def test_what_is_not_in_the_gaps_is_said():
    (section,) = gap_sections(job_with(scene(50.0)))
    whole = " ".join(section.notes)
    assert "bulge" in whole and "squirm" in whole and "hangs in rubber" in whole
    assert "4 poses" in whole and "0.20 mm" in whole and "The floor was not looked at." in whole


def test_the_table_says_of_each_gap_whether_it_is_exact_and_of_a_mesh_why_it_is_not():
    made = scene(50.0)
    post = made.items[2]
    scan = Item(Thing("post", "post", accuracy=0.5), mesh=Body(mesh_of(post.solid), "post"))
    plain, mixed = job_with(made), job_with(Scene((*made.items[:2], scan), made.tour, made.gaps))
    for job, count in ((plain, 0), (mixed, 1)):
        (section,) = gap_sections(job)
        table = section.tables[0]
        assert table.head[-1] == "Measured"
        told = {row[4]: row[-1] for row in table.rows}
        assert told["cube - block, left"] == "exact"
        assert (told["cube - post"] == "exact") == (count == 0)
        whole = " ".join(section.notes)
        assert ("the gap of each pair is then measured between the true solids" in whole) == (count == 0)
        assert ("1 of the 2 pairs are told by their triangles" in whole) == (count == 1)
    assert told["cube - post"] == "by mesh, less 0.60; post: a mesh without an exact solid"
    svg = gap_list(mixed.store[STUDY], "axle.toml", "mm")
    assert ">mesh<" in svg and ">exact<" in svg and "less what the mesh may be off" in svg
    assert "less what the mesh may be off" not in gap_list(plain.store[STUDY], "axle.toml", "mm")


def test_without_clearance_there_is_no_section():
    sheet, axle, plan = case(REAR)
    assert gap_sections(Job(sheet, axle, plan)) == ()


def test_a_pair_that_misses_its_gap_is_in_words_and_pictures_and_the_tightest_otherwise():
    bad, good = job_with(scene(10.0)), job_with(scene(50.0))
    (section,) = gap_sections(bad)
    assert "MISS" in section.notes[0] and section.tables[0].rows[0][0] == "IN CONTACT"
    assert any("run into each other" in n for n in section.notes)
    assert len(section.shots) == 2 and "dark red" in section.shots[0].caption
    for shot in section.shots:
        assert base64.b64decode(shot.data).startswith(b"\x89PNG")
    assert [p.labels for p in pairs_shown(bad.store[STUDY])] == [("cube", "block, left")]
    assert len(pairs_shown(good.store[STUDY])) == 2 and not good.store[STUDY].short
    # where none misses: the whole scene of the tightest, and the place of each
    captions = [shot.caption for shot in gap_sections(good)[0].shots]
    assert ["the rest pale" in c for c in captions] == [True, False, False] and "orange" in captions[0]


def test_a_mesh_that_was_read_is_drawn_like_a_solid():
    # the same block, once as a solid and once as triangles: the picture of the place shows both bodies
    made = scene(20.0)
    block = made.items[1]
    as_mesh = Item(block.thing, mesh=Body(mesh_of(block.solid), "block"))
    other = Scene((made.items[0], as_mesh), made.tour, made.gaps)
    study = clearance_study(other)
    assert study.pairs[0].exact is None and study.pairs[0].state == "overlap"
    shots = page_pictures(other, study, "mm")
    assert len(shots) == 2
    assert as_mesh.digest != Item(block.thing, mesh=Body(mesh_of(made.items[2].solid), "post")).digest


def test_mirror_images_of_a_pair_are_shown_once():
    things = [("shock, left", "frame rail"), ("shock, right", "frame rail, other side"), ("tie rod", "housing")]
    study = clearance_study(scene(50.0))
    pairs = tuple(
        PairGap(a, b, (a, b), "moving", 5.0, "apart", 9.0, 9.0, 0.2, 9.0, PLACES[0], (0,) * 3, (0,) * 3)
        for a, b in things
    )
    shown = pairs_shown(type(study)(pairs, 0, 100.0, 4, 0, ()))
    assert [p.labels for p in shown] == [things[0], things[2]]


@pytest.mark.parametrize(
    ("one", "word"),
    [
        (pair(0.0, state="overlap"), "IN CONTACT"),
        (pair(0.0, state="inside"), "INSIDE"),
        (pair(9.99), "TOO LITTLE"),
        (pair(10.0), "tight"),
        (pair(12.5), "enough"),
        (pair(20.0), "ample"),
        (pair(3.0, wanted=0.0), "ample"),
    ],
)
def test_every_colour_is_said_in_a_word(one, word):
    assert verdict(one) == word


def seen_without(colour, kind):
    """A colour as people without one sort of cones see it.

    Source: Viénot, Brettel and Mollon, Color Res. Appl. 24 (1999) 243; matrices for linear RGB, from memory.
    """
    linear = np.array([c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour])
    matrix = {
        "protan": [[0.11238, 0.88762, 0.0], [0.11238, 0.88762, 0.0], [0.00401, -0.00401, 1.0]],
        "deutan": [[0.29275, 0.70725, 0.0], [0.29275, 0.70725, 0.0], [-0.02234, 0.02234, 1.0]],
    }[kind]
    return np.clip(np.array(matrix) @ linear, 0.0, 1.0)


@pytest.mark.parametrize("kind", ["protan", "deutan"])
def test_contact_too_little_and_enough_are_told_apart_without_red_and_green(kind):
    # contrast of two greys that are told apart side by side: half as light again (common practice, no source)
    light = [float(seen_without(colour, kind) @ [0.2126, 0.7152, 0.0722]) + 0.05 for _, colour in STOPS[:3]]
    assert light[1] / light[0] > 1.5 and light[2] / light[1] > 1.5


def test_colours_grow_lighter_all_the_way_and_letters_stay_readable_on_them():
    # WCAG 2.2, success criterion 1.4.3 (from memory): contrast of letters at least 4.5
    shares = np.linspace(0.0, 2.4, 97)
    colours = [heat(pair(10.0 * s)) for s in shares]
    lights = [luminance(c) for c in colours]
    assert all(b >= a - 1e-9 for a, b in pairwise(lights))
    for colour, light in zip(colours, lights, strict=True):
        ink = 0.0 if ink_on(colour) == "#000000" else 1.0
        assert (max(ink, light) + 0.05) / (min(ink, light) + 0.05) >= 4.5
    # IEC 61966-2-1: white has luminance 1, pure green 0.7152
    assert luminance((1.0, 1.0, 1.0)) == pytest.approx(1.0) and luminance((0.0, 1.0, 0.0)) == pytest.approx(0.7152)


def test_the_page_and_the_picture_of_the_list_carry_colour_and_word_of_every_pair():
    study = clearance_study(scene(10.0))
    table = gap_table(study, "mm")
    assert len(table.rows) == len(table.tints) == len(study.pairs) == 2
    made = job_with(scene(10.0))
    empty = {f.name: "" if f.type == "str" else () for f in fields(Report)}
    page = rendered(Report(**(empty | {"sections": gap_sections(made)})))
    for one, row in zip(study.pairs, table.rows, strict=True):
        cell = f'class="heat" style="background:{hexed(heat(one))};color:{ink_on(heat(one))}">{verdict(one)}<'
        assert cell in page and f"<td>{row[4]}</td>" in page
    svg = gap_list(study, "toy", "mm")
    assert "IN CONTACT" in svg and hexed(heat(study.pairs[0])) in svg
