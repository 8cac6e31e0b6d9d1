"""Every claim about solids at its boundary: steel put just beside the way, and just into it."""

import dataclasses
import math

import pytest

from fixturegen.checks import torch, turned_round
from fixturegen.checks.passages import SHRINK
from fixturegen.findings import Level
from fixturegen.plate.profile import rectangle, reversed_loop
from fixturegen.shapes import solids
from tests.checks.bench_jobs import (
    DROPOUT,
    INCH,
    INTEGRAL,
    REAR,
    bare,
    fails,
    findings,
    job,
    plate,
    thing,
    with_block,
)

STANDING = ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0))


@pytest.mark.parametrize(("deep", "wanted"), [(0.04, 0), (0.07, 1)])
def test_fit_01_plates_may_touch_but_not_share(deep, wanted):
    made = bare(
        [
            plate("under", 0, 0, 100, 100, 10.0, (0.0, 0.0, 0.0)),
            plate("over", 0, 0, 100, 100, 10.0, (0.0, 0.0, 10.0 - deep)),
        ]
    )
    assert len(fails("FIT-01", made)) == wanted


def test_fit_01_a_part_that_cannot_be_drawn_is_named():
    name, profile, thick, place = plate("bad", 0, 0, 100, 100, 10.0, (0.0, 0.0, 0.0))
    crossed = (profile.outer[0], profile.outer[2], profile.outer[1], profile.outer[3])
    found = fails("FIT-01", bare([(name, dataclasses.replace(profile, outer=crossed), thick, place)]))
    assert found[0].parts == ("bad",)


def test_fit_01_a_block_wholly_inside_a_plate_is_found():
    made = bare([plate("thick", -100, -100, 100, 100, 60.0, (0.0, 0.0, 0.0))])
    assert fails("FIT-01", with_block(made, solids.box(-5, -5, 20, 5, 5, 30)), "block")


@pytest.mark.parametrize(("thick", "wanted"), [(9.99, 0), (10.01, 1), (10.3, 1)])
def test_fit_02_a_plate_thicker_than_the_slot_was_cut_for_does_not_enter(thick, wanted):
    # slot 10.2 wide: 0.1 mm on each side of a plate of 10.0 mm
    cut = reversed_loop(rectangle(-30.0, -5.1, 30.0, 5.1))
    made = bare(
        [
            plate("floor", -100, -100, 100, 100, 10.0, (0.0, 0.0, 0.0), inner=(cut,)),
            plate("wall", -25, -20, 25, 100, thick, (0.0, thick / 2.0, 0.0), STANDING),
        ]
    )
    assert len(fails("FIT-02", made)) == wanted


def test_fit_02_the_room_is_told_and_a_tab_too_long_is_found():
    cut = reversed_loop(rectangle(-30.0, -5.5, 30.0, 5.5))
    floor = plate("floor", -100, -100, 100, 100, 10.0, (0.0, 0.0, 0.0), inner=(cut,))
    for half, room in ((29.7, 0.3), (31.0, -1.0)):
        wall = plate("wall", -half, -20, half, 100, 9.0, (0.0, 4.5, 0.0), STANDING)
        assert math.isclose(findings("FIT-02", bare([floor, wall]))[0].value, room, abs_tol=1e-6)


@pytest.mark.parametrize(("gap", "wanted"), [(0.7, False), (-0.7, True)])
def test_fit_03_steel_over_the_tube_stops_the_axle(gap, wanted):
    made = job(DROPOUT)
    tube = thing(made, "tube-left")
    x, y, z = tube.box[3] + gap, (tube.box[1] + tube.box[4]) / 2, made.plan.height + 150.0
    block = solids.box(x, y, z, x + 20, y + 20, z + 20)
    assert bool(fails("FIT-03", with_block(made, block, "cradle-l"), "block")) is wanted


def test_fit_03_steel_behind_the_stand_stops_the_stand():
    made = job(DROPOUT)
    base = thing(made, "stand-base")
    s = made.plan.face_sign
    x = base.box[0] - 30.0 if s < 0 else base.box[3] + 10.0
    block = solids.box(x, 0, 2, x + 20, 20, 30)
    assert fails("FIT-03", with_block(made, block, "cradle-l"), "block")


