"""Scenes of a real sheet against laws: one axle in two frames, rigid links, wheels that go where they are sent."""

import math
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from fixturegen.axle.model import axle_of, to_table
from fixturegen.bodies.drawing import rows
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault
from fixturegen.keeping import cache_used
from fixturegen.plate import Assembly, Part, Placement
from fixturegen.shapes import solids
from fixturegen.sheet import read
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.link_inputs import linkage_on, links_on, stance_of
from fixturegen.viewer import page
from fixturegen.viewer.scenes import GAP, LOOSE, Scene, placed_line, standing_scenes
from fixturegen.viewer.travel import STEERING, travel_scene

EXAMPLE = Path(__file__).parents[2] / "examples" / "front-dropout-kingpin.toml"


@cache
def toy_job() -> Job:
    """The example's axle with two bars on the table, and three parts that stand nowhere; a tube is axle enough."""
    sheet = read(EXAMPLE)
    axle = axle_of(sheet)
    job = Job(sheet, axle, plan_of(sheet, axle))
    for k, name in enumerate(("bar", "loose-1", "loose-2", "loose-3")):
        job.parts[name] = Part(name, name, "toy", "tube", tube=(50.0, 5.0, 100.0 + 40.0 * k, True))
    places = (Placement("bar", (10.0, 20.0, 30.0), group="stand"), Placement("bar", (300.0, 0.0, 0.0), group="stand"))
    job.assemblies["jig"] = Assembly("jig", "T", places)
    tube = solids.cylinder((0.0, 100.0, 0.0), (0.0, 600.0, 0.0), 80.0)
    rotation, origin = to_table(axle, job.plan.height)
    at = float(origin[0]), float(origin[1]), float(origin[2])
    job.store["bodies in A"] = {"tube-left": tube}
    job.store["bench_bodies"] = {"tube-left": solids.transformed(tube, rows(rotation), at)}
    return job


def test_the_axle_on_the_table_is_the_axle_turned_by_the_face_angle() -> None:
    job = toy_job()
    jig = standing_scenes(job)[0]
    rotation, origin = to_table(job.axle, job.plan.height)
    tube = next(b for b in jig.bodies if b.name == "tube-left")
    assert tube.ghost and not tube.part
    assert np.allclose(np.array(jig.frames["A"]).reshape(3, 4), np.hstack([rotation, origin[:, None]]))
    assert np.allclose(np.array(placed_line(tube)).reshape(3, 4), np.hstack([rotation, origin[:, None]]), atol=1e-9)


def test_a_part_placed_twice_is_one_mesh_in_two_places() -> None:
    bars = [b for b in standing_scenes(toy_job())[0].bodies if b.name == "bar"]
    places = [np.array(placed_line(b)).reshape(3, 4)[:, 3] for b in bars]
    assert np.allclose(places, [(10.0, 20.0, 30.0), (300.0, 0.0, 0.0)])


def test_parts_of_no_assembly_lie_side_by_side_and_apart() -> None:
    scene = next(s for s in standing_scenes(toy_job()) if s.name == LOOSE)
    assert [b.name for b in scene.bodies] == ["loose-1", "loose-2", "loose-3"]
    # tubes of 50 mm stand on end about their own axis: middles a side and the gap apart at least
    at = [np.array(placed_line(b)).reshape(3, 4)[:, 3] for b in scene.bodies]
    assert all(max(abs(p[0] - q[0]), abs(p[1] - q[1])) >= 50.0 + GAP - 1e-6 for p, q in pairwise(at))


@pytest.fixture(scope="module")
def travel() -> Scene:
    scene = travel_scene(toy_job())
    assert scene is not None and scene.motions is not None
    return scene


def pose(travel: Scene, mover: str, number: int) -> np.ndarray:
    assert travel.motions is not None
    return np.asarray(travel.motions.movers[mover][number]).reshape(3, 4)


def test_links_stay_as_long_as_they_are_and_keep_both_their_ends(travel: Scene) -> None:
    assert travel.motions is not None
    # asked for its points alone, not for its motion
    linkage = linkage_on(toy_job().sheet, toy_job().axle)
    stance = linkage.stance
    for link, tip in zip(linkage.links, linkage.axle_points(), strict=True):
        length = math.dist(link.frame.point, stance.rotation @ tip + stance.origin)
        for k in range(len(travel.motions.poses)):
            place = pose(travel, link.name, k)
            assert np.allclose(place[:, 3], link.frame.point, atol=1e-6)
            there = pose(travel, "axle", k)
            far = place @ np.array([0.0, 0.0, length, 1.0])
            assert np.allclose(far, there[:, :3] @ np.asarray(tip) + there[:, 3], atol=0.05), (link.name, k)


def test_wheels_go_where_each_movement_sends_them(travel: Scene) -> None:
    links = links_on(toy_job().sheet)
    up, down = float(links.bump), float(links.droop)
    half = stance_of(toy_job().sheet, toy_job().axle).half_track
    assert travel.motions is not None
    order = dict(travel.motions.paths)
    ride = pose(travel, "axle", 0)[2, 3]
    sent = {
        "Both wheels": ((-down, -down), (up, up)),
        "Crossed up": ((-down, up), (up, -down)),
        "Left wheel alone": ((-down, 0.0), (up, 0.0)),
    }
    for name, ends in sent.items():
        for number, (left, right) in zip((order[name][0], order[name][-1]), ends, strict=True):
            place = pose(travel, "axle", number)
            climb = [(place @ np.array([0.0, y, 0.0, 1.0]))[2] - ride for y in (half, -half)]
            assert np.allclose(climb, (left, right), atol=0.6), (name, climb)
    lock = [travel.motions.poses[k][2] for k in order[STEERING]]
    assert lock[0] == pytest.approx(-lock[-1]) and lock == sorted(lock)


def test_no_links_no_travel() -> None:
    job = toy_job()
    bare = Job(job.sheet.model_copy(update={"links": None}), job.axle, job.plan)
    assert travel_scene(bare) is None


def test_what_cannot_be_drawn_on_the_links_costs_the_travel_and_not_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(job: Job) -> Scene:
        raise GeometryFault("rail", "it has no length", "give it one")

    monkeypatch.setattr(page, "travel_scene", refuse)
    with cache_used(False):
        assert [s["record"]["name"] for s in page.scenes_of(toy_job())] == ["jig", LOOSE]
