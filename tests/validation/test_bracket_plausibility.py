"""Brackets as the trade makes them against the loads the trade reckons with: bands of common practice, no source.

Lower links: tabs of 1/4 in at least, 5/16 to 3/8 on heavy trucks, 3/4 in bolts of grade 8 drawn tight. A crude
sum (4000 lb on the axle, friction 1, tyre radius 20 in, links 8 in apart) gives 10 000 lbf in the upper set of
links and 14 000 lbf in the lower, half of it in each; shock comes on top.
"""

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.calc.link_force import link_force
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.bracket_strength import KINDS, strengths_of_kind
from fixturegen.studies.load_cases import weights_of
from tests.studies.bracket_cases import INCH, LBF, bracket
from tests.studies.study_jobs import REAR, sheet_of

LOWER, UPPER = 7000.0, 5000.0
"""lbf in one link of each set."""


def over(force, **changes):
    """Kinds in which a bracket with a cross plate an inch and a half beside its bolt gives out; gaps told apart."""
    case = bracket((force, 0, 0), brace=1.4 * INCH, outward=30.0, **changes)
    used = {k: max(s.used * s.factor.value for s in strengths_of_kind(case, k) if s.judged) for k in KINDS}
    return {k for k, share in used.items() if share > 1.0 and k != "gap"}


@pytest.mark.parametrize("thickness", [0.3125, 0.375])
def test_a_common_lower_bracket_carries_the_crude_load(thickness):
    assert over(LOWER, thickness_in=thickness) == set()


def test_three_times_the_crude_load_is_too_much_for_any_of_them():
    for thickness in (0.25, 0.3125, 0.375):
        assert over(3 * LOWER, thickness_in=thickness) & {"bending", "welds", "hole", "root"}


def test_a_shock_bolt_does_not_hold_a_lower_link():
    # 1/2 in bolts are for shocks; in a wide joint they bend long before they shear
    assert over(LOWER, bolt="1/2-13", thickness_in=0.3125) == {"bending"}


def test_thin_tabs_are_for_upper_links_and_shocks():
    # 3/16 in: not for a lower link; a light link or a shock, a third of it, is carried
    assert over(LOWER, thickness_in=0.1875)
    assert over(LOWER / 3, thickness_in=0.1875) == set()


def test_a_bracket_an_eighth_too_wide_bends_its_bolt_half_as_much_again():
    def bending(gap):
        case = bracket((LOWER, 0, 0), brace=1.4 * INCH, outward=30.0, gap=gap, thickness_in=0.3125)
        return max(s.used for s in strengths_of_kind(case, "bending") if s.judged)

    assert bending(0.125) > 1.5 * bending(0.02)


def test_the_links_of_a_splayed_four_link_carry_what_the_crude_sum_gives_within_a_fifth():
    sheet = sheet_of(REAR, loads__drive_factor="1")
    axle = axle_of(sheet)
    loads = loads_of(sheet, axle).case("drive").links
    weights = weights_of(sheet, axle)
    # joints of the example: lowers 420 mm, uppers 660 mm above the ground
    crude = link_force(weights.pressed, weights.friction, 445.0, 240.0)
    lower = abs(loads["lower-left"] + loads["lower-right"])
    upper = abs(loads["upper-left"] + loads["upper-right"])
    assert lower == pytest.approx(crude.lower_force, rel=0.2)
    assert upper == pytest.approx(crude.upper_force, rel=0.2)
    assert 1000 * LBF < upper < lower < 20_000 * LBF
