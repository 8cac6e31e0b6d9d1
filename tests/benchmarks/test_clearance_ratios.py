"""Clearance over travel: poses a second against the exact kernel and against every pose of every pair; growth.

Run by hand: python -m pytest tests/benchmarks/test_clearance_ratios.py -o addopts="" -s
"""

import time
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from fixturegen import clear_flow, keeping
from fixturegen.bodies import axle as axle_bodies
from fixturegen.bodies.clearing import clearance_study
from fixturegen.bodies.gap_by_mesh import near_gap
from fixturegen.bodies.gap_exact import exactly
from fixturegen.checks import clearance as claims
from fixturegen.checks.registry import Job
from fixturegen.shapes import meshes, solids
from fixturegen.shapes.meshes import Mesh
from fixturegen.shapes.pair_gaps import least_gap
from fixturegen.sheet.specs import Clearance
from fixturegen.studies.clearance_poses import tour_of
from fixturegen.studies.clearance_records import AXLE, FRAME, compared
from tests.studies.study_jobs import DROPOUT, REAR, case

SAG = 0.025  # of each body: 0.05 mm together
PAN = (-600.0, -60.0, 740.0, -180.0, 220.0, 900.0)  # over the third member [mm]
EXAMPLE = Path(__file__).parents[2] / "examples" / "front-dropout-kingpin.toml"
EXACT = 12  # poses handed to the kernel


def seconds(work):
    # of this process: what else runs on the machine does not enter
    start = time.process_time()
    got = work()
    return time.process_time() - start, got


def planted(body):
    """The body, its search tree grown: that is done once, whatever the number of poses."""
    body.mesh.tree  # noqa: B018 - grown when first asked for
    return body


def motion(steps):
    sheet, axle, _ = case(DROPOUT)
    tour, _ = tour_of(sheet.model_copy(update={"clearance": Clearance(steps=steps)}), axle)
    there = tour.motions[FRAME].against(tour.motions[AXLE])
    return sheet, axle, there


def test_poses_a_second_against_the_exact_kernel():
    sheet, axle, there = motion(4)
    housing = axle_bodies.bare_bodies(sheet, axle)["housing"]
    pan = solids.box(*PAN)
    one, other = planted(meshes.body_of(pan, "pan", SAG)), planted(meshes.body_of(housing, "housing", SAG))
    turns, shifts = there.rotations, there.origins
    spread = np.linspace(0, len(turns) - 1, EXACT).astype(int)

    def kernel():
        return [
            meshes.exact_distance(
                pan, solids.transformed(housing, tuple(map(tuple, turns[k].tolist())), tuple(shifts[k].tolist()))
            )[0]
            for k in spread
        ]

    exact_time, exact = seconds(kernel)
    every_time, every = seconds(lambda: least_gap(one, other, turns, shifts, prune=False))
    spared_time, spared = seconds(lambda: least_gap(one, other, turns, shifts))
    mesh = [least_gap(one, other, turns[k : k + 1], shifts[k : k + 1]).found.measured for k in spread]
    off = max(abs(a - b) for a, b in zip(mesh, exact, strict=True))
    per_exact = exact_time / EXACT
    print(f"\n{len(other.mesh.faces)} triangles, {len(turns)} poses, error at most {off:.4f} mm of {2 * SAG} stated")
    print(f"exact kernel {1e3 * per_exact:.1f} ms a pose; every pose by mesh {1e3 * every_time / len(turns):.3f} ms,")
    print(f"  {per_exact * len(turns) / every_time:.0f} times; poses spared {1e3 * spared_time / len(turns):.4f} ms,")
    print(f"  {per_exact * len(turns) / spared_time:.0f} times the kernel,")
    print(f"  {every_time / spared_time:.1f} times every pose by mesh")
    print(f"  measured {spared.looked} of {every.looked}")
    assert spared.found.measured == pytest.approx(every.found.measured, abs=2e-6)