@pytest.mark.parametrize(("gap", "wanted"), [(0.2, False), (-0.2, True)])
def test_fit_04_steel_in_line_with_the_bar_stops_it(gap, wanted):
    made = job(DROPOUT)
    r, h = made.sheet.bar.diameter / 2.0 + gap, made.plan.height
    assert bool(fails("FIT-04", with_block(made, solids.box(-20, 900, h + r, 20, 920, h + r + 20)), "block")) is wanted


@pytest.mark.parametrize(("short", "wanted"), [(0.0, 0), (1.0, 1)])
def test_fit_04_the_bar_needs_its_own_length_beside_the_table(short, wanted):
    made = job(DROPOUT)
    free = type(made.sheet.bar.free_length)(made.sheet.bar.length - short)
    bar = made.sheet.bar.model_copy(update={"free_length": free})
    sheet = made.sheet.model_copy(update={"bar": bar})
    assert len(fails("FIT-04", dataclasses.replace(made, sheet=sheet), "free length")) == wanted


@pytest.mark.parametrize(("gap", "wanted"), [(0.7, False), (-0.7, True)])
def test_fit_05_steel_outboard_of_a_plate_keeps_it_on(gap, wanted):
    made = job(DROPOUT)
    plate_ = thing(made, "clock-plate-l")
    z = plate_.box[5] + gap
    block = solids.box(-40, 900, z, 40, 930, z + 20)
    assert bool(fails("FIT-05", with_block(made, block, "cradle-l"), "block")) is wanted


def shield(made, half):
    """Half a pipe round the left joint, `half` [deg] each way from straight up."""
    y, z = made.axle.knuckles[0].weld_station, made.plan.height
    pipe = solids.tube((0, y - 150, z), (0, y + 5, z), 200.0, 190.0)
    a = math.radians(half)
    wedge = solids.box(-300, y - 160, z + 100 * math.cos(a), 300, y + 10, z + 300)
    return solids.common(pipe, wedge)


@pytest.mark.parametrize(("half", "wanted"), [(15.0, 0), (85.0, 1)])
def test_fit_06_a_shield_over_the_joint_shuts_what_it_covers(half, wanted):
    made = with_block(job(DROPOUT), shield(job(DROPOUT), half))
    assert len(fails("FIT-06", made, "left knuckle")) == wanted


def test_fit_06_a_whole_pipe_over_the_joint_leaves_nothing():
    made = job(DROPOUT)
    y, z = made.axle.knuckles[0].weld_station, made.plan.height
    pipe = solids.tube((0, y - 200, z), (0, y + 5, z), 160.0, 150.0)
    assert fails("FIT-06", with_block(made, pipe), "left knuckle")[0].value == 0.0


def test_fit_06_spans_are_told_in_words():
    assert torch._spans([10, 15, 20, 40]) == "10 to 20 deg, 40 deg"


@pytest.mark.parametrize(("gap", "wanted"), [(0.9, False), (-0.2, True)])
def test_fit_07_nothing_stands_within_two_inches_of_the_bead(gap, wanted):
    made = job(DROPOUT)
    # 2 in: common practice, no source; a mesh may be off by 0.4 mm in all
    r = made.sheet.knuckles.neck_diameter / 2.0 + 2.0 * INCH + gap
    y, z = made.axle.knuckles[0].weld_station, made.plan.height
    block = solids.box(r, y - 5, z - 5, r + 20, y + 5, z + 5)
    assert bool(fails("FIT-07", with_block(made, block), "block")) is wanted


def test_fit_08_steel_over_a_stub_keeps_it_in():
    made = job(DROPOUT)
    pin = thing(made, "stub-upper #1")
    x, y, z = pin.box[0], (pin.box[1] + pin.box[4]) / 2, pin.box[5] + 5.0
    over = solids.box(x - 60, y - 60, z, x + 60, y + 60, z + 10)
    beside = solids.moved(over, x=250.0)
    assert fails("FIT-08", with_block(made, over), "left upper")
    assert not fails("FIT-08", with_block(made, beside), "left upper")


@pytest.mark.parametrize(("gap", "wanted"), [(0.7, False), (-0.7, True)])
def test_fit_08_a_block_a_hair_off_a_stubs_way_lets_it_out(gap, wanted):
    made = job(DROPOUT)
    steps = made.parts["stub-upper"].turned.steps
    r, end = max(s.diameter for s in steps) / 2.0, sum(s.length for s in steps)
    # beyond the pin's head, beside the way of its shoulder; drawn in the pin's own frame
    block = solids.box(r + gap, -60.0, end + 5.0, r + 60.0, 60.0, end + 15.0)
    place = next(p for p in made.assemblies["jig"].placements if p.part == "stub-upper" and p.group == "stubs-l")
    blocked = with_block(made, solids.placed(block, place))
    assert bool(fails("FIT-08", blocked, "left upper")) is wanted
    assert not fails("FIT-08", blocked, "right")


