"""Drawings of parts: what they say is what the solid is, and what they show is its outline."""

import itertools
import math
from dataclasses import replace

import pytest
import shapely
import trimesh

from fixturegen.drawings.bent import bent_drawing
from fixturegen.drawings.boards import Trace
from fixturegen.drawings.book import drawing_pdf
from fixturegen.drawings.documents import drawing_of, faults_of
from fixturegen.drawings.numbering import number
from fixturegen.drawings.plate_tables import plate_tables
from fixturegen.drawings.plates import plate_drawing
from fixturegen.drawings.projected import FRONT, SIDE, TOP, extent
from fixturegen.drawings.proof import printed_faults, unread
from fixturegen.drawings.record import Size, View
from fixturegen.drawings.sheets import Subject, Table, board_for
from fixturegen.drawings.turned import turned_drawing
from fixturegen.drawings.written import Writer
from fixturegen.drawings.zeros import zero_of
from fixturegen.pages import TitleBlock, Words, read_pdf
from fixturegen.pages.figure import item_box
from fixturegen.plate import Hole, Mark, Part, Profile, Purpose, Turned
from fixturegen.plate.bend_rules import BendRule
from fixturegen.plate.bending import Fold, bent_strip
from fixturegen.plate.part import TurnedStep
from fixturegen.plate.profile import Operation, Vertex, rectangle

BLOCK = TitleBlock("Job, invented", "B")


def subject(part: Part, units: str = "in", paper: str = "letter") -> Subject:
    return Subject(part.name, part.label, "Job, invented", "B", units, paper, "a36", part.quantity, 1.0, part.hand)


def plate(dx: float = 0.0, label: str = "Ear, invented") -> Part:
    quarter = math.tan(math.pi / 8.0)
    outer = (
        Vertex(0.0, 0.0),
        Vertex(152.4, 0.0),
        Vertex(152.4, 50.8, quarter),
        Vertex(127.0, 76.2),
        Vertex(0.0, 76.2),
    )
    slot = tuple(reversed(rectangle(50.8, 25.4, 76.2, 38.1)))
    holes = (
        Hole(25.4 + dx, 25.4, 12.7, Purpose.BOLT, "bolt", Operation.CUT, 12.7),
        Hole(127.0, 50.8, 19.05, Purpose.JOINT, "joint", Operation.UNDERCUT, 15.875, "drill and ream"),
        Hole(
            101.6, 25.4, 6.35, Purpose.DOWEL, "dowel", Operation.PILOT, None, "with its mate", slot=6.0, slot_angle=30.0
        ),
    )
    return Part("ear", label, "toy", "plate", 9.6, profile=Profile(outer, (slot,), holes), hand="L", datum="corner")


def bent() -> Part:
    rule = BendRule()
    made = bent_strip((60.0, 80.0, 40.0), (Fold(90.0, 8.0), Fold(60.0, 8.0)), 50.0, 6.0, rule)
    return Part("bracket", "Bracket, invented", "toy", "bent", 6.0, profile=made.profile, bends=made.bends, datum="end")


def pin() -> Part:
    steps = (
        TurnedStep(2.0, 16.0, 20.0, note="chamfer"),
        TurnedStep(40.0, 20.0, None, (-0.013, 0.0), "ground"),
        TurnedStep(10.0, 38.1, None, None, "flange"),
        TurnedStep(25.4, 15.875, None, None, "5/8-18 UNF"),
    )
    turned = Turned(steps, ((60.0, 77.4, 8.0, None, "drill"),), ((42.0, 52.0, 16.0, 90.0),), ((20.0, 6.0, 0.0, "oil"),))
    return Part("pin", "Pin, invented", "toy", "turned", turned=turned, material="1018-cd", datum="axis, one face")


def tube() -> Part:
    return Part("tube", "Tube, invented", "toy", "tube", tube=(88.9, 9.525, 700.0, False), material="dom-1020")


