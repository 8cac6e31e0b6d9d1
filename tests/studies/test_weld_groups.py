"""Weld groups in space against statics, closed forms, a section library and a textbook's example."""

import itertools
import math

import numpy as np
import pytest

from fixturegen.calc._welds import weld_flow, weld_group
from fixturegen.errors import InputFault
from fixturegen.studies.strength_records import steel_of
from fixturegen.studies.weld_groups import weld_strengths
from fixturegen.studies.weld_lines import WeldLine, counted_lines, flow_in_space, line_group, run_lengths, worst_point

INCH = 25.4
KIP = 4448.2216152605
FORCE, AT, MOMENT = (300.0, -700.0, 450.0), (25.0, 140.0, 60.0), (4000.0, -9000.0, 20000.0)


def line(start, end, leg=6.0, **more):
    return WeldLine(tuple(map(float, start)), tuple(map(float, end)), leg, **{"plate": 10.0, "wall": 10.0, **more})


def arc(radius=44.45, wrap=100.0, z=0.0, count=12, leg=6.0):
    """A saddle weld round a tube as short straight ones."""
    turns = [math.radians(wrap * (i / count - 0.5)) for i in range(count + 1)]
    points = [(radius * math.sin(a), radius * math.cos(a) - radius, z) for a in turns]
    return tuple(line(a, b, leg) for a, b in itertools.pairwise(points))


SPACE = (*arc(z=-30), *arc(z=36, leg=8.0), line((-20, 3, -30), (-20, 3, 36)), line((5, -2, 0), (9, 40, 17), 5.0))
FLAT = (line((3, 5, 0), (40, 22, 0)), line((10, 60, 0), (55, 31, 0)), line((-20, 0, 0), (-20, 45, 0)))


def summed(lines, flow, about=(0.0, 0.0, 0.0)):
    """Force and moment of a flow, by Simpson's rule, which is exact for arm times flow."""
    force, moment = np.zeros(3), np.zeros(3)
    for one, ends in zip(lines, flow, strict=True):
        start, end = np.array(one.start), np.array(one.end)
        for share, t in ((1 / 6, 0.0), (4 / 6, 0.5), (1 / 6, 1.0)):
            pull = (ends[0] * (1 - t) + ends[1] * t) * one.length * share
            force += pull
            moment += np.cross(start * (1 - t) + end * t - np.array(about), pull)
    return force, moment


@pytest.mark.parametrize("lines", [SPACE, FLAT], ids=["space", "flat"])
def test_the_flow_adds_up_to_the_load(lines):
    # statics: force and moment of the flow are those of the load, to 1e-9 of it
    flow = flow_in_space(lines, FORCE, AT, MOMENT)
    force, moment = summed(lines, flow)
    wanted = np.cross(AT, FORCE) + MOMENT
    assert force == pytest.approx(np.array(FORCE), abs=1e-9 * np.linalg.norm(FORCE))
    assert moment == pytest.approx(wanted, abs=1e-9 * np.linalg.norm(wanted))
    # the check can trip: one end's flow changed by a thousandth is seen
    flow[0, 0, 0] *= 1.001
    assert summed(lines, flow)[0] != pytest.approx(np.array(FORCE), abs=1e-9 * np.linalg.norm(FORCE))


def test_in_one_plane_it_is_the_usual_elastic_method():
    # two independent ways: the plane formulas of the calc room and the turn in space
    plain = [(*w.start[:2], *w.end[:2]) for w in FLAT]
    assert flow_in_space(FLAT, FORCE, AT, MOMENT) == pytest.approx(weld_flow(plain, FORCE, AT, MOMENT), rel=1e-9)


def test_a_turned_group_under_a_turned_load_has_a_turned_flow():
    # a law: nothing hangs on how the axes lie
    turn = np.array([[0.36, 0.48, -0.8], [-0.8, 0.6, 0.0], [0.48, 0.64, 0.6]])
    turned = tuple(line(turn @ w.start, turn @ w.end, w.leg) for w in SPACE)
    flow = flow_in_space(turned, tuple(turn @ FORCE), tuple(turn @ AT), tuple(turn @ MOMENT))
    assert flow == pytest.approx(flow_in_space(SPACE, FORCE, AT, MOMENT) @ turn.T, rel=1e-9, abs=1e-9)