def test_fit_08_a_taper_large_inside_is_pushed_inward():
    words = [f.words for f in findings("FIT-08", job(INTEGRAL)) if "upper" in f.words]
    assert words
    assert all("inward" in w for w in words)


@pytest.mark.parametrize(("gap", "wanted"), [(SHRINK + 0.02, False), (SHRINK - 0.15, True)])
def test_fit_09_a_part_inboard_of_the_knuckle_presses_it(gap, wanted):
    made = job(DROPOUT)
    y, z = made.axle.knuckles[0].weld_station - gap, made.plan.height
    low, high = made.sheet.tubes.outside_diameter / 2.0 + 1.0, made.sheet.knuckles.neck_diameter / 2.0
    block = solids.box(low, y - 10, z - 8, high, y, z + 8)
    assert bool(fails("FIT-09", with_block(made, block, "clock-l"), "block")) is wanted


def test_fit_09_the_end_moves_by_a_thirty_second():
    assert math.isclose(SHRINK, INCH / 32.0)


@pytest.mark.parametrize(("short", "wanted"), [(-0.5, 0), (0.5, 1)])
def test_fit_10_bases_must_lie_on_the_table(short, wanted):
    base = plate("base", 0, 0, 400, 300, 10.0, (0.0, 0.0, 0.0), group="cradle-l")
    made = bare([base])
    # the table pin stands in the first row from the rear edge: closed form of the width left
    pin, edge = made.plan.grid[0], float(made.sheet.table.edge)
    width = 400.0 - pin + edge - short
    assert len(fails("FIT-10", narrow(made, width), "over the table")) == wanted


def narrow(made, width):
    measure = type(made.sheet.table.width)
    table = made.sheet.table.model_copy(update={"width": measure(width)})
    return dataclasses.replace(made, sheet=made.sheet.model_copy(update={"table": table}))


@pytest.mark.parametrize(("off", "wanted"), [(0.009, False), (0.011, True)])
def test_fit_10_a_base_off_the_grid_is_found(off, wanted):
    made = job(DROPOUT)
    jig = made.assemblies["jig"]
    moved = tuple(
        dataclasses.replace(p, origin=(p.origin[0] + off, p.origin[1], p.origin[2])) if p.part == "cradle-l-base" else p
        for p in jig.placements
    )
    other = dataclasses.replace(made, assemblies={"jig": dataclasses.replace(jig, placements=moved)}, store={})
    assert bool(fails("FIT-10", other, "cradle-l-base")) is wanted


@pytest.mark.parametrize(("gap", "wanted"), [(0.3, False), (-0.3, True)])
def test_fit_11_steel_beyond_the_tie_at_a_side_hole_is_met(gap, wanted):
    made = job(DROPOUT)
    tie = made.plan.tie
    side = tie.row[1]
    a = math.radians(side.index_angle)
    r = tie.radius + tie.diameter / 2.0 + gap
    x, z = r * math.sin(a), made.plan.height + r * math.cos(a)
    ball = solids.sphere((x + 5 * math.sin(a), 300.0, z + 5 * math.cos(a)), 10.0)
    assert bool(fails("FIT-11", with_block(made, ball), f"hole {side.label}")) is wanted


def mirrored_pins(keeper):
    """A keeper whose pins lie in one line with the tie: a plate turned round takes it."""
    holes = tuple(dataclasses.replace(h, x=0.0, y=-math.hypot(h.x, h.y)) for h in keeper.profile.holes)
    return dataclasses.replace(keeper, profile=dataclasses.replace(keeper.profile, holes=holes))


