"""The force of each case on each bracket: statics, mirror and what ends of travel are caught by."""

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.findings import Trust
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.bracket_forces import DROP, forces_on, unloaded
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.link_inputs import stance_of
from tests.studies.study_jobs import REAR, sheet_of

GRAVITY = 9.80665
"""N/kg, ISO 80000-3."""
JOINT = {"name": "eye", "width": "40 mm", "body": "45 mm", "bolt": "M12", "shank": "12 mm", "grade": "10.9"}


def strut(name, kind, frame, axle):
    return {"name": name, "kind": kind, "frame": frame, "axle": axle}


COIL = strut("coil", "spring", ["-2850 mm", "400 mm", "950 mm"], ["-2850 mm", "420 mm", "520 mm"])
SHOCK = strut("damper", "shock", ["-2900 mm", "330 mm", "1010 mm"], ["-2930 mm", "430 mm", "420 mm"])
STRAP = strut("strap", "strap", ["-2850 mm", "380 mm", "800 mm"], ["-2850 mm", "420 mm", "480 mm"])
STOP = strut("stop", "bump stop", ["-2794 mm", "420 mm", "690 mm"], ["-2794 mm", "440 mm", "480 mm"])


def planned(*rows, struts=(COIL, SHOCK, STOP), **changes):
    """Sheet, axle, loads and brackets by name; rows are (holds, end)."""
    brackets = [
        {"holds": h, "kind": "two-tab", "joint": "eye", "plate": "10 mm", "end": end, "on": on, **more}
        for h, end, on, more in (
            (h, e, "tube", {}) if e == "axle" else (h, e, "rail", {"facing": "down", "surface": "1100 mm"})
            for h, e in rows
        )
    ]
    sheet = sheet_of(REAR, joints=[JOINT], brackets=brackets, links__struts=list(struts), **changes)
    axle = axle_of(sheet)
    plan = bracket_plan(sheet, axle)
    return sheet, axle, loads_of(sheet, axle), {m.name: m for m in plan.mounts}


def by_case(forces):
    return {f.case: np.array(f.force) for f in forces}


def test_both_ends_of_a_link_are_pulled_toward_one_another_along_it():
    sheet, axle, loads, mounts = planned(("lower-left", "axle"), ("lower-left", "frame"))
    near = by_case(forces_on(mounts["lower-left"], sheet, axle, loads))
    far = by_case(forces_on(mounts["lower-left-frame"], sheet, axle, loads))
    line = np.array(mounts["lower-left-frame"].point) - np.array(mounts["lower-left"].point)
    line /= np.linalg.norm(line)
    for name, force in near.items():
        if name == "bump":
            continue  # the link stands otherwise there
        pull = loads.case(name).links["lower-left"]
        assert force == pytest.approx(pull * line, abs=1e-6 * abs(pull) + 1e-3), name
        assert far[name] == pytest.approx(-force, abs=1e-6 * abs(pull) + 1e-3)
    assert np.linalg.norm(near["bump"]) == pytest.approx(abs(loads.case("bump").links["lower-left"]))
    assert np.linalg.norm(np.cross(near["bump"] / np.linalg.norm(near["bump"]), line)) > 1e-3


def test_springs_push_their_seats_apart_and_together_carry_what_hangs_on_them():
    sheet, axle, loads, mounts = planned(("coil", "axle"), ("coil", "frame"))
    turn = stance_of(sheet, axle).rotation
    up = []
    for side in ("left", "right"):
        seat = by_case(forces_on(mounts[f"coil-{side}"], sheet, axle, loads))["static"]
        top = by_case(forces_on(mounts[f"coil-{side}-frame"], sheet, axle, loads))["static"]
        assert top == pytest.approx(-seat)
        assert np.linalg.norm(seat) == pytest.approx(loads.case("static").springs[side])
        up.append(float((turn @ top)[2]))
    assert up[0] == pytest.approx(up[1])  # mirror
    one = loads.case("static")
    links = sum(k.force * k.toward[2] for k in one.lines)
    assert sum(up) == pytest.approx((1090 - 290) * GRAVITY + links)


def test_a_stop_carries_its_side_at_bump_and_nothing_else():
    sheet, axle, loads, mounts = planned(("stop", "axle"))
    (one,) = forces_on(mounts["stop-left"], sheet, axle, loads)
    assert one.case == "bump"
    assert one.size == pytest.approx(loads.case("bump").springs["left"])
    assert one.trust in (Trust.PRACTICE, Trust.MEMORY, Trust.ASSUMED)


def test_a_shock_beside_springs_catches_the_dropped_axle_and_pulls_where_a_spring_cannot():
    sheet, axle, loads, mounts = planned(("damper", "axle"))
    found = {f.case: f for f in forces_on(mounts["damper-left"], sheet, axle, loads)}
    # half of axle and wheels, four times (the factor of the example)
    assert found[DROP].size == pytest.approx(4 * 290 / 2 * GRAVITY)
    pulling = {one.case.name for one in loads.cases if one.springs["left"] < -1e-3}
    assert pulling and set(found) == {DROP, *pulling}
    for name in pulling:
        assert found[name].size == pytest.approx(-loads.case(name).springs["left"])
    # it pulls its eye on the axle up
    turn = stance_of(sheet, axle).rotation
    assert all((turn @ np.array(f.force))[2] > 0.0 for f in found.values())
    assert "damping force" in found[DROP].not_covered and "fatigue" in found[DROP].not_covered


def test_a_strap_takes_that_from_the_shock_and_it_is_said():
    sheet, axle, loads, mounts = planned(("strap", "axle"), ("damper", "axle"), struts=(COIL, SHOCK, STRAP))
    assert DROP in by_case(forces_on(mounts["strap-left"], sheet, axle, loads))
    assert forces_on(mounts["damper-left"], sheet, axle, loads) == ()
    assert "damping force" in unloaded(mounts["damper-left"], sheet)


def test_left_and_right_are_mirror_images_where_the_case_is():
    sheet, axle, loads, mounts = planned(("lower-left", "axle"), ("coil", "axle"))
    for left, right in (("lower-left", "lower-right"), ("coil-left", "coil-right")):
        one = by_case(forces_on(mounts[left], sheet, axle, loads))
        other = by_case(forces_on(mounts[right], sheet, axle, loads))
        for a, b in (
            ("static", "static"),
            ("brake", "brake"),
            ("side-left", "side-right"),
            ("rock-left", "rock-right"),
        ):
            assert one[a] == pytest.approx(other[b] * [1, -1, 1], abs=1e-6 * np.linalg.norm(one[a]) + 1e-3)
