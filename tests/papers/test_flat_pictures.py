"""Pictures of flat and turned parts come from the canonical data."""

import xml.etree.ElementTree as ET

import pytest

from fixturegen.papers.flat_pictures import flat_svg, loop_path, turned_svg
from fixturegen.plate import Hole, Part, Profile, Purpose, Turned, TurnedStep
from fixturegen.plate.profile import Operation, circle, rectangle


def plate(label="bracket", **more):
    hole = Hole(10.0, 10.0, 8.0, Purpose.ANGLE, "index 0", Operation.PILOT, None)
    bolt = Hole(30.0, 10.0, 9.0, Purpose.BOLT, "bolt", Operation.CUT, 9.0)
    return Part(
        "bracket", label, "toys", "plate", 6.0, profile=Profile(rectangle(0, 0, 40, 20), (), (hole, bolt)), **more
    )


def test_a_circle_is_drawn_as_two_arcs_of_its_radius():
    path = loop_path(circle(0.0, 0.0, 20.0))
    assert path.count("A10 10 0") == 2


def test_a_pilot_mark_is_dashed_and_a_cut_hole_is_not():
    svg = flat_svg(plate())
    assert svg.count("stroke-dasharray") == 1
    ET.fromstring(svg)


@pytest.mark.parametrize("label", ["<b>&\"'", "عمود", "🔧 jig"])
def test_odd_names_still_give_a_picture_that_parses(label):
    ET.fromstring(flat_svg(plate(label)))


def test_a_turned_part_has_no_flat_picture_and_the_other_way_round():
    turned = Part("pin", "pin", "toys", "turned", turned=Turned((TurnedStep(20.0, 10.0),)))
    ET.fromstring(turned_svg(turned))
    with pytest.raises(ValueError, match="flat profile"):
        flat_svg(turned)
    with pytest.raises(ValueError, match="not turned"):
        turned_svg(plate())
