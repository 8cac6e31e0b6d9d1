"""Claims about getting things out, each at its boundary: a block a hair too near, and a hair farther."""

from types import SimpleNamespace

import numpy as np
import pytest

from fixturegen.bodies.clearing import Scene
from fixturegen.bodies.in_the_way import Item
from fixturegen.checks import registry
from fixturegen.checks.access import SCENE
from fixturegen.checks.registry import Job
from fixturegen.checks.release import release
from fixturegen.findings import Level
from fixturegen.plate import Assembly, Part, Placement
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.shapes import solids
from fixturegen.sheet.specs import Access, Truss
from fixturegen.studies.access_plan import removals_at_face
from fixturegen.studies.bracket_records import Ear
from fixturegen.studies.clearance_records import AXLE, FRAME, Gaps, Motion, Place, Thing, Tour
from tests.studies.study_jobs import INTEGRAL, REAR, case

CLAIMS = {c.code: c for c in registry.claims() if c.code.startswith("ACC")}
GAPS = Gaps({"static": 6.0, "moving": 12.0, "tyre": 20.0, "flex": 25.0})
HAIR = 0.05
GAP = 1.5875  # 1/16 in, the usual air round what is pulled out [mm]
PLUG = {
    "name": "fill plug", "kind": "fill plug", "at": ["-150 mm", "0 mm", "0 mm"], "out": ["-1", "0", "0"],
    "across": "26 mm",
}  # fmt: skip


def tour():
    """Ride and full droop, the axle at both where V is: frame A and V are one here."""
    eyes, none, known = np.eye(3)[None].repeat(2, axis=0), np.zeros((2, 3)), np.ones(2, np.bool_)
    still = Motion(eyes, none, known)
    places = (Place(0.0, 0.0, 0.0, "ride"), Place(0.0, 0.0, 0.0, "droop"))
    return Tour(places, {FRAME: still, AXLE: still, "rod": still})


def item(name, shape, rides=FRAME, **more):
    return Item(Thing(name, name, rides, accuracy=0.02, **more), shape)


def rod(shape):
    """Something that unbolts: a mover of its own."""
    return item("rod", shape, rides="rod")


def job(*items, name=REAR, facts=None, **given):
    sheet, axle, plan = case(name, links=None, brackets=(), joints=(), clearance=None, loads=None)
    made = Job(sheet.model_copy(update={"access": Access.model_validate(given)}), axle, plan)
    made.brackets = BracketSet(facts=facts or {})
    made.store[SCENE] = Scene(items, tour(), GAPS)
    return made


def levels(code, made):
    return {f.level for f in CLAIMS[code].check(made)} - {Level.NOT_CHECKED}


def first(code, made):
    return next(f for f in CLAIMS[code].check(made) if f.level is not Level.NOT_CHECKED)


def nut(made, number=1):
    """Foot of a nut (3,), the way off (3,) and its socket's radius [mm]."""
    one = [r for r in removals_at_face(made.sheet, made.axle) if r.group == "bolts"][number - 1]
    low = one.tries[0].rods[0]
    foot, end = np.array(low.begin), np.array(low.end)
    return foot, (end - foot) / np.linalg.norm(end - foot), low.diameter / 2.0


def beside_nut(made, gap, number=1):
    """A low plate across, so far from the socket's side; lower than ratchet and wrench, over all nuts' outside."""
    foot, way, radius = nut(made, number)
    y, z = float(foot[1]), float(foot[2])
    assert abs(way[0]) > 0.99
    x = float(foot[0]) + 3.0
    return solids.box(x, y - 15.0, z + radius + gap, x + 12.0, y + 15.0, z + radius + gap + 8.0)


def test_acc_01_a_socket_wants_a_hair_of_air_and_no_steel():
    made = job()
    plate = {g: beside_nut(made, g) for g in (1.2, 0.8, -2.0)}
    assert levels("ACC-01", job()) == {Level.PASS}
    assert levels("ACC-01", job(item("plate", plate[1.2]))) == {Level.PASS}
    tight = first("ACC-01", job(item("plate", plate[0.8])))
    assert tight.level is Level.WARN and "plate" in tight.words and tight.value < tight.limit == 1.0
    shut = first("ACC-01", job(item("plate", plate[-2.0])))
    assert shut.level is Level.FAIL and "carrier nut 1 of 10" in shut.words


def ring(made, height):
    """A round wall about the first nut, clear of socket and ratchet head and not of any handle."""
    foot, way, _ = nut(made)
    base, top = foot + 2.0 * way, foot + height * way
    return solids.tube(tuple(map(float, base)), tuple(map(float, top)), 90.0, 76.0)


