"""BRK and WLD: each claim passes on the rear example and is tripped by one value that differs."""

import dataclasses
import math

import numpy as np
import pytest

from fixturegen.checks.brackets import distance_across
from fixturegen.checks.release import release
from fixturegen.findings import Level
from fixturegen.plate.bracket_set import Unmade
from tests.brackets.place_jobs import job_of, raw, rear
from tests.checks.bench_jobs import findings

INCH = 25.4


def with_facts(made, **changed):
    """The job with the facts of some brackets replaced, by name with hyphens as underscores."""
    facts = {n: changed.get(n.replace("-", "_"), f) for n, f in made.brackets.facts.items()}
    return dataclasses.replace(made, brackets=dataclasses.replace(made.brackets, facts=facts), store={})


def only(code, made, label):
    (found,) = [f for f in findings(code, made) if f.words.startswith(label)]
    return found


def drilled(made, part, **changed):
    """The job with the one joint's hole of a part changed."""
    old = made.parts[part]
    (hole,) = old.profile.holes
    new = dataclasses.replace(
        old, profile=dataclasses.replace(old.profile, holes=(dataclasses.replace(hole, **changed),))
    )
    return dataclasses.replace(made, parts={**made.parts, part: new}, store={})


@pytest.mark.parametrize("on", ["steering-arm", "tie-rod", "caliper", "outer-knuckle", "drag-link", "spindle"])
def test_wld_01_a_bracket_on_a_steering_part_is_held_and_one_on_the_tube_passes(on):
    (fine,) = findings("WLD-01", rear())
    assert fine.level is Level.PASS
    data = raw()
    data["brackets"][0]["on"] = on
    made = job_of(data)
    (found,) = findings("WLD-01", made)
    assert found.level is Level.FAIL
    assert on.replace("-", " ") in found.words and "lower-left" in found.words
    # nothing is drawn that would stand there, and the other brackets may be made
    assert not any(p.startswith("lower") for p in made.parts) and "upper-left-tab-left" in made.parts
    assert not found.holding


def test_a_bracket_that_is_drawn_on_a_steering_part_all_the_same_is_held():
    made = rear()
    spec = made.sheet.brackets[0].model_copy(update={"on": "spindle"})
    sheet = made.sheet.model_copy(update={"brackets": (spec, *made.sheet.brackets[1:])})
    (found,) = findings("WLD-01", dataclasses.replace(made, sheet=sheet))
    held = release(made.parts.values(), made.assemblies.values(), [found])
    assert {n.split("-")[0] for n, why in held.items() if why and "WLD-01" in why} == {"lower"}


def test_brk_01_a_bracket_that_cannot_be_drawn_is_told_and_leaves_the_others_alone():
    (fine,) = findings("BRK-01", rear())
    assert fine.level is Level.PASS
    gone = (Unmade("upper-left", "its hole lies 0.25 in in the tube", "move the joint out"),)
    made = dataclasses.replace(rear(), brackets=dataclasses.replace(rear().brackets, unmade=gone))
    (found,) = findings("BRK-01", made)
    assert found.level is Level.FAIL and not found.holding
    assert found.words == "upper-left: its hole lies 0.25 in in the tube"
    # a sentence that begins with the bracket's label names it once
    gone = (Unmade("shock-rear-left", "shock, rear left: too near", "move it"),)
    (found,) = findings("BRK-01", dataclasses.replace(made, brackets=dataclasses.replace(made.brackets, unmade=gone)))
    assert found.words == "shock, rear left: too near"


def test_brk_04_a_hole_nearer_to_the_edge_than_one_and_a_half_bolts_is_held():
    made = rear()
    assert {f.level for f in findings("BRK-04", made)} == {Level.PASS}
    name = "lower-left-tab-left"
    shank = 19.96  # of the sheet
    found = only("BRK-04", made, "lower left")
    # 1.5 d any way and 2 d the way of the pull (common practice, no source)
    assert found.limit in (pytest.approx(1.5 * shank), pytest.approx(2.0 * shank))
    # drilled an eighth of an inch off its mark, the way the link pulls: the steel ahead is less by that
    (hole,) = made.parts[name].profile.holes
    (place,) = [p for p in made.assemblies["brackets"].placements if p.part == name]
    x, y, _ = np.array(place.rotation).T @ np.array(made.brackets.facts["lower-left"].mount.along)
    for by, wanted in ((0.0, Level.PASS), (INCH / 8.0, Level.FAIL)):
        off = drilled(made, name, x=hole.x + by * x / math.hypot(x, y), y=hole.y + by * y / math.hypot(x, y))
        worse = only("BRK-04", off, "lower left")
        assert worse.level is wanted and worse.holding is (wanted is Level.FAIL)
        assert worse.value == pytest.approx(2.0 * shank - by, abs=1e-3) or wanted is Level.PASS


def test_brk_05_half_an_inch_is_kept_from_a_hole_to_the_toe_of_a_weld():
    made = rear()
    fine = only("BRK-05", made, "lower left")
    assert fine.level is Level.PASS
    # a leg larger by what is left over the half inch stands just at the limit; a hair more is refused
    for more, wanted in ((-1e-3, Level.PASS), (1e-3, Level.FAIL)):
        leg = 6.35 + fine.value - INCH / 2.0 + more
        facts = made.brackets.facts["lower-left"]
        seams = tuple(dataclasses.replace(s, leg=leg) for s in facts.seams)
        other = with_facts(made, lower_left=dataclasses.replace(facts, seams=seams))
        assert only("BRK-05", other, "lower left").level is wanted


def test_the_distance_across_a_bolt_is_that_of_a_point_and_a_stretch_in_the_plane():
    # along z the stretch is seen from (3, 4) to (3, -4): 3 away; slid past its end, 5 away
    axis = np.array([0.0, 0.0, 1.0])
    at = np.array([0.0, 0.0, 99.0])
    assert distance_across(at, axis, np.array([3.0, 4.0, 0.0]), np.array([3.0, -4.0, 50.0])) == pytest.approx(3.0)
    assert distance_across(at, axis, np.array([3.0, 4.0, 0.0]), np.array([3.0, 9.0, 50.0])) == pytest.approx(5.0)


def test_brk_06_a_bead_keeps_half_an_inch_from_the_weld_of_an_end():
    made = rear()
    assert {f.level for f in findings("BRK-06", made)} == {Level.PASS}
    facts = made.brackets.facts["lower-left"]
    # sleeve of the bearing end: three thicknesses back from the tube's end, as the axle is drawn
    weld = 741.0 - 3.0 * float(made.sheet.wheel_ends.end_flange_thickness)
    most = max(p[1] for s in facts.seams for p in (s.begin, s.end)) + 6.35
    for gap, wanted in ((INCH / 2.0 + 0.01, Level.PASS), (INCH / 2.0 - 0.01, Level.FAIL), (-5.0, Level.FAIL)):
        by = weld - gap - most
        seams = tuple(dataclasses.replace(s, begin=_along(s.begin, by), end=_along(s.end, by)) for s in facts.seams)
        found = only("BRK-06", with_facts(made, lower_left=dataclasses.replace(facts, seams=seams)), "lower left")
        assert found.level is wanted
        assert found.value == pytest.approx(gap, abs=1e-6)
        assert "left bearing end" in found.words
        assert ("off the tube" in found.words) is (gap < 0.0)


def _along(point, by):
    return point[0], point[1] + by, point[2]