PARTS = [plate, bent, pin, tube]


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("made", PARTS, ids=["plate", "bent", "turned", "tube"])
def test_every_printed_size_is_that_of_the_solid(made, units):
    part = made()
    drawing = drawing_of(part, subject(part, units))
    assert drawing is not None
    assert len(drawing.sizes) >= 3
    assert faults_of(part, drawing, units) == []
    assert unread(drawing, drawing_pdf(drawing, BLOCK, "letter")) == []


def test_a_size_that_is_not_the_solids_is_told():
    """The drawing of one part held against the solid of another that differs in one place."""
    drawing = plate_drawing(plate(), subject(plate()))
    for other, word in (
        (plate(dx=0.1), "hole 1"),
        (replace(plate(), thickness=9.7), "thickness"),
        (_with_hole(plate(), 1, finished=19.0), "hole 2"),
    ):
        found = faults_of(other, drawing, "in")
        assert found
        assert any(word in words for words in found), found
    pin_drawing = turned_drawing(pin(), subject(pin()))
    steps = pin().turned.steps
    longer = (steps[0], replace(steps[1], length=40.1), *steps[2:])
    thinner = (*steps[:2], replace(steps[2], diameter=38.0), steps[3])
    for changed in (longer, thinner):
        assert faults_of(replace(pin(), turned=replace(pin().turned, steps=changed)), pin_drawing, "in")
    flat = replace(pin().turned, flats=((42.0, 52.0, 16.2, 90.0),))
    assert any("flat" in w for w in faults_of(replace(pin(), turned=flat), pin_drawing, "in"))
    strip = bent()
    folded = drawing_of(strip, subject(strip))
    sharper = replace(strip, bends=(replace(strip.bends[0], radius=7.0), replace(strip.bends[1], radius=7.0)))
    assert any("bend" in w for w in faults_of(sharper, folded, "in"))


def _with_hole(part: Part, n: int, **changes: object) -> Part:
    holes = list(part.profile.holes)
    holes[n] = replace(holes[n], **changes)
    return replace(part, profile=replace(part.profile, holes=tuple(holes)))


@pytest.mark.parametrize(
    ("text", "good"),
    [
        ("2.626 [66.70]", True),
        ("2.627 [66.70]", False),  # a thousandth off: 66.7 / 25.4 = 2.62598
        ("2.626 [66.71]", False),
        ("2.626 | 2 5/8 (+0.0010) | 66.70", True),
        ("2.626 | 2 5/8 | 66.70", False),  # what the fraction leaves out is not said
        ("2 5/8 in (+0.0010 in) = 2.626 in [66.70 mm]", True),
        ("2 5/8 in (-0.0010 in) = 2.626 in [66.70 mm]", False),
    ],
)
def test_figures_that_do_not_say_their_value_are_told(text, good):
    assert (printed_faults([Size("x", "edge", 66.7, text)], "in") == []) is good


def test_a_size_missing_from_the_paper_is_told():
    drawing = plate_drawing(plate(), subject(plate()))
    more = replace(drawing, sizes=(*drawing.sizes, Size("x", "ghost", 1.0, "9.875 [250.83]")))
    content = drawing_pdf(drawing, BLOCK, "letter")
    assert unread(drawing, content) == []
    assert unread(more, content) == ["ghost: 250.83 is not on the paper", "ghost: 9.875 is not on the paper"]


def test_the_plan_on_paper_has_the_outline_of_the_plate_at_its_scale():
    """Length round and place of holes read back off the PDF, against lengths worked out by hand."""
    part = plate()
    drawing = plate_drawing(part, subject(part))
    scale = drawing.pages[0].views[0].scale
    page = read_pdf(drawing_pdf(drawing, BLOCK, "letter")).pages[0]
    around = 152.4 + 50.8 + math.pi / 2.0 * 25.4 + 127.0 + 76.2
    lengths = [p.length for p in page.paths if p.closed and p.stroked]
    assert min(abs(one - scale * around) for one in lengths) < 0.01
    assert min(abs(one - scale * 2.0 * (25.4 + 12.7)) for one in lengths) < 0.01
    bolt, joint = (min(page.circles(), key=lambda c, d=d: abs(c[2] - scale * d)) for d in (12.7, 19.05))
    assert (joint[0] - bolt[0], joint[1] - bolt[1]) == pytest.approx((scale * 101.6, scale * 25.4), abs=0.01)


