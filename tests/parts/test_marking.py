"""Marks that `completed` puts on: what is there, where it may stand, and the law of the mirrored plate."""

import dataclasses
import re

import pytest
from shapely.geometry import LineString, Polygon

from fixturegen.parts.joinery import XY, XZ, stand_yz
from fixturegen.parts.marking import BY_HAND, LEFT_OUT, completed, letter_height, lie, part_words, ways_of
from fixturegen.parts.registry import make_jig
from fixturegen.plate import Hole, Mark, Part, Placement, Profile, Purpose
from fixturegen.plate.free_steel import mark_box
from fixturegen.plate.outlines import filleted, mirrored
from fixturegen.plate.profile import polyline, rectangle, reversed_loop
from fixturegen.units import as_inch
from tests.parts.stand_jobs import DROPOUT, INTEGRAL, REAR, job

INCH = 25.4


def sheet(name=DROPOUT, **process):
    given = job(name).sheet
    return given.model_copy(update={"process": given.process.model_copy(update=process)})


def plate(name="toy-plate", hand=None, loop=None, **more):
    outer = loop or filleted(tuple((x, y, 8.0) for x, y in ((0.0, 0.0), (240.0, 0.0), (200.0, 140.0), (0.0, 140.0))))
    return Part(name, "Toy", "toy", "plate", 9.5, profile=Profile(outer), hand=hand, **more)


def texts(part):
    return [m.text for m in part.marks if m.text]


def flipped(part, hand):
    outer = mirrored(part.profile.outer)
    holes = tuple(dataclasses.replace(h, x=-h.x) for h in part.profile.holes)
    name = f"{part.name[:-2]}-{hand.lower()}"
    return dataclasses.replace(part, name=name, hand=hand, profile=Profile(outer, (), holes))


def test_a_plate_says_what_it_is_and_how_long():
    done = completed(plate(), sheet())
    assert "TOY PLATE" in texts(done)
    assert "REV A" in texts(done)
    # parallel edges stand 140 mm apart and nothing else is parallel: 5 33/64 in, to the nearest 32nd 5 1/2
    assert "TAPE 5 1/2" in texts(done)
    assert "TAPE 140 MM" in texts(completed(plate(), sheet(REAR)))


def test_the_ticks_stand_in_line_square_to_both_edges():
    done = completed(plate(), sheet())
    one, two = (m for m in done.marks if m.to is not None)
    assert {one.x, one.to[0], two.x, two.to[0]} == {one.x}
    assert sorted((one.y, two.y)) == pytest.approx([4.0, 136.0])


def test_ways_follow_from_where_the_plate_stands():
    # joinery: XZ plates have x rearward and y up; XY plates x forward
    assert dict(ways_of([Placement("p", rotation=XZ)])) == {"FWD": (-1.0, 0.0), "UP": (0.0, 1.0)}
    assert dict(ways_of([Placement("p", rotation=XY)])) == {"FWD": (1.0, 0.0)}
    for sign in (1, -1):  # a plate along the axle: y up, forward is square to it
        assert dict(ways_of([stand_yz("p", sign, 10.0, 0.0, 300.0, "stand")])) == {"UP": (0.0, 1.0)}
    both = [Placement("p", rotation=XZ), Placement("p", rotation=XY)]
    assert ways_of(both) == ()  # made twice and set two ways: no arrow is true of both
    assert ways_of([]) == ()


def test_an_arrow_points_the_way_it_says():
    done = completed(plate(), sheet(), [Placement("toy-plate", rotation=XZ)])
    shafts = {m.text: m for m in done.marks if m.text in ("UP", "FWD")}
    lines = [m for m in done.marks if m.to is not None]
    for word, (ux, uy) in (("UP", (0.0, 1.0)), ("FWD", (-1.0, 0.0))):
        label = shafts[word]
        near = [m for m in lines if abs(m.y - label.y) < 20.0 and 0.0 < label.x - m.x < 45.0]
        shaft = max(near, key=lambda m: abs(m.to[0] - m.x) * abs(ux) + abs(m.to[1] - m.y) * abs(uy))
        assert (shaft.to[0] - shaft.x, shaft.to[1] - shaft.y) == pytest.approx((16.0 * ux, 16.0 * uy))


def test_a_plate_at_a_station_has_its_line_and_says_which():
    put = Placement("toy-plate", (0.0, -9.5 * INCH, 0.0), XY)
    done = completed(plate(loop=rectangle(-100.0, -60.0, 100.0, 60.0)), sheet(), [put])
    assert "STA 9 1/2 R" in texts(done)
    level = [m for m in done.marks if m.to is not None and m.y == m.to[1] == 0.0]
    assert sorted(min(m.x, m.to[0]) for m in level if abs(m.x) > 80.0) == pytest.approx([-96.0, 88.0])
    twice = [put, dataclasses.replace(put, origin=(0.0, 100.0, 0.0))]
    assert not any(t.startswith("STA") for t in texts(completed(plate(), sheet(), twice)))


