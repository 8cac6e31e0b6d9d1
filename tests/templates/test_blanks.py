"""A blank on paper has the part's own lines, at its own size, with its holes told."""

import math
from dataclasses import replace

import pytest

from fixturegen.errors import GeometryFault
from fixturegen.findings import Level
from fixturegen.pages import PAPERS, TitleBlock, read_pdf
from fixturegen.pages.proving import findings_of
from fixturegen.plate import Hole, Profile
from fixturegen.plate.profile import Purpose, rectangle
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.documents import documents
from fixturegen.templates.tiles import book_of
from fixturegen.templates.tiling import tiling_of
from tests.templates.toys import bent, big, contents, plate

NEAR = 0.05  # [mm]


def _one(part, paper="letter"):
    template = blank_of(part, "in")
    tiling = tiling_of(template.area, PAPERS[paper])
    return book_of(template, tiling, TitleBlock("job"), PAPERS[paper])


@pytest.mark.parametrize("paper", list(PAPERS))
def test_outline_and_holes_stand_on_the_page_at_the_size_of_the_part(paper):
    page = read_pdf(_one(plate(), paper)[0].pdf()).pages[0]
    # closed form: sides and a quarter circle of radius 20
    length = 120.0 + 60.0 + 80.0 + 100.0 + math.pi * 10.0
    assert min(abs(p.length - length) for p in page.paths if p.closed) < NEAR
    assert min(abs(p.length - 64.0) for p in page.paths if p.closed) < NEAR
    bore = min(page.circles(), key=lambda c: abs(c[2] - 25.4))
    bolt = min(page.circles(), key=lambda c: abs(c[2] - 12.7))
    assert (bore[2], bolt[2]) == pytest.approx((25.4, 12.7), abs=NEAR)
    assert math.dist(bore[:2], bolt[:2]) == pytest.approx(math.hypot(40.0, 20.0), abs=NEAR)


def test_each_hole_has_a_centre_mark_that_reaches_beyond_it():
    page = read_pdf(_one(plate())[0].pdf()).pages[0]
    x, y, d = min(page.circles(), key=lambda c: abs(c[2] - 25.4))
    arms = [
        line for line in page.lines
        if math.dist([sum(v) / 2.0 for v in zip(*line.points, strict=True)], (x, y)) < 0.01 and line.length > d + 3.0
    ]  # fmt: skip
    assert len(arms) == 2


def test_what_a_hole_is_for_how_it_is_made_and_where_it_is_stands_on_the_paper():
    words = " ".join(page.text for page in read_pdf(_one(plate())[0].pdf()).pages).replace("\r\n", " ")
    for told in ("bar bore: bore", "1.000 in (25.40 mm)", "bore it with its mate", "2.362, 1.575 in", "cut 0.276 in"):
        assert told in words
    assert "Marked face up" in words and "make 1" in words and "lower left corner" in words


def test_a_bend_is_drawn_as_a_line_with_its_way_angle_and_outside_sizes():
    page = read_pdf(_one(bent())[0].pdf()).pages[0]
    words = page.text.replace("\r\n", " ")
    assert "BEND 1 UP 90 deg" in words and "BEND 2 DOWN 45 deg" in words
    assert "1 25/32 in (1.772 in, 45.0 mm)" in words  # 45 mm is 1.7717 in; 25/32 is 0.7813, 3/4 farther off
    verticals = [
        ln.points for ln in page.lines if abs(ln.points[0][0] - ln.points[1][0]) < 1e-3 and abs(ln.length - 50) < NEAR
    ]
    xs = sorted({round(p[0][0], 2) for p in verticals})
    # edge, two bend lines, edge: 40 and 100 of 150
    assert [round(x - xs[0], 1) for x in xs] == [0.0, 40.0, 100.0, 150.0]


def test_left_and_right_are_told_in_words():
    for hand, word in (("L", "LEFT part"), ("R", "RIGHT part")):
        assert word in read_pdf(_one(plate(hand=hand))[0].pdf()).pages[0].text


def test_pdf_02_each_page_passes_its_proof_and_one_drawn_otherwise_does_not():
    (pdf, _) = documents(contents(plate()))
    assert {f.level for f in findings_of(pdf)} == {Level.PASS}
    first = pdf.proofs[0]
    wrong = (
        replace(first, outlines=(first.outlines[0] + 0.06, first.outlines[1])),
        replace(first, holes=((first.holes[0][0] + 0.06, *first.holes[0][1:]), first.holes[1])),
        replace(first, holes=(*first.holes, (50.0, 50.0, 12.7))),
        replace(first, start=(first.start[0] + 0.06, first.start[1])),
    )
    for proof in wrong:
        found = {f.code: f.level for f in findings_of(replace(pdf, proofs=(proof,)))}
        assert found == {"PDF-01": Level.PASS, "PDF-02": Level.FAIL}
    near = replace(first, outlines=(first.outlines[0] + 0.04, first.outlines[1]))
    assert {f.level for f in findings_of(replace(pdf, proofs=(near,)))} == {Level.PASS}


def test_a_held_part_has_no_template():
    made = documents(contents(plate("one"), plate("two"), held=("two",)))
    assert {d.path for d in made} == {"templates/one.pdf", "templates/one.svg"}


