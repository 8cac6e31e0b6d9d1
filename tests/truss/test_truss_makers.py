"""Parts of the truss: they meet where they stand, folded or in runs; volumes by closed form."""

import math
from itertools import pairwise

import numpy as np
import pytest

from fixturegen.plate.folds import folded
from fixturegen.plate.profile import hole_loop, polyline, signed_area
from fixturegen.shapes import solids
from fixturegen.shapes.cache import cached_solid
from fixturegen.studies.truss_plan import truss_plan
from fixturegen.truss.shared import top_tabs
from tests.studies.truss_jobs import truss_job

KNEES = [
    {"station": "-150 mm", "height": "205 mm"},
    {"station": "140 mm", "height": "205 mm"},
    {"station": "220 mm", "height": "140 mm"},
    {"station": "360 mm", "height": "140 mm"},
]


@pytest.fixture(scope="module")
def stepped():
    return truss_job(truss={"knees": KNEES, "height": None})


def placed(job, name, points):
    place = next(p for p in job.assemblies["truss"].placements if p.part == name)
    return np.asarray(points) @ np.array(place.rotation).T + np.array(place.origin)


def slots_of(job, name):
    """Middles of the slots of a flat part where they stand (n, 3), half way through its thickness."""
    part = job.parts[name]
    middles = [np.mean(polyline(loop), axis=0) for loop in part.profile.inner]
    return placed(job, name, [(x, y, part.thickness / 2.0) for x, y in middles])


def tabs_of(plan):
    """Where the tabs of the side plates stand in the top (n, 3), half way through it."""
    found = []
    for plate in plan.plates:
        for run in plan.runs:
            c, s = math.cos(math.radians(run.slope)), math.sin(math.radians(run.slope))
            for y in top_tabs(run):
                z, t = run.underside(y), run.thickness / 2.0
                found.append((sum(plate.x) / 2.0, y - s * t, z + c * t))
    return np.array(found)


def test_every_tab_of_the_side_plates_stands_in_a_slot_of_the_runs(stepped):
    plan = truss_plan(stepped.sheet, stepped.axle)
    slots = np.concatenate([slots_of(stepped, r.name) for r in plan.runs])
    tabs = tabs_of(plan)
    assert len(plan.runs) == 5 and len(tabs) >= 20
    assert max(np.linalg.norm(slots - t, axis=1).min() for t in tabs) < 0.01


def test_the_bent_top_brings_its_slots_to_the_same_tabs_over_knees_and_hollows():
    job = truss_job(truss={"knees": KNEES, "height": None, "top": "folded"})
    plan = truss_plan(job.sheet, job.axle)
    part = job.parts["truss-top"]
    bent, middles = folded(part), [np.mean(polyline(loop), axis=0) for loop in part.profile.inner]
    slots = placed(job, "truss-top", [bent.point(float(x), float(y), part.thickness / 2.0) for x, y in middles])
    assert len(part.bends) == 4 and {b.up for b in part.bends} == {True, False}
    assert max(np.linalg.norm(slots - t, axis=1).min() for t in tabs_of(plan)) < 0.02


def test_runs_that_meet_in_a_hollow_touch_and_do_not_overlap(stepped):
    plan = truss_plan(stepped.sheet, stepped.axle)
    drawn = [solids.placed(cached_solid(stepped.parts[r.name]), p) for r in plan.runs
             for p in stepped.assemblies["truss"].placements if p.part == r.name]  # fmt: skip
    for a, b in pairwise(drawn):
        assert solids.volume(solids.common(a, b)) == pytest.approx(0.0, abs=0.5)


def test_a_plate_weighs_its_outline_less_its_openings(stepped):
    for name in ("truss-front", "truss-rear", "truss-rib-1"):
        part = stepped.parts[name]
        openings = sum(abs(signed_area(v)) for v in part.profile.inner)
        openings += sum(signed_area(hole_loop(h)) for h in part.profile.holes)
        area = signed_area(part.profile.outer) - openings
        assert solids.volume(cached_solid(part)) == pytest.approx(area * part.thickness, rel=1e-6)


def test_every_rib_has_a_title_of_its_own(stepped):
    labels = [p.label for p in stepped.parts.values() if p.name.startswith("truss-rib-")]
    assert len(labels) == len(set(labels)) > 1
    assert all("Rib" in v for v in labels)


def test_front_and_rear_plate_mirror_each_other_over_the_tubes(stepped):
    # the tubes are round about the axle line, so both edges over them are alike
    plan = truss_plan(stepped.sheet, stepped.axle)
    rear, front = plan.plates
    for station in (-400.0, -250.0, 400.0):
        assert rear.spans(station)[0][0] == pytest.approx(front.spans(station)[0][0], abs=0.03)


def test_a_truss_that_cannot_be_drawn_gives_no_parts_and_says_why():
    job = truss_job(truss={"height": "150 mm"})
    assert job.parts == {} and job.assemblies == {}


def test_a_station_told_as_a_fraction_says_what_the_fraction_leaves_out():
    from fixturegen.truss.shared import beside_middle, span_beside_middle

    # 0.2 in is 3/16 in and 0.0125 in more; 25.4 mm an inch
    assert beside_middle(5.08) == "3/16 in (+0.0125 in) = 0.200 in left of the middle of the axle"
    assert beside_middle(-254.0) == "10 in = 10.000 in right of the middle of the axle"
    assert "(+0.0125 in) = 0.200 in right to 10 in = 10.000 in left" in span_beside_middle(-5.08, 254.0)
