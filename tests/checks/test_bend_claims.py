"""Claims about bends at their boundaries; limits are the trade's figures times the sizes given, worked out by hand.

2.5 thicknesses and the radius from hole to bend, a radius of one thickness, a flange of 0.7 of the die:
common practice, no source. Half the die: the flange falls in, geometry.
"""

import dataclasses
import math

import pytest

from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.plate import Hole, Purpose
from fixturegen.plate.bend_marks import bend_part
from fixturegen.plate.bend_rules import BendRule, rule_for
from fixturegen.plate.bending import SIDES, Fold, bent_strip, tray
from fixturegen.plate.profile import rectangle
from tests.studies.study_jobs import case, sheet_of

INCH = 25.4
QUARTER = {"nominal": "1/4 in", "measured": "0.250 in"}
T = 0.25 * INCH
TEST = {"plate": "1/4 in", "inside_radius": "0.25 in", "angle": "90 deg", "deduction": "0.45 in"}


def job(part, **brake):
    _, axle, plan = case()
    sheet = sheet_of(brake=brake)
    rack = (*(p for p in sheet.plates if abs(p.nominal - T) > 0.3), type(sheet.plates[0]).model_validate(QUARTER))
    sheet = sheet.model_copy(update={"plates": rack})
    return Job(sheet, axle, plan, {part.name: part})


def strip(*, flange=3.0, radius=0.25, web=4.0, folds=1, rule=None, angle=90.0):
    lengths = (web * INCH, *(flange * INCH for _ in range(folds)))
    if folds == 2:
        lengths = (flange * INCH, web * INCH, flange * INCH)
    flat = bent_strip(lengths, [Fold(angle, radius * INCH)] * folds, 2.0 * INCH, T, rule or BendRule())
    return bend_part("bracket", "Bracket", "toy", flat)


def levels(code, part, **brake):
    claim = next(c for c in registry.claims() if c.code == code)
    return [f.level for f in claim.check(job(part, **brake))]


def words(code, part, **brake):
    claim = next(c for c in registry.claims() if c.code == code)
    return " ".join(f.words for f in claim.check(job(part, **brake)))


def drilled(part, *holes, inner=()):
    return dataclasses.replace(part, profile=dataclasses.replace(part.profile, holes=holes, inner=tuple(inner)))


def flange_of(flat):
    """The outside size [in] that leaves this much flat from the bend line: handbook rule, soft steel, by hand."""
    allowance = 0.64 * 0.25 + 1.57 * 0.25
    return flat + 0.5 - allowance / 2.0


def test_bnd_01_a_flange_that_falls_into_the_die_is_held_and_a_short_one_is_said():
    # die of 2 in: under 1 in falls in, 1.4 in is wanted
    for flat, wanted in ((1.401, Level.PASS), (1.399, Level.WARN), (1.001, Level.WARN), (0.999, Level.FAIL)):
        assert levels("BND-01", strip(flange=flange_of(flat)), die_opening="2 in") == [wanted]


def test_bnd_01_takes_eight_thicknesses_for_a_die_nobody_named():
    # 8 x 1/4 in = 2 in
    assert levels("BND-01", strip(flange=flange_of(1.401))) == [Level.PASS]
    assert levels("BND-01", strip(flange=flange_of(0.999))) == [Level.FAIL]
    assert levels("BND-01", strip(flange=flange_of(0.999)), die_opening="1 in") == [Level.PASS]


def test_bnd_02_a_hole_keeps_two_and_a_half_thicknesses_and_the_radius_from_the_line():
    part = strip()
    line = part.bends[0].x0
    limit = (2.5 * 0.25 + 0.25) * INCH
    for side in (-1.0, 1.0):
        for off, wanted in ((0.01, Level.PASS), (-0.01, Level.FAIL)):
            hole = Hole(line + side * (limit + off + 0.25 * INCH), 1.0 * INCH, 0.5 * INCH, Purpose.BOLT, "eye")
            assert levels("BND-02", drilled(part, hole)) == [wanted]