def test_a_whole_sheet_against_every_pose_of_every_pair():
    sheet, axle, plan = case(REAR)
    job = Job(sheet.model_copy(update={"clearance": sheet.clearance.model_copy(update={"steps": 2})}), axle, plan)
    with keeping.cache_used(False):
        scene = claims.scene_in(job)
        for item in scene.items:
            if item.plane is None:
                planted(item.body)  # meshes and trees are the same for both
        took, study = seconds(lambda: clearance_study(scene))
    tour = scene.tour
    pairs = [
        (a, b)
        for a, b in combinations(scene.items, 2)
        if compared(a.thing, b.thing) and a.plane is None and b.plane is None
    ]

    def every():
        for a, b in pairs:
            there = tour.motions[a.thing.rides].against(tour.motions[b.thing.rides])
            yield least_gap(a.body, b.body, there.rotations[there.known], there.origins[there.known], prune=False)

    all_took, least = seconds(lambda: list(every()))
    print(f"\n{len(pairs)} pairs, {len(tour.places)} poses: {sum(one.looked for one in least)} distances by mesh alone")
    print(f"  in {all_took:.1f} s; with boxes, bounds and the kernel at the worst poses {took:.1f} s,")
    print(f"  {all_took / took:.1f} times; {len(study.pairs)} pairs come near")
    naive = min(one.found.measured for one in least)
    assert min(p.measured for p in study.pairs) == pytest.approx(naive, abs=2e-6)


def test_exact_gaps_of_a_whole_sheet_against_the_kernel_asked_for_the_whole():
    scene = clear_flow.clear(EXAMPLE).scene
    with keeping.cache_used(False):
        met = [(a, b) for a, b in combinations(scene.items, 2) if compared(a.thing, b.thing)]
        nears = [near_gap(a, b, scene.tour, scene.gaps) for a, b in met]
        told = [n for n in nears if n is not None and not n.touching and n.a.plane is None]
        took, exact = seconds(lambda: [exactly(n, scene.tour).exact for n in told])

    def whole(n):
        there = solids.transformed(n.b.exact, tuple(map(tuple, n.rotation.tolist())), tuple(n.origin.tolist()))
        return meshes.exact_distance(n.a.exact, there)[0]

    all_took, asked = seconds(lambda: [whole(n) for n in told])
    print(
        f"\n{len(told)} pairs: piece by piece {took:.2f} s, whole solids {all_took:.2f} s, {all_took / took:.1f} times"
    )
    assert exact == pytest.approx(asked, abs=1e-6)


@pytest.mark.parametrize("steps", [2, 4, 8, 16])
def test_growth_with_poses(steps):
    sheet, axle, there = motion(steps)
    housing = axle_bodies.bare_bodies(sheet, axle)["housing"]
    one, other = (planted(meshes.body_of(s, "", SAG)) for s in (solids.box(*PAN), housing))
    took, least = seconds(lambda: least_gap(one, other, there.rotations, there.origins))
    print(f"\n{len(there.origins)} poses: {1e3 * took:.1f} ms, {least.looked} measured")


@pytest.mark.parametrize("count", [10_000, 100_000, 1_000_000])
def test_growth_with_triangles(count):
    _, _, there = motion(2)
    # a wavy sheet of metal as a scan gives it, over the axle
    side = int((count / 2) ** 0.5)
    x, y = np.meshgrid(np.linspace(-300, 300, side + 1), np.linspace(-300, 300, side + 1), indexing="ij")
    z = 860.0 + 8.0 * np.sin(x / 25.0) * np.cos(y / 40.0)
    at = np.arange((side + 1) ** 2).reshape(side + 1, side + 1)
    a, b, c, d = at[:-1, :-1].ravel(), at[1:, :-1].ravel(), at[1:, 1:].ravel(), at[:-1, 1:].ravel()
    faces = np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])
    mesh = Mesh(np.stack([x, y, z], axis=-1).reshape(-1, 3), faces, 0.1)
    build, sheet = seconds(lambda: planted(meshes.Body(mesh, "scan")))
    ball = planted(meshes.body_of(solids.sphere((0.0, 0.0, 150.0), 200.0), "ball", 0.1))
    took, least = seconds(lambda: least_gap(sheet, ball, there.rotations, there.origins))
    print(
        f"\n{len(faces)} triangles: tree {build:.2f} s, {len(there.origins)} poses {1e3 * took:.1f} ms, "
        f"{least.looked} measured, {1e3 * took / max(1, least.looked):.2f} ms each"
    )
