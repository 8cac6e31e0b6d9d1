"""Holes by purpose.

Hole over thickness of 1.5 for a clean plasma hole, 1/8 in under for a bored one, joint bolts reamed
0.005 to 0.010 in over the measured shank: common practice, no source. Clearance holes: ASME B18.2.8,
ISO 273. Limit deviations: ISO 9013:2017.
"""

import pytest

from fixturegen.errors import GeometryFault
from fixturegen.parts import holes, joinery
from fixturegen.plate import Hole, Purpose
from fixturegen.plate.profile import Operation
from fixturegen.studies.cutting_rules import rules_for
from tests.parts.stand_jobs import DROPOUT, REAR, context_of, job, raw

INCH = 25.4
THICK = 9.6012  # the plate sold as 3/8 in, by micrometer 0.378 in
DRILLED = {  # ASME B94.11M and shop drawers, from memory: 39/64, 5/8 and 41/64 by their decimals
    "39/64": 0.6094,
    "5/8": 0.625,
    "41/64": 0.6406,
}


def with_process(name=DROPOUT, **changes):
    values = raw(name)
    return context_of({**values, "process": {**values["process"], **changes}})


def made(purpose, finished, name=DROPOUT, **more):
    return joinery.hole(0.0, 0.0, finished, purpose, "h", job(name), thickness=THICK, **more)


@pytest.mark.parametrize("purpose", [Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE, Purpose.TAP])
def test_a_hole_that_sets_an_angle_or_a_place_is_only_marked(purpose):
    hole = made(purpose, 31.75, stack="both clock plates")
    assert (hole.operation, hole.cut, hole.finished) == (Operation.PILOT, None, 31.75)
    assert "both clock plates" in hole.note


def test_the_note_gives_the_size_a_reamer_is_bought_by():
    assert "1.250 in" in made(Purpose.ANGLE, 31.75).note


def test_a_wide_clearance_hole_stays_as_cut():
    hole = made(Purpose.BOLT, 1.5 * THICK, clearance=3.2)
    assert (hole.operation, hole.cut) == (Operation.CUT, 1.5 * THICK)


def test_a_clearance_hole_just_under_one_and_a_half_thicknesses_is_cut_an_eighth_under_and_drilled():
    hole = made(Purpose.BOLT, 1.5 * THICK - 0.01, clearance=3.2)
    assert hole.operation is Operation.UNDERCUT
    assert hole.cut == pytest.approx(hole.finished - INCH / 8.0)
    assert "drill" in hole.note


def test_a_hole_that_would_be_smaller_under_than_the_plate_is_thick_is_only_marked():
    assert made(Purpose.BOLT, THICK + INCH / 8.0 - 0.01).operation is Operation.PILOT
    assert made(Purpose.BOLT, THICK + INCH / 8.0 + 0.01).operation is Operation.UNDERCUT


def test_a_close_pin_hole_is_never_left_as_cut_however_wide():
    assert made(Purpose.TABLE, 40.0, clearance=0.43).operation is Operation.UNDERCUT


def test_a_clearance_turns_at_the_deviation_of_its_size_and_of_the_nominal_plate():
    # ISO 9013:2017 class 2, plate over 6.3 to 10 mm: 1.1 mm from 10 to 35 mm, 1.3 mm from 35 to 125 mm
    for finished, deviation in ((20.0, 1.1), (40.0, 1.3)):
        assert made(Purpose.BOLT, finished, clearance=deviation + 0.001).operation is Operation.CUT
        assert made(Purpose.BOLT, finished, clearance=deviation - 0.001).operation is Operation.UNDERCUT


def test_a_finer_torch_may_leave_what_a_coarser_one_may_not():
    # ISO 9013:2017 class 1, plate over 6.3 to 10 mm, 10 to 35 mm: 0.30 mm
    fine = with_process(tolerance_class=1)
    hole = joinery.hole(0.0, 0.0, 20.0, Purpose.BOLT, "h", fine, thickness=THICK, clearance=0.31)
    assert hole.operation is Operation.CUT


def test_an_access_hole_is_cut_only_when_the_torch_cuts_it_round():
    assert made(Purpose.ACCESS, 1.5 * THICK).operation is Operation.CUT
    assert made(Purpose.ACCESS, 8.0).operation is Operation.PILOT


def test_the_smallest_hole_measured_on_the_coupon_wins_over_the_table():
    better = with_process(smallest_hole="3/8 in")
    for finished, operation in ((9.53, Operation.CUT), (9.5, Operation.PILOT)):
        hole = joinery.hole(0.0, 0.0, finished, Purpose.ACCESS, "h", better, thickness=THICK)
        assert hole.operation is operation


def test_a_hole_cut_to_size_is_drawn_smaller_by_what_the_coupon_came_out_too_large():
    context = with_process(hole_error="0.012 in")
    hole = joinery.hole(0.0, 0.0, 30.0, Purpose.ACCESS, "h", context, thickness=THICK)
    assert hole.cut == pytest.approx(30.0 - 0.3048)
    assert hole.finished == 30.0
    small = with_process(hole_error="-0.012 in")
    assert joinery.hole(0.0, 0.0, 30.0, Purpose.ACCESS, "h", small, thickness=THICK).cut == pytest.approx(30.3048)
    under = joinery.hole(0.0, 0.0, 14.2875, Purpose.BOLT, "h", context, thickness=THICK)
    assert under.cut == pytest.approx(14.2875 - 3.175 - 0.3048)