def test_bnd_02_says_what_may_come_out_oval_and_holds_what_a_bend_crosses():
    part = strip()
    line = part.bends[0].x0
    near = Hole(line + 20.0, 25.0, 10.0, Purpose.LIGHTENING)
    assert levels("BND-02", drilled(part, near)) == [Level.WARN]
    assert levels("BND-02", drilled(part, inner=[rectangle(line + 15.0, 10.0, line + 25.0, 20.0)])) == [Level.WARN]
    across = drilled(part, Hole(line + 5.0, 25.0, 10.0, Purpose.BOLT, "eye"))
    assert levels("BND-02", across) == [Level.NOT_CHECKED]
    assert levels("BND-05", across) == [Level.FAIL]
    assert "crosses the hole 'eye'" in words("BND-05", across)


def test_bnd_03_an_inside_radius_under_the_thickness_is_held():
    for radius, wanted in ((0.2501, Level.PASS), (0.25, Level.PASS), (0.2499, Level.FAIL)):
        assert levels("BND-03", strip(radius=radius)) == [wanted]


def test_bnd_03_asks_for_twice_the_radius_along_the_grain():
    for radius, wanted in ((0.501, [Level.PASS]), (0.499, [Level.WARN] * 2)):
        flat = tray((8 * INCH, 6 * INCH), {s: (3 * INCH, Fold(90.0, radius * INCH)) for s in SIDES}, T, BendRule())
        assert levels("BND-03", bend_part("tray", "Tray", "toy", flat)) == wanted


def turned(part, angle):
    marks = tuple(dataclasses.replace(m, angle=angle) if m.text == "GRAIN" else m for m in part.marks)
    return dataclasses.replace(part, marks=marks)


def test_bnd_04_a_bend_line_along_the_grain_is_said():
    for grain, wanted in ((0.0, Level.PASS), (44.0, Level.PASS), (46.0, Level.WARN), (90.0, Level.WARN)):
        assert levels("BND-04", turned(strip(), grain)) == [wanted]
    without = dataclasses.replace(strip(), marks=())
    assert levels("BND-04", without) == [Level.WARN]
    assert "no arrow" in words("BND-04", without)


def measured_strip(**changes):
    sheet = sheet_of(brake={"tests": [TEST]})
    plate = type(sheet.plates[0]).model_validate(QUARTER)
    return strip(rule=rule_for(sheet.brake, plate), **changes)


def test_bnd_05_a_bend_nobody_measured_is_said_and_a_wrong_flat_is_held():
    assert levels("BND-05", strip()) == [Level.WARN]
    assert "only as good as a bend test on your brake (handbook" in words("BND-05", strip())
    part = measured_strip()
    assert levels("BND-05", part) == [Level.PASS]
    x0 = part.bends[0].x0
    # the bend line a hair off, all else left: one flange longer, the other shorter
    for off, wanted in ((0.009, Level.PASS), (0.011, Level.FAIL)):
        moved = dataclasses.replace(part.bends[0], x0=x0 + off, x1=x0 + off)
        assert levels("BND-05", dataclasses.replace(part, bends=(moved,))) == [wanted]


def test_bnd_05_a_deduction_of_another_rule_would_be_seen():
    part = measured_strip()
    takes = part.bends[0].allowance + 0.1
    other = dataclasses.replace(part.bends[0], allowance=takes)
    assert levels("BND-05", dataclasses.replace(part, bends=(other,))) == [Level.FAIL]
    assert "outside size" in words("BND-05", dataclasses.replace(part, bends=(other,)))


def test_bnd_06_a_flange_as_high_as_the_web_is_wide_meets_a_straight_punch():
    # square bends: the flange's edge lies (web - flange) / sqrt 2 from the punch, insides, which is 6 mm wide each way
    room = 6.0 * math.sqrt(2.0) / INCH
    for more, wanted in ((0.01, Level.PASS), (-0.01, Level.WARN)):
        # inside sizes: web less two thicknesses, flange less one
        part = strip(folds=2, flange=3.0, web=3.0 - 0.25 + room + 0.5 + more)
        assert levels("BND-06", part) == [wanted]
    assert levels("BND-06", strip()) == [Level.PASS]


@pytest.mark.parametrize("code", ["BND-01", "BND-02", "BND-03", "BND-04", "BND-05", "BND-06"])
def test_a_job_without_bent_parts_says_nothing_of_bends(code):
    plain = dataclasses.replace(strip(), form="plate", bends=())
    assert levels(code, plain) == []
