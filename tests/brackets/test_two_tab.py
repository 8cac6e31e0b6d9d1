"""Two-tab brackets with gussets, and what the kinds of brackets have in common, against geometry and the kernel."""

from typing import get_args

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets, maker_of
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.brackets import BracketKind
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of
from tests.brackets import link_jobs as jobs
from tests.brackets import tab_jobs

# a point far enough behind and below the tube for gussets on the round of it
FAR = {"point": ["-2715 mm", "480 mm", "370 mm"], "toward": ["-1840 mm", "400 mm", "420 mm"]}


def test_no_two_parts_share_a_title_and_an_ear_says_which_it_is():
    sheet = Sheet.model_validate(jobs.data(("two-tab", jobs.LOWER, {**FAR, "gussets": True})))
    axle = axle_of(sheet)
    made = make_brackets(sheet, axle, plan_of(sheet, axle), bracket_plan(sheet, axle))
    labels = {p.name: p.label for p in made.parts}
    assert len(set(labels.values())) == len(labels)
    assert labels["lower-left-tab-left"].endswith(", left")
    assert labels["lower-left-tab-right"].endswith(", right")


def test_gussets_stand_outside_both_ears_on_the_round_of_the_tube_where_they_are_asked_for():
    made = jobs.one("two-tab", jobs.LOWER, **FAR, gussets=True)
    names = [p.part for p in made.placements if p.group == "lower-left"]
    assert [n for n in names if "gusset" in n] == ["lower-left-gusset-right", "lower-left-gusset-left"]
    found = tab_jobs.gaps(made, "lower-left", "-gusset-right") + tab_jobs.gaps(made, "lower-left", "-gusset-left")
    assert all(g == pytest.approx(jobs.GAP, abs=0.05) for g in found)
    assert max(jobs.overlaps(made, "lower-left")) < 1e-3
    there = dict(jobs.parts(made, "lower-left"))
    for end in ("right", "left"):
        ear, gusset = there[f"lower-left-tab-{end}"], there[f"lower-left-gusset-{end}"]
        assert tab_jobs.exact_distance(ear, gusset)[0] < 1e-6
        middle = np.array([gusset.Center().x, gusset.Center().y, gusset.Center().z]) - made.mount("lower-left").point
        way = float(middle @ np.array(made.mount("lower-left").bolt))
        assert way > 40.0 if end == "left" else way < -40.0


def test_without_being_asked_for_there_is_none():
    made = jobs.one("two-tab", jobs.LOWER, **FAR)
    assert not any("gusset" in p.part for p in made.placements)


def test_a_low_bracket_that_asks_for_gussets_gets_none_since_there_is_no_room_under_the_bolt():
    made = jobs.one("two-tab", jobs.LOWER, gussets=True)
    assert not any("gusset" in p.part for p in made.placements)


def test_water_leaves_under_the_cross_plate():
    made = jobs.one("two-tab", jobs.LOWER, **FAR)
    (gap,) = {round(g, 3) for g in tab_jobs.gaps(made, "lower-left", "-cross")}
    assert gap >= 10.0  # common practice, no source


def test_the_steel_beside_a_slot_is_what_a_torch_leaves_whole():
    made = jobs.one("two-tab", jobs.LOWER, **FAR)
    from shapely import Polygon

    from fixturegen.plate.profile import polyline

    for end in ("right", "left"):
        profile = made.job.parts[f"lower-left-tab-{end}"].profile
        (opening,) = profile.inner
        web = Polygon(polyline(opening)).distance(Polygon(polyline(profile.outer)).exterior)
        assert web >= 1.5 * 6.1  # plate thicknesses, common practice, no source


@pytest.mark.parametrize("kind", get_args(BracketKind))
def test_every_kind_of_bracket_has_its_maker(kind):
    assert maker_of(kind).__name__ == "make_" + kind.replace("-", "_")


def test_one_bracket_that_cannot_be_drawn_leaves_the_others_alone_and_is_told():
    low = {**jobs.UPPER, "surface": "150 mm"}
    sheet = Sheet.model_validate(
        jobs.data(("folded", jobs.LOWER, {}), ("tower", low, {}), ("track-bar", jobs.RAIL, {}))
    )
    axle = axle_of(sheet)
    made = make_brackets(sheet, axle, plan_of(sheet, axle), bracket_plan(sheet, axle))
    assert {u.mount for u in made.unmade} == {"upper-left", "upper-right"}
    assert all("too low for a tower" in u.words for u in made.unmade)
    assert set(made.facts) == {"lower-left", "lower-right", "bar-frame"}


def test_a_bolt_is_square_to_its_link_unless_the_sheet_says_otherwise():
    plan = {m.name: m for m in (jobs.every().mount(n) for n in ("lower-left", "upper-right", "bar"))}
    assert all(abs(float(np.dot(m.bolt, m.along))) < 1e-9 for m in plan.values())
    told = jobs.one("two-tab", jobs.LOWER, bolt_way=["0", "1", "0"]).mount("lower-left")
    assert np.allclose(told.bolt, (0.0, 1.0, 0.0))
    assert abs(float(np.dot(told.bolt, told.along))) > 0.05