def test_acc_01_a_handle_wants_a_swing_or_an_extension_that_lifts_it_over():
    made = job()
    over = first("ACC-01", job(item("wall", ring(made, 60.0))))
    assert (
        over.level is Level.PASS
        and "carrier nut 1 of 10 at 14 deg left of the top with socket, extension of 3 in and ratchet" in over.words
    )
    shut = first("ACC-01", job(item("wall", ring(made, 320.0))))
    assert shut.level is Level.FAIL and "the handle finds no swing for wall" in shut.words
    off = first("ACC-01", job(rod(ring(made, 320.0))))
    assert off.level is Level.WARN and "only with rod off" in off.words


def test_acc_01_where_only_a_wrench_goes_on_what_bars_the_socket_is_named():
    made = job()
    foot, _, _ = nut(made)
    lid = solids.box(foot[0] + 24.0, foot[1] - 60.0, foot[2] - 60.0, foot[0] + 30.0, foot[1] + 60.0, foot[2] + 60.0)
    found = first("ACC-01", job(item("lid", lid)))
    assert found.level is Level.WARN and "open-end wrench" in found.words and "lid bars the socket" in found.words


def cover(made):
    """A cover as a plain disc on the face of the integral casting, and its front [mm]."""
    start = made.axle.face_distance
    return item("cover", solids.box(start, -420.0, -100.0, start + 60.0, -220.0, 100.0), AXLE, own=True), start + 60.0


@pytest.mark.parametrize("loose", [False, True])
def test_acc_02_a_wall_ahead_of_the_cover_leaves_it_its_straight_pull_or_not(loose):
    made = job(name=INTEGRAL)
    lid, front = cover(made)

    def wall(gap):
        x = front + 38.1 + gap  # 1 1/2 in straight off
        shape = solids.box(x, -900.0, -700.0, x + 10.0, 300.0, 700.0)
        return rod(shape) if loose else item("wall", shape)

    # the face leans by 0.3 deg: what it pulls forward it also lifts
    assert levels("ACC-02", job(lid, wall(GAP + 0.5), name=INTEGRAL)) == {Level.PASS}
    assert levels("ACC-02", job(lid, wall(GAP - 0.5), name=INTEGRAL)) == {Level.WARN}
    met = first("ACC-02", job(lid, wall(-2.0), name=INTEGRAL))
    assert met.level is (Level.WARN if loose else Level.FAIL)
    # the wall stands 1 1/8 in, the cover 60 mm, its pull and 2 mm less ahead of the axle line
    ahead = (28.575 + 60.0 + 38.1 - 2.0) / 25.4
    assert f"there: {ahead:.1f} in ahead" in met.words
    assert ("rod" if loose else "wall") in met.words and "after" in met.words
    assert CLAIMS["ACC-02"].check(job()) == []  # a closed back has no cover


def test_acc_03_a_plug_screws_out_past_a_block_or_not_and_what_is_missing_is_told():
    def block(gap):
        return item("block", solids.box(-400.0, 13.0 + gap, -40.0, -152.0, 40.0 + gap, 40.0))

    assert levels("ACC-03", job(fittings=[PLUG])) == {Level.PASS}
    far, near = job(block(60.0), fittings=[PLUG]), job(block(-1.0), fittings=[PLUG])
    assert levels("ACC-03", far) == {Level.PASS}
    found = CLAIMS["ACC-03"].check(near)
    assert found[0].level is Level.FAIL and "fill plug" in found[0].words and "block" in found[0].words
    missing = [f.words for f in found if f.level is Level.NOT_CHECKED]
    assert len(missing) == 2 and "drain plug" in missing[0] and "breather" in missing[1]


def nose(made):
    start = made.axle.face_distance
    return item(
        "nose", solids.box(start + 1.0, -100.0, -100.0, start + 150.0, 100.0, 100.0), AXLE, own=True
    ), start + 150.0


def test_acc_04_a_third_member_comes_off_free_after_something_or_not_at_all():
    made = job()
    own, front = nose(made)
    pull = made.axle.face_distance + 228.0 / 2.0 + 5.0

    def wall(gap):
        return solids.box(front + pull + gap, -600.0, -600.0, front + pull + gap + 10.0, 600.0, 900.0)

    assert levels("ACC-04", job(own, item("wall", wall(4.0)))) == {Level.PASS}
    free = first("ACC-04", job(own))
    assert free.level is Level.PASS and "77 lb (35 kg)" in free.words and "jack or hoist" in free.words
    shut = first("ACC-04", job(own, item("wall", wall(-60.0))))
    assert shut.level is Level.FAIL and "wall" in shut.words
    after = first("ACC-04", job(own, rod(wall(-60.0))))
    assert after.level is Level.WARN and "comes off only with rod off" in after.words


