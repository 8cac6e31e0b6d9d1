"""Numbers of the summary: each thing the links are asked about has one, and each is what a hand works out."""

import math
import re

import numpy as np
import pytest

from fixturegen.axle.linkage_kinds import linkage_of
from fixturegen.findings import Trust
from fixturegen.studies.link_numbers import FAR, numbers_of, slug
from fixturegen.studies.link_study import NAMED
from tests.axle import invented_linkages as made
from tests.papers import invented_cases as cases

INCH = 25.4
POSES = tuple(p.lower() for p in NAMED)


@pytest.fixture(scope="module")
def kingpin():
    return cases.sheet_case(cases.KINGPIN)


@pytest.fixture(scope="module")
def numbers(kingpin):
    return numbers_of(kingpin.study)


ASKED = {
    "side-view instant centre": ("links.instant_centre_forward", "links.instant_centre_height"),
    "anti-squat, anti-lift, anti-dive": ("links.anti_squat", "links.anti_dive"),
    "roll centre and roll axis": ("links.roll_centre", "links.roll_axis"),
    "roll steer": ("links.roll_steer",),
    "axle path, wheelbase change": ("links.wheelbase_change", "links.sideways"),
    "pinion angle": ("links.pinion_angle",),
    "caster and inclination": ("steering.caster_left", "steering.caster_right", "steering.inclination_left"),
    "link angles": ("links.slope.lower-left", "links.slope.upper", "links.slope.track-bar"),
    "joint misalignment at both ends": ("links.joint.lower-left-frame", "links.joint.lower-left-axle"),
    "bump steer and roll steer of the wheels": ("steering.change", "steering.toe", "steering.drag_slope"),
    "tie-rod roll-over": ("steering.roll_over",),
    "shaft length, angles, unevenness": (
        *("driveline.length", "driveline.plunge", "driveline.case_angle", "driveline.pinion_joint"),
        *("driveline.fluctuation", "driveline.equivalent_angle"),
    ),
    "springs, shocks, straps": (
        *("links.strut_length.coil-front", "links.strut_length.strap-front", "links.motion_ratio.shock-front"),
        *("links.roll_ratio.coil-front", "links.strut_lean.shock-front", "links.strut_bend.coil-front"),
    ),
    "brake hoses": ("links.hose_needed.brake-hose-left", "links.hose_spare.brake-hose-right"),
    "tyre position": ("links.tyre_left_forward", "links.tyre_left_left", "links.tyre_right_up"),
}
SINGLE = (
    *(f"steering.{n}.{p}" for n in ("inner", "outer", "outer_wanted", "ackermann") for p in ("lock-l", "lock-r")),
    *(f"steering.{n}.{p}" for n in ("shaft_inner", "shaft_outer", "pitman") for p in ("lock-l", "lock-r")),
    *("steering.drag_off_bar", "steering.drag_length", "steering.bar_length"),
    *("links.stop.bump-stop-front-left-alike.touches", "links.stop.bump-stop-front-right-alike.holds"),
    "links.strap.strap-front-left-alike.holds",
)


@pytest.mark.parametrize("what", ASKED)
def test_what_is_asked_of_the_links_has_a_number_at_every_pose(what, numbers):
    for name in ASKED[what]:
        # at droop this example's links run parallel: there is no instant centre
        poses = [p for p in POSES if not ("instant_centre" in name and p == "droop")]
        assert [p for p in poses if f"{name}.{p}" not in numbers] == []


def test_what_is_told_once_is_there_and_every_number_says_unit_source_and_trust(numbers):
    assert [name for name in SINGLE if name not in numbers] == []
    for name, number in numbers.items():
        assert re.fullmatch(r"[a-z0-9_-]+(\.[a-z0-9_-]+)*", name)
        assert math.isfinite(number.value) and number.source and isinstance(number.trust, Trust)
        assert number.unit in {"mm", "deg", "%", "1", "deg/deg"}


def test_at_ride_the_sheet_speaks(numbers):
    # caster in the vehicle 7 deg, pinion 10 deg, coil and drag link as measured on the sheet
    assert numbers["steering.caster_left.ride"].value == pytest.approx(7.0, abs=1e-6)
    assert numbers["links.pinion_angle.ride"].value == pytest.approx(10.0, abs=1e-9)
    assert numbers["links.strut_length.coil-front.ride"].value == pytest.approx(INCH * 16)
    assert numbers["steering.drag_length"].value == pytest.approx(INCH * math.hypot(35, 3.375))
    assert numbers["steering.bar_length"].value == pytest.approx(INCH * math.hypot(34, 3.25))
    slopes = (math.degrees(math.atan2(3.375, 35)), math.degrees(math.atan2(3.25, 34)))
    assert numbers["steering.drag_off_bar"].value == pytest.approx(slopes[0] - slopes[1], abs=1e-6)
    for axis in ("forward", "left", "up"):
        assert numbers[f"links.tyre_left_{axis}.ride"].value == pytest.approx(0.0, abs=1e-9)
    assert numbers["links.tyre_left_up.cross-l"].value == pytest.approx(5.0 * INCH)
    assert numbers["links.tyre_right_up.cross-l"].value == pytest.approx(-6.0 * INCH)


def test_the_instant_centre_of_level_and_sloping_links_is_where_lines_meet():
    # plane construction: lower level at 16 in, upper from (0, 28) to (30, 27): they meet 360 in ahead at 16 in
    lowers = made.both("lower", (0, 15, 16), (30, 15, 16))
    upper, bar = made.rear("upper", (0, 0, 28), (30, 0, 27)), made.rear("track-bar", (-3, -16, 20), (-3, 16, 20))
    linkage = linkage_of("three-link", made.rear_stance(pinion=0.0), (*lowers, upper, bar))
    numbers = numbers_of(cases.study(linkage))
    assert numbers["links.instant_centre_height.ride"].value == pytest.approx(16 * INCH, rel=1e-6)
    assert numbers["links.instant_centre_forward.ride"].value == pytest.approx((360 - 110) * INCH, rel=1e-6)


def test_an_instant_centre_nowhere_and_a_pose_out_of_reach_give_no_number():
    flat = numbers_of(cases.binding_case().study)
    poses = {name.rsplit(".", 1)[1] for name in flat if name.startswith("links.anti_squat.")}
    reached = cases.binding_case().study.named.poses.reached
    assert poses == {p for p, there in zip(POSES, reached, strict=True) if there} and len(poses) < 5
    for case in cases.of_every_kind().values():
        found = numbers_of(case.study)
        origin = case.study.linkage.stance.origin
        for p in POSES:
            if f"links.instant_centre_forward.{p}" in found:
                x, z = (found[f"links.instant_centre_{w}.{p}"].value for w in ("forward", "height"))
                assert np.hypot(x - origin[0], z - origin[2]) <= FAR


def test_names_become_parts_of_dotted_names():
    assert slug("Coil, front (left)") == "coil-front-left"
    assert slug("---") == slug("üß") == "unnamed"


def test_leaf_springs_are_trusted_less_than_links(kingpin):
    leaves = cases.of_every_kind()["leaf springs"]
    assert numbers_of(leaves.study)["links.sideways.bump"].trust is leaves.trust is not kingpin.trust
