"""Forces in links and springs against sums, work, closed forms and a finite-element library, none of them ours."""

import itertools
import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from Pynite import FEModel3D

from fixturegen.axle.linkage import Joint
from fixturegen.axle.linkage_kinds import linkage_of
from fixturegen.axle.model import axle_of
from fixturegen.axle.motion import motions
from fixturegen.axle.travel import poses_at
from fixturegen.calc.link_force import link_force
from fixturegen.errors import InputFault
from fixturegen.findings import Trust
from fixturegen.studies.axle_loads import AxleLoads, carried, loads_of
from fixturegen.studies.load_cases import cases_of
from fixturegen.studies.load_numbers import load_numbers
from fixturegen.studies.load_records import Couple, LoadCase, Push
from fixturegen.studies.load_springs import SpringLine, springs_on
from tests.axle import invented_linkages as invented
from tests.sheet import altered
from tests.studies.load_jobs import INCH, LBF, at_patches, leaning, plane_axle, straight_up
from tests.studies.study_jobs import DROPOUT, REAR, sheet_of

FOURS = ("splayed", "single-splay", "three-link", "wishbone")


@cache
def example(name) -> AxleLoads:
    sheet = sheet_of(name)
    return loads_of(sheet, axle_of(sheet))


def plenty(stance, seed=5):
    """A case of forces and torques in every direction, at points all over the axle."""
    rng = np.random.default_rng(seed)
    pushes = tuple(
        Push(
            f"p{k}",
            tuple(rng.uniform(-500, 500, 3)),
            tuple(rng.uniform(-9000, 9000, 3)),
            tuple(rng.uniform(-200, 200, 3)),
        )
        for k in range(4)
    )
    return LoadCase("plenty", "forces all over", pushes, (Couple("pinion", (8e5, -3e5, 2e5), "A"),))


def placed(made, one):
    """Rotation and origin of A in V at a case's pose."""
    poses = poses_at(made.linkage, one.case.heave)
    return poses.rotations()[0], poses.origins()[0]


def sums(made: AxleLoads, one):
    """Force and moment about the origin of V of all that acts on the axle, added up point by point.

    Nothing of the solver but the forces it found: links from joint to joint, springs along their lines.
    """
    turn, origin = placed(made, one)
    force, moment, size = np.zeros(3), np.zeros(3), 0.0

    def add(at, push):
        nonlocal force, moment, size
        force, moment, size = force + push, moment + np.cross(at, push), size + float(np.linalg.norm(push))

    for push in one.case.pushes:
        add(turn @ np.array(push.at) + origin + np.array(push.below), np.array(push.force))
    for couple in one.case.couples:
        given = np.array(couple.moment)
        moment = moment + (turn @ given if couple.frame == "A" else given)
    load = size
    for link in made.linkage.links:
        here = turn @ made.linkage.stance.in_axle(link.axle) + origin
        there = here + np.array(link.direction) * -1.0 if link.direction else np.array(link.frame.point)
        along = (there - here) / np.linalg.norm(there - here)
        add(here, one.links[link.name] * along)
    for side in ("left", "right"):
        mine = [s for s in made.springs if s.side == side]
        for spring in mine:
            here = turn @ np.array(spring.axle) + origin
            down = np.array([0.0, 0.0, -1.0]) if spring.frame is None else here - np.array(spring.frame)
            add(here, one.springs[side] / len(mine) * down / np.linalg.norm(down))
    return force, moment - np.cross(origin, force), load


def closes(made, one):
    force, moment, load = sums(made, one)
    return max(np.linalg.norm(force), np.linalg.norm(moment) / 1000.0) / load


# statics: a body at rest has no force and no moment left over


@pytest.mark.parametrize("name", [DROPOUT, REAR])
def test_forces_and_moments_of_every_case_of_the_examples_close(name):
    made = example(name)
    assert made.cases
    assert made.uncarried == ()
    for one in made.cases:
        assert closes(made, one) < 1e-9, one.case.name
        assert one.residual.share < 1e-9