def test_fit_12_pins_in_line_with_the_tie_do_not_tell_front_from_back():
    made = job(DROPOUT)
    assert not [f for f in fails("FIT-12", made) if "turned round" in f.words]
    parts = dict(made.parts)
    for side in ("l", "r"):
        keeper, plate_ = mirrored_pins(parts[f"keeper-{side}"]), parts[f"clock-plate-{side}"]
        pins = keeper.profile.holes
        holes = [h for h in plate_.profile.holes if not h.label.startswith("keeper")]
        top = next(h for h in holes if h.label == "clock 0")
        holes += [
            dataclasses.replace(h, x=top.x, y=top.y + h.y, finished=h.finished + 3.0, label=f"keeper {i}")
            for i, h in enumerate(pins)
        ]
        profile = dataclasses.replace(plate_.profile, holes=tuple(holes))
        parts |= {keeper.name: keeper, plate_.name: dataclasses.replace(plate_, profile=profile)}
    assert len([f for f in fails("FIT-12", dataclasses.replace(made, parts=parts)) if "turned round" in f.words]) == 3


def test_fit_12_a_tie_without_its_third_flat_lets_a_keeper_turned_over_go_on():
    made = job(DROPOUT)
    tie = made.parts["tie"]
    flats = tuple(f for f in tie.turned.flats if f[3] in (0.0, 180.0))
    plain = dataclasses.replace(tie, turned=dataclasses.replace(tie.turned, flats=flats))
    keepers = [made.parts[f"keeper-{s}"] for s in "lr"]
    for keeper in keepers:
        ways = [turned_round.opening_foul(keeper, tie.turned, mirrored=m) for m in (False, True)]
        assert min(ways) < 0.0 < max(ways)
    assert fails("FIT-12", dataclasses.replace(made, parts={**made.parts, "tie": plain}), "turned over")


@pytest.mark.parametrize(("spare", "wanted"), [(0.05, False), (-0.05, True)])
def test_fit_12_a_tie_too_thin_for_its_keepers_lets_them_on_turned_over(spare, wanted):
    made = job(DROPOUT)
    tie = made.parts["tie"].turned
    now = min(f.value for f in findings("FIT-12", made) if "turned over" in f.words)
    # common practice, no source: at least 0.5 mm of steel; a tie thinner by so much all round has so much less
    thinner = now - 0.5 - spare
    steps = tuple(dataclasses.replace(t, diameter=t.diameter - 2.0 * thinner) for t in tie.steps)
    other = dataclasses.replace(made.parts["tie"], turned=dataclasses.replace(tie, steps=steps))
    changed = dataclasses.replace(made, parts={**made.parts, "tie": other})
    assert bool(fails("FIT-12", changed, "turned over")) is wanted
    levels = [f.level for f in findings("FIT-12", changed) if "turned over" in f.words]
    assert levels == [Level.FAIL if wanted else Level.PASS] * 2


@pytest.mark.parametrize(("gap", "wanted"), [(0.2, False), (-0.2, True)])
def test_fit_13_steel_in_line_with_the_tie_stops_it(gap, wanted):
    made = job(DROPOUT)
    r, h = made.plan.tie.diameter / 2.0 + gap, made.plan.height + made.plan.tie.radius
    block = solids.box(-20, 1200, h + r, 20, 1220, h + r + 20)
    assert bool(fails("FIT-13", with_block(made, block), "block")) is wanted


@pytest.mark.parametrize(("gap", "wanted"), [(0.5, False), (-1.5, True)])
def test_fit_14_steel_over_the_pins_leaves_no_place_for_the_level(gap, wanted):
    made = job(INTEGRAL)
    x, z = made.plan.index.level_pins[0]
    # a level of 9 in, its body 2 in high, with 1/4 in to lift it off: common practice, no source
    top = made.plan.height + z + 0.25 * INCH + 2.25 * INCH + gap
    pin = thing(made, "level-pin #1")
    block = solids.box(x - 5, pin.box[1] - 200, top, x + 5, pin.box[4] + 200, top + 10)
    assert bool(fails("FIT-14", with_block(made, block), "clock-plate-l")) is wanted


def test_a_rear_axle_has_nothing_to_check_at_its_ends():
    for code in ("FIT-05", "FIT-08", "FIT-09", "FIT-11", "FIT-12", "FIT-13", "FIT-14"):
        assert [f.level for f in findings(code, job(REAR))] == [Level.PASS]


def test_every_finding_that_fails_tells_where_and_what_to_do():
    made = with_block(job(DROPOUT), solids.box(-500, -1500, 200, 500, 1500, 700), "stand")
    for code in ("FIT-01", "FIT-04", "FIT-13"):
        for found in fails(code, made):
            assert found.remedy
            assert found.point is not None
            assert found.value > found.limit