def test_the_views_of_a_bent_part_cover_its_box_and_the_silhouette_of_its_mesh():
    """Area inside the drawn lines against the shadow of a mesh, by two libraries that do not draw."""
    from fixturegen.shapes.cache import cached_solid
    from fixturegen.shapes.hidden_lines import view_of
    from fixturegen.shapes.meshes import mesh_of
    from fixturegen.shapes.primitives import bounding_box

    solid = cached_solid(bent())
    box, mesh = bounding_box(solid), mesh_of(solid, 0.02)
    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    spans = {TOP.name: (0, 1), FRONT.name: (0, 2), SIDE.name: (1, 2)}
    for looking in (TOP, FRONT, SIDE):
        strokes = view_of([solid], looking.eye, looking.right)
        a, b = spans[looking.name]
        assert extent(strokes) == pytest.approx((box[a], box[b], box[a + 3], box[b + 3]), abs=0.02)
        flat = body.vertices[:, [a, b]][body.faces]
        shadow = shapely.unary_union([shapely.Polygon(t).buffer(1e-6) for t in flat if shapely.Polygon(t).area > 1e-9])
        chains = [*strokes.seen, *strokes.hidden]
        # lines are drawn as wide as ends may gape: a hundredth of a mm, all round
        slack = 0.02 * shadow.length
        assert _within(chains) == pytest.approx(shadow.area, abs=slack)
        rim = [c for c in chains if all(abs(p[0] - box[a]) < 1e-3 for p in c)]
        assert rim
        assert _within([c for c in chains if c not in rim]) < shadow.area - slack


def _within(chains):
    """Area of all that lines close in [mm2]."""
    import shapely

    lines = shapely.unary_union([shapely.LineString(c).buffer(0.01) for c in chains])
    rings = lines.geoms if hasattr(lines, "geoms") else [lines]
    return shapely.unary_union([shapely.Polygon(ring.exterior) for ring in rings]).area