def test_pdf_03_a_part_larger_than_the_tiling_asked_for_is_told_and_keeps_its_svg():
    sheets = len(tiling_of(blank_of(big(), "in").area, PAPERS["letter"]).tiles)
    enough, short = contents(big(), most=sheets), contents(big(), most=sheets - 1)
    assert [d.path for d in documents(enough)] == ["templates/big.pdf", "templates/big.svg"]
    assert [f.level for f in enough.told] == [Level.PASS]
    assert [d.path for d in documents(short)] == ["templates/big.svg"]
    (told,) = short.told
    assert (told.code, told.level, told.parts, told.value) == ("PDF-03", Level.WARN, ("big",), sheets)
    assert "big U would take" in told.words and "most_sheets" in told.remedy


def test_a_part_without_a_flat_blank_is_refused_and_left_out():
    turned = replace(plate(), profile=None, form="turned")
    assert documents(contents(turned)) == []
    with pytest.raises(GeometryFault, match="no flat blank"):
        blank_of(turned, "in")


def test_the_svg_is_drawn_at_true_size():
    picture = documents(contents(plate()))[1].content.decode()
    assert 'class="outline"' in picture and "A20 20 0" in picture
    wide = float(picture.split('width="')[1].split("mm")[0])
    assert 120.0 < wide < 150.0


def test_a_job_in_millimetres_has_them_first_and_inches_in_brackets():
    template = blank_of(plate(), "mm")
    assert template.rows[1][2] == "12.70 mm (0.500 in)"
    assert template.rows[1][4] == "20.0, 60.0 mm"
    assert "120.0 x 80.0 mm (4.72 x 3.15 in)" in " ".join(template.lines)


def test_a_reamed_hole_is_told_to_the_ten_thousandth_and_a_bolt_hole_is_not():
    # 0.5005 in = 12.7127 mm, by definition of the inch
    holes = (Hole(30.0, 30.0, 12.7127, Purpose.ANGLE), Hole(80.0, 30.0, 12.7127, Purpose.BOLT))
    rows = blank_of(replace(plate(), profile=Profile(rectangle(0, 0, 120, 60), (), holes)), "in").rows
    assert [row[2] for row in rows] == ["0.5005 in (12.71 mm)", "0.501 in (12.71 mm)"]


def test_an_edge_that_is_milled_after_cutting_is_not_called_finished():
    note = "cut 0.062 in over on each side: mill both edges to 2.010 in"
    worked = " ".join(blank_of(plate(notes=(note, "stamp it")), "in").lines)
    assert "the edge as cut" in worked and "finished" not in worked
    assert "Cut 0.062 in over on each side: mill both edges to 2.010 in." in worked and "stamp" not in worked
    # work on holes only, and none at all, leave the edge as it is
    for notes in ((), ("lengthen the tie holes by milling or filing top and bottom only",)):
        assert blank_of(plate(notes=notes), "in").lines[1:-1] == blank_of(plate(), "in").lines[1:-1]
        assert not any("ill" in line for line in blank_of(plate(notes=notes), "in").lines)


def test_holes_of_a_plate_whose_zero_is_off_it_are_counted_from_its_first_hole():
    holes = (Hole(30.0, 30.0, 12.7, Purpose.BOLT), Hole(80.8, 55.4, 12.7, Purpose.BOLT))
    far = tuple(replace(h, x=h.x + 500.0, y=h.y - 200.0) for h in holes)
    off = replace(plate(), profile=Profile(rectangle(500, -200, 620, -140), (), far))
    template = blank_of(off, "in")
    # 50.8 mm is 2 in, 25.4 mm 1 in
    assert template.head[-1] == "From hole 1: x, y"
    assert [row[-1] for row in template.rows] == ["0.000, 0.000 in", "2.000, 1.000 in"]
    assert any("not on this plate" in line and "hole 1" in line for line in template.lines)
    near = blank_of(replace(plate(), profile=Profile(rectangle(0, 0, 120, 60), (), holes)), "in")
    assert near.head[-1] == "From zero: x, y" and near.rows[1][-1] == "3.181, 2.181 in"
    assert not any("not on this plate" in line for line in near.lines)


def test_no_line_to_a_number_on_a_template_runs_through_another_hole():
    # three by three and close: the one in the middle has no room for its number beside it
    holes = tuple(Hole(40.0 + 9.0 * k, 40.0 + 9.0 * n, 5.0, Purpose.BOLT) for n in range(3) for k in range(3))
    figure = blank_of(replace(plate(), marks=(), profile=Profile(rectangle(0, 0, 120, 100), (), holes)), "in").figure
    lines = [item.vertices for item in figure.items if getattr(item, "role", "") == "leader"]
    assert lines
    for a, b in lines:
        own = min(holes, key=lambda h: abs(math.hypot(a.x - h.x, a.y - h.y) - 2.5))
        for h in holes:
            t = ((h.x - a.x) * (b.x - a.x) + (h.y - a.y) * (b.y - a.y)) / math.dist((a.x, a.y), (b.x, b.y)) ** 2
            t = max(0.0, min(1.0, t))
            off = math.hypot(a.x + t * (b.x - a.x) - h.x, a.y + t * (b.y - a.y) - h.y)
            assert h is own or off > 2.3
