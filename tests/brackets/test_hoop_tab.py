"""Tabs on a shock hoop: across its tube, at the upper end of the shock."""

import numpy as np
import pytest

from tests.brackets import tab_jobs as jobs

LEFT, RIGHT = "shock-left-frame", "shock-right-frame"


def test_hoop_tabs_are_released():
    parts = [n for n in jobs.held() if n.startswith((LEFT, RIGHT))]
    assert len(parts) == 4
    assert {n: jobs.held()[n] for n in parts} == dict.fromkeys(parts)


def test_the_bolt_goes_through_the_upper_end_and_as_near_to_the_hoop_as_square_to_the_shock():
    made = jobs.every()
    top, foot = jobs.in_axle(jobs.SHOCK_ENDS["toward"]), jobs.in_axle(jobs.SHOCK_ENDS["point"])
    size = made.job.parts[f"{LEFT}-tab-in"].profile.holes[0].finished
    axes = [a for s in made.solids(LEFT) for a in jobs.bore_axes(s, size)]
    assert len(axes) == 2
    line = (foot - top) / np.linalg.norm(foot - top)
    # the hoop of these jobs runs along the axle: the angle it keeps to the bolt is that of the shock off square
    least = abs(np.arcsin(line[1]))
    for axis in axes:
        assert jobs.off_line(top, axis) < 0.01
        assert abs(axis[1] @ line) < 1e-9
        assert np.arccos(abs(axis[1][1])) == pytest.approx(least, abs=1e-9)


@pytest.mark.parametrize("group", [LEFT, RIGHT])
def test_the_saddles_follow_the_hoop_not_the_axle(group):
    found = jobs.gaps(jobs.every(), group, ("-in", "-out"))
    assert len(found) == 2
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)
    assert jobs.every().mount(group).base.radius == 44.5 / 2.0


def test_right_tabs_are_the_mirror_image_of_left_ones():
    sides, volumes = jobs.mirrored_boxes(jobs.every(), LEFT, RIGHT)
    assert sides < 0.01
    assert volumes < 1e-5


def test_the_tabs_say_how_the_bolts_of_both_ends_stand_to_one_another():
    (words,) = [n for n in jobs.every().job.parts[f"{LEFT}-tab-in"].notes if "other end" in n]
    # both bolts lie as near to the axle line as square to one shock: they are parallel
    assert "0.0 deg" in words


def test_a_hoop_that_ends_where_it_begins_is_refused():
    hoop = jobs.HOOP | {"end": jobs.HOOP["begin"]}
    with pytest.raises(Exception, match="a foot apart or more"):
        jobs.one("hoop-tab", hoop=hoop)


def test_a_hoop_over_the_eye_leaves_no_room_for_it():
    hoop = jobs.HOOP | {"begin": ["-2900 mm", "600 mm", "1050 mm"], "end": ["-2900 mm", "100 mm", "1050 mm"]}
    words, _ = jobs.refused("hoop-tab", hoop=hoop)
    assert "off the hoop tube" in words
