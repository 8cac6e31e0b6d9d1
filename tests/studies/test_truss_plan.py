"""The truss as planned: silhouettes against closed forms, sections by superposition, mirror gives mirror, refusals."""

import math
from dataclasses import replace

import numpy as np
import pytest
from pydantic import ValidationError

from fixturegen.axle.model import axle_of
from fixturegen.errors import GeometryFault, InputFault
from fixturegen.studies.arc_chains import arc_chain
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.centre_shape import along_axle, tube_bodies
from fixturegen.studies.edge_lines import chords, ring_round
from fixturegen.studies.truss_edges import DEVIATION
from fixturegen.studies.truss_height import boxes_above, space_above
from fixturegen.studies.truss_plan import top_of, truss_plan
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, sheet_of
from tests.studies.truss_jobs import truss_of, truss_sheet


def edge_at(plate, station):
    return plate.spans(station)[0][0]


def test_over_a_tube_the_edge_stands_where_the_circle_says():
    # geometry: the skin of a tube of radius r stands sqrt(r^2 - x^2) high at x; the plate's inner face is the higher
    sheet, _, plan = truss_of()
    radius = float(sheet.tubes.outside_diameter) / 2.0
    for plate in plan.plates:
        inner = min(abs(v) for v in plate.x)
        skin = math.sqrt(radius**2 - inner**2)
        for station in (-300.0, 260.0, 400.0):
            gap = edge_at(plate, station) - skin
            assert plan.gap <= gap <= plan.gap + 2.0 * DEVIATION
        assert math.degrees(math.asin(max(abs(v) for v in plate.x) / radius)) == pytest.approx(45.0)


def test_over_the_drum_the_edge_is_its_circle_moved_out_by_the_gap():
    # geometry: a drum about X cut by a plane square to X is a circle; a concentric one lies the gap farther out
    sheet, axle, plan = truss_of()
    (y, z), drum = axle.face_middle, float(sheet.housing.height) / 2.0
    lean = math.tan(math.radians(axle.table_turn))
    plate = plan.plates[1]
    for station in (-60.0, -14.0, 30.0):
        if any(o[0].x - 12.0 < station < o[1].x + 12.0 for o in plate.openings):
            continue
        height = edge_at(plate, station)
        middles = [z + x * lean for x in plate.x]
        off = min(math.hypot(station - y, height - m) for m in middles) - drum
        # the axis leans with the face: half of that over the plate's thickness is the circle's own spread
        assert off == pytest.approx(plan.gap, abs=2.0 * DEVIATION + abs(lean) * plate.thickness)


def test_a_tube_filled_downward_is_as_high_as_its_chord():
    sheet, axle, _ = truss_of()
    radius = float(sheet.tubes.outside_diameter) / 2.0
    (outline,) = along_axle(tube_bodies(sheet, axle)[0], 10.0, 16.0)
    assert max(v for _, v in outline) == pytest.approx(math.sqrt(radius**2 - 100.0))
    assert along_axle(tube_bodies(sheet, axle)[0], radius + 1.0, radius + 7.0) == []


def test_a_section_is_plates_and_top_and_nothing_beside():
    _, _, plan = truss_of(truss={"lightening": False, "lift": False})
    cuts = [(y, plan.section_at(y)) for y in (-470.0, -400.0, -250.0, 180.0, 240.0, 330.0, 460.0)]
    whole = [(y, c) for y, c in cuts if len(c) == 3]  # through no vent
    assert len(whole) >= 4
    for station, cut in whole:
        low = edge_at(plan.plates[0], station)
        high = plan.underside(station)
        for one in cut[:2]:
            assert (one.wide, one.high) == pytest.approx((plan.thickness, high - low), abs=0.1)
        # a plate that slopes is cut thicker by one over the cosine
        slope = plan.run_at(station).slope
        assert cut[2].high == pytest.approx(plan.runs[0].thickness / math.cos(math.radians(slope)))
        assert cut[2].z - cut[2].high / 2.0 == pytest.approx(high, abs=1e-6)
    assert plan.section_at(plan.ends[1] + 1.0) == ()