def test_acc_04_a_nose_that_cannot_come_straight_is_tipped_under_what_stands_over_it():
    # a beam 3 mm too low, from 80 mm before the nose on: straight ahead it is met, nose down it is passed
    made = job()
    own, front = nose(made)
    beam = item("beam", solids.box(front + 80.0, -300.0, 97.0, front + 300.0, 300.0, 120.0))
    tipped = first("ACC-04", job(own, beam))
    assert tipped.level is not Level.FAIL and "nose tipped down" in tipped.words
    low = item("beam", solids.box(front + 80.0, -300.0, 20.0, front + 300.0, 300.0, 120.0))
    assert first("ACC-04", job(own, low)).level is Level.FAIL


def test_acc_05_a_shaft_passes_beside_a_post_by_what_is_wanted_or_not():
    radius = 184.0 / 2.0 * 1.0022  # the bar that stands for it is so much thicker at its edges

    def post(gap):
        return item("post", solids.box(radius + gap, 900.0, -300.0, radius + gap + 20.0, 940.0, 300.0))

    assert levels("ACC-05", job(post(GAP + HAIR))) == {Level.PASS}
    found = first("ACC-05", job(post(GAP - 0.3)))
    assert found.level is Level.WARN and "axle shaft, left" in found.words and "post" in found.words
    assert first("ACC-05", job(post(-1.0))).level is Level.FAIL


def strutted(longest, shortest, *items):
    """A job with one coil straight up; 300 mm between its ends at ride and 400 at droop of 100 mm."""
    coil = {
        "name": "coil", "kind": "spring", "frame": ["-2845 mm", "400 mm", "900 mm"],
        "axle": ["-2845 mm", "400 mm", "600 mm"], "shortest": shortest, "longest": longest,
    }  # fmt: skip
    links = case(REAR)[0].links
    made = job(*items, rounds=[{"name": "coil", "diameter": "100 mm"}])
    kept = type(links.struts[0]).model_validate(coil)
    made.sheet = made.sheet.model_copy(update={"links": links.model_copy(update={"struts": (kept,)})})
    return made


def coil_length(made):
    """Between the seats at full droop [mm], from the poses themselves."""
    from fixturegen.studies.access_struts import ends_at, pose_index
    from fixturegen.studies.clearance_poses import tour_of

    there, lines = tour_of(made.sheet, made.axle)
    line = next(one for one in lines if one.name == "coil-left")
    begin, end = ends_at(line, pose_index(there, "droop"))
    return float(np.linalg.norm(end - begin))


def slack_levels(code, made):
    return [f.level for f in CLAIMS[code].check(made) if "between its seats" in f.words]


def test_acc_06_a_coil_is_loose_or_squeezed_or_goes_solid():
    long = coil_length(strutted("400 mm", "200 mm"))
    loose = f"{long - 25.0 - HAIR} mm"
    kept = f"{long - 25.0 + HAIR} mm"
    assert slack_levels("ACC-06", strutted(loose, "200 mm")) == [Level.PASS] * 2
    assert slack_levels("ACC-06", strutted(kept, "200 mm")) == [Level.WARN] * 2
    # free + lip - long is what it is squeezed by; solid it may be squeezed by free - solid
    assert slack_levels("ACC-06", strutted("500 mm", f"{long - 25.0 - HAIR} mm")) == [Level.WARN] * 2
    assert slack_levels("ACC-06", strutted("500 mm", f"{long - 25.0 + HAIR} mm")) == [Level.FAIL] * 2


def test_acc_06_a_coil_in_a_cage_does_not_come_out():
    def way_out(made):
        found = [f for f in CLAIMS["ACC-06"].check(made) if "between its seats" not in f.words]
        return [f.level for f in found if f.level is not Level.NOT_CHECKED]

    assert way_out(strutted("300 mm", "200 mm")) == [Level.PASS]
    made = strutted("300 mm", "200 mm")
    from fixturegen.studies.access_struts import removals_of_struts
    from fixturegen.studies.clearance_poses import tour_of

    there, lines = tour_of(made.sheet, made.axle)
    one = next(r for r in removals_of_struts(made.sheet, there, lines, ()) if r.label.endswith("left"))
    low, high = (np.array(p) for p in (one.tries[0].moving[0].begin, one.tries[0].moving[0].end))
    way = (high - low) / np.linalg.norm(high - low)
    cage = solids.tube(tuple(map(float, low - 150.0 * way)), tuple(map(float, high + 150.0 * way)), 160.0, 120.0)
    assert Level.FAIL in way_out(strutted("300 mm", "200 mm", item("cage", cage)))


