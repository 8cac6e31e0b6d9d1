"""Weld groups against closed forms (Blodgett, section 7.4, from memory), sectionproperties and statics."""

import numpy as np
import pytest

from fixturegen.calc._welds import weld_flow, weld_group

B, D = 60.0, 100.0
TWO = [(0, 0, 0, D), (B, 0, B, D)]
BOX = [*TWO, (0, 0, B, 0), (0, D, B, D)]
ANGLE = [(0, 0, 0, 90), (0, 0, 50, 0)]
CHANNEL = [(0, 0, 40, 0), (0, 0, 0, 80), (0, 80, 40, 80)]
SKEW = [(3, 5, 40, 22), (10, 60, 55, 31), (-20, 0, -20, 45)]


def test_closed_forms_of_two_lines_and_of_a_box_come_out():
    two, box = weld_group(TWO), weld_group(BOX)
    # two lines: Sw = d^2 / 3, Jw = d (3 b^2 + d^2) / 6; box: Sw = b d + d^2 / 3, Jw = (b + d)^3 / 6
    assert two.ix / (D / 2) == pytest.approx(D**2 / 3)
    assert two.polar == pytest.approx(D * (3 * B**2 + D**2) / 6)
    assert box.ix / (D / 2) == pytest.approx(B * D + D**2 / 3)
    assert box.polar == pytest.approx((B + D) ** 3 / 6)
    assert two.polar != pytest.approx(box.polar)


@pytest.mark.parametrize("lines", [ANGLE, CHANNEL, SKEW], ids=["angle", "channel", "skew"])
def test_line_properties_agree_with_a_section_library_on_thin_strips(lines):
    from sectionproperties.analysis import Section
    from sectionproperties.pre import CompoundGeometry, Geometry
    from shapely import Polygon

    thin = 0.05
    strips = []
    for x0, y0, x1, y1 in lines:
        along = np.array([x1 - x0, y1 - y0]) / np.hypot(x1 - x0, y1 - y0)
        side = thin / 2 * np.array([-along[1], along[0]])
        # a strip starts off the corner so that two of them do not share steel
        start, end = np.array([x0, y0]) + thin / 2 * along, np.array([x1, y1])
        strips.append(Geometry(Polygon([start - side, end - side, end + side, start + side])))
    section = Section(CompoundGeometry(strips).create_mesh(mesh_sizes=[0.0]))
    section.calculate_geometric_properties()
    found = weld_group(lines)
    assert found.length == pytest.approx(section.get_area() / thin, rel=2e-3)
    assert found.centroid == pytest.approx(section.get_c(), abs=0.05)
    assert (found.ix, found.iy, found.ixy) == pytest.approx([v / thin for v in section.get_ic()], rel=3e-3, abs=60)


@pytest.mark.parametrize("lines", [BOX, ANGLE, CHANNEL, SKEW], ids=["box", "angle", "channel", "skew"])
def test_the_flow_adds_up_to_force_and_moment(lines):
    force, at, moment = np.array([300.0, -700, 450]), np.array([25.0, 140, 60]), np.array([4000.0, -9000, 20000])
    flow = weld_flow(lines, force, at, moment)
    ends = np.asarray(lines, dtype=float).reshape(-1, 2, 2)
    lengths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    total, turned = np.zeros(3), np.zeros(3)
    # Simpson's rule is exact for the square that arm times flow is
    for share, t in ((1 / 6, 0.0), (4 / 6, 0.5), (1 / 6, 1.0)):
        here = ends[:, 0] * (1 - t) + ends[:, 1] * t
        pull = (flow[:, 0] * (1 - t) + flow[:, 1] * t) * lengths[:, None] * share
        total += pull.sum(axis=0)
        turned += np.cross(np.column_stack([here, np.zeros(len(here))]), pull).sum(axis=0)
    assert total == pytest.approx(force)
    assert turned == pytest.approx(np.cross(at, force) + moment)


def test_torsion_of_two_lines_is_that_of_the_hand_sum():
    # P at arm e beside the group: f = P / L + P e r / J at the far corner
    load, arm = 1000.0, 150.0
    flow = weld_flow(TWO, (0, load, 0), (B / 2 + arm, D / 2, 0))
    polar = D * (3 * B**2 + D**2) / 6
    corner = flow[1, 1]
    assert corner == pytest.approx([-load * arm * D / 2 / polar, load / (2 * D) + load * arm * B / 2 / polar, 0])
    # left out, the torsion would be seen
    assert np.hypot(*corner[:2]) > 2 * load / (2 * D)


def test_one_straight_weld_refuses_a_moment_that_turns_about_it():
    line = [(0, 0, 0, 100)]
    assert weld_flow(line, (0, 0, 100), (0, 80, 0))[0, 1, 2] == pytest.approx(100 / 100 + 100 * 30 * 50 / (100**3 / 12))
    with pytest.raises(ValueError, match="about its own line"):
        weld_flow(line, (0, 0, 100), (20, 50, 0))
    with pytest.raises(ValueError, match="has a length"):
        weld_group([(1, 1, 1, 1)])