def test_lines_have_the_second_moments_of_thin_strips_in_a_section_library():
    # sectionproperties, lines of the group as strips of their throat, throats thin
    from sectionproperties.analysis import Section
    from sectionproperties.pre import CompoundGeometry, Geometry
    from shapely import Polygon

    thin = 0.05
    strips = []
    for one in FLAT:
        start, end = np.array(one.start[:2]), np.array(one.end[:2])
        along = (end - start) / one.length
        side = thin / 2 * np.array([-along[1], along[0]])
        strips.append(Geometry(Polygon([start - side, end - side, end + side, start + side])))
    section = Section(CompoundGeometry(strips).create_mesh(mesh_sizes=[0.0]))
    section.calculate_geometric_properties()
    found = line_group(tuple(line(w.start, w.end, thin * math.sqrt(2)) for w in FLAT))
    ixx, iyy, ixy = section.get_ic()
    assert found.area == pytest.approx(section.get_area(), rel=1e-6)
    assert found.centroid[:2] == pytest.approx(section.get_c(), rel=1e-6)
    assert found.spread[1][1] == pytest.approx(ixx, rel=1e-5)
    assert found.spread[0][0] == pytest.approx(iyy, rel=1e-5)
    assert found.spread[0][1] == pytest.approx(ixy, rel=1e-5)


def test_a_textbook_bracket_on_a_channel_comes_out():
    # Shigley, Mechanical Engineering Design, example 9-1 (from memory): welds of 6 mm on three sides,
    # 56 and 190 mm, 25 kN at 110.4 mm from their centroid: A 1280 mm^2, x 10.4 mm, J 7.07e6 mm^4,
    # 19.5 MPa direct; 37.0 MPa at the far ends, 44.0 MPa at the corners, or the other way round
    lines = tuple(
        line(a, b) for a, b in (((56, 95, 0), (0, 95, 0)), ((0, 95, 0), (0, -95, 0)), ((0, -95, 0), (56, -95, 0)))
    )
    group = line_group(lines)
    assert group.area == pytest.approx(1280, rel=2e-3)
    assert group.centroid[0] == pytest.approx(10.4, abs=0.03)
    assert group.spread[0][0] + group.spread[1][1] == pytest.approx(7.07e6, rel=2e-3)
    flow = flow_in_space(lines, (0.0, -25000.0, 0.0), (10.38 - 110.4, 0.0, 0.0))
    stress = np.linalg.norm(flow, axis=2) / lines[0].throat
    assert sorted({round(float(s), 0) for s in stress.ravel()}) == [37.0, 44.0]
    assert worst_point(lines, (0.0, -25000.0, 0.0), (10.38 - 110.4, 0.0, 0.0)).size / lines[0].throat == pytest.approx(
        44.0, abs=0.2
    )


def test_a_quarter_inch_fillet_carries_the_kips_of_common_practice():
    # 0.3 x 70 ksi x 0.7071 x 1/4 in = 3.71 kip/in; AISC: 0.928 kip/in for each sixteenth of leg
    lines = (line((0, 0, 0), (4 * INCH, 0, 0), INCH / 4),)
    worst = worst_point(lines, (10 * KIP, 0.0, 0.0), (0.0, 0.0, 0.0))
    assert worst.size == pytest.approx(2.5 * KIP / INCH)
    assert worst.strength / 2 == pytest.approx(4 * 0.928 * KIP / INCH, rel=1e-3)
    assert worst.strength / 2 == pytest.approx(3.7 * KIP / INCH, rel=0.01)


def test_a_weld_across_the_load_counts_half_as_much_again_only_when_asked():
    # AISC teaching example: 8 in of 3/4 in fillet, E70: 133.6 kip along the load, 200.4 kip across it (0.75 in it)
    lines = (line((0, 0, 0), (8 * INCH, 0, 0), 0.75 * INCH),)
    middle = (4 * INCH, 0.0, 0.0)
    for push, direction, kips in (((KIP, 0, 0), True, 133.6), ((0, KIP, 0), True, 200.4), ((0, KIP, 0), False, 133.6)):
        worst = worst_point(lines, push, middle, by_direction=direction)
        assert 0.75 * worst.strength * 8 * INCH / KIP == pytest.approx(kips, rel=1e-3)
        assert worst.angle == pytest.approx(90.0 if push[1] else 0.0)


def test_a_root_gap_over_a_sixteenth_is_taken_off_the_leg():
    # AWS D1.1, fit-up of fillets (from memory): the leg grows by the gap where it is over 1/16 in
    assert line((0, 0, 0), (9, 0, 0), root_gap=INCH / 16).counted_leg == 6.0
    assert line((0, 0, 0), (9, 0, 0), root_gap=2.0).counted_leg == pytest.approx(4.0)


def by_what(lines, push, at=(0.0, 0.0, 0.0), **more):
    found = weld_strengths(lines, push, at, plate=steel_of("a36"), wall=steel_of("dom-1020"), **more)
    return {s.what.split(": ")[1]: s for s in found}