def test_a_hole_is_taken_out_of_the_section():
    _, _, plan = truss_of()
    plate = plan.plates[0]
    hole = plate.openings[0]
    middle, size = (hole[0].x + hole[1].x) / 2.0, hole[1].x - hole[0].x
    whole = replace(plate, openings=())
    lost = sum(b - a for a, b in whole.spans(middle)) - sum(b - a for a, b in plate.spans(middle))
    assert lost == pytest.approx(size, abs=0.2)  # by chords within 0.05 mm


def test_an_axle_mirrored_gives_a_truss_mirrored():
    plain = {"lightening": False, "lift": False, "left_end": "480 mm", "right_end": "-430 mm"}
    other = {**plain, "left_end": "430 mm", "right_end": "-480 mm"}
    face = {"housing__face__lateral_offset": "0 mm"}
    _, _, one = truss_of(truss=plain, housing__pinion_offset="-40 mm", tubes__left={"length": "615 mm"},
                         tubes__right={"length": "587 mm"}, **face)  # fmt: skip
    _, _, two = truss_of(truss=other, housing__pinion_offset="40 mm", tubes__left={"length": "587 mm"},
                         tubes__right={"length": "615 mm"}, **face)  # fmt: skip
    assert one.knees == pytest.approx(tuple(-k for k in reversed(two.knees)))
    for station in np.linspace(-425.0, 475.0, 40):
        here, there = one.plates[0].spans(station), two.plates[0].spans(-station)
        beside = [s.stations for p in (one, two) for s in p.welds]
        if len(here) == len(there) == 1 and beside:
            assert here[0] == pytest.approx(there[0], abs=0.1) or abs(here[0][0] - there[0][0]) < 10.0
    assert sum(w.length for w in one.welds) == pytest.approx(sum(w.length for w in two.welds), rel=0.01)


def test_ends_stop_short_of_knuckle_and_of_what_is_on_the_tube():
    sheet, axle, plan = truss_of(DROPOUT, {"plate": "1/4 in", "height": "7 3/4 in"})
    right = min(k.weld_station for k in axle.knuckles)
    assert plan.ends[0] == pytest.approx(right + 0.75 * 25.4)
    pad = min(float(sheet.welded[0].station_from), float(sheet.welded[0].station_to))
    assert plan.ends[1] == pytest.approx(pad - 12.7)
    assert sheet.welded[0].name in plan.notes[0]


def test_a_casting_is_bridged_and_no_bead_comes_near_its_joint():
    _, axle, plan = truss_of(INTEGRAL, {"plate": "1/4 in", "height": "7 1/4 in"})
    low, high = axle.section
    assert plan.bridged and {w.onto for w in plan.welds} == {"tube-left", "tube-right", "top"}
    for run in plan.welds:
        if run.onto != "top":
            assert run.stations[1] < low - 25.0 or run.stations[0] > high + 25.0


@pytest.mark.parametrize("key", ["plate", "top_plate"])
def test_a_wall_of_no_thickness_is_refused_by_the_sheet(key):
    with pytest.raises(ValidationError, match=key):
        truss_sheet(truss={key: "0 in"})


def test_a_plate_that_is_not_in_the_rack_is_told_with_the_rack():
    with pytest.raises(InputFault) as told:
        truss_of(truss={"plate": "5 mm"})
    assert told.value.faults[0].key == "truss.plate" and "6 mm" in told.value.faults[0].allowed


def test_a_truss_lower_than_the_housing_is_told_with_what_to_do():
    with pytest.raises(GeometryFault, match="cut into"):
        truss_of(truss={"height": "150 mm"})


def test_height_by_the_space_above_is_the_box_less_bump_and_gap():
    # plane geometry at a level pinion: box over ground - bump - gap - height of the axle line
    box = {"name": "pan", "x": ["-3000 mm", "-2700 mm"], "y": ["-300 mm", "300 mm"], "z": ["800 mm", "900 mm"]}
    sheet, axle, _ = truss_of()
    sheet = sheet.model_copy(update={"clearance": type(sheet.clearance).model_validate({"boxes": [box]})})
    level = truss_sheet(axle__pinion_angle="0 deg").model_copy(update={"clearance": sheet.clearance})
    (above,) = boxes_above(level, axle)
    line = float(level.vehicle.tyre_loaded_radius)
    wanted = 800.0 - float(level.links.bump) - float(level.clearance.moving) - line
    found = min(space_above([above], (-50.0, 50.0), ((-20.0, -14.0), (14.0, 20.0))))
    assert found[0] == pytest.approx(wanted) and found[1] == "pan"
    assert list(space_above([above], (400.0, 450.0), ((-20.0, -14.0), (14.0, 20.0)))) == []


