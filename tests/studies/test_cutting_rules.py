"""What holds on one plate: the sheet first, then the table. Limit deviations: ISO 9013:2017."""

import pytest

from fixturegen.findings import Trust
from fixturegen.stock import NotInTable
from fixturegen.studies.cutting_rules import rules_for
from tests.studies.study_jobs import sheet_of

INCH = 25.4
THREE_EIGHTHS = 0.378 * INCH  # measured; sold as 3/8 in


def test_the_row_of_the_tolerances_follows_the_plate_as_it_is_sold_and_holes_the_plate_as_it_is():
    # ISO 9013:2017 class 2, size 20 mm: over 3.15 to 6.3 mm 0.9, over 6.3 to 10 mm 1.1
    thin = [{"nominal": "1/4 in", "measured": "0.246 in"}, {"nominal": "6 mm", "measured": "6.36 mm"}]
    sheet = sheet_of(plates=thin)
    quarter = rules_for(sheet, 0.246 * INCH)  # 6.25 mm by micrometer, 6.35 mm by name
    six = rules_for(sheet, 6.36)
    assert quarter.tolerance(20.0).value == 1.1
    assert six.tolerance(20.0).value == 0.9
    assert (quarter.plate, six.plate) == ("1/4 in", "6 mm")
    assert quarter.hole.value == pytest.approx(1.5 * 0.246 * INCH)


def test_sizes_and_plates_the_standard_leaves_out_have_no_tolerance():
    rules = rules_for(sheet_of(), THREE_EIGHTHS)
    assert rules.tolerance(2.9) is None
    assert rules.tolerance(2000.0) is None
    assert rules_for(sheet_of(), 20.0).tolerance(20.0) is None
    assert not rules_for(sheet_of(), 20.0).stocked


GIVEN = {
    "hole": ("smallest_hole", "0.3 in"),
    "slot": ("smallest_slot", "0.1 in"),
    "web": ("smallest_web", "0.4 in"),
    "lead_in": ("lead_in", "0.25 in"),
    "hole_error": ("hole_error", "0.012 in"),
    "slot_room": ("slot_room", "0.011 in"),
    "saddle_room": ("saddle_room", "0.02 in"),
}


@pytest.mark.parametrize("field", GIVEN)
def test_what_the_sheet_gives_wins_and_is_called_measured(field):
    key, text = GIVEN[field]
    before = getattr(rules_for(sheet_of(), THREE_EIGHTHS), field)
    rule = getattr(rules_for(sheet_of(**{f"process__{key}": text}), THREE_EIGHTHS), field)
    assert not before.measured
    assert before.trust in (Trust.PRACTICE, Trust.ASSUMED)
    assert (rule.measured, rule.trust) == (True, Trust.MEASURED)
    assert rule.value == pytest.approx(float(text.split()[0]) * INCH)
    assert f"process.{key}" in rule.source


def test_a_slot_rule_of_the_table_is_never_under_the_kerf():
    # the table asks for 2 mm; a kerf of 0.1 in is 2.54 mm
    assert rules_for(sheet_of(), THREE_EIGHTHS).slot.value == pytest.approx(2.0)
    assert rules_for(sheet_of(process__kerf="0.1 in"), THREE_EIGHTHS).slot.value == pytest.approx(2.54)


def test_the_kerf_is_expected_within_the_spread_of_its_process_and_half_of_it_is_the_corner():
    for kerf, expected in (("0.075 in", True), ("0.110 in", True), ("0.07 in", False), ("0.12 in", False)):
        rules = rules_for(sheet_of(process__kerf=kerf, process__name="plasma-air-65a"), THREE_EIGHTHS)
        assert rules.kerf_expected is expected
        assert rules.inside_radius.value == pytest.approx(float(kerf.split()[0]) * INCH / 2.0)


def test_a_torch_that_cuts_small_holes_round_can_cut_them_under_as_well():
    rules = rules_for(sheet_of(process__smallest_hole="0.2 in"), THREE_EIGHTHS)
    assert rules.hole_possible.value == rules.hole.value == pytest.approx(5.08)


def test_marks_by_hand_need_no_room_for_a_cross():
    assert rules_for(sheet_of(), THREE_EIGHTHS).mark.value == pytest.approx(INCH / 8.0)
    assert rules_for(sheet_of(process__marking="hand"), THREE_EIGHTHS).mark.value == 0.0


def test_a_process_nobody_knows_is_refused():
    with pytest.raises(NotInTable):
        rules_for(sheet_of(process__name="water"), THREE_EIGHTHS)