def bracketed(*items):
    """A job with one bracket whose bolt runs along Y: ears from 30 to 40 mm either side of (500, 0, 100)."""
    ears = tuple(Ear("ear", o, 10.0, 21.0, 30.0, 30.0, 30.0, False) for o in (30.0, -30.0))
    mount = SimpleNamespace(
        name="arm", label="arm left", holds="arm-left", point=(500.0, 0.0, 100.0), bolt=(0.0, 1.0, 0.0),
        joint=SimpleNamespace(bolt="M20x2.5", shank=20.0), spec=SimpleNamespace(end="axle"),
    )  # fmt: skip
    return job(*items, facts={"arm": SimpleNamespace(mount=mount, ears=ears, parts=("arm-plate",))})


def test_acc_07_a_bolt_is_drawn_to_one_side_and_what_shuts_both_is_named():
    # closed form: grip 80, nut 17.5 and twice 3 make 103.5 long; its head adds 13.4: 117 from the ear's face at 40
    end = 40.0 + 103.5 + 0.67 * 20.0

    def wall(side, gap):
        y0, y1 = sorted((side * (end + gap), side * (end + gap + 5.0)))
        return solids.box(400.0, y0, 0.0, 600.0, y1, 200.0)

    assert levels("ACC-07", bracketed(item("left", wall(1, -50.0)))) == {Level.PASS}
    both = [item("left", wall(1, -50.0)), item("right", wall(-1, GAP + HAIR))]
    assert levels("ACC-07", bracketed(*both)) == {Level.PASS}
    both[1] = item("right", wall(-1, GAP - HAIR - 0.05))
    assert first("ACC-07", bracketed(*both)).level is Level.WARN
    both[1] = item("right", wall(-1, -1.0))
    shut = first("ACC-07", bracketed(*both))
    assert shut.level is Level.FAIL and "bolt of the arm left, axle end" in shut.words


def test_acc_08_a_bracket_that_shuts_something_in_is_held_and_one_beside_is_not():
    made = bracketed()
    free = bracketed(item("bracket-arm", solids.moved(ring(made, 320.0), -900.0, 0.0, 0.0), AXLE))
    shut = bracketed(item("bracket-arm", ring(made, 320.0), AXLE))
    assert levels("ACC-08", free) == {Level.PASS}
    found = CLAIMS["ACC-08"].check(shut)
    assert {f.level for f in found} == {Level.FAIL} and found[0].parts == ("arm-plate",)
    truss = job(item("truss", ring(made, 320.0), AXLE))
    truss.assemblies["truss"] = Assembly(
        "truss", "A", (Placement("side-plate"), Placement("side-plate"), Placement("top"))
    )
    assert CLAIMS["ACC-08"].check(truss)[0].parts == ("side-plate", "top")
    part = Part("arm-plate", "arm plate", "brackets", "plate")
    assert release((part,), (), found)["arm-plate"] is not None
    assert release((part,), (), CLAIMS["ACC-08"].check(free))["arm-plate"] is None


def test_nothing_is_said_where_the_sheet_asks_for_no_access():
    made = job()
    made.sheet = made.sheet.model_copy(update={"access": None})
    assert [f for c in CLAIMS.values() for f in c.check(made)] == []


def test_what_the_sheet_calls_loose_is_a_warning_and_no_fail():
    made = job()
    wall = item("wall", ring(made, 320.0))
    assert first("ACC-01", job(wall)).level is Level.FAIL
    assert first("ACC-01", job(wall, comes_off=["Wall"])).level is Level.WARN


def test_names_that_are_not_there_are_told_under_their_own_key():
    def told(**given):
        sheet, axle, plan = case(REAR, brackets=(), joints=())
        made = Job(sheet.model_copy(update={"access": Access.model_validate(given)}), axle, plan)
        return [f for c in CLAIMS.values() for f in c.check(made) if f.level is Level.FAIL]

    (found,) = told(rounds=[{"name": "stop", "diameter": "40 mm"}, {"name": "sprong", "diameter": "40 mm"}])
    assert "access.rounds[2].name" in found.words and "sprong" in found.words and "shock" in found.words
    (found,) = told(comes_off=["fuel tank", "exhoust"])
    assert "access.comes_off[2]" in found.words and "exhoust" in found.words and "exhaust" in found.words


def test_fittings_of_a_truss_are_looked_at_as_well_and_none_twice():
    made = job(fittings=[PLUG])
    truss = Truss.model_validate({"plate": "6 mm", "fittings": [PLUG, {**PLUG, "name": "drain", "kind": "drain plug"}]})
    made.sheet = made.sheet.model_copy(update={"truss": truss})
    (found,) = [f for f in CLAIMS["ACC-03"].check(made) if f.level is not Level.NOT_CHECKED]
    assert found.level is Level.PASS and found.words.startswith("2 looked at")