def test_a_drilled_hole_is_named_by_the_drill_in_the_drawer_or_by_its_decimal():
    # 9/16 in is 0.5625 in; nothing is within 0.003 in of 0.635 in: 5/8 0.625, 16 mm 0.630, 41/64 0.641
    assert "9/16 (0.562 in)" in made(Purpose.BOLT, 0.5625 * INCH).note
    assert made(Purpose.BOLT, 0.635 * INCH, clearance=0.5).note.endswith("drill out to 0.635 in")


def test_marked_angle_holes_say_so():
    marked = with_process(angle_holes="marked")
    hole = joinery.hole(0.0, 0.0, 31.75, Purpose.ANGLE, "index 0", marked, thickness=12.7, stack="x")
    assert "punched mark" in hole.note
    assert isinstance(hole, Hole)


@pytest.mark.parametrize(
    ("bolt", "fit", "printed"),
    # ASME B18.2.8, inches; ISO 273, mm; as printed in the copies read
    [
        ("1/2-13", "normal", 0.562 * INCH),
        ("5/8", "close", 0.656 * INCH),
        ("3/4", "loose", 0.906 * INCH),
        ("M12x1.75", "normal", 13.5),
        ("M16", "close", 17.0),
    ],
)
def test_a_bolts_hole_is_that_of_its_standard(bolt, fit, printed):
    hole = joinery.bolt_hole(1.0, 2.0, bolt, "b", job(DROPOUT), thickness=THICK, fit=fit)
    assert (hole.finished, hole.fit, hole.purpose) == (pytest.approx(printed), fit, Purpose.BOLT)
    assert hole.through == pytest.approx({"1": 0.5, "5": 0.625, "3": 0.75}.get(bolt[0], 0) * INCH or float(bolt[1:3]))


def test_a_close_hole_of_a_class_two_torch_is_drilled():
    # 7/8 close: 0.906 - 0.875 is 0.79 mm, less than the 1.1 mm of class 2
    assert (
        joinery.bolt_hole(0, 0, "7/8", "b", job(DROPOUT), thickness=THICK, fit="close").operation is not Operation.CUT
    )


def test_a_bolt_its_standard_has_no_hole_for_is_refused_in_a_sentence():
    with pytest.raises(GeometryFault, match=r"shock: no normal hole on file for a bolt 9/16.*use one of"):
        joinery.bolt_hole(0.0, 0.0, "9/16", "shock", job(DROPOUT), thickness=THICK)


@pytest.mark.parametrize("shank", [0.4985, 0.5615, 0.6235, 0.6250, 0.7485, 0.8745, 0.9990])
@pytest.mark.parametrize("metric", [False, True])
def test_a_joint_is_reamed_five_to_ten_thousandths_over_its_measured_shank(shank, metric):
    rules = rules_for(job(DROPOUT).sheet, THICK)
    hole = joinery.joint_hole(3.0, 4.0, shank * INCH, "lower link", rules, metric=metric)
    assert 0.005 - 1e-9 <= hole.finished / INCH - shank <= 0.010 + 1e-9
    assert hole.operation is not Operation.CUT
    assert (hole.through, hole.fit) == (shank * INCH, "reamed")
    # in the unit of the job, to less than what a hand on a reamer tells apart
    told = float(hole.note.partition("ream ")[2].split()[0])
    assert told * (1.0 if metric else INCH) == pytest.approx(hole.finished, abs=0.002)
    assert ("mm; the shank" if metric else "in; the shank") in hole.note
    assert "drill" in hole.note


def test_a_reamer_that_is_sold_is_taken_where_one_lies_between_the_limits():
    rules = rules_for(job(DROPOUT).sheet, THICK)
    # 0.6180 in of shank: 0.623 to 0.628 in, 5/8 in lies in it; the drill before it leaves 1/64 in
    hole = joinery.joint_hole(0.0, 0.0, 0.618 * INCH, "link", rules)
    assert hole.finished / INCH == pytest.approx(DRILLED["5/8"])
    assert "39/64 in" in hole.note
    assert holes.drill_before_reamer(hole.finished).size / INCH == pytest.approx(DRILLED["39/64"], abs=1e-4)


def test_a_joint_in_thick_plate_is_only_marked_and_in_thin_plate_cut_under():
    sheet = job(DROPOUT).sheet
    for thickness, operation in ((6.35, Operation.UNDERCUT), (25.4, Operation.PILOT)):
        hole = joinery.joint_hole(0.0, 0.0, 0.623 * INCH, "link", rules_for(sheet, thickness))
        assert hole.operation is operation


def test_metric_shops_are_told_metric_drills():
    hole = joinery.hole(0.0, 0.0, 13.5, Purpose.BOLT, "h", job(REAR), thickness=10.0, clearance=0.5)
    assert "13.5 mm" in hole.note
