"""Drawings of assemblies: who hides whom, numbers that find their part, places held against holes."""

import itertools
import math
from types import SimpleNamespace

import pytest

from fixturegen import keeping
from fixturegen.drawings import documents as room
from fixturegen.drawings.assemblies import Marks, Scene, Seen, best_views, lookings, seen_from, view_page
from fixturegen.drawings.balloons import RADIUS, anchor_of, draw_balloons, length_of
from fixturegen.drawings.boards import Board, Frame
from fixturegen.drawings.jig import end_marks, plan_marks, used_holes
from fixturegen.drawings.ordinates import Ordinate
from fixturegen.drawings.projected import Looking
from fixturegen.drawings.proof import bolt_faults, printed_faults
from fixturegen.drawings.record import View
from fixturegen.drawings.sheets import Subject
from fixturegen.findings import Level
from fixturegen.pages import Words, read_pdf
from fixturegen.pages.documents import Contents
from fixturegen.pages.figure import item_box
from tests.studies.truss_jobs import number_job, truss_job

ABOVE = Looking("plan", (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))


@pytest.fixture(scope="module", autouse=True)
def _not_kept():
    with keeping.cache_used(False):
        yield


def test_what_is_behind_another_part_is_not_drawn():
    """Lengths of what is left of a square's rim, by hand."""
    from fixturegen.shapes.primitives import box

    low = box(0.0, 0.0, 0.0, 40.0, 40.0, 5.0)
    for name, over, seen in (
        ("wholly over it", box(-5.0, -5.0, 10.0, 45.0, 45.0, 15.0), 0.0),
        ("over its right half", box(20.0, -5.0, 10.0, 45.0, 45.0, 15.0), 40.0 + 2.0 * 20.0),
        ("beside it", box(60.0, 0.0, 10.0, 80.0, 40.0, 15.0), 160.0),
    ):
        (view,) = seen_from(Scene((("low", low), ("over", over)), ()), (ABOVE,))
        # a plate's lower and upper edge lie on one another, and the kernel gives each its own share
        once = {tuple(sorted(c)) for chain in view.parts["low"] for c in itertools.pairwise(chain)}
        assert length_of(list(once)) == pytest.approx(seen, abs=0.05), name


def test_a_part_is_named_in_the_view_that_shows_most_of_it():
    from fixturegen.shapes.primitives import box

    wall = box(0.0, 0.0, 0.0, 2.0, 50.0, 80.0)
    floor = box(0.0, 0.0, -2.0, 100.0, 50.0, -1.0)
    looks = lookings(front=True)
    named = best_views(seen_from(Scene((("wall", wall), ("floor", floor)), ()), looks))
    assert named == {"wall": "front", "floor": "plan"}


def test_numbers_keep_off_one_another_and_point_at_what_is_seen():
    chains = {n: [((3.0 * n, 0.0), (3.0 * n, 5.0))] for n in range(1, 13)}
    anchors = {n: anchor_of(c) for n, c in chains.items()}
    assert anchors[4] == (12.0, 2.5)
    board, view = Board(260.0, 200.0), View("v", 1.0, 100.0, 100.0)
    draw_balloons(board, view, Frame(20.0, 60.0, 240.0, 150.0), anchors)
    words = {i.text: (i.x, i.y) for i in board.figure.items if isinstance(i, Words)}
    assert set(words) == {str(n) for n in anchors}
    assert all(math.dist(a, b) >= 2.0 * RADIUS for a, b in itertools.combinations(words.values(), 2))


def test_a_view_with_many_places_stays_on_its_page():
    lines = (((-900.0, 0.0), (900.0, 0.0)), ((-900.0, 300.0), (900.0, 300.0)))
    seen = Seen(ABOVE, {"bar": lines}, ())
    places = tuple(Ordinate(30.0 * n, 0.0, f"place {n}", 0, "a name of some length") for n in range(-25, 26))
    subject = Subject("assembly-toy", "toy", "job", "A", "in", "letter")
    page, sizes = view_page(seen, {"bar": 1}, {"bar": "plan"}, Marks(places, places[:3]), subject)
    assert len(sizes) == len(places) + 3
    boxes = [item_box(i) for i in page.items]
    assert min(b[0] for b in boxes) >= 9.0
    assert max(b[2] for b in boxes) <= page.width - 9.0
    assert min(b[1] for b in boxes) >= 50.0  # over the band with what it is


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_views_count_forward_left_and_up_as_the_tables_do(way):
    """ISO 8855: x forward, y left, z up count plus; seen from the front left lies to the right, from behind not."""
    job = number_job()
    x0, y0 = job.plan.stand.pins[0]
    seen = Seen(ABOVE, {"bar": (((-400.0, 0.0), (400.0, 0.0)), ((0.0, -300.0), (0.0, 300.0)))}, ())
    subject = Subject("assembly-toy", "toy", "job", "A", "in", "letter")
    page, sizes = view_page(seen, {"bar": 1}, {}, plan_marks(job, way), subject)
    used = {f"table hole {short}": (x, y) for x, y, short, _ in used_holes(job.plan)}
    assert {s.name for s in sizes} <= set(used) and len(sizes) > 4
    for size in sizes:
        x, y = used[size.name]
        assert size.value == pytest.approx(y - y0 if size.kind == "x" else x - x0)
    assert printed_faults(sizes, "in") == []
    told = " ".join(i.text for i in page.items if isinstance(i, Words))
    assert "forward, left and up count plus" in told
    # the end is seen from the left: forward lies to its left, and counts plus all the same
    _, ends = view_page(seen, {"bar": 1}, {}, end_marks(job.plan), subject)
    face = job.plan.x(job.plan.index.face)
    assert [s.value for s in ends if s.name == "machined face"] == [pytest.approx(face)]