def test_a_mirrored_plate_has_its_marks_mirrored_and_its_letters_not():
    holes = (Hole(60.0, 40.0, 30.0, Purpose.BOLT), Hole(170.0, 90.0, 20.0, Purpose.BOLT))
    left = plate("keeper-l", "L")
    left = dataclasses.replace(left, profile=Profile(left.profile.outer, (), holes))
    right = flipped(left, "R")
    l_done, r_done = completed(left, sheet()), completed(right, sheet())
    assert "KEEPER L" in texts(l_done)
    assert "KEEPER R" in texts(r_done)
    assert all(m.angle in (0.0, 90.0) and m.height > 0.0 for m in r_done.marks)
    l_marks, r_marks = ([m for m in p.marks if m.text] for p in (l_done, r_done))
    assert len(l_marks) == len(r_marks)
    pairs = list(zip(l_marks, r_marks, strict=True))
    # a block of lines takes the same room on both, so its middle is mirrored; L is narrower than R by a hair
    wide = max(abs(mark_box(a)[2] - mark_box(a)[0] - (mark_box(b)[2] - mark_box(b)[0])) for a, b in pairs)
    assert wide < 1.5
    for a, b in pairs:
        assert mark_box(a)[1] == pytest.approx(mark_box(b)[1])
    ticks = [
        sorted((round(s * m.x, 6), round(m.y, 6)) for m in p.marks if m.to) for s, p in ((1, l_done), (-1, r_done))
    ]
    assert ticks[0] == ticks[1]


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])
def test_the_two_keepers_of_a_jig_say_the_same_in_mirrored_places(name):
    context = job(name)
    parts, _ = make_jig(context.sheet, context.axle, context.plan)
    left, right = (next(p for p in parts if p.name == f"keeper-{side}") for side in "lr")
    assert [t.replace("KEEPER L", "KEEPER R") for t in texts(left)] == texts(right)
    for a, b in zip(left.marks, right.marks, strict=True):
        one, two = mark_box(a), mark_box(b)
        # the lettering reads the same way round on both; R is a little wider than L
        assert (one[0] + one[2]) / 2.0 == pytest.approx(-(two[0] + two[2]) / 2.0, abs=1.5)
        assert one[1] == pytest.approx(two[1])


def test_two_plates_that_are_alike_but_for_the_hand_are_marked_at_the_same_places():
    left, right = plate("arm-l", "L"), plate("arm-r", "R")
    near = [[v for m in completed(p, sheet()).marks for v in (m.x, m.y)] for p in (left, right)]
    assert near[0] == pytest.approx(near[1], abs=1.01)  # of places equally near, each hand takes its own: one cell


@pytest.mark.parametrize(
    ("marking", "height", "wanted"),
    # 1/4 in as usual on the sheet; a torch etches nothing under 6 mm, a scribe follows the sheet (common practice)
    [
        ("plasma", 0.25, 6.35),
        ("plasma", 0.125, 6.0),
        ("scribe", 0.125, 3.175),
        ("pen", 0.5, 12.7),
        ("hand", 0.25, 6.35),
    ],
)
def test_letters_are_no_smaller_than_the_sheet_and_the_way_of_marking_allow(marking, height, wanted):
    kind = type(sheet().process.mark_height)
    given = sheet(marking=marking, mark_height=kind(height * INCH))
    assert letter_height(given.process) == pytest.approx(wanted)
    done = completed(plate(), given)
    assert min(m.height for m in done.marks if m.text) >= wanted - 1e-9


def test_what_has_no_room_is_left_to_the_paper_the_name_last():
    tiny = completed(plate(loop=rectangle(0.0, 0.0, 34.0, 30.0)), sheet(), [Placement("toy-plate", rotation=XZ)])
    assert texts(tiny)[0].startswith("TOY")
    note = next(n for n in tiny.notes if n.startswith(LEFT_OUT))
    assert "TAPE 1 11/32" in note  # 34 mm is 1.339 in
    assert "UP" in note
    assert "by hand" in note
    speck = completed(plate(loop=rectangle(0.0, 0.0, 12.0, 12.0)), sheet())
    assert texts(speck) == []
    assert any("TOY PLATE, REV A, TAPE" in n for n in speck.notes)


def gap(a, b):
    """Between the boxes of two marks [mm]."""
    one, two = mark_box(a), mark_box(b)
    across, up = (max(two[k] - one[k + 2], one[k] - two[k + 2], 0.0) for k in (0, 1))
    return (across**2 + up**2) ** 0.5