def test_hidden_lines_lie_behind_steel_and_a_plate_turned_over_hides_nothing_more():
    from fixturegen.shapes.hidden_lines import view_of
    from fixturegen.shapes.primitives import box, cut, cylinder

    solid = cut(box(0.0, 0.0, 0.0, 40.0, 30.0, 20.0), cylinder((20.0, 15.0, 10.0), (20.0, 15.0, 20.0), 10.0))
    above = view_of([solid], (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    front = view_of([solid], (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))
    assert any(len(c) > 8 for c in above.seen)  # the blind hole is seen from above
    wall = [c for c in front.hidden if abs(c[0][0] - c[-1][0]) < 1e-6]
    # its walls, 15 and 25 from the corner, from 10 up to 20
    assert {round(c[0][0], 3) for c in wall} >= {15.0, 25.0}
    assert all(min(p[1] for p in c) >= 10.0 - 1e-6 for c in wall if round(c[0][0], 3) in (15.0, 25.0))


@pytest.mark.parametrize(
    "label", ["Ohr \u202b\u05d0\u05d6\u05df\u202c <&> 'x'", "\U0001f527 wrench \u4e2d", "x" * 300, ""]
)
def test_odd_labels_make_a_drawing(label):
    part = plate(label=label)
    content = drawing_pdf(plate_drawing(part, subject(part)), BLOCK, "letter")
    assert content.startswith(b"%PDF")


def test_the_same_part_makes_the_same_bytes_on_letter_and_a4():
    for paper in ("letter", "a4"):
        first, again = (drawing_pdf(turned_drawing(pin(), subject(pin(), paper=paper)), BLOCK, paper) for _ in range(2))
        assert first == again


def test_all_views_and_words_stay_on_the_page_and_words_never_lie_on_words():
    for part in (plate(), pin(), bent(), tube(), _long_bar(), _large_plate(), _thick_block(), _small_pin()):
        drawing = drawing_of(part, subject(part))
        for page in drawing.pages:
            boxes = [item_box(i) for i in page.items]
            low, high = min(b[0] for b in boxes), max(b[2] for b in boxes)
            assert low >= 9.0, part.name
            assert high <= page.width - 9.0, part.name
            assert max(b[3] for b in boxes) <= page.height - 9.0, part.name
            words = [item_box(i) for i in page.items if isinstance(i, Words) and len(i.text) > 2]
            for a, b in itertools.combinations(words, 2):
                over = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
                assert min(over) < 0.75, (part.name, page.heading)


def test_no_lettering_is_smaller_than_can_be_read_at_the_bench():
    for part in (plate(), pin()):
        for page in drawing_of(part, subject(part)).pages:
            # height of the letters as a whole: capitals are 0.73 of it; heads of cells may be smaller
            sizes = [i.size / 0.73 for i in page.items if isinstance(i, Words) and any(c.isdigit() for c in i.text)]
            assert min(sizes) >= 2.2


def _long_bar() -> Part:
    steps = (TurnedStep(1.5, 28.0, 31.0), TurnedStep(1700.0, 31.0), TurnedStep(1.5, 31.0, 28.0))
    return Part("bar", "Long bar, invented", "toy", "turned", turned=Turned(steps), datum="axis")


def _large_plate() -> Part:
    return Part(
        "base", "Large base", "toy", "plate", 12.7, profile=Profile(rectangle(0.0, 0.0, 2400.0, 900.0)), datum="corner"
    )


def _thick_block() -> Part:
    """Drawn larger than it is, its thickness as wide as all the room beside a plan."""
    shape = Profile(rectangle(0.0, 0.0, 40.0, 60.0))
    return Part("block", "Thick block", "toy", "plate", 38.1, profile=shape, datum="corner")


def _small_pin() -> Part:
    """A pin so thin that the words under its end view are wider than it."""
    turned = Turned((TurnedStep(60.0, 6.0),), (), (), ((30.0, 2.0, 0.0, "split pin"),))
    return Part("thin", "Thin pin", "toy", "turned", turned=turned, datum="axis")


def test_what_is_done_at_holes_alike_is_told_once_with_their_numbers():
    holes = (
        *(Hole(10.0 * n, 5.0, 6.0, Purpose.BOLT, note="drill 6 mm", operation=Operation.PILOT) for n in (1, 2, 3)),
        Hole(50.0, 5.0, 8.0, Purpose.ACCESS, cut=8.0),
        Hole(60.0, 5.0, 6.0, Purpose.BOLT, note="drill 6 mm", operation=Operation.PILOT),
    )
    part = Part("row", "Row", "toy", "plate", 6.0, profile=Profile(rectangle(0.0, 0.0, 90.0, 10.0), (), holes))
    blocks, _ = plate_tables(part, subject(part), zero_of(part), Writer("mm"))
    (table,) = (b for b in blocks if isinstance(b, Table) and b.title.startswith("Holes"))
    assert table.under == (
        "", "", "", "for access; at the cutter: cut to 8.000 [0.3150]",
        "nos. 1 to 3, 5: for bolt; at the cutter: pilot mark; then: drill 6 mm",
    )  # fmt: skip


def test_an_arc_no_trammel_swings_tells_how_far_it_leaves_the_line():
    """A circle by hand: over a chord of 200 mm, 0.5 mm high, the radius is (100^2 + 0.5^2) / (2 * 0.5) mm."""
    bulge = 0.5 / 100.0  # height over half the chord
    loop = (Vertex(0.0, 0.0, bulge), Vertex(200.0, 0.0), Vertex(200.0, 50.0), Vertex(0.0, 50.0))
    part = Part("lid", "Lid", "toy", "plate", 6.0, profile=Profile(loop), datum="corner")
    blocks, _ = plate_tables(part, subject(part), zero_of(part), Writer("mm"))
    (table,) = (b for b in blocks if isinstance(b, Table) and b.title.startswith("Outline"))
    assert [row[-1] for row in table.rows] == [
        "R 10000.25 [393.711] bulging out, bow 0.50 [0.020]", "line", "line", "line",
    ]  # fmt: skip


def test_a_turned_part_stands_on_one_page_unless_its_table_leaves_the_view_no_room():
    assert len(turned_drawing(pin(), subject(pin())).pages) == 1
    steps = tuple(TurnedStep(5.0, 20.0 + n % 2) for n in range(30))
    long = Part("long", "Many steps", "toy", "turned", turned=Turned(steps), datum="axis")
    assert len(turned_drawing(long, subject(long)).pages) > 1


def test_a_bar_too_long_for_its_scale_is_broken_and_said_to_be():
    drawing = turned_drawing(_long_bar(), subject(_long_bar()))
    page = drawing.pages[0]
    assert page.scale.endswith(", broken")
    assert not page.views[0].true
    assert any("not to scale" in i.text for i in page.items if isinstance(i, Words))
    assert turned_drawing(pin(), subject(pin())).pages[0].views[0].true


@pytest.mark.parametrize(
    ("profile", "zero", "words"),
    [
        (Profile(rectangle(-10.0, -5.0, 30.0, 20.0)), (-10.0, -5.0), "left edge and bottom edge"),
        (
            Profile(rectangle(-10.0, -5.0, 30.0, 20.0), (), (Hole(0.0, 0.0, 6.0, Purpose.BORE, "bore"),)),
            (0.0, 0.0),
            "middle of hole 1, bore",
        ),
        (
            Profile((Vertex(0.0, -9.0), Vertex(8.0, 0.0), Vertex(0.0, 9.0)), (), (Hole(2.0, 1.0, 3.0, Purpose.BOLT),)),
            (2.0, 1.0),
            "middle of hole 1, bolt",
        ),
    ],
)
def test_the_zero_is_something_a_square_or_a_pin_reaches(profile, zero, words):
    found = zero_of(Part("p", "p", "toy", "plate", 6.0, profile=profile))
    assert (found.x, found.y) == zero
    assert found.words == words


def test_bent_parts_show_their_finished_shape_first_and_their_flat_beside():
    headings = [p.heading for p in bent_drawing(bent(), _solid(), subject(bent())).pages]
    assert headings[:2] == ["finished, bent", "flat before bending"]


def _solid():
    from fixturegen.shapes.cache import cached_solid

    return cached_solid(bent())


def test_a_half_section_has_the_steps_of_the_part_and_the_sign_of_a_thread():
    """Lines read back off the PDF: radii and lengths by hand."""
    drawing = turned_drawing(pin(), subject(pin()))
    view = drawing.pages[0].views[0]
    level = [
        (abs(line.points[0][1] - view.y) / view.scale, line.length / view.scale)
        for line in read_pdf(drawing_pdf(drawing, BLOCK, "letter")).pages[0].lines
        if abs(line.points[0][1] - line.points[1][1]) < 1e-3
    ]
    # (radius, length) of each cylinder above and below the axis; the thread's foot stands inside its 5/8 in
    for radius, length, many in ((10.0, 40.0, 2), (19.05, 10.0, 2), (7.9375, 25.4, 2), (4.0, 17.4, 1)):
        found = [one for one in level if one == pytest.approx((radius, length), abs=0.01)]
        assert len(found) == many, (radius, length)
    assert [one for one in level if 6.0 < one[0] < 7.9 and one[1] == pytest.approx(25.4, abs=0.01)]
    assert not [one for one in level if 16.0 < one[0] < 19.0 and one[1] == pytest.approx(10.0, abs=0.01)]


def _numbered(holes, marks=()):
    """Rims of the holes on paper, numbers by their middle, lines from numbers to holes."""
    board, view = board_for("letter", wide=False), View("plan", 0.25, 60.0, 60.0)
    profile = Profile(rectangle(0.0, 0.0, 220.0, 500.0), (), tuple(holes))
    for h in holes:  # as leaders of ordinates run
        x, y = view.at(h.x, h.y)
        board.line((x, y), (x, 200.0), "thin")
        board.line((x, y), (130.0, y), "thin")
    before = len(board.figure.items)
    number(board, Part("row", "row", "toy", "plate", 9.6, profile=profile, marks=marks), view, (0.0, 0.0, 1.8))
    rims = [(*view.at(h.x, h.y), 0.25 * h.finished / 2.0) for h in holes]
    boxes = {int(i.text): item_box(i) for i in board.figure.items if isinstance(i, Words) and i.text.isdigit()}
    middles = {n: ((b[0] + b[2]) / 2.0, (b[1] + b[3]) / 2.0) for n, b in boxes.items()}
    lines = [i.vertices for i in board.figure.items[before:] if isinstance(i, Trace) and len(i.vertices) == 2]
    return rims, middles, [shapely.LineString([(v.x, v.y) for v in line]) for line in lines]


def _row():
    """Small holes 1/2 in apart between big ones and lettering: few numbers have room beside their hole."""
    big = [Hole(62.0 + 48.0 * k, 472.0, 31.75, Purpose.ANGLE) for k in range(3)]
    places = ((79.0, 444.0), (147.0, 438.0), (36.5, 436.0), (104.5, 440.5), (122.0, 445.0), (188.0, 429.0))
    small = [Hole(x, y, 11.0 + n % 2, Purpose.BOLT) for n, (x, y) in enumerate(places)]
    return [*big, *small, Hole(142.0, 370.0, 74.0, Purpose.LIGHTENING)], (Mark(85.0, 415.0, "TAPE 19 27/32", 12.0),)


def _square():
    """Three by three: the middle one has no room for its number, and holes square and slantwise on each side."""
    return [Hole(80.0 + 18.0 * k, 300.0 + 18.0 * n, 9.0, Purpose.BOLT) for n in range(3) for k in range(3)], ()


@pytest.mark.parametrize("toy", [_row, _square])
def test_a_line_from_a_number_to_its_hole_runs_through_no_other_hole(toy):
    holes, marks = toy()
    rims, middles, lines = _numbered(holes, marks)
    assert sorted(middles) == list(range(1, len(holes) + 1))
    led = {}
    for line in lines:
        ends = [shapely.Point(p) for p in line.coords]
        near = [
            n
            for n, (x, y, r) in enumerate(rims, 1)
            if any(abs(e.distance(shapely.Point(x, y)) - r) < 1e-6 for e in ends)
        ]
        (own,) = [n for n in near if min(e.distance(shapely.Point(middles[n])) for e in ends) < 4.0] or [None]
        assert own is not None
        led[own] = line
        for n, (x, y, r) in enumerate(rims, 1):
            assert n == own or line.distance(shapely.Point(x, y)) > r, f"line of {own} through hole {n}"
        assert all(n == own or line.distance(shapely.Point(at)) > 1.0 for n, at in middles.items())
    # a number without a line stands nearer to its own hole than to any other
    for n, at in middles.items():
        far = [math.dist(at, (x, y)) - r for x, y, r in rims]
        assert n in led or min(range(len(holes)), key=far.__getitem__) == n - 1


def test_a_number_with_room_stands_beside_its_hole_without_a_line():
    _, middles, lines = _numbered([Hole(100.0, 100.0, 20.0, Purpose.BOLT), Hole(100.0, 300.0, 20.0, Purpose.BOLT)])
    assert len(middles) == 2 and not lines


def test_a_page_of_tables_is_called_by_what_is_on_it():
    one = plate()
    whole = [page.heading for page in plate_drawing(one, subject(one)).pages]
    assert whole == ["plan and edge", "notes, holes, lengths and outline"]
    bare = replace(one, profile=replace(one.profile, holes=()))
    assert [page.heading for page in plate_drawing(bare, subject(bare)).pages] == ["plan and edge", "notes and outline"]
    folded = [page.heading for page in bent_drawing(bent(), _solid(), subject(bent())).pages[2:]]
    assert "bends" in " ".join(folded)
    # what goes on over several pages is in the heading of each
    long = replace(bare, notes=tuple(f"note {n}" for n in range(90)))
    headings = [page.heading for page in plate_drawing(long, subject(long)).pages[1:]]
    assert headings[0] == "notes" and headings[-1] == "notes and outline"