def test_the_sum_in_this_file_finds_a_force_that_is_a_millionth_off():
    made = example(DROPOUT)
    one = made.case("brake")
    spoiled = replace(one, lines=(replace(one.lines[0], force=one.lines[0].force * (1 + 1e-6)), *one.lines[1:]))
    assert closes(made, spoiled) > 1e-9


@pytest.mark.parametrize("name", [*FOURS, "leaves"])
@pytest.mark.parametrize("heave", [0.0, 60.0, -70.0])
def test_any_load_at_any_height_closes(name, heave):
    linkage = invented.EXACT[name]()
    case = replace(plenty(linkage.stance), heave=heave)
    made = carried(linkage, leaning(linkage.stance), (case,))
    assert closes(made, made.cases[0]) < 1e-9


def soft_truck_arms():
    return linkage_of("truck-arms", invented.rear_stance(), invented.arms(pivot=0.0, rate=2000.0))


@pytest.mark.parametrize("make", [invented.radius_arms, soft_truck_arms, lambda: invented.five_link(rate=3000.0)])
@pytest.mark.parametrize("heave", [0.0, 50.0])
def test_over_located_axles_close_too(make, heave):
    linkage = make()
    made = carried(linkage, leaning(linkage.stance), (replace(plenty(linkage.stance), heave=heave),))
    assert closes(made, made.cases[0]) < 1e-9


def test_an_over_located_axle_at_bump_carries_what_its_bushes_give():
    # law: bush force = rate x change of length; with no load the links hold one another in balance
    linkage = invented.five_link(rate=3000.0)
    nothing = LoadCase("nothing", "no load", (Push("none", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),), heave=80.0)
    made = carried(linkage, straight_up(), (nothing,))
    poses = poses_at(linkage, 80.0)
    lengths = np.linalg.norm(poses.points(linkage.axle_points())[0] - linkage.frame_points(), axis=1)
    wanted = 3000.0 * (lengths - linkage.lengths())
    assert np.abs(wanted).max() > 10.0
    assert list(made.cases[0].links.values()) == pytest.approx(wanted, abs=0.02)


# closed form in the plane: practice, "arithmetic": 4000 lb, friction 1, 20 in radius


@pytest.mark.parametrize(
    ("separation", "upper", "lower"), [(8, 10_000, 14_000), (6, 13_333, 17_333), (10, 8_000, 12_000)]
)
def test_level_links_carry_what_the_crude_moment_gives(separation, upper, lower):
    linkage = plane_axle(separation)
    pull = at_patches(linkage.stance, (2000, 0, 2000), (2000, 0, 2000))
    one = carried(linkage, straight_up(), (pull,)).cases[0]
    above, below = one.links["upper"] / LBF, (one.links["lower-left"] + one.links["lower-right"]) / LBF
    assert above == pytest.approx(upper, rel=1e-4)  # driven forward: the upper link is pulled, the lower ones pushed
    assert below == pytest.approx(-lower, rel=1e-4)
    crude = link_force(axle_load=4000 * LBF, friction=1.0, tyre_radius=20 * INCH, separation=separation * INCH)
    assert abs(above) * LBF == pytest.approx(crude.upper_force, rel=1e-12)
    assert abs(below) * LBF == pytest.approx(crude.lower_force, rel=1e-12)
    assert one.springs["left"] / LBF == pytest.approx(2000, rel=1e-12)
    assert abs(one.links["track-bar"]) < 1e-6


def test_lower_links_under_the_axle_line_get_less():
    # statics: moments about the lower joints, radius - 4 in
    linkage = plane_axle(8, lower_up=-4.0)
    pull = at_patches(linkage.stance, (2000, 0, 2000), (2000, 0, 2000))
    one = carried(linkage, straight_up(), (pull,)).cases[0]
    assert one.links["upper"] / LBF == pytest.approx(4000 * 16 / 8, rel=1e-9)


