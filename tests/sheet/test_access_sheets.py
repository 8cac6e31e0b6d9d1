"""[access] on the sheet: its contradictions, and what is used where a key is left out."""

import pytest

from tests.sheet.access_cases import ACCESS_PAIRS, HEAD
from tests.sheet.altered import REAR, faults, only, put, sheet


@pytest.mark.parametrize("name", ACCESS_PAIRS)
def test_each_rule_about_access_trips_at_its_boundary(name):
    text, trips, passes, key, values, allowed = ACCESS_PAIRS[name]
    fault = only(put(text, *trips))
    assert fault.key == key
    assert all(v in fault.given for v in values)
    assert allowed in fault.allowed and fault.remedy
    assert faults(put(text, *passes)) == ()


def test_what_is_left_out_is_what_the_trade_has_at_hand():
    # 3 and 6 in extensions, 1/16 in of air, 1 1/2 in straight off for a cover: common practice, no source
    given = sheet(put(REAR, (f"{HEAD}  # in the box\n", ""))).access
    assert [float(e) / 25.4 for e in given.extensions] == pytest.approx([3.0, 6.0])
    assert [float(given.gap) / 25.4, float(given.cover_pull) / 25.4] == pytest.approx([1 / 16, 1.5])
    assert given.gap.assumed and given.socket is None
