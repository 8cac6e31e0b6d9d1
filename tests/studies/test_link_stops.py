"""Where stops and straps hold: a general root finder, closed forms, mirror symmetry."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from fixturegen.axle.linkage import Joint
from fixturegen.axle.poses import wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_stops import BEYOND, holds_of
from fixturegen.studies.link_struts import Strut, strut_motion
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

BUMP, DROOP = 5.0 * INCH, 6.0 * INCH


def strut(name, frame, axle, shortest=None, longest=None):
    sizes = (None if v is None else v * INCH for v in (shortest, longest))
    return Strut(name, Joint(made.inches(frame)), Joint(made.inches(axle)), *sizes)


STRUTS = (
    ("bump stop", strut("stop", (1, 20, 29), (1, 21, 21), 3.0, 5.0)),
    ("strap", strut("strap", (-2, 20, 33), (-2, 21, 19), None, 19.6)),
    ("shock", strut("shock", (-3, 19, 42), (-3, 21, 17), 19.0, 32.0)),
    ("spring", strut("coil", (0, 18, 37), (0, 19, 21), 8.0, 23.0)),
)


@pytest.mark.parametrize("way", ["alike", "crossed"])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("end", ["bump", "droop"])
def test_stop_and_strap_hold_where_a_general_root_finder_says(end, side, way):
    linkage = made.three_link()
    (hold,) = [h for h in holds_of(linkage, STRUTS, BUMP, DROOP) if (h.end, h.side, h.way) == (end, side, way)]
    own = STRUTS[end == "droop"][1]
    if side == "right":
        over = np.array([1.0, -1.0, 1.0])
        own = replace(own, frame=Joint(tuple(over * own.frame.point)), axle=Joint(tuple(over * own.axle.point)))
    rest = -DROOP if end == "bump" else BUMP

    def length(travel):
        other = travel if way == "alike" else rest
        wheels = [travel, other] if side == "left" else [other, travel]
        z, r = wheel_travel(np.array([wheels[0]]), np.array([wheels[1]]), linkage.stance.half_track)
        return float(strut_motion(poses_at(linkage, z, r), own).length[0])

    goal = own.shortest if end == "bump" else own.longest
    far = BEYOND * (BUMP if end == "bump" else -DROOP)
    if (length(0.0) - goal) * (length(far) - goal) > 0.0:
        assert hold.holds is None and hold.left == ()
        return
    found = brentq(lambda t: length(t) - goal, 0.0, far, xtol=1e-10)
    assert hold.holds == pytest.approx(found, abs=1e-6)
    rooms = {x.name: x.room for x in hold.left}
    assert set(rooms) == {"shock", "coil"}
    if end == "bump":
        begins = brentq(lambda t: length(t) - own.longest, 0.0, far, xtol=1e-10)
        assert hold.touches == pytest.approx(begins, abs=1e-6)
        assert hold.touches < hold.holds


def test_an_upright_stop_over_an_axle_that_goes_straight_up_is_solid_after_its_gap():
    # geometry: at the axle line of level parallel leaves the first inches are straight up but for the arc
    linkage = made.leaves()
    x = -made.WHEELBASE
    stop = ("bump stop", strut("stop", (x, 20, 24), (x, 20, 20), 3.0, 3.5))
    (left, *_) = holds_of(linkage, (stop,), BUMP, DROOP)
    assert left.holds == pytest.approx(1.0 * INCH, abs=0.01 * INCH)
    assert left.touches == pytest.approx(0.5 * INCH, abs=0.01 * INCH)


def test_the_same_linkage_on_both_sides_stops_both_wheels_alike():
    linkage = made.splayed()
    x = -made.WHEELBASE
    stop = ("bump stop", strut("stop", (x, 20, 27), (x, 21, 20), 3.0))
    found = {(h.side, h.way): h for h in holds_of(linkage, (stop,), BUMP, DROOP)}
    for way in ("alike", "crossed"):
        one, other = found["left", way].holds, found["right", way].holds
        assert (one is None and other is None) or one == pytest.approx(other, abs=1e-6)
    assert found["left", "alike"].touches is None  # no free height was given


def test_a_stop_that_is_never_met_and_a_linkage_that_binds_first_hold_nothing():
    linkage = made.three_link()
    high = ("bump stop", strut("stop", (1, 20, 45), (1, 21, 21), 3.0))
    assert all(h.holds is None and h.left == () for h in holds_of(linkage, (high,), BUMP, DROOP))
    assert holds_of(linkage, STRUTS[2:], BUMP, DROOP) == ()
