"""Templates for the ends of tubes, against closed forms and points taken on the surfaces themselves."""

import math

import numpy as np
import pytest

from fixturegen.calc.mitre import mitre
from fixturegen.calc.saddle import saddle
from fixturegen.calc.wrap import wrap
from fixturegen.errors import InputFault


def test_tubes_of_one_size_square_to_each_other_give_the_textbook_curve():
    # closed form: on equal cylinders the shared line lies in two planes at 45 deg, so z = r |cos|
    made = wrap(branch=50.0, main=50.0, angle=90.0)
    assert made.depth == pytest.approx(25.0, abs=1e-6)
    assert made.circumference == pytest.approx(math.pi * 50.0)
    for _, turn, around, cut in made.table:
        assert cut == pytest.approx(25.0 * abs(math.cos(math.radians(turn))), abs=1e-6)
        assert around == pytest.approx(math.radians(turn) * 25.0)


def test_every_point_of_the_table_lies_on_both_tubes():
    r, big, lean, aside = 20.0, 38.0, math.radians(55.0), 7.0
    made = wrap(branch=2 * r, main=2 * big, angle=55.0, offset=aside)
    axis, side = np.array([math.cos(lean), 0.0, math.sin(lean)]), np.array([math.sin(lean), 0.0, -math.cos(lean)])
    # main along x through the origin; turn 0 looks along +x, into the corner of 55 deg; turn 90 along +y
    foot = np.array([0.0, -aside, 0.0])
    low = None
    for _, turn, around, cut in made.table:
        a = math.radians(turn)
        assert around == pytest.approx(r * a)
        wall = foot + r * (math.cos(a) * side + math.sin(a) * np.array([0.0, 1.0, 0.0]))
        # closed form of the line through `wall` along the axis and the cylinder y2 + z2 = R2
        b, c = wall[2] * axis[2], wall[1] ** 2 + wall[2] ** 2 - big**2
        t = (-b + math.sqrt(b * b - axis[2] ** 2 * c)) / axis[2] ** 2
        low = t - cut if low is None else low
        assert t - cut == pytest.approx(low, abs=1e-6)


def test_the_published_depth_and_the_older_topic_agree():
    # derived oracle: branch r 0.75 on main R 1.0 at 90 deg, depth 1 - sqrt(1 - 0.75^2) = 0.3386
    made = wrap(branch=1.5 * 25.4, main=2.0 * 25.4, angle=90.0)
    assert made.depth / 25.4 == pytest.approx(0.3386, abs=5e-5)
    assert made.depth == pytest.approx(saddle(branch=38.1, main=50.8, angle=90.0).depth)


def test_a_branch_that_passes_beside_the_main_tube_is_refused():
    wrap(branch=40.0, main=60.0, angle=90.0, offset=10.0)
    with pytest.raises(InputFault, match="--offset: given"):
        wrap(branch=40.0, main=60.0, angle=90.0, offset=10.1)
    with pytest.raises(InputFault, match="--branch: given"):
        wrap(branch=61.0, main=60.0, angle=90.0)


def test_a_mitre_is_the_section_of_the_tube_by_the_plane_that_halves_the_corner():
    for angle in (60.0, 90.0, 135.0, 180.0):
        # the plane holds the corner's halving line, which stands at half the angle to each tube
        half = math.radians(angle / 2.0)
        points = [25.0 * math.cos(a) / math.tan(half) for a in np.linspace(0.0, 2.0 * math.pi, 721)]
        assert mitre(diameter=50.0, angle=angle).height == pytest.approx(max(points) - min(points), abs=1e-9)
    assert mitre(diameter=44.45, angle=90.0).height == pytest.approx(44.45)
    assert mitre(diameter=44.45, angle=90.0).saw_angle == pytest.approx(45.0)
