"""Tube with truss: the section against a section library, the stepped beam against a frame library and the handbook.

sectionproperties meshes the same outlines and integrates over the mesh; PyNite assembles beam elements. The
handbook's case (Machinery's Handbook, 27th edition, p. 264, read in a copy) is the beam without a step.
"""

import math
from itertools import pairwise

import pytest

from fixturegen.calc import ask
from fixturegen.calc.composite_section import composite_section
from fixturegen.calc.housing_beam import housing_beam
from fixturegen.calc.socket_room import socket_room
from fixturegen.calc.tube import tube
from fixturegen.calc.tube_bending import tube_bending
from fixturegen.errors import InputFault

INCH, LBF, PSI = 25.4, 4.4482216152605, 6.894757293168e-3
E = 30e6 * PSI
# a 3.5 x .250 tube with 1/4 plates 3 in over both, 5 in high with a 1/4 top; invented sizes
SECTION = (3.5, 0.25, 0.25, 3.0, 5.0, 0.25)
AXLE = (3.5 * INCH, 0.25 * INCH, 3000 * LBF, 12 * INCH, 36 * INCH)


def by_the_section_library(diameter, wall, plate, spread, height, top):
    """Area, centroid above the tube's middle, second moment of the same pieces meshed together."""
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry
    from shapely.geometry import Point, box

    ring = (
        Point(0, 0).buffer(diameter / 2, quad_segs=90).difference(Point(0, 0).buffer(diameter / 2 - wall, quad_segs=90))
    )
    foot = math.sqrt((diameter / 2) ** 2 - ((spread - plate) / 2) ** 2)
    pieces = [box(s * spread / 2, foot, s * (spread / 2 - plate), height - top) for s in (-1, 1)]
    if top:
        pieces.append(box(-spread / 2, height - top, spread / 2, height))
    found = []
    for shape in (ring, *pieces):
        section = Section(Geometry(shape).create_mesh(mesh_sizes=[0.05]))
        section.calculate_geometric_properties()
        _, cy = section.get_c()
        ixx, _, _ = section.get_ic()
        found.append((section.get_area(), cy, ixx))
    middle = sum(a * c for a, c, _ in found) / sum(a for a, _, _ in found)
    area = sum(a for a, _, _ in found)
    return area, middle, sum(i + a * (c - middle) ** 2 for a, c, i in found)


@pytest.mark.parametrize("section", [SECTION, (3.0, 0.375, 0.1875, 2.0, 6.5, 0.0), (4.0, 0.5, 0.375, 4.0, 4.5, 0.375)])
def test_the_section_agrees_with_a_section_library(section):
    area, middle, second = by_the_section_library(*section)
    found = composite_section(*(v * INCH for v in section))
    assert found.area / INCH**2 == pytest.approx(area, rel=2e-4)
    assert found.centroid / INCH == pytest.approx(middle, rel=5e-4)
    assert found.second_moment / INCH**4 == pytest.approx(second, rel=5e-4)
    assert found.modulus_bottom == pytest.approx(found.second_moment / (found.centroid + section[0] * INCH / 2))


def test_a_truss_of_hardly_any_steel_leaves_the_tube():
    found = composite_section(*(v * INCH for v in (3.5, 0.25, 1e-6, 3.0, 1.0, 0.0)))
    assert found.gain == pytest.approx(1.0, abs=1e-4)
    assert found.second_moment == pytest.approx(tube(3.5 * INCH, 0.25 * INCH).second_moment, rel=1e-4)


@pytest.mark.parametrize("reach", [20.0, 36.0, 44.0, 60.0])
def test_a_truss_no_stiffer_than_the_tube_gives_the_handbooks_beam(reach):
    second = math.pi / 64 * (3.5**4 - 3.0**4) * INCH**4
    found = housing_beam(*AXLE, reach * INCH, second * (1 + 1e-12), E)
    book = tube_bending(*AXLE, E)
    for ours in (found.slope_bare, found.slope_truss):
        assert ours == pytest.approx(book.slope, rel=1e-9)
    for ours in (found.deflection_bare, found.deflection_truss):
        assert ours == pytest.approx(book.deflection, rel=1e-9)
    assert found.stress_bare / PSI == pytest.approx(18_584, abs=1)


