"""Where a bracket stands, wrapped round its tube: against places worked out on the tube itself."""

import math
from itertools import pairwise
from types import SimpleNamespace

import pytest

from fixturegen.pages import LETTER, TitleBlock, Words, read_pdf
from fixturegen.pages.figure import item_box
from fixturegen.plate import Placement
from fixturegen.studies.bracket_records import FlatBase, Seam, TubeBase
from fixturegen.templates.places import INBOARD, OUTBOARD, bracket_standing, placing_wrap, truss_standings
from fixturegen.templates.tiles import book_of
from fixturegen.templates.tiling import tiling_of

R, HALF = 44.45, 800.0  # [mm]


def _round(y, start, end, steps=24):
    """A bead once across the top of the tube at a station, from clock to clock [deg], in short straight stretches."""
    clocks = [math.radians(start + (end - start) * k / steps) for k in range(steps + 1)]
    at = [(R * math.sin(c), y, R * math.cos(c)) for c in clocks]
    return tuple(Seam("ear", a, b, 6.0, False) for a, b in pairwise(at))


def _facts(seams, base=None):
    base = base or TubeBase((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), R, 6.0, (-700.0, 700.0), "axle tube")
    mount = SimpleNamespace(name="lower", label="lower", base=base, spec=SimpleNamespace(end="axle"), thickness=9.5)
    return SimpleNamespace(mount=mount, seams=seams, parts=("ear",))


def _read(seams, normal_up_the_axle=True):
    # plate square across the tube: its normal along Y, or against it
    rows = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)) if normal_up_the_axle else (
        (1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)
    )  # fmt: skip
    placement = Placement("ear", (0.0, seams[0].begin[1], 0.0), rows)
    template = placing_wrap(bracket_standing(_facts(seams)), [placement], HALF, "in")
    items = {}
    for item in template.figure.items:
        items.setdefault(getattr(item, "role", ""), []).append(item)
    return template, items


@pytest.mark.parametrize(("y", "hand"), [(400.0, 1.0), (-400.0, -1.0)])
def test_a_bead_lies_as_far_round_and_as_far_from_the_edge_as_on_the_tube(y, hand):
    template, items = _read(_round(y, 10.0, 100.0))
    line = items["bead"][0].vertices
    # arc of the clock angles, forward to the right where outboard (left) is up, mirrored on the other side
    assert line[0].x == pytest.approx(hand * R * math.radians(10.0), abs=1e-6)
    assert line[-1].x == pytest.approx(hand * R * math.radians(100.0), abs=1e-6)
    top = max(v.y for v in items["outline"][0].vertices)
    edge = round(-top / 6.35) * 6.35
    assert -top == pytest.approx(edge)  # whole quarters of an inch from the wheel mount surface
    assert top - line[0].y == pytest.approx((HALF - 400.0) - edge, abs=1e-6)
    told = " ".join(template.lines)
    assert ("left" if hand > 0 else "right") + " wheel mount surface" in told


def test_the_paper_is_drawn_as_seen_from_outside_on_both_tubes():
    # at the top of the tube outward is up (Z): right x up = outward, with up = outboard
    for hand in (1.0, -1.0):
        _, items = _read(_round(hand * 400.0, 0.0, 90.0))
        line = items["bead"][0].vertices
        right_is_forward = math.copysign(1.0, line[-1].x - line[0].x)
        forward, up = (right_is_forward, 0.0, 0.0), (0.0, hand, 0.0)
        cross_z = forward[0] * up[1] - forward[1] * up[0]
        assert cross_z == 1.0


@pytest.mark.parametrize(("along", "way"), [(True, 1.0), (False, -1.0)])
def test_ticks_stand_on_the_side_of_the_steel(along, way):
    _, items = _read(_round(400.0, 10.0, 100.0), along)
    for tick in items["side"]:
        a, b = tick.vertices
        assert math.copysign(1.0, b.y - a.y) == way
        assert b.x == pytest.approx(a.x, abs=1e-6)


