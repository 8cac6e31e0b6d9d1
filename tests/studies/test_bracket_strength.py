"""A whole bracket: every way of giving out is told, with what it hangs on, and the weakest is found."""

import math

import pytest

from fixturegen.errors import InputFault
from fixturegen.findings import Trust
from fixturegen.sources import source
from fixturegen.studies.bracket_strength import governing, left_out, strength_of
from fixturegen.studies.strength_records import FATIGUE
from tests.studies.bracket_cases import INCH, LBF, bracket, changed


def test_a_sound_bracket_holds_in_every_way_and_trips_under_ten_times_the_load():
    found = strength_of(bracket((2500, 500, 100), gap=0.015))
    assert all(s.holds for s in found)
    broken = strength_of(bracket((25_000, 5000, 1000), gap=0.015))
    assert sum(not s.holds for s in broken) > len(broken) / 2
    assert len({s.what for s in found}) == len(found)


def test_every_number_stands_beside_its_inputs_formula_source_factor_and_gaps():
    for case in (bracket((3000, 500, 200)), bracket((3000, 500, 200), brace=1.5 * INCH), bracket(code="bth")):
        for s in strength_of(case):
            assert s.what and s.given and s.formula and s.not_covered
            assert source(s.source) and s.cited()
            assert s.factor.value >= 1 and source(s.factor.source)
            assert s.unit in {"N", "MPa", "N/mm", "mm", "1"}
            assert all(math.isfinite(g.value) for g in s.given) and math.isfinite(s.capacity)
            assert isinstance(s.trust, Trust)
            if s.unit in {"N", "MPa", "N/mm"} and s.judged:
                assert FATIGUE in s.not_covered


def test_loads_and_forces_grow_together():
    # a law: everything is linear in the force, sizes and gap aside
    one, two = bracket((2000, 300, 100)), bracket((4000, 600, 200))
    for a, b in zip(strength_of(one), strength_of(two), strict=True):
        assert b.used == pytest.approx((1 if a.unit == "mm" else 2) * a.used), a.what


def test_a_mirrored_load_uses_a_mirrored_bracket_alike():
    for force, mirrored in (((2000, 300, 100), (2000, 300, -100)), ((2000, 300, 0), (-2000, 300, 0))):
        for a, b in zip(strength_of(bracket(force)), strength_of(bracket(mirrored)), strict=True):
            assert b.used == pytest.approx(a.used), a.what


def test_a_cross_plate_makes_one_group_of_the_welds():
    free, braced = bracket((2000, 0, 400), gap=0.0), bracket((2000, 0, 400), gap=0.0, brace=1.5 * INCH)
    weld = [next(s for s in strength_of(c) if "weld metal" in s.what) for c in (free, braced)]
    assert weld[0].what.startswith("welds of the tab")
    assert weld[1].what == "welds: weld metal"
    assert weld[1].used < weld[0].used


def test_the_weakest_is_found_and_named():
    case = bracket((2000, 0, 0), gap=0.2)
    assert governing(strength_of(case)).what == "gap that the bolt draws in"
    thin = changed(bracket((4000, 0, 0), gap=0.0), edge=0.45 * INCH)
    assert governing(strength_of(thin)).what.endswith("torn out to the edge")


def test_no_load_uses_nothing_and_a_used_up_strength_is_endless():
    idle = strength_of(bracket((0, 0, 0), gap=0.0))
    assert all(s.used == 0 for s in idle if s.unit != "mm")
    assert all(s.reserve == math.inf for s in idle if s.unit not in {"mm"})


def test_what_no_strength_speaks_of_is_said():
    assert any("flat wall" in s for s in left_out(bracket(tube_radius=0.0)))
    assert any("told, not judged" in s for s in left_out(bracket()))
    assert not any("told" in s for s in left_out(bracket(brace=20.0)))
    assert not any("wall of the tube" in s.what for s in strength_of(bracket((1, 0, 0), tube_radius=0.0)))


def test_a_bracket_without_the_welds_of_one_tab_is_refused():
    case = bracket((1000, 0, 0))
    with pytest.raises(InputFault, match="no weld that carries"):
        strength_of(changed(case, welds=tuple(w for w in case.welds if w.start[2] > 0)))


def test_each_tab_hangs_on_its_own_welds():
    # the tab that carries more is the one the force stands nearer to: a small leg there is told, not elsewhere
    from tests.studies.bracket_cases import tab_welds

    z = (2.625 + 0.02 + 0.25) / 2
    small, large = tab_welds(z, leg=0.1875), tab_welds(-z, leg=0.375)
    case = bracket((2000, 0, 0), off_middle=0.8 * INCH, welds=(*small, *large))
    weld = next(s for s in strength_of(case) if "weld metal" in s.what)
    assert weld.what.startswith("welds of the tab at +z")
    share = 2000 * LBF * (0.5 + 0.8 / 2.895)
    direct, bent = share / (6 * INCH), share * 2.5 * INCH / (3 * INCH) ** 2 * 3
    # statics: shear over both lines, moment in the plane of the tab by L^2 / 6 for each of them
    assert weld.demand == pytest.approx(math.hypot(direct, bent), rel=1e-3)


def test_a_strength_as_json_has_no_number_without_end():
    import json

    for s in strength_of(bracket((0, 0, 0), gap=0.0)):
        row = json.loads(json.dumps(s.as_json(), allow_nan=False))
        assert row["factor_asked"] == s.factor.value and row["source"] == s.cited()


def test_single_shear_is_worked_out_about_its_one_tab():
    z = -(0.75 + 0.125) * INCH
    from tests.studies.bracket_cases import tab_welds

    case = bracket((0, 600, 0), joint=1.5, gap=0.0, bolt="5/8-11", single_shear=True, welds=tab_welds(z / INCH))
    weld = next(s for s in strength_of(case) if "weld metal" in s.what)
    # statics: pull over both lines, and its lever beside the tab between lines a tab's thickness apart
    pull = 600 * LBF
    wanted = pull / (2 * 3 * INCH) + pull * 0.875 * INCH / (0.25 * INCH) / (3 * INCH)
    assert weld.demand == pytest.approx(wanted, rel=1e-6)
