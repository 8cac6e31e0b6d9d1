"""Contradictions about the truss, each at its limit."""

import pytest

from tests.sheet.altered import by_key, faults, put
from tests.sheet.truss_cases import TRUSS_PAIRS


@pytest.mark.parametrize("name", TRUSS_PAIRS)
def test_a_truss_that_contradicts_trips_and_just_inside_it_does_not(name):
    text, trips, passes, key, values, allowed = TRUSS_PAIRS[name]
    fault = by_key(put(text, *trips), key)
    assert all(v in fault.given for v in values) and allowed in fault.allowed and fault.remedy
    assert fault.line is not None
    assert key not in [f.key for f in faults(put(text, *passes))]
