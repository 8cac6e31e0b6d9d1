"""Poses of a linkage all at once against one `scipy.optimize.fsolve` per pose; printed, never judged.

Not collected by default: `pytest tests/benchmarks/test_link_ratios.py -o addopts="--import-mode=importlib" -s`.
Aim: at least 200 times as many poses in the same time. The other side solves the same four equations in
the same unknowns, written with arrays as one would by hand, from the nearest solution known.
"""

import math
import time

import numpy as np
import pytest
from scipy.optimize import fsolve

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.linkage_equations import system_of
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_metrics import Vehicle, metrics_of
from tests.axle import invented_linkages as made

ONE_BY_ONE = 400
RUNS = 5


def asked(count: int) -> tuple[Array, Array]:
    """Heave [mm] and roll [deg] over the whole travel."""
    rng = np.random.default_rng(7)
    return rng.uniform(-120, 120, count), rng.uniform(-11, 11, count)


def seconds(work: object, runs: int = RUNS) -> float:
    """Shortest processor time of a few runs [s], all threads counted: other work on the machine only adds."""
    taken = []
    for _ in range(runs):
        start = time.process_time()
        work()  # type: ignore[operator]
        taken.append(time.process_time() - start)
    return min(taken)


def one_by_one(linkage: Linkage, heave: Array, roll: Array) -> Array:
    """The poses by the general solver, one after the other, shape (4, m)."""
    s = system_of(linkage)

    def off(u: Array, z: float, r: float) -> Array:
        cy, sy, cp, sp = math.cos(u[2] / 1000), math.sin(u[2] / 1000), math.cos(u[3] / 1000), math.sin(u[3] / 1000)
        cr, sr = math.cos(r), math.sin(r)
        turn = np.array(
            [
                [cy * cp - sy * sr * sp, -sy * cr, cy * sp + sy * sr * cp],
                [sy * cp + cy * sr * sp, cy * cr, sy * sp - cy * sr * cp],
                [-cr * sp, sr, cr * cp],
            ]
        )
        return np.linalg.norm(s.axle @ turn.T + (u[0], u[1], z) - s.frame, axis=1) - s.length

    return np.array([fsolve(off, np.zeros(4), args=(z, math.radians(r))) for z, r in zip(heave, roll, strict=True)]).T


@pytest.mark.parametrize("name", ["splayed", "three-link", "wishbone"])
def test_all_poses_at_once_against_one_solver_call_per_pose(name: str) -> None:
    linkage = made.EXACT[name]()
    heave, roll = asked(ONE_BY_ONE)
    slow = seconds(lambda: one_by_one(linkage, heave, roll)) / ONE_BY_ONE
    assert np.abs(one_by_one(linkage, heave, roll) - poses_at(linkage, heave, roll).unknowns).max() < 1e-3
    many = asked(100_000)
    fast = seconds(lambda: poses_at(linkage, *many)) / 100_000
    print(
        f"\n{name}: {1 / fast:,.0f} poses/s at once, {1 / slow:,.0f} one by one: {slow / fast:.0f} times (aim 200)"
    )  # fmt: skip


def test_scaling_over_the_number_of_poses() -> None:
    linkage = made.splayed()
    for count in (10**2, 10**3, 10**4, 10**5, 10**6):
        many = asked(count)
        taken = seconds(lambda many=many: poses_at(linkage, *many), 1 if count == 10**6 else RUNS)
        print(f"\n{count:>9,} poses: {taken:.4f} s, {count / taken:,.0f} poses/s")


def test_metrics_over_many_poses() -> None:
    poses = poses_at(made.splayed(), *asked(10_000))
    taken = seconds(lambda: metrics_of(poses, Vehicle(800.0, 1.0, 0.4)))
    print(f"\nmetrics of 10,000 poses: {taken:.3f} s, {10_000 / taken:,.0f} poses/s")
