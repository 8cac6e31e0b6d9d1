"""The wall of a tube under a bracket against hand sums of the code, shell theory solved another way, and laws."""

import numpy as np
import pytest
from scipy.linalg import solve_banded

from fixturegen.studies.bracket_case import tab_loads
from fixturegen.studies.tube_wall import line_load_stress, plate_on_tube, wall_strengths
from tests.studies.bracket_cases import INCH, KIP, KSI, bracket, changed


def plate(width, across=True, pressed=0.0, fy=46.0, fu=62.0, wall=0.25, diameter=4.0):
    return plate_on_tube(diameter * INCH, wall * INCH, width * INCH, fy * KSI, fu * KSI, across=across, pressed=pressed)


def test_a_plate_across_the_tube_is_the_hand_sum_of_the_code():
    # AISC 360 table K2.1 (from memory): 46 x 0.0625 x 5.5 / (1 - 0.81 x 3 / 4) = 40.29 kip; M = 0.5 x 3 x 40.29
    found = plate(3.0)
    # A500 grade C: 46 / 62 = 0.742 is below 0.8, so its yield strength counts in full
    assert found.yield_counted == pytest.approx(46 * KSI)
    assert found.pull / KIP == pytest.approx(40.29, abs=0.01)
    assert found.moment / KIP / INCH == pytest.approx(60.43, abs=0.01)
    # the column-wide plate: 1 - 0.81 = 0.19; wider than the tube counts as wide as it
    assert plate(4.0).pull / KIP == pytest.approx(46 * 0.0625 * 5.5 / 0.19, rel=1e-9)
    assert plate(5.0).pull == plate(4.0).pull


def test_a_plate_along_the_tube_is_the_hand_sum_of_the_code():
    # AISC 360 table K2.1 (from memory): 5.5 x 46 x 0.0625 x (1 + 0.25 x 4 / 4) = 19.77 kip; M = 0.8 x 4 x 19.77
    found = plate(4.0, across=False)
    assert found.pull / KIP == pytest.approx(19.77, abs=0.01)
    assert found.moment / KIP / INCH == pytest.approx(63.25, abs=0.02)


def test_a_tube_pressed_by_its_own_bending_carries_less():
    # AISC 360 K (from memory): Qf = 1 - 0.3 U (1 + U), 0.775 at U = 0.5
    assert plate(3.0, pressed=0.5).pull == pytest.approx(0.775 * plate(3.0).pull)


def test_drawn_tube_counts_to_52_ksi_and_to_four_fifths_of_its_tensile_strength():
    assert plate(3.0, fy=60, fu=70).yield_counted == pytest.approx(52 * KSI)
    assert plate(3.0, fy=60, fu=60).yield_counted == pytest.approx(48 * KSI)


def test_a_line_load_is_the_piping_formula():
    # piping practice (Kellogg, from memory): 1.17 f sqrt(R) / t^1.5
    assert line_load_stress(100.0, 0.0, 40.0, 6.0) == pytest.approx(1.17 * 100 * 40**0.5 / 6**1.5, rel=3e-3)


def test_the_shell_solved_as_a_strip_on_springs_gives_the_same_stress():
    # Timoshenko (from memory): D w'''' + E t w / R^2 = load; solved by finite differences, far ends held
    radius, wall, modulus = 40.0, 6.0, 200_000.0
    rigid = modulus * wall**3 / 12 / (1 - 0.09)
    count, half = 12_001, 120.0
    step = 2 * half / (count - 1)
    bands = np.zeros((5, count))
    for row, value in enumerate((1.0, -4.0, 6.0, -4.0, 1.0)):
        bands[row] = rigid * value / step**4
    bands[2] += modulus * wall / radius**2
    middle = count // 2
    for flow, couple in ((100.0, 0.0), (0.0, 100.0)):
        load = np.zeros(count)
        load[middle] = flow / step
        load[middle + 1] += couple / (2 * step) / step
        load[middle - 1] -= couple / (2 * step) / step
        bent = solve_banded((2, 2), bands, load)
        moment = rigid * np.gradient(np.gradient(bent, step), step)
        largest = np.abs(moment).max()
        assert line_load_stress(flow, couple, radius, wall) == pytest.approx(6 * largest / wall**2, rel=5e-3)


def named(case, start):
    return next(s for s in wall_strengths(case) if s.what.startswith(start))


def test_pull_and_moment_of_both_tabs_are_added_where_they_stand_near():
    case = bracket((4000, 3000, 0))
    limit = named(case, "wall of the tube under both tabs")
    loads = tab_loads(case)
    # 52 ksi x 0.0625 x 5.5 / (1 - 0.81 x 3 / 3.5) = 58.5 kip; moment 4000 x 2.5 over 0.5 x 3 x 58.5
    pull = 52 * 0.0625 * 5.5 / (1 - 0.81 * 3 / 3.5)
    assert limit.demand == pytest.approx(3 / pull + 10 / (1.5 * pull), rel=1e-6)
    assert "nearer than a diameter" in limit.note
    apart = changed(case, joint_width=4.0 * INCH)
    assert named(apart, "wall of the tube under tab").demand == pytest.approx(limit.demand / 2)
    assert sum(a.radial for a in loads) == pytest.approx(case.force[1])


def test_a_thin_wall_trips_and_a_thick_one_holds():
    assert named(bracket((9000, 0, 0)), "wall of the tube").holds
    thin = bracket((9000, 0, 0), tube_wall=0.12 * INCH)
    assert not named(thin, "wall of the tube").holds
    assert not named(bracket((9000, 0, 0), tube_wall=0.12 * INCH, across_tube=False), "wall of the tube").holds


def test_what_is_outside_the_rules_is_said():
    thin = named(bracket((1000, 0, 0), tube_wall=0.06 * INCH), "wall of the tube")
    narrow = named(bracket((1000, 0, 0), root_width=0.5 * INCH), "wall of the tube")
    assert "diameter over wall is 58" in thin.note
    assert "narrower than 0.2" in narrow.note
    assert "52 ksi" in narrow.note
    assert "outside" not in named(bracket((1000, 0, 0)), "wall of the tube").note


def test_the_surface_of_the_wall_is_told_and_not_judged():
    case = bracket((4000, 3000, 200))
    told = named(case, "surface of the tube's wall")
    assert not told.judged and told.holds
    assert any("oval" in w for w in told.not_covered)
    assert not any(s.what.startswith("surface") for s in wall_strengths(changed(case, across_tube=False)))
    assert wall_strengths(changed(case, tube_radius=0.0)) == ()
