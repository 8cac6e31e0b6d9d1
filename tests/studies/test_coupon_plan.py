"""Sizes of the coupons follow from the sheet, and change with nothing that a coupon writes."""

import pytest

from fixturegen.sheet import read_text
from fixturegen.studies.coupon_plan import coupon_plans, slug_of, strip_plan, web_of
from tests.few_brackets import few_brackets
from tests.sheet.altered import KINGPIN, REAR, put

WRITTEN = (
    ('kerf = "0.062 in"', 'kerf = "0.085 in"\nhole_error = "0.01 in"\nsmallest_hole = "1/2 in"\nslot_room = "0.02 in"'),
    ('deduction = "0.431 in"', 'deduction = "0.46 in"'),
)


@pytest.mark.parametrize(
    ("nominal", "slug"),
    [("3/8 in", "3-8"), ("1 1/4 in", "1-1-4"), ("0.375 in", "3-8"), ("10 mm", "10mm"), ("9.5 mm", "9-5mm")],
)
def test_the_thickness_stands_in_the_name_as_the_shop_says_it(nominal, slug):
    text = put(
        few_brackets(REAR),
        ('nominal = "10 mm"\nmeasured = "10.0 mm"', f'nominal = "{nominal}"\nmeasured = "{nominal}"'),
    )
    text = text.replace('"10 mm"', f'"{nominal}"')
    plates = read_text(text).plates
    assert slug_of(plates[1]) == slug


def test_what_a_coupon_writes_into_the_sheet_moves_none_of_its_sizes_but_the_kerf_on_it():
    before, after = read_text(KINGPIN), read_text(put(KINGPIN, *WRITTEN))
    for a, b in zip(coupon_plans(before), coupon_plans(after), strict=True):
        assert (a.block, a.rooms, a.holes, a.saddles, a.letters) == (b.block, b.rooms, b.holes, b.saddles, b.letters)
        assert b.kerf == pytest.approx(0.085 * 25.4)
    assert strip_plan(before) == strip_plan(after)


def test_the_two_units_cannot_be_taken_for_one_another():
    # a block of the other unit must be refused as a misreading, 1/8 in off
    inch, metric = coupon_plans(read_text(KINGPIN))[0], coupon_plans(read_text(REAR))[0]
    assert abs(inch.block - metric.block) > 25.4 / 8.0


def test_the_web_is_the_sheets_or_one_and_a_half_thicknesses():
    # 1.5 thicknesses: common practice, no source
    assert web_of(read_text(KINGPIN), 12.0) == pytest.approx(18.0)
    own = put(KINGPIN, ("stacked = true", 'stacked = true\nsmallest_web = "1 in"'))
    assert web_of(read_text(own), 12.0) == pytest.approx(25.4)