def test_a_side_force_goes_into_a_level_track_bar_whole():
    linkage = plane_axle(8)
    one = carried(linkage, straight_up(), (at_patches(linkage.stance, (0, 1500, 2000), (0, 1500, 2000)),)).cases[0]
    # bar from the axle's right to the frame's left: a push to the left shortens it
    assert one.links["track-bar"] / LBF == pytest.approx(-3000, rel=1e-9)
    # both wheels weigh alike; a push to the left under the axle turns its left side up, against the left
    # spring: 3000 lb at 20 in over springs 32 in apart
    assert (one.springs["left"] - one.springs["right"]) / LBF == pytest.approx(2 * 3000 * 20 / 32, rel=1e-9)


# virtual work: forces that balance do no work in any motion


def moved(points, step):
    """Points after a small motion (velocity, turning rate) by Rodrigues' formula."""
    velocity, turning = step[:3], step[3:]
    angle = np.linalg.norm(turning)
    if angle == 0.0:
        return points + velocity
    axis = turning / angle
    cross = np.cross(axis, points)
    along = np.outer(points @ axis, axis)
    return points * math.cos(angle) + cross * math.sin(angle) + along * (1 - math.cos(angle)) + velocity


@pytest.mark.parametrize("name", FOURS)
def test_each_force_does_the_work_of_the_loads_when_its_link_alone_may_change(name):
    linkage = invented.EXACT[name]()
    stance = linkage.stance
    springs, case = leaning(stance), plenty(stance)
    one = carried(linkage, springs, (case,)).cases[0]
    ends = linkage.axle_points() @ stance.rotation.T
    seats = np.array([s.axle for s in springs]) @ stance.rotation.T
    far = np.vstack([linkage.frame_points(), np.array([s.frame for s in springs])]) - stance.origin
    near = np.vstack([ends, seats])
    at = np.array([p.at for p in case.pushes]) @ stance.rotation.T + np.array([p.below for p in case.pushes])

    def lengths(step):
        return np.linalg.norm(moved(near, step) - far, axis=1)

    h = 1e-4
    slopes = np.zeros((6, 6))  # change of each length with each motion, by central differences
    for k in range(6):
        step = np.zeros(6)
        step[k] = h if k < 3 else h / 1000.0
        slopes[:, k] = (lengths(step) - lengths(-step)) / (2.0 * h)
    turning = stance.rotation @ np.array(case.couples[0].moment)
    forces = [*one.links.values(), *(-f for f in one.springs.values())]  # as tensions
    for i, force in enumerate(forces):
        motion = np.linalg.solve(slopes, np.eye(6)[i])  # this length grows by 1, the others stay
        velocity, rate = motion[:3], motion[3:] / 1000.0
        work = sum(
            float(np.array(p.force) @ (velocity + np.cross(rate, a))) for p, a in zip(case.pushes, at, strict=True)
        )
        work += float(turning @ rate)
        assert force == pytest.approx(work, rel=1e-6, abs=1e-2), i


@pytest.mark.parametrize("name", [*FOURS, "leaves"])
def test_springs_do_the_work_of_the_loads_in_heave_and_in_roll(name):
    # the free motions of axle/motion.py, found from the null space and not from forces
    linkage = invented.EXACT[name]()
    case = replace(plenty(linkage.stance), heave=40.0)
    made = carried(linkage, leaning(linkage.stance), (case,))
    one = made.cases[0]
    poses = poses_at(linkage, 40.0)
    turn, origin = poses.rotations()[0], poses.origins()[0]
    free = motions(poses)
    for twist in (free.heave[0], free.roll[0]):
        velocity, rate = twist[:3], twist[3:]
        work = float(turn @ np.array(case.couples[0].moment) @ rate)
        for push in case.pushes:
            arm = turn @ np.array(push.at) + np.array(push.below)
            work += float(np.array(push.force) @ (velocity + np.cross(rate, arm)))
        for spring in made.springs:
            arm = turn @ np.array(spring.axle)
            line = arm + origin - np.array(spring.frame)
            growth = float(line @ (velocity + np.cross(rate, arm))) / float(np.linalg.norm(line))
            work += one.springs[spring.side] * growth
        size = max(abs(f) for f in one.springs.values())
        assert abs(work) < 1e-6 * size * max(1.0, float(np.linalg.norm(rate)) * 500.0)