def test_few_arcs_keep_to_dense_points_and_corners_stay():
    turns = np.linspace(0.0, 2.0, 300)
    arc = [(80.0 * math.cos(t), 80.0 * math.sin(t)) for t in turns]
    wave = [(80.0 + x, 6.0 * math.sin(x / 9.0)) for x in np.linspace(0.0, 60.0, 400)]
    line = [(x, 30.0) for x in np.linspace(140.5, 200.0, 20)]
    points = [*reversed(arc), *wave, *line]
    chain = arc_chain(points, 0.01)
    assert len(chain) < 40
    from shapely.geometry import LineString, Point

    drawn = LineString(chords(chain, 0.0005, closed=False))
    assert max(drawn.distance(Point(p)) for p in points) < 0.011
    assert (chain[0].x, chain[0].y) == points[0] and (chain[-1].x, chain[-1].y) == points[-1]
    ring = chords(ring_round(3.0, 4.0, 10.0), 0.001, closed=True)
    assert all(math.hypot(x - 3.0, y - 4.0) == pytest.approx(5.0) for x, y in ring)


def test_height_by_strength_is_no_more_than_by_space_and_leaves_a_web():
    keys = {"height": None, "most": "5 in"}
    _, _, space = truss_of(truss=keys, loads__vertical_factor="4.2")
    sheet, _, strong = truss_of(truss={**keys, "height_by": "strength"}, loads__vertical_factor="4.2")
    drum = float(sheet.housing.height) / 2.0
    assert space.height == pytest.approx(drum + 127.0, abs=1.0) and "truss.most" in space.why
    assert drum + 3.0 * strong.thickness <= strong.height < space.height and "[loads]" in strong.why


def test_knees_tell_the_height_and_what_stands_on_a_run_stands_on_its_top():
    knees = [{"station": f"{y} mm", "height": f"{z} mm"} for y, z in ((-150, 210), (150, 210), (250, 150), (400, 150))]
    sheet, axle, plan = truss_of(truss={"height": None, "knees": knees})
    assert plan.height == 210.0 and [r.slope == 0.0 for r in plan.runs] == [False, True, False, True, False]
    for station, height in ((0.0, 210.0), (300.0, 150.0), (200.0, 180.0)):
        assert top_of(sheet, axle, station)[0] == pytest.approx(height)
    assert plan.top(0.0) == pytest.approx(210.0)


def test_a_back_brace_lies_level_behind_and_its_section_is_one_strip():
    _, axle, plan = truss_of(truss={"form": "back-brace", "height": "190 mm", "plate": "10 mm"})
    (plate,) = plan.plates
    assert plate.lies == -axle.face_sign and plan.runs == () and all(w.sides == 2 for w in plan.welds)
    (cut,) = plan.section_at(-14.0)
    assert cut.high == plate.thickness and cut.z == pytest.approx(0.0) and cut.x * axle.face_sign < 0.0


def test_the_top_reaches_out_as_asked_under_a_link_and_no_more_than_a_pad_needs_under_a_pad():
    sheet = sheet_of(REAR)
    axle = axle_of(sheet)
    mounts = [m for m in bracket_plan(sheet, axle).mounts if m.spec.on == "truss"]
    plan = truss_plan(sheet, axle, mounts)
    rear, front = plan.plates[0].x[0], plan.plates[1].x[1]
    assert {m.joint is None for m in mounts} == {True, False}
    for mount in mounts:
        run = plan.run_at(mount.point[1])
        over = (rear - run.x[0], run.x[1] - front)
        if mount.joint is not None:
            assert over == pytest.approx((64.0, 64.0))
            continue
        # half the pad of 2 3/4 in, its bead of 1/4 in: the usual values of the sheet
        need = abs(mount.point[0]) + 1.375 * 25.4 + 6.35
        assert min(-run.x[0], run.x[1]) >= front + 10.0 - 0.4  # a lip for the bead at least
        assert max(over) == pytest.approx(max(10.35, need - max(-rear, front)), abs=1e-6)
