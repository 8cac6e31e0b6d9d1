"""[clearance] on the sheet: its contradictions, and what is used where a gap is left out."""

import pytest

from tests.sheet.altered import REAR, faults, only, put, sheet
from tests.sheet.clearance_cases import CLEARANCE_PAIRS


@pytest.mark.parametrize("name", CLEARANCE_PAIRS)
def test_each_rule_about_clearance_trips_at_its_boundary(name):
    text, trips, passes, key, values, allowed = CLEARANCE_PAIRS[name]
    fault = only(put(text, *trips))
    assert fault.key == key
    assert all(v in fault.given for v in values)
    assert allowed in fault.allowed and fault.remedy
    assert faults(put(text, *passes)) == ()


def test_gaps_that_are_left_out_are_those_of_the_trade():
    # a quarter, a half, three quarters and one inch: common practice, no source
    given = sheet(put(REAR, ('static = "6 mm"\nmoving = "12 mm"\ntyre = "20 mm"\nflex = "25 mm"\n', ""))).clearance
    assert [float(v) / 25.4 for v in (given.static, given.moving, given.tyre, given.flex)] == pytest.approx(
        [0.25, 0.5, 0.75, 1.0]
    )
    assert all(v.assumed for v in (given.static, given.moving, given.tyre, given.flex))