# a general finite-element library: links as bars, the axle as a frame stiff against them


def by_elements(linkage, springs, case, rates):
    """Tension in each link and force of each spring from Pynite, axle as stiff beams from its centre."""
    model = FEModel3D()
    model.add_material("steel", 1.0, 0.5, 0.3, 1e-12)
    model.add_section("stiff", 1e9, 1e15, 1e15, 1e15)
    stance = linkage.stance
    model.add_node("centre", 0.0, 0.0, 0.0)
    lines = [
        (k.name, e, np.array(k.frame.point) - stance.origin)
        for k, e in zip(linkage.links, linkage.axle_points(), strict=True)
    ]
    lines += [(s.side, np.array(s.axle), np.array(s.frame) - stance.origin) for s in springs]
    for (name, end, far), rate in zip(lines, [*rates, 1e7, 1e7], strict=True):
        near = stance.rotation @ end
        length = float(np.linalg.norm(near - far))
        model.add_section(f"s-{name}", rate * length, 1.0, 1.0, 1.0)
        model.add_node(f"n-{name}", *map(float, near))
        model.add_node(f"f-{name}", *map(float, far))
        model.def_support(f"f-{name}", True, True, True, True, True, True)
        model.add_member(f"a-{name}", "centre", f"n-{name}", "steel", "stiff")
        model.add_member(name, f"n-{name}", f"f-{name}", "steel", f"s-{name}")
        # joints at both ends; torsion of the bar is held at the frame alone
        model.def_releases(name, False, False, False, False, True, True, False, False, False, True, True, True)
    total = np.zeros(6)
    for push in case.pushes:
        arm = stance.rotation @ np.array(push.at) + np.array(push.below)
        total += np.concatenate([push.force, np.cross(arm, push.force)])
    for couple in case.couples:
        total[3:] += stance.rotation @ np.array(couple.moment) if couple.frame == "A" else np.array(couple.moment)
    for way, size in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), total, strict=True):
        model.add_node_load("centre", way, float(size))
    model.analyze_linear()
    return [-model.members[name].axial(0.0) for name, _, _ in lines]


def rates_of(linkage):
    return [k.rate or 1e7 for k in linkage.links]


@pytest.mark.parametrize("name", ["splayed", "single-splay", "three-link"])
def test_four_links_agree_with_a_finite_element_library(name):
    linkage = invented.EXACT[name]()
    springs, case = leaning(linkage.stance), plenty(linkage.stance)
    one = carried(linkage, springs, (case,)).cases[0]
    ours = [*one.links.values(), *(-f for f in one.springs.values())]
    theirs = by_elements(linkage, springs, case, [2000.0] * 4)
    assert ours == pytest.approx(theirs, rel=1e-3, abs=5.0)


def uneven_five():
    linkage = invented.five_link(rate=3000.0)
    links = [
        replace(k, axle=replace(k.axle, rate=r))
        for k, r in zip(linkage.links, (2000, 3500, 900, 1500, 5000), strict=True)
    ]
    return linkage_of("five-link", linkage.stance, tuple(links))


@pytest.mark.parametrize("make", [uneven_five, invented.radius_arms])
def test_links_that_share_by_their_bushes_agree_with_a_finite_element_library(make):
    linkage = make()
    springs, case = leaning(linkage.stance), plenty(linkage.stance)
    one = carried(linkage, springs, (case,)).cases[0]
    ours = [*one.links.values(), *(-f for f in one.springs.values())]
    theirs = by_elements(linkage, springs, case, rates_of(linkage))
    size = max(abs(f) for f in theirs)
    assert ours == pytest.approx(theirs, abs=2e-3 * size)


# laws: mirror, superposition, proportion


def mirrored(case):
    def over(p):
        return (p[0], -p[1], p[2])

    pushes = tuple(replace(p, at=over(p.at), force=over(p.force), below=over(p.below)) for p in case.pushes)
    # a torque is mirrored as an axial vector
    couples = tuple(replace(c, moment=(-c.moment[0], c.moment[1], -c.moment[2])) for c in case.couples)
    return replace(case, pushes=pushes, couples=couples)


