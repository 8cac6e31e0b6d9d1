"""Solids of the gauges: their holes, widths and diameters measured on the solid equal the plan's."""

import math
import tomllib

import pytest

from fixturegen.gauges.registry import STORE, maker_of
from fixturegen.gauges.shared import OVER
from fixturegen.plate.profile import Operation, Purpose
from fixturegen.shapes.solids import bounding_box, solid_of, volume
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.gauges import Gauges
from tests.gauges.gauge_jobs import BALL, EXAMPLES, INCH, KINGPIN, REAR, example, gauge_of, job_with, sheet_with


def axes_of(solid):
    """(x, y, radius) of every round wall that stands along Z, read from the faces."""
    found = []
    for face in solid.Faces():
        if face.geomType() == "CYLINDER":
            axis = face._geomAdaptor().Cylinder()
            if abs(axis.Axis().Direction().Z()) > 1.0 - 1e-9:
                at = axis.Axis().Location()
                found.append((at.X(), at.Y(), axis.Radius()))
    return found


@pytest.mark.parametrize("name", [KINGPIN, REAR])
def test_holes_that_measure_stand_in_the_solid_as_planned(name):
    job = example(name)
    rows = job.store[STORE].checked
    assert rows
    for part, a, b, planned in rows:
        holes = {h.label: h for h in job.parts[part].profile.holes}
        walls = axes_of(solid_of(job.parts[part]))
        at = {}
        for label in (a, b):
            h = holes[label]
            near = [w for w in walls if math.hypot(w[0] - h.x, w[1] - h.y) < 0.01 and abs(w[2] - h.finished / 2) < 0.01]
            assert near, (part, label)
            at[label] = near[0]
        assert math.hypot(at[a][0] - at[b][0], at[a][1] - at[b][1]) == pytest.approx(planned, abs=0.01)


def test_no_hole_that_measures_is_left_to_the_torch():
    for name in (KINGPIN, BALL, REAR):
        for part in example(name).parts.values():
            holes = part.profile.holes if part.profile else ()
            assert all(h.operation is Operation.PILOT and h.cut is None for h in holes if h.purpose is Purpose.ANGLE)


@pytest.mark.parametrize("name", ["width-1", "pivot-spread"])
def test_blanks_of_width_gauges_are_wider_than_they_are_made(name):
    job = example()
    x0, y0, _, x1, y1, _ = bounding_box(solid_of(job.parts[name]))
    gauge = gauge_of(job, name)
    assert y1 - y0 == pytest.approx(max(gauge.sizes["go"], gauge.sizes["no-go"]) + 2.0 * OVER, abs=0.01)
    assert x1 - x0 == pytest.approx(5.0 * INCH, abs=0.01)


def test_plugs_are_turned_to_the_limits_of_the_hole():
    # common practice: reamed to the shank and 0.005 to 0.010 in over it
    job = example()
    for gauge in (g for g in job.store[STORE].plan.gauges if g.kind == "plugs"):
        steps = {s.note[:2]: s.diameter for s in job.parts[gauge.name].turned.steps}
        assert steps["GO"] - gauge.sizes["shank"] == pytest.approx(0.005 * INCH)
        assert steps["NO"] - gauge.sizes["shank"] == pytest.approx(0.010 * INCH)
        # the no-go end has an edge broken by a hundredth of an inch at most and no lead to start in a good hole
        last = job.parts[gauge.name].turned.steps[-1]
        assert last.length <= 0.01 * INCH


def test_the_pointers_cone_is_as_wide_as_its_hole_at_the_template():
    gauge, part = gauge_of(example(), "clock-lower"), example().parts["clock-lower-pointer"]
    head, shank, cone = part.turned.steps
    at = gauge.sizes["pointer"] - shank.length
    wide = cone.diameter + (cone.end_diameter - cone.diameter) * at / cone.length
    assert wide == pytest.approx(0.375 * INCH, abs=1e-6)
    # a cone of 60 deg in all
    assert math.degrees(math.atan((cone.diameter - cone.end_diameter) / 2.0 / cone.length)) == pytest.approx(30.0)
    assert head.diameter > shank.diameter


def test_seats_hold_the_saddles_faces_apart_and_the_tube_in_the_middle():
    job = example()
    gauge = gauge_of(job, "saddle")
    arch, seat = job.parts["saddle-arch"], job.parts["saddle-seat"]
    body = max(seat.turned.steps, key=lambda s: s.diameter)
    assert body.length + 2.0 * arch.thickness == pytest.approx(gauge.sizes["apart"])
    for h in (h for h in arch.profile.holes if h.purpose is Purpose.ANGLE):
        assert math.hypot(h.x, h.y) - body.diameter / 2.0 == pytest.approx(gauge.sizes["radius"])


def test_the_nose_of_a_leaf_is_at_the_throat_of_its_fillet():
    # geometry of an equal fillet: throat = 0.7071 leg; 1 mm is left on the nose for the file
    part = example().parts["fillet-leaf-1"]
    leg = (
        0.375 * INCH if len(gauge_of(example(), "fillet").sizes) == 1 else gauge_of(example(), "fillet").sizes["leg 1"]
    )
    wide = max(v.x for v in part.profile.outer)
    nearest = min(math.hypot(wide - v.x, v.y) for v in part.profile.outer)
    assert nearest + 1.0 == pytest.approx(0.7071 * leg, abs=0.01)


def test_every_kind_has_its_maker_and_every_part_is_one_sound_solid():
    kinds = Gauges.model_fields["wanted"].annotation.__args__[0].__args__
    for kind in kinds:
        assert maker_of(kind).__doc__
    for part in example().parts.values():
        assert volume(solid_of(part)) > 0.0
        assert part.kind == "gauges"


def test_a_gauge_that_cannot_be_drawn_is_told_and_leaves_the_others_alone():
    # the hole of a strap's tab 39 mm above the axle line and 63 mm behind it stands where a seat must lie on the tube
    data = tomllib.loads((EXAMPLES / f"{REAR}.toml").read_text(encoding="utf-8"))
    (strap,) = (s for s in data["links"]["struts"] if s["name"] == "strap")
    strap |= {"axle": ["-2915 mm", "265 mm", "470 mm"], "frame": ["-2915 mm", "265 mm", "880 mm"]}
    plan = job_with(Sheet.model_validate(data)).store[STORE].plan
    (told,) = [n for n in plan.not_made if "seat" in n.why]
    assert "strap" in told.what
    # nor do the upper ones, which stand on the truss and not on the tube
    assert [n.what for n in plan.not_made if "flat" in n.why] == [
        f"clock template of upper {s}" for s in ("left", "right")
    ]
    assert {g.name for g in plan.of_kind("clock")} == {"clock-lower", "clock-shock"}


def test_two_runs_draw_the_same_parts():
    assert job_with(sheet_with()).parts == job_with(sheet_with()).parts
