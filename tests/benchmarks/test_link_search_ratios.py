"""The search for link points against random sampling of the same rooms at equal evaluations; printed, never judged.

Not collected by default: `pytest tests/benchmarks/test_link_search_ratios.py -o addopts="--import-mode=importlib" -s`.
Merit is what the search minimizes: the weighted squares of how far each wish is from being met; 1 is one wish short by
a step a driver notices. Both sides judge with the same function and may look at the same number of geometries. To the
ratio of the merits a thousandth is added on both sides: below it nobody could tell two geometries apart.
"""

import time

import numpy as np
import pytest

from fixturegen.studies.link_batch import POSES, batch_of, readings_of
from fixturegen.studies.link_evolve import evolve
from fixturegen.studies.link_judge import Judge
from fixturegen.studies.link_wishes import Box, Room, Wanted, Wish
from tests.axle import invented_linkages as made
from tests.studies import plane_case

NOTHING = 1e-3
SEEDS = range(5)
BUDGETS = (1000, 4000, 16000)


def wanted() -> Wanted:
    """Twelve coordinates to search, seven narrow wishes that can be had together, a box to keep clear of."""
    rooms = (
        Room("lower-left.frame", (-1830.0, 330.0, 460.0), (-1730.0, 450.0, 640.0)),
        Room("lower-left.axle", (-2830.0, 430.0, 360.0), (-2760.0, 540.0, 450.0)),
        Room("upper-left.frame", (-2080.0, 330.0, 640.0), (-1980.0, 450.0, 800.0)),
        Room("upper-left.axle", (-2820.0, 60.0, 640.0), (-2770.0, 200.0, 760.0)),
    )
    # around what one geometry of these rooms has, so that all can be met
    free = Judge(Wanted(made.splayed(), plane_case.VEHICLE, plane_case.STROKE, rooms, (Wish("anti_squat.ride", 0.0),)))
    ends = free.layout.made(np.full((1, free.layout.count), 0.4))[0]
    batch = batch_of(free.wanted.linkage, ends, *plane_case.STROKE.poses(free.wanted.linkage.stance.half_track))
    values = readings_of(batch, plane_case.VEHICLE)
    widths = {
        "anti_squat.ride": 1.0,
        "anti_squat.droop": 2.5,
        "roll_centre.ride": 2.0,
        "roll_axis.ride": 0.12,
        "roll_steer.ride": 0.0025,
        "pinion_angle.bump": 0.08,
        "pinion_angle.droop": 0.08,
    }
    wishes = []
    for reading, half in widths.items():
        metric, _, pose = reading.partition(".")
        middle = float(values[metric][0, POSES.index(pose)])
        wishes.append(Wish(reading, middle - half, middle + half))
    tank = Box("tank", (-2600.0, -40.0, 560.0), (-2300.0, 40.0, 700.0))
    return Wanted(made.splayed(), plane_case.VEHICLE, plane_case.STROKE, rooms, tuple(wishes), (tank,))


def searched(seed: int, evaluations: int) -> Judge:
    judge = Judge(wanted())
    evolve(judge, [seed, 0], evaluations, judge.layout.share_of(judge.layout.ends)[None])
    return judge


def drawn(seed: int, evaluations: int) -> Judge:
    judge = Judge(wanted())
    judge.judged(np.random.default_rng(seed).random((evaluations, judge.layout.count)))
    return judge


def best(judge: Judge) -> float:
    return float(judge.score(judge.seen()).min())


@pytest.mark.parametrize("evaluations", BUDGETS)
def test_merit_reached_by_the_search_and_by_random_sampling(evaluations: int) -> None:
    pairs, met, took = [], [0, 0], [0.0, 0.0]
    for seed in SEEDS:
        row = []
        for k, way in enumerate((searched, drawn)):
            start = time.perf_counter()
            judge = way(seed, evaluations)
            took[k] += time.perf_counter() - start
            row.append(best(judge))
            met[k] += bool((judge.seen().terms <= 0.0).all(axis=1).any())
        pairs.append(row)
    by_search, by_chance = np.median(np.array(pairs), axis=0)
    ratio = np.median([(b + NOTHING) / (a + NOTHING) for a, b in pairs])
    print(
        f"\n{evaluations:>6,} geometries, {len(SEEDS)} seeds: merit {by_search:.4f} searched, {by_chance:.4f} drawn: "
        f"{ratio:,.1f} times better (median); all met {met[0]} and {met[1]} times of {len(SEEDS)}; "
        f"{took[0] / len(SEEDS):.1f} and {took[1] / len(SEEDS):.1f} s each"
    )


def test_geometries_drawn_until_one_is_as_good_as_the_search_after_a_thousand() -> None:
    goal = float(np.median([best(searched(seed, 1000)) for seed in SEEDS]))
    judge, looked = Judge(wanted()), 0
    rng = np.random.default_rng(99)
    while looked < 200_000:
        found = judge.looked(rng.random((4000, judge.layout.count)))
        looked += 4000
        if float(judge.score(found).min()) <= goal:
            break
    print(f"\nmerit {goal:.4f} of the search after 1,000: drawn at random {looked:,} looked at (at most 200,000)")