@pytest.mark.parametrize("name", ["splayed", "single-splay", "wishbone"])
def test_the_mirrored_load_gives_the_mirrored_forces(name):
    linkage = invented.EXACT[name]()
    case = plenty(linkage.stance)
    made = carried(linkage, leaning(linkage.stance), (case, mirrored(case)))
    here, there = (one.links | one.springs for one in made.cases)
    for side, force in here.items():
        other = {"left": "right", "right": "left"}
        swapped = "-".join(other.get(p, p) for p in side.split("-"))
        assert there[swapped] == pytest.approx(force, rel=1e-9, abs=1e-6)
    assert here["lower-left"] != pytest.approx(here["lower-right"], rel=0.01)


@pytest.mark.parametrize("make", [*(invented.EXACT[n] for n in FOURS), uneven_five])
def test_two_loads_at_once_give_the_sum_of_what_each_gives(make):
    linkage = make()
    one, other = plenty(linkage.stance, 1), plenty(linkage.stance, 2)
    both = replace(one, pushes=one.pushes + other.pushes, couples=one.couples + other.couples)
    a, b, c = (k.links for k in carried(linkage, leaning(linkage.stance), (one, other, both)).cases)
    assert [c[n] for n in c] == pytest.approx([a[n] + b[n] for n in c], rel=1e-9, abs=1e-6)


def test_the_side_case_with_steering_is_the_sum_of_its_two():
    made = example(DROPOUT)
    for side in ("left", "right"):
        whole = made.case(f"side-steer-{side}")
        slid = made.case(f"side-{side}")
        standing = made.case("static")
        steered = next(
            s
            for s in (made.case("steer-left"), made.case("steer-right"))
            if s.links["track-bar"] * slid.links["track-bar"] > 0.0
        )
        for name, force in whole.links.items():
            assert force == pytest.approx(slid.links[name] + steered.links[name] - standing.links[name], abs=1e-6)
        assert abs(whole.links["track-bar"]) > abs(slid.links["track-bar"])


# brackets


@pytest.mark.parametrize("name", FOURS)
def test_the_forces_on_both_brackets_of_a_link_are_opposite_and_along_it(name):
    linkage = invented.EXACT[name]()
    made = carried(linkage, leaning(linkage.stance), (replace(plenty(linkage.stance), heave=50.0),))
    one = made.cases[0]
    turn, origin = placed(made, one)
    for link in linkage.links:
        axle = np.array(one.on_bracket(link.name, "axle", "V"))
        frame = np.array(one.on_bracket(link.name, "frame", "V"))
        assert axle == pytest.approx(-frame)
        way = np.array(link.frame.point) - (turn @ linkage.stance.in_axle(link.axle) + origin)
        # tension pulls the bracket on the axle toward the frame
        assert axle == pytest.approx(one.links[link.name] * way / np.linalg.norm(way), rel=1e-9, abs=1e-6)
        assert np.array(one.on_bracket(link.name, "axle")) == pytest.approx(turn.T @ axle, rel=1e-9, abs=1e-6)


def test_a_wishbone_and_an_arm_answer_with_the_sum_of_their_lines():
    linkage = invented.wishbone()
    one = carried(linkage, leaning(linkage.stance), (plenty(linkage.stance),)).cases[0]
    whole = np.array(one.on_bracket("upper", "axle"))
    legs = [np.array(one.on_bracket(f"upper-{s}", "axle")) for s in ("left", "right")]
    assert whole == pytest.approx(legs[0] + legs[1])
    arms = invented.radius_arms()
    one = carried(arms, leaning(arms.stance), (plenty(arms.stance),)).cases[0]
    pivot = np.array(one.on_bracket("arm-left", "frame", "V"))
    lines = [np.array(one.on_bracket(f"arm-left-{e}", "frame", "V")) for e in ("front", "rear")]
    assert pivot == pytest.approx(lines[0] + lines[1])
    with pytest.raises(KeyError):
        one.on_bracket("arm-middle", "frame")