def test_plate_and_wall_beside_the_weld_carry_what_the_code_gives():
    # AISC J4.2 (from memory): 0.6 Fy t / 1.5 and 0.6 Fu t / 2; A36 36/58 ksi, drawn tube 60/70 ksi, 1/4 in
    quarter = INCH / 4
    lines = (line((0, 0, 0), (INCH, 0, 0), quarter, plate=quarter, wall=quarter, sides=1),)
    found = by_what(lines, (KIP, 0.0, 0.0))
    wall, plate = found["wall beside the weld, rupture"], found["plate beside the weld, yield"]
    assert wall.capacity * INCH / KIP == pytest.approx(0.6 * 70 / 4)
    # the plate under shear alone: 0.6 Fy t, held against the factor of yield in pull
    assert plate.reserve == pytest.approx(0.6 * 36 / 4)
    assert plate.factor.value == pytest.approx(1.67)
    across = by_what(lines, (0.0, KIP, 0.0), (INCH / 2, 0.0, 0.0))["plate beside the weld, yield"]
    assert across.reserve == pytest.approx(36 / 4)


def test_every_strength_of_a_group_trips_when_it_is_used_up():
    short = (line((0, 0, 0), (20, 0, 0), 6.0),)
    small = by_what((line((0, 0, 0), (200, 0, 0), 3.0, plate=20.0, wall=15.0),), (10.0, 0.0, 0.0))
    good = by_what((line((0, 0, 0), (200, 0, 0), 6.0),), (1000.0, 0.0, 0.0))
    bad = by_what((line((0, 0, 0), (200, 0, 0), 6.0),), (300_000.0, 0.0, 0.0))
    assert all(s.holds for s in good.values())
    assert [w for w, s in bad.items() if not s.holds] == list(good)[:3]
    assert not small["leg for the thickness"].holds  # AWS D1.1: over 1/2 to 3/4 in: 1/4 in
    assert small["leg for the thickness"].demand == pytest.approx(INCH / 4)
    assert not by_what(short, (10.0, 0.0, 0.0))["shortest run"].holds  # 20 mm, four legs are 24
    for found in good.values():
        assert found.given and found.formula and found.cited() and found.not_covered


def test_the_leg_is_told_where_it_is_farthest_below_what_the_thickness_asks():
    # AWS D1.1 table 7.7: 1/8 in to 1/4 in, 3/16 to 1/2, 1/4 to 3/4; of the thinner part
    lines = (
        line((0, 0, 0), (99, 0, 0), 6.0, plate=5.0, wall=20.0),
        line((0, 9, 0), (99, 9, 0), 5.0, plate=16.0, wall=15.0),
    )
    leg = by_what(lines, (10.0, 0.0, 0.0))["leg for the thickness"]
    assert (leg.demand, leg.capacity) == (pytest.approx(INCH / 4), 5.0)
    assert leg.note == ""
    thin = by_what((line((0, 0, 0), (99, 0, 0), 4.0, plate=5.0, wall=20.0),), (10.0, 0.0, 0.0))["leg for the thickness"]
    assert thin.demand == pytest.approx(INCH / 8) and "3/16" in thin.note


def test_lines_that_go_on_are_one_run():
    assert sorted(length for length, _ in run_lengths((*arc(), line((500, 0, 0), (530, 0, 0))))) == pytest.approx(
        [30.0, sum(w.length for w in arc())]
    )


def test_twice_the_leg_is_half_the_share():
    one = worst_point(FLAT, FORCE, AT, MOMENT)
    two = worst_point(tuple(line(w.start, w.end, 12.0) for w in FLAT), FORCE, AT, MOMENT)
    assert two.size / two.strength == pytest.approx(one.size / one.strength / 2)
    assert weld_group([(*w.start[:2], *w.end[:2]) for w in FLAT]).length == pytest.approx(line_group(FLAT).length)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ((), "no weld that carries"),
        ((line((0, 0, 0), (0, 0, 0)),), "no weld that carries"),
        ((line((0, 0, 0), (9, 0, 0), root_gap=7.0),), "no weld that carries"),
        ((line((0, 0, 0), (9, 0, 0), leg=0.0),), "zero or less"),
        ((line((0, 0, math.nan), (9, 0, 0)),), "not finite"),
        ((line((0, 0, 0), (9, 0, 0)), line((20, 0, 0), (29, 0, 0))), "one straight line"),
    ],
)
def test_welds_that_cannot_carry_are_refused_in_one_sentence(lines, words):
    with pytest.raises(InputFault, match=words) as caught:
        flow_in_space(lines, (0.0, 100.0, 0.0), (0.0, 0.0, 10.0))
    assert "\n" not in str(caught.value)


def test_a_short_run_counts_with_a_leg_of_a_quarter_of_its_length():
    # AISC 360 J2.2b; lines that go on are one run, so two halves of a long one count in full
    def line(x0, x1, z=0.0):
        return WeldLine((x0, 0.0, z), (x1, 0.0, z), 8.0, 10.0, 10.0)

    short, one, other = line(0.0, 20.0), line(0.0, 20.0, 50.0), line(20.0, 40.0, 50.0)
    assert [w.leg for w in counted_lines((short, one, other))] == [5.0, 8.0, 8.0]
    assert counted_lines((one, other)) == (one, other)
