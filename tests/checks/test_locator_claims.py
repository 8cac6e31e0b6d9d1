"""LCT: each claim passes on the rear example or is tripped by steel, a drill or a table in the way."""

import dataclasses
from functools import cache

import numpy as np

from fixturegen.checks.scene import Thing, scene_of
from fixturegen.findings import Level
from fixturegen.shapes import solids
from tests.brackets.locator_jobs import job_of, locator, raw, rear
from tests.checks.bench_jobs import findings


@cache
def marked():
    data = raw()
    data["process"]["angle_holes"] = "marked"
    return job_of(data)


def with_steel(made, block):
    scene = scene_of(made)
    return dataclasses.replace(made, store={**made.store, "scene": (*scene, Thing("block", "stand", "", block))})


def box_at(middle, half):
    x, y, z = (float(v) for v in middle)
    return solids.box(x - half, y - half, z - half, x + half, y + half, z + half)


def test_lct_01_a_marked_hole_puts_the_dummy_bolt_further_out_than_a_bored_one():
    fine = {f.parts[0]: f for f in findings("LCT-01", rear())}
    rough = {f.parts[0]: f for f in findings("LCT-01", marked())}
    for name in fine:
        assert rough[name].value > fine[name].value
    # worst case over 1/16 in warns as long as the root of squares stays within it
    assert all(f.level is (Level.PASS if f.value <= 25.4 / 16.0 else Level.WARN) for f in fine.values())
    one = locator(rear(), "lower-left")
    near = dataclasses.replace(one, error=dataclasses.replace(one.error, worst=1.587, likely=0.7))
    over = dataclasses.replace(one, error=dataclasses.replace(one.error, worst=1.588, likely=0.7))
    far = dataclasses.replace(one, error=dataclasses.replace(one.error, worst=3.0, likely=1.6))
    for given, wanted in ((near, Level.PASS), (over, Level.WARN), (far, Level.FAIL)):
        made = dataclasses.replace(rear(), brackets=dataclasses.replace(rear().brackets, locators=(given,)))
        (found,) = findings("LCT-01", made)
        assert found.level is wanted
        assert one.error.items[0].name in found.words


def test_a_bracket_without_locator_is_told_and_holds_nothing():
    data = raw()
    data["joints"][0]["body"] = "24 mm"
    told = [f for f in findings("LCT-01", job_of(data)) if "no locator" in f.words]
    assert {f.words.split(":")[0] for f in told} == {"lower-left", "lower-right"}
    assert not any(f.holding for f in told)


def test_lct_02_a_block_in_the_way_of_a_dummy_bolt_or_a_post_is_met():
    made = rear()
    assert {f.level for f in findings("LCT-02", made)} == {Level.PASS}
    one = locator(made, "lower-left")
    beyond = np.array(one.point) + one.pull * 250.0 * np.array(one.bolt)
    (met,) = [f for f in findings("LCT-02", with_steel(made, box_at(beyond, 15.0))) if f.level is Level.FAIL]
    assert "dummy bolt of lower left meets block" in met.words
    before = np.array(one.point) + 250.0 * np.array(one.leave) + (0.0, 0.0, -220.0)
    (stopped,) = [f for f in findings("LCT-02", with_steel(made, box_at(before, 60.0))) if f.level is Level.FAIL][:1]
    assert "the post of lower left meets block" in stopped.words
    inside = [f for f in findings("LCT-02", with_steel(made, box_at(one.point, 15.0))) if f.level is Level.FAIL]
    assert any("in one place" in f.words and f.holding for f in inside)


def test_lct_03_a_hole_off_the_grid_and_a_base_off_the_table_are_refused():
    made = rear()
    (fine,) = findings("LCT-03", made)
    assert fine.level is Level.PASS
    one = locator(made, "lower-left")
    (x, y), second = one.post.pins
    moved = dataclasses.replace(one, post=dataclasses.replace(one.post, pins=((x + 0.5, y), second)))
    shifted = dataclasses.replace(made, brackets=dataclasses.replace(made.brackets, locators=(moved,)))
    assert [f.level for f in findings("LCT-03", shifted)] == [Level.FAIL]
    data = raw()
    data["table"]["length"] = f"{fine_length(made) - 1.0} mm"
    assert any(f.level is Level.FAIL and "long" in f.words for f in findings("LCT-03", job_of(data)))


def fine_length(made):
    """From the outermost base edges or holes along the axle, and one margin: by hand from the layouts."""
    posts = [m.post for m in made.brackets.locators if m.post]
    holes = [y for p in posts for _, y in (*p.pins, *p.bolts)]
    edges = [e for p in posts for e in p.base[2:]]
    edge, pitch = 50.0, 50.0
    first = max(0, -(-(min(holes) - min(edges) - edge) // pitch))
    return edge + first * pitch + max(holes) - min(holes) + max(max(edges) - max(holes), edge)