# what cannot be carried


def test_springs_on_the_middle_line_leave_the_axle_free_to_roll_and_the_case_is_named():
    linkage = plane_axle(8)
    case = at_patches(linkage.stance, (0, 0, 2000), (0, 0, 1000))
    made = carried(linkage, straight_up(half=0.0), (case,))
    assert made.cases == ()
    with pytest.raises(KeyError):
        made.governing("upper")
    (told,) = made.uncarried
    assert told.case.name == "tried"
    assert "in roll" in told.why
    assert carried(linkage, straight_up(half=4.0), (case,)).uncarried == ()


def test_springs_that_lie_flat_leave_the_axle_free_to_move_up_and_down():
    linkage = plane_axle(8)
    flat = tuple(replace(s, frame=(s.axle[0] - 110 * INCH + 1000.0, s.axle[1], 20 * INCH)) for s in straight_up())
    (told,) = carried(linkage, flat, (at_patches(linkage.stance, (0, 0, 1), (0, 0, 1)),)).uncarried
    assert "up and down" in told.why


def test_a_pose_out_of_reach_leaves_its_case_uncarried_and_the_others_carried():
    linkage = invented.single_splay()
    case = at_patches(linkage.stance, (0, 0, 2000), (0, 0, 2000))
    high = replace(case, name="bump", heave=3000.0, pose="bump")
    made = carried(linkage, straight_up(), (case, high))
    assert [one.case.name for one in made.cases] == ["tried"]
    (told,) = made.uncarried
    assert told.case.name == "bump"
    assert "out of reach" in told.why


def test_five_links_without_bush_rates_are_refused_in_a_sentence():
    linkage = invented.five_link()
    with pytest.raises(InputFault, match=r"links\.kind: given five-link with 5 lengths.*rates"):
        carried(linkage, straight_up(), (plenty(linkage.stance),))


def test_stiff_links_among_soft_ones_share_in_one_way_or_are_told():
    linkage = invented.five_link(rate=3000.0)
    stiff = replace(linkage.links[4], axle=Joint(linkage.links[4].axle.point))
    one_stiff = linkage_of("five-link", linkage.stance, (*linkage.links[:4], stiff))
    made = carried(one_stiff, straight_up(), (plenty(linkage.stance),))
    assert closes(made, made.cases[0]) < 1e-9
    hard = [replace(k, axle=Joint(k.axle.point)) for k in linkage.links[1:]]
    most = linkage_of("five-link", linkage.stance, (linkage.links[0], *hard))
    # with one soft link alone the four stiff ones and the springs are the six unknowns of statics
    made = carried(most, straight_up(), (plenty(linkage.stance),))
    assert abs(made.cases[0].links["lower-left"]) < 1e-3 * max(abs(f) for f in made.cases[0].links.values())


# the sheet


def test_the_governing_case_of_a_link_is_the_one_with_the_largest_force():
    made = example(REAR)
    for name in made.linkage.names:
        case, force = made.governing(name)
        everything = {one.case.name: one.links[name] for one in made.cases}
        assert abs(force) == max(abs(f) for f in everything.values())
        assert everything[case] == force
        assert made.governing(name, "pull")[1] == max(everything.values())
        assert made.governing(name, "push")[1] == min(everything.values())


def test_a_rear_axle_that_drives_forward_pushes_its_lower_links_and_pulls_its_upper_ones():
    links = example(REAR).case("drive").links
    assert links["lower-left"] < 0 and links["lower-right"] < 0
    assert links["upper-left"] > 0 and links["upper-right"] > 0


def test_numbers_carry_unit_source_trust_and_what_is_not_covered():
    sheet = sheet_of(DROPOUT)
    made = example(DROPOUT)
    numbers = load_numbers(sheet, axle_of(sheet), made)
    links = made.linkage.names
    assert len(numbers) == len(made.cases) * (len(links) + 3)
    number = numbers["loads.side-steer-left.track-bar"]
    assert number.value == made.case("side-steer-left").links["track-bar"]
    assert number.unit == "N"
    for word in ("side_factor 2", "friction 1", "steering_force 1900 lbf", "fatigue", "heat-affected zone", "kerb"):
        assert word in number.source
    assert number.trust is Trust.PRACTICE
    assert numbers["loads.static.upper"].trust is Trust.DERIVED
    assert numbers["loads.brake.residual"].value < 1e-9


