"""Pictures of flat and turned parts come from the canonical data."""

import math
import re
import xml.etree.ElementTree as ET

import pytest

from fixturegen.papers.flat_pictures import flat_svg, loop_path, turned_svg
from fixturegen.papers.part_tables import plate_rows, turned_rows
from fixturegen.plate import Hole, Mark, Part, Profile, Purpose, Turned, TurnedStep
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


def test_a_pilot_mark_is_red_with_a_centre_cross_and_a_cut_hole_is_not():
    svg = flat_svg(plate())
    assert svg.count("#b3261e") == 2, "one circle and one cross, of the one pilot mark"
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


def texts(svg):
    return [e.text for e in ET.fromstring(svg).iter() if e.tag.endswith("text")]


def test_every_row_of_a_parts_table_has_its_number_in_the_picture():
    rows = plate_rows(plate().profile)
    assert [r[0] for r in rows] == ["1", "2"]
    assert texts(flat_svg(plate())) == ["1", "2"]
    turned = Turned(
        (TurnedStep(5.0, 30.0), TurnedStep(20.0, 10.0)),
        bores=((0.0, 25.0, 5.0, None, "through"),),
        flats=((5.0, 25.0, 4.0, 0.0), (5.0, 25.0, 4.0, 180.0)),
        cross_holes=((15.0, 3.0, 90.0, "through"), (15.0, 3.0, 270.0, "through")),
        axial_holes=((10.0, 0.0, 4.0, "tap"), (-10.0, 0.0, 4.0, "tap")),
        saw_cut=1.5,
    )
    rows = turned_rows(turned)
    # two steps; bore, hole right through, circle of two holes, pair of flats, slot: one row each
    assert [r[0] for r in rows] == list("1234567")
    pin = Part("pin", "pin", "toys", "turned", turned=turned)
    assert sorted(texts(turned_svg(pin))) == [r[0] for r in rows]
    assert "90, 270 deg" in rows[3][4]
    assert rows[4][2] == "x 0.394, y 0.000; x -0.394, y 0.000"
    assert "2 flats, 0.1575 from the axis" in rows[5][3]
    assert rows[6][2] == "saw cut"


def test_lettering_is_drawn_by_the_strokes_of_the_cut_file():
    part = plate(marks=(Mark(10.0, 12.0, "REV A", 8.0),))
    lettering = next(e for e in ET.fromstring(flat_svg(part)).iter() if e.tag.endswith("path") and len(e))
    assert lettering[0].text == "REV A"
    numbers = [float(v) for v in re.findall(r"-?[0-9.]+", lettering.get("d"))]
    # capitals of 8 mm on a base line at y = 12, y down in the picture
    assert (min(numbers[1::2]), max(numbers[1::2])) == pytest.approx((-20.0, -12.0))


def test_the_number_of_a_hole_keeps_off_the_hole_beside_it():
    # the usual place, upper right of hole 1, is taken by hole 2
    holes = (
        Hole(20.0, 20.0, 8.0, Purpose.BOLT, "a", Operation.CUT, 8.0),
        Hole(26.0, 26.0, 8.0, Purpose.BOLT, "b", Operation.CUT, 8.0),
    )
    part = Part("p", "p", "toys", "plate", 6.0, profile=Profile(rectangle(0, 0, 60, 60), (), holes))
    first = next(e for e in ET.fromstring(flat_svg(part)).iter() if e.tag.endswith("text"))
    assert math.hypot(float(first.get("x")) - 26.0, -float(first.get("y")) - 26.0) > 4.0
