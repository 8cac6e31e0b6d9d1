"""The flat wall of a rail under a tab against hand sums of the code, and statics."""

import pytest

from fixturegen.errors import InputFault
from fixturegen.studies.bracket_case import check_case
from fixturegen.studies.bracket_strength import left_out, strength_of
from fixturegen.studies.rail_wall import plate_across_rail, plate_along_rail, rail_strengths
from tests.studies.bracket_cases import INCH, KIP, KSI, bracket, changed


def test_a_plate_across_the_rail_is_the_hand_sum_of_the_code():
    # AISC 360 table K2.2 (from memory): 10 / (B / t) Fy t Bp = 10 / 16 x 46 x 0.25 x 3 = 21.56 kip on a 4 x 0.25 rail
    def kips(width, thickness=0.25, plate=36.0):
        pull = plate_across_rail(width * INCH, thickness * INCH, 4 * INCH, 0.25 * INCH, 46 * KSI, plate * KSI)
        return pull / KIP

    assert kips(3.0) == pytest.approx(10 / 16 * 46 * 0.25 * 3)
    # a thin plate yields first: 36 x 0.125 x 3 = 13.5 kip
    assert kips(3.0, 0.125) == pytest.approx(13.5)
    # from 0.85 B on its ends punch: 0.6 x 46 x 0.25 x (2 x 0.25 + 2 x 10 x 3.45 / 16) = 33.2 kip, above 24.8
    assert kips(3.45) == pytest.approx(10 / 16 * 46 * 0.25 * 3.45)


def test_a_plate_along_the_rail_is_the_hand_sum_of_the_code():
    # AISC 360 table K2.2 (from memory): 46 x 0.0625 / 0.9375 x (2 x 3 / 4 + 4 sqrt(0.9375)) = 16.48 kip
    pull = plate_along_rail(3 * INCH, 0.25 * INCH, 4 * INCH, 0.25 * INCH, 46 * KSI, 0.0)
    assert pull / KIP == pytest.approx(16.48, abs=0.01)
    pressed = plate_along_rail(3 * INCH, 0.25 * INCH, 4 * INCH, 0.25 * INCH, 46 * KSI, 0.6)
    assert pressed / KIP == pytest.approx(46 * 0.0625 / 0.9375 * (1.5 + 4 * 0.9375**0.5 * 0.8), rel=1e-6)


def test_a_rail_holds_a_small_load_and_trips_under_a_large_one():
    for across in (True, False):
        rail = bracket((500, 1000, 0), tube_radius=0.0, rail_width=4 * INCH, across_tube=across)
        (found,) = rail_strengths(rail)
        assert found.holds and "outside" not in found.note
        hard = changed(rail, force=tuple(12 * f for f in rail.force))
        assert not rail_strengths(hard)[0].holds
        assert found in strength_of(rail)


def test_the_moment_is_one_half_of_the_plate_against_the_other():
    # statics: half the width pulls with half the strength, an arm of half the width: R w / 4
    rail = bracket((1000, 0, 0), tube_radius=0.0, rail_width=4 * INCH)
    (found,) = rail_strengths(rail)
    given = {g.name: g.value for g in found.given}
    assert given["strength for moment, M"] == pytest.approx(given["strength for pull, R"] / 2 * 3 * INCH / 2)


def test_a_thin_rail_and_one_of_unknown_width_are_told():
    thin = bracket((500, 0, 0), tube_radius=0.0, rail_width=4 * INCH, tube_wall=0.1 * INCH)
    assert "width over wall is 40" in rail_strengths(thin)[0].note
    unknown = bracket((500, 0, 0), tube_radius=0.0)
    assert rail_strengths(unknown) == ()
    assert any("give the rail's width" in s for s in left_out(unknown))
    assert not any("rail's width" in s for s in left_out(thin))


def test_a_rail_narrower_than_its_walls_or_beside_a_round_tube_is_refused():
    for changes in ({"rail_width": 12.0, "tube_radius": 0.0}, {"rail_width": 100.0}):
        with pytest.raises(InputFault, match="rail width"):
            check_case(bracket(**changes))
