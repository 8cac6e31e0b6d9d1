"""Track-bar brackets against the sheet's points, plain geometry and the kernel's distances."""

import numpy as np
import pytest

from tests.brackets import link_jobs as jobs
from tests.brackets import tab_jobs

ROOM = 50.0 + jobs.INCH / 64.0  # joint of the sheet and its room
ALONG_PARTS = ("ear-rear", "ear-front", "shelf", "rib-far", "rib-near", "brace")


def bar(mount, diameter=38.0, reach=180.0):
    """The bar as it leaves the joint at ride, drawn by the test itself."""
    start = np.array(mount.point)
    return tab_jobs.cylinder(tuple(start), tuple(start + reach * np.array(mount.along)), diameter)


def test_track_bar_brackets_are_released():
    names = [n for n in jobs.held() if n.startswith("bar-")]
    assert len(names) == 6 + 3
    assert {n: jobs.held()[n] for n in names} == dict.fromkeys(names)


@pytest.mark.parametrize("name", ["bar", "bar-frame"])
def test_the_first_bores_lie_on_the_hardpoint_square_to_the_bar(name):
    made = jobs.every()
    mount = made.mount(name)
    found = jobs.axes(made, name)
    assert len(found) == 2
    for _, axes in found:
        off = sorted(tab_jobs.off_line(mount.point, a) for a in axes)
        assert off[0] < 0.01
        assert all(abs(float(a[1] @ np.array(mount.along))) < 1e-6 for a in axes)
        # 35 mm from hole to hole, as the sheet asks for
        assert off[1:] == ([pytest.approx(35.0, abs=0.01)] if name == "bar" else [])


@pytest.mark.parametrize("name", ["bar", "bar-frame"])
def test_the_ears_are_the_joint_and_its_room_apart(name):
    made = jobs.every()
    there = [s for p, s in jobs.parts(made, name) if "-ear" in p]
    assert tab_jobs.exact_distance(*there)[0] == pytest.approx(ROOM, abs=1e-6)


@pytest.mark.parametrize("word", ["-rib-far", "-rib-near", "-shelf", "-brace"])
def test_what_stands_on_the_tube_has_the_root_gap(word):
    (found,) = tab_jobs.gaps(jobs.every(), "bar", word)
    # saddles stand 0 to 0.005 mm farther off than asked, never nearer
    assert jobs.GAP - 1e-4 < found < jobs.GAP + 0.006


@pytest.mark.parametrize("word", ["-ear", "-back", "-brace"])
def test_on_the_rail_every_plate_stands_with_the_root_gap(word):
    found = tab_jobs.gaps(jobs.every(), "bar-frame", word)
    assert found
    assert all(g == pytest.approx(jobs.GAP, abs=1e-3) for g in found)


@pytest.mark.parametrize("name", ["bar", "bar-frame"])
def test_no_two_plates_share_a_place(name):
    assert max(jobs.overlaps(jobs.every(), name)) < 1e-3


def test_each_plate_of_the_box_meets_those_it_is_welded_to():
    made = jobs.every()
    there = dict(jobs.parts(made, "bar"))
    meets = (("ear-rear", "rib-far"), ("ear-front", "rib-far"), ("shelf", "rib-far"), ("shelf", "rib-near"),
             ("brace", "rib-far"), ("ear-rear", "shelf"), ("ear-front", "shelf"))  # fmt: skip
    for one, other in meets:
        apart = tab_jobs.exact_distance(there[f"bar-{one}"], there[f"bar-{other}"])[0]
        assert apart <= jobs.GAP + 1e-6, (one, other)


@pytest.mark.parametrize("name", ["bar", "bar-frame"])
def test_the_bar_leaves_between_the_ears_and_meets_no_steel(name):
    made = jobs.every()
    mount = made.mount(name)
    for part, solid in jobs.parts(made, name):
        assert tab_jobs.exact_distance(solid, bar(mount))[0] >= 3.0, part