def test_the_strip_is_once_round_and_its_lines_come_back_from_the_pdf():
    template, _ = _read(_round(400.0, -60.0, 60.0))
    tiling = tiling_of(template.area, LETTER)
    book, _ = book_of(template, tiling, TitleBlock("job"), LETTER)
    page = read_pdf(book.pdf()).pages[0]
    strip = min((p for p in page.paths if p.closed), key=lambda p: abs(p.length - template.outlines[0]))
    assert strip.box[2] - strip.box[0] == pytest.approx(2.0 * math.pi * R, abs=0.05)
    bead = max((p for p in page.paths if not p.closed and len(p.pieces) == 24), key=lambda p: p.length)
    assert bead.length == pytest.approx(R * math.radians(120.0), abs=0.05)
    assert "TOP" in page.text and "FORWARD" in "".join(p.text for p in read_pdf(book.pdf()).pages)


def test_brackets_on_plates_and_on_the_frame_have_no_wrap():
    seams = _round(400.0, 0.0, 90.0)
    assert bracket_standing(_facts(seams)) is not None
    flat = FlatBase((0.0, 0.0, 60.0), (0.0, 0.0, 1.0), "top of the truss")
    assert bracket_standing(_facts(seams, flat)) is None
    frame = _facts(seams)
    frame.mount.spec.end = "frame"
    assert bracket_standing(frame) is None


def test_a_truss_has_a_wrap_for_each_tube_it_is_welded_to():
    along = tuple((0.6 * R, y, 0.8 * R) for y in (300.0, 400.0))
    runs = (
        SimpleNamespace(part="truss-front", onto="tube-left", points=along),
        SimpleNamespace(part="truss-front", onto="housing", points=along),
        SimpleNamespace(part="rib-1", onto="tube-left", points=((0.0, 300.0, R), (5.0, 300.0, R))),
    )
    (left,) = truss_standings(SimpleNamespace(welds=runs), R)
    assert (left.name, left.parts) == ("truss-left", ("truss-front",))
    template = placing_wrap(left, [], HALF, "in")
    (line,) = [i.vertices for i in template.figure.items if getattr(i, "role", "") == "bead"]
    # 3-4-5: the line stands at atan(0.6 / 0.8) forward of the top
    assert line[0].x == line[1].x == pytest.approx(R * math.atan2(0.6, 0.8))
    assert line[1].y - line[0].y == pytest.approx(100.0)


def _long_and_short():
    return _round(400.0, -60.0, 60.0), _round(400.0, 10.0, 100.0) + _round(250.0, 10.0, 100.0)


@pytest.mark.parametrize("seams", _long_and_short(), ids=("upright", "turned"))
def test_each_sheet_that_has_an_edge_says_in_whole_words_which_it_is(seams):
    template, _ = _read(seams)
    tiling = tiling_of(template.area, LETTER)
    assert len(tiling.tiles) > 1
    # only the paper's own marks name an edge: a sheet may be turned
    assert "OUTBOARD" in template.lines[0] and not any("op edge" in line for line in template.lines)
    ys = [y for _, y in template.area]
    for words, y in ((OUTBOARD, max(ys)), (INBOARD, min(ys))):
        boxes = [item_box(i) for i in template.figure.items if isinstance(i, Words) and i.text.startswith(words)]
        assert boxes and all(tiling.clear(*box) for box in boxes)
        for tile in tiling.tiles:
            a, b, c, d = tile.box
            x0, y0, x1, y1 = (b, -c, d, -a) if tiling.turned else tile.box
            shown = min(x1, max(x for x, _ in template.area) - 12.7) - max(x0, min(x for x, _ in template.area))
            here = [box for box in boxes if x0 <= box[0] and box[2] <= x1 and y0 <= box[1] and box[3] <= y1]
            assert len(here) == (y0 <= y <= y1 and shown > 90.0) or (shown <= 90.0 and len(here) <= 1)


@pytest.mark.parametrize(("start", "end"), [(10.0, 100.0), (150.0, 250.0), (-250.0, -150.0), (300.0, 400.0)])
def test_all_four_quarter_lines_are_on_the_paper_wherever_round_the_tube_it_lies(start, end):
    template, items = _read(_round(400.0, start, end))
    told = {i.text for i in template.figure.items if isinstance(i, Words)} & {"TOP", "FORWARD", "BOTTOM", "REAR"}
    assert len(told) == 4 and len(items["quarter"]) >= 4
    xs = sorted(i.vertices[0].x for i in items["quarter"])
    # a quarter of the round apart
    assert all(b - a == pytest.approx(math.pi * R / 2.0) for a, b in pairwise(xs))