def test_a_factor_left_out_makes_its_cases_assumed_and_no_others():
    sheet = altered.sheet(altered.REAR, ('side_factor = "2"\n', ""))
    numbers = load_numbers(sheet, axle_of(sheet))
    trusts = {name: n.trust for name, n in numbers.items() if "residual" not in name}
    assert {t for n, t in trusts.items() if ".side-" in n} == {Trust.ASSUMED}
    assert {t for n, t in trusts.items() if ".side-" not in n} == {Trust.PRACTICE}


def test_a_factor_or_weight_left_out_makes_the_number_assumed():
    sheet = sheet_of(DROPOUT, loads={"axle_load": "2640 lb", "ratio": "4.1"})
    numbers = load_numbers(sheet, axle_of(sheet))
    assert numbers["loads.static.upper"].trust is Trust.ASSUMED
    assert not [name for name in numbers if "steer" in name]
    assert load_numbers(sheet_of(DROPOUT, loads=None), axle_of(sheet)) == {}


def test_the_same_sheet_gives_the_same_numbers():
    sheet = sheet_of(REAR)
    assert load_numbers(sheet, axle_of(sheet)) == load_numbers(sheet, axle_of(sheet))


def test_two_springs_a_side_share_its_force_alike():
    linkage = plane_axle(8)
    case = at_patches(linkage.stance, (0, 0, 2000), (0, 0, 2000))
    pairs = tuple(itertools.chain(straight_up(14.0), straight_up(18.0)))
    made = carried(linkage, pairs, (case,))
    assert made.cases[0].springs["left"] / LBF == pytest.approx(2000)
    assert closes(made, made.cases[0]) < 1e-9


def test_springs_come_from_struts_and_shocks_stand_for_them_where_there_are_none():
    sheet = sheet_of(DROPOUT)
    left, right = springs_on(sheet, axle_of(sheet))
    assert (left.name, right.side) == ("coil, front", "right")
    assert right.axle == pytest.approx((left.axle[0], -left.axle[1], left.axle[2]))
    assert isinstance(left, SpringLine)
    sheet = sheet_of(REAR)
    assert all("coil-over" in s.how for s in springs_on(sheet, axle_of(sheet)))
    sheet = sheet_of(REAR, links__struts=[])
    with pytest.raises(InputFault, match=r"links\.struts: given no spring and no shock"):
        loads_of(sheet, axle_of(sheet))


def test_leaf_springs_push_straight_up_at_their_seats():
    leaf = {"left": {
        "fixed_eye": ["-2200 mm", "480 mm", "430 mm"], "shackle_eye": ["-3490 mm", "480 mm", "430 mm"],
        "seat": ["-2845 mm", "480 mm", "440 mm"],
    }}  # fmt: skip
    sheet = sheet_of(
        REAR,
        links={"kind": "leaf-springs", "bump": "100 mm", "droop": "100 mm", "gravity_height": "860 mm", "leaf": leaf},
    )
    made = loads_of(sheet, axle_of(sheet))
    assert made.uncarried == ()
    assert all(closes(made, one) < 1e-9 for one in made.cases)
    static = made.case("static")
    hung = (1090 - 290) * 9.80665 / 2
    assert static.springs["left"] == pytest.approx(hung, rel=0.02)
    numbers = load_numbers(sheet, axle_of(sheet), made)
    assert numbers["loads.static.leaf-left"].trust is Trust.PRACTICE


def test_cases_of_the_examples_are_those_that_were_carried():
    for name in (DROPOUT, REAR):
        sheet = sheet_of(name)
        assert [c.name for c in cases_of(sheet, axle_of(sheet))] == [one.case.name for one in example(name).cases]