def test_the_joint_has_its_room_over_the_shelf():
    made = jobs.every()
    mount = made.mount("bar")
    shelf = dict(jobs.parts(made, "bar"))["bar-shelf"]
    half = ROOM / 2.0 * np.array(mount.bolt)
    joint = tab_jobs.cylinder(tuple(np.array(mount.point) - half), tuple(np.array(mount.point) + half), 48.0)
    assert tab_jobs.exact_distance(shelf, joint)[0] >= 6.0 - 1e-6  # common practice, no source


def test_every_hole_keeps_its_steel_the_highest_too():
    for part in ("bar-ear-rear", "bar-ear-front"):
        profile = jobs.every().job.parts[part].profile
        xs, ys = [v.x for v in profile.outer if abs(v.x) > 20.0], [v.y for v in profile.outer]
        for h in profile.holes:
            # two bolt diameters along the load, one and a half elsewhere (common practice, no source)
            assert max(xs) - h.x >= 2.0 * 15.97 - 1e-6
            assert max(ys) - h.y >= 1.5 * 15.97 - 1e-6


def test_from_the_lowest_hole_to_a_weld_on_its_ear_it_is_half_an_inch():
    facts = jobs.every().job.brackets.facts["bar"]
    for root in facts.roots:
        a, b = np.array(root.begin), np.array(root.end)
        along = np.array(facts.mount.bolt)
        way = (b - a) / np.linalg.norm(b - a)
        high = np.array(facts.mount.point) - a
        high = high - (high @ way) * way - (high @ along) * along
        assert np.linalg.norm(high) - facts.ears[0].hole / 2.0 - root.leg >= 12.7 - 1e-6


def test_the_brace_stands_on_the_end_away_from_the_bar():
    made = jobs.every()
    mount = made.mount("bar")
    brace = dict(jobs.parts(made, "bar"))["bar-brace"].Center()
    assert (np.array([brace.x, brace.y, brace.z]) - np.array(mount.point)) @ np.array(mount.along) < -30.0


def test_at_the_end_of_the_tube_the_brace_goes_to_the_other_side_under_the_bar():
    end = {"point": ["-2960 mm", "-655 mm", "545 mm"], "toward": ["-2960 mm", "420 mm", "610 mm"]}
    made = jobs.one("track-bar", jobs.TRACK, **end)
    mount = made.mount("bar")
    brace = dict(jobs.parts(made, "bar"))["bar-brace"]
    middle = np.array([brace.Center().x, brace.Center().y, brace.Center().z])
    assert (middle - np.array(mount.point)) @ np.array(mount.along) > 30.0
    assert tab_jobs.exact_distance(brace, bar(mount))[0] >= 3.0


def test_over_the_tube_the_ears_stand_along_it():
    made = jobs.one("track-bar", jobs.TRACK, **jobs.OVER, extra_holes=0)
    assert not any("shelf" in p.part for p in made.placements)
    found = tab_jobs.gaps(made, "bar", "-ear-front") + tab_jobs.gaps(made, "bar", "-ear-rear")
    assert len(found) == 2
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)
    assert max(jobs.overlaps(made, "bar")) < 1e-3


def test_ears_of_a_bolt_square_to_the_rail_are_one_part_cut_twice():
    part = jobs.every().job.parts["bar-frame-ear"]
    assert part.quantity == 2
    assert [p.part for p in jobs.every().placements].count("bar-frame-ear") == 2


def test_a_bolt_askew_to_the_tube_is_refused_by_its_angle():
    words, remedy = jobs.refused("track-bar", jobs.TRACK, bolt_way=["1", "0.3", "0"])
    assert words.startswith("its bolt stands 17 deg off square to the right axle tube")
    assert "bolt_way" in remedy


def test_a_box_whose_near_rib_would_stand_in_the_bar_is_refused():
    words, _ = jobs.refused("track-bar", jobs.TRACK, wrap="180 deg", point=["-2990 mm", "-330 mm", "440 mm"])
    assert words != ""