@pytest.mark.parametrize("reach", [20.0, 44.0])
def test_the_stepped_beam_agrees_with_a_frame_library(reach):
    from Pynite import FEModel3D

    tube_second, truss_second = math.pi / 64 * (3.5**4 - 3.0**4), 14.0
    model = FEModel3D()
    places = sorted({-30.0, -18.0, -reach / 2, reach / 2, 18.0, 30.0})
    for x in places:
        model.add_node(f"n{x}", x, 0, 0)
    model.add_material("steel", 30e6, 11.5e6, 0.3, 0.000735)
    for name, second in (("tube", tube_second), ("truss", truss_second)):
        model.add_section(name, 2.5, second, second, 2 * second)
    for a, b in pairwise(places):
        inside = max(abs(a), abs(b)) <= reach / 2
        model.add_member(f"m{a}", f"n{a}", f"n{b}", "steel", "truss" if inside else "tube")
    model.def_support("n-18.0", True, True, True, True, False, False)
    model.def_support("n18.0", False, True, True, True, False, False)
    for x in (-30.0, 30.0):
        model.add_node_load(f"n{x}", "FY", 3000.0)
    model.analyze_linear()
    (combo,) = model.load_combos
    found = housing_beam(*AXLE, reach * INCH, truss_second * INCH**4, E)
    assert found.deflection_truss / INCH == pytest.approx(model.nodes["n30.0"].DY[combo], rel=1e-6)
    assert found.slope_truss == pytest.approx(math.degrees(model.nodes["n30.0"].RZ[combo]), rel=1e-6)
    assert found.slope_truss < found.slope_bare


def test_stress_beyond_the_truss_is_the_moments_there():
    second = math.pi / 64 * (3.5**4 - 3.0**4)
    found = housing_beam(*AXLE, 44 * INCH, 14 * INCH**4, E)
    # 8 in from the load's line to the truss's end
    assert found.stress_at_end / PSI == pytest.approx(3000 * 8 * 1.75 / second)
    # a truss that ends between the pads leaves the tube with the whole moment
    assert housing_beam(*AXLE, 20 * INCH, 14 * INCH**4, E).stress_at_end == pytest.approx(found.stress_bare)


def test_room_for_a_nine_sixteenths_socket_on_a_three_eighths_bolt():
    # common practice, no source: a 9/16 socket is some 0.82 in over all and wants 0.45 in of radius free
    assert socket_room(0.82 * INCH, 28.0, 8.0, 31.75, 1.0).radius / INCH == pytest.approx(0.45, abs=0.005)
    assert socket_room(20.0, 28.0, 8.0, 31.75, 1.0).height == pytest.approx(67.75)


@pytest.mark.parametrize(
    ("topic", "change", "words"),
    [
        ("composite-section", {"wall": "2 in"}, "half the diameter|which of the two"),
        ("composite-section", {"spread": "4 in"}, "stand both plates on the tube"),
        ("composite-section", {"height": "1.2 in"}, "measure from the tube's middle"),
        ("housing-beam", {"truss-length": "61 in"}, "wheel load's line"),
        ("housing-beam", {"truss-second-moment": "1 in^4"}, "tube and truss together"),
    ],
)
def test_what_makes_no_section_is_refused_in_words(topic, change, words):
    given = {
        "composite-section": dict(
            zip(
                ("diameter", "wall", "plate", "spread", "height", "top"),
                ("3 1/2 in", "1/4 in", "1/4 in", "3 in", "5 in", "1/4 in"),
                strict=True,
            )
        ),
        "housing-beam": {
            "diameter": "3 1/2 in",
            "wall": "1/4 in",
            "load": "3000 lbf",
            "overhang": "12 in",
            "spacing": "36 in",
            "truss-length": "44 in",
            "truss-second-moment": "14 in^4",
        },
    }[topic]
    with pytest.raises(InputFault, match=words):
        ask(topic, given | change)