@pytest.mark.parametrize(
    ("wide", "tall"),
    [(34.0, 126.0), (38.0, 78.0), (46.0, 90.0), (54.0, 60.0), (62.0, 66.0), (86.0, 90.0), (46.0, 40.0), (240.0, 120.0)],
)
def test_a_word_and_its_figure_stand_together_or_the_paper_has_them(wide, tall):
    # common practice, no source: what belongs together stands nearer than anything else that could be read with it
    put = Placement("toy-plate", (0.0, -9.5 * INCH, 0.0), XY)
    done = completed(plate(loop=rectangle(-wide / 2.0, -tall / 2.0, wide / 2.0, tall / 2.0)), sheet(), [put])
    said = [m for m in done.marks if m.text]
    told = " ".join(done.notes)
    for word in ("TAPE", "STA"):
        heads = [m for m in said if m.text.split()[0] == word]
        assert len(heads) <= 1
        if not heads:  # a station without room for its ticks is not shown at all
            assert word == "STA" or f"TAPE {as_inch(max(wide, tall), 32).split(' in')[0]}" in told
            continue
        (head,) = heads
        if head.text != word:
            assert head.text.startswith(f"{word} ")
            continue
        beside = sorted((m for m in said if m is not head), key=lambda m: gap(head, m))
        assert beside[0].text[0].isdigit(), [m.text for m in beside]
        assert gap(head, beside[0]) < 0.5 * head.height
        assert all(gap(m, n) > gap(head, beside[0]) for m in (head, beside[0]) for n in beside[1:])


def test_a_plate_without_a_span_for_a_tape_says_how_long_it_is_over_all():
    # three sides, none parallel: 60 mm is 2.362 in, to the nearest 32nd 2 3/8
    corners = filleted(((0.0, 0.0, 0.0), (60.0, 0.0, 0.0), (0.0, 20.0, 0.0)))
    done = completed(plate(loop=corners), sheet())
    assert any("TAPE 2 3/8" in n for n in done.notes if n.startswith(f"{LEFT_OUT} ")), done.notes


def test_marks_put_on_by_hand_stay_in_the_file_and_the_paper_says_so():
    done = completed(plate(), sheet(marking="hand"))
    assert BY_HAND in done.notes
    assert "TOY PLATE" in texts(done)
    assert BY_HAND not in completed(plate(), sheet()).notes


def test_the_paper_says_which_face_is_up_and_which_way_the_torch_runs():
    # practice: with the usual (clockwise) swirl the square edge is on the right; turned round with the other
    assert "outside clockwise, openings counter-clockwise" in lie(sheet().process)
    assert "outside counter-clockwise, openings clockwise" in lie(sheet(swirl="counter-clockwise").process)
    assert "marked face up" in lie(sheet().process)
    assert lie(sheet().process) in completed(plate(), sheet()).notes


def test_marks_of_the_maker_stay_and_nothing_runs_over_them():
    own = (Mark(90.0, 60.0, "OWN WORDS", 10.0), Mark(20.0, 20.0, to=(20.0, 60.0)))
    done = completed(plate(marks=own), sheet())
    assert done.marks[:2] == own
    boxes = [mark_box(m) for m in done.marks if m.text]
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            assert a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


def test_marks_keep_off_openings_and_the_edge():
    window = reversed_loop(rectangle(60.0, 40.0, 150.0, 100.0))
    part = dataclasses.replace(plate(), profile=Profile(plate().profile.outer, (window,)))
    shape = Polygon(polyline(part.profile.outer, 0.01)) - Polygon(polyline(window, 0.01))
    for mark in completed(part, sheet()).marks:
        x0, y0, x1, y1 = mark_box(mark)
        assert shape.buffer(-1.0).contains(LineString([(x0, y0), (x1, y1)]))


def test_parts_of_other_forms_are_left_alone_and_a_hand_is_added_to_a_name_without_one():
    pin = Part("pin", "Pin", "toy", "turned")
    assert completed(pin, sheet()) is pin
    assert part_words(plate("arm", "L")) == ("ARM", "L")
    assert part_words(plate("arm-l", "L")) == ("ARM", "L")
    assert re.fullmatch("[A-Z0-9 ]+", " ".join(part_words(plate())))


def test_a_coupon_is_named_by_its_plate_as_people_write_it():
    from fixturegen.parts.marking import part_words

    def words(name, kind):
        return part_words(Part(name, name, kind, "plate"))

    assert words("coupon-1-2", "coupons") == ("COUPON", "1/2")
    assert words("coupon-1-1-4", "coupons") == ("COUPON", "1", "1/4")
    assert words("coupon-10mm", "coupons") == ("COUPON", "10MM")
    assert words("stand-1-2", "stands") == ("STAND", "1", "2")
