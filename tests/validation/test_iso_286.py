"""ISO 286-1 limits of dowel pins, worked out from its formulas (from memory).

i = 0.45 D^(1/3) + 0.001 D in micrometres, D the geometric mean of the step in mm; IT6 = 10 i and
IT7 = 16 i; h lies from 0 down, m from (IT7 - IT6) up. The printed table is rounded, so one
micrometre is left.
"""

import math

import pytest

from fixturegen.stock import Dowel, table

STEPS = ((1, 3), (3, 6), (6, 10), (10, 18), (18, 30))
ROUNDING = 1.0
METRIC = [e for e in table("dowels").entries.values() if isinstance(e, Dowel) and e.id[-2:] in ("m6", "h6")]


def limits(diameter, letter):
    """Lower and upper deviation [um] by the formulas."""
    low, high = next(s for s in STEPS if s[0] < diameter <= s[1])
    mean = math.sqrt(low * high)
    i = 0.45 * mean ** (1 / 3) + 0.001 * mean
    return (-10 * i, 0.0) if letter == "h" else (6 * i, 16 * i)


@pytest.mark.parametrize("pin", METRIC, ids=lambda p: p.id)
def test_limits_of_metric_pins_follow_the_formulas(pin):
    found = ((pin.smallest - pin.diameter) * 1000, (pin.largest - pin.diameter) * 1000)
    # the m series is rounded twice, once for its start and once for its end
    assert found == pytest.approx(limits(pin.diameter, pin.tolerance[0]), abs=2 * ROUNDING)


def test_the_two_tolerances_are_not_mixed_up():
    pin = next(p for p in METRIC if p.id == "10m6")
    found = ((pin.smallest - pin.diameter) * 1000, (pin.largest - pin.diameter) * 1000)
    assert found != pytest.approx(limits(10, "h"), abs=2 * ROUNDING)


def test_inch_pins_are_two_tenths_over_nominal():
    # ASME B18.8.2 standard series, from memory: nominal + 0.0002 in, +/- 0.0001 in
    for pin in table("dowels").entries.values():
        if isinstance(pin, Dowel) and "/" in pin.id:
            middle = (pin.smallest + pin.largest) / 2 - pin.diameter
            assert middle == pytest.approx(0.0002 * 25.4)
            assert pin.largest - pin.smallest == pytest.approx(0.0002 * 25.4)