def test_an_upright_view_and_its_clock_angles_stay_on_the_page():
    lines = (((0.0, 0.0), (200.0, 0.0)), ((0.0, 900.0), (200.0, 900.0)))
    clocks = tuple((150.0, 100.0 * n, f"bracket number {n}  -123.4 deg") for n in range(4))
    subject = Subject("assembly-toy", "toy", "job", "A", "in", "letter")
    page, _ = view_page(Seen(ABOVE, {"post": lines}, ()), {"post": 1}, {}, Marks(clocks=clocks), subject)
    assert page.width < page.height
    assert max(item_box(i)[2] for i in page.items) <= page.width - 9.0


def test_a_told_place_without_a_hole_is_found():
    from fixturegen.shapes.primitives import box, cut, cylinder

    def holes(*places):
        return cut(
            box(0.0, 0.0, 0.0, 100.0, 50.0, 10.0), *(cylinder((x, y, -1.0), (x, y, 11.0), 8.0) for x, y in places)
        )

    plate = holes((20.0, 25.0), (70.0, 22.0), (70.0, 28.0))
    assert bolt_faults([("bolt", (20.0, 25.0, 99.0)), ("slot", (70.0, 25.0, 0.0))], [plate]) == []
    assert bolt_faults([("bolt", (20.1, 25.0, 0.0))], [plate]) == ["bolt: no hole's line passes nearer than 0.100 mm"]


def test_the_truss_is_drawn_on_the_axle_with_its_ends_stations_and_order():
    job = truss_job()
    given = Contents(job, "0" * 64)
    (made,) = room.assembly_documents(given)
    assert given.told == []
    assert made.path == "drawings/assembly-truss.pdf"
    pages = read_pdf(made.content).pages
    text = " ".join(" ".join(w.text for w in p.words) for p in pages)
    # ends as the sheet of the test gives them: 520 mm left and right
    for words in ("520.00", "[20.472]", "truss-rear", "wheel mount surface", "UP", "FWD", "LEFT", "Order of assembly"):
        assert words in text, words
    # the numbers of the views and those of the list
    assert {str(n) for n in range(1, len({p.part for p in job.assemblies["truss"].placements}) + 1)} <= set(
        text.split()
    )


def test_an_assembly_that_tells_a_wrong_place_is_withheld(monkeypatch):
    from fixturegen.drawings import on_axle

    monkeypatch.setattr(on_axle, "places_proved", lambda *_: ["bolt: no hole's line passes nearer than 3 mm"])
    given = Contents(truss_job(), "0" * 64)
    monkeypatch.setattr(on_axle, "axle_drawing", _blank)
    assert room.assembly_documents(given) == []
    assert [(f.code, f.level) for f in given.told] == [("DRW-01", Level.FAIL)]
    assert "3 mm" in given.told[0].words


def _blank(job, assembly, subject, held):
    from fixturegen.drawings.record import Drawing, Page

    return Drawing("assembly-toy", "toy", (Page(215.9, 279.4, "blank", "1:1", ()),))


def test_a_point_on_a_flat_is_told_in_both_directions_and_one_on_a_tube_over_the_round():
    from fixturegen.drawings.on_axle import _tables
    from fixturegen.drawings.written import Writer
    from fixturegen.studies.bracket_places import BracketPlace, OnRound, ScribeLine, ScribePoint

    points = (
        ScribePoint("rear end", (-76.2, 0.0, 90.0), 0.0, 700.0, 700.0, -76.2, None),
        ScribePoint("middle", (44.45, 0.0, 0.0), 0.0, 700.0, 700.0, 44.45, OnRound(90.0, 69.85, 63.5)),
    )
    mount = SimpleNamespace(name="upper", label="upper", side="middle", spec=SimpleNamespace(end="axle"))
    place = BracketPlace(mount, 0.0, 700.0, 700.0, None, -20.0, 130.0, 40.0, 0.0, 0.0, (ScribeLine("side", points),))
    blocks, _ = _tables((place,), Writer("in"))
    (table,) = (b for b in blocks if b.title.startswith("Lines to scribe"))
    # 76.2 mm is 3 in behind the axle line, 69.85 mm 2 3/4 in over the round (25.4 mm an inch)
    assert [row[4] for row in table.rows] == ["flat", "90.0\N{DEGREE SIGN}"]
    assert table.rows[0][5].startswith("-3 = -3.000 [-76.20]") and table.rows[1][5].startswith("2 3/4 = 2.750")
    assert "on a flat" in table.heads[5]
