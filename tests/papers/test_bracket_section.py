"""The section of the brackets read back: lengths by hand, the picture by its own wheel mount surfaces, lists as CSV."""

import csv
import io
import math
import re
from functools import cache
from itertools import pairwise

import pytest

from fixturegen.checks.brackets_welded import CODE
from fixturegen.findings import Finding, Level
from fixturegen.papers.bracket_marks import hull, spread
from fixturegen.papers.bracket_pages import bracket_sections
from fixturegen.papers.bracket_section import taped
from fixturegen.studies.bracket_places import places_of
from fixturegen.studies.link_inputs import stance_of
from fixturegen.write.bracket_list import bracket_list
from fixturegen.write.held import list_text
from fixturegen.write.lists import weld_list
from tests.brackets.place_jobs import job_of, raw, rear

INCH = 25.4


@cache
def section():
    (made,) = bracket_sections(rear(), {}, ())
    return made


def table(made, title):
    (found,) = [t for t in made.tables if t.title.startswith(title)]
    return found


@pytest.mark.parametrize(
    ("value", "units", "wanted"),
    [
        # 480 / 25.4 = 18.8976, nearest 1/32 is 18 29/32 = 18.90625
        (480.0, "in", "18 29/32 in (18.898 in, 480.0 mm)"),
        (333.0, "in", "13 1/8 in (13.110 in, 333.0 mm)"),
        (25.4, "in", "1 in (1.000 in, 25.4 mm)"),
        (12.7, "in", "1/2 in (0.500 in, 12.7 mm)"),
        (480.0, "mm", "480.0 mm (18.898 in)"),
    ],
)
def test_a_tape_length_is_a_thirty_second_with_decimals_and_millimetres(value, units, wanted):
    assert taped(value, units) == wanted


def test_cautions_stand_on_top():
    first = " ".join(section().notes[:4])
    for word in ("not certified", "Never weld on", "tie rods", "Earth clamp beside the weld", "Local rules"):
        assert word in first


def test_stations_are_told_from_both_wheel_mount_surfaces():
    rows = {r[0]: r for r in table(section(), "Stations").rows}
    # the sheet: joint 480 left of the middle, 1626 from surface to surface, written in millimetres
    assert "480.0 mm" in rows["lower left"][3] and "left" in rows["lower left"][3]
    assert "333.0 mm" in rows["lower left"][4] and "1293.0 mm" in rows["lower left"][5]
    assert "1293.0 mm" in rows["lower right"][4] and "333.0 mm" in rows["lower right"][5]
    assert rows["lower left"][-1] == "[box]"


def test_every_plate_has_its_two_ends_and_middle_to_scribe_and_the_arc_is_longer_than_the_chord():
    rows = table(section(), "Lines to scribe").rows
    assert len(rows) == 3 * 8  # four brackets of two ears
    for row in rows:
        if row[4] == "flat":
            continue
        arc, chord = (float(re.search(r"([\d.]+) mm", cell).group(1)) for cell in row[5:7])
        # chord of a circle 82.6 mm across from the length of its arc
        assert chord == pytest.approx(82.6 * math.sin(arc / 82.6), abs=0.15)


def test_the_picture_shows_each_hole_at_its_share_of_the_wheel_mount_width():
    svg = section().views[0].svg
    mounts = [float(x) for x in re.findall(r'class="mount" d="M([\d.]+)', svg)]
    left, right = min(mounts), max(mounts)  # seen from behind, left is left
    holes = sorted({round(float(x), 1) for x in re.findall(r'class="leader" d="M([\d.]+)', svg)})
    shares = sorted([333.0 / 1626.0, 683.0 / 1626.0, 943.0 / 1626.0, 1293.0 / 1626.0])
    assert [(h - left) / (right - left) for h in holes] == pytest.approx(shares, abs=1e-3)
    assert "left WMS 333.0 mm (13.110 in)" in svg
    # the words of each hole hang in the order of the holes, left to the left as a rear axle is seen from behind
    words = re.findall(r'translate\(([\d.]+) [\d.]+\) rotate\(-90\)"[^>]*font-weight="bold">([^<]+)<', svg)
    assert [name for _, name in sorted((float(x), n) for x, n in words)] == [
        "lower left",
        "upper left",
        "upper right",
        "lower right",
    ]
    dots = re.findall(r'class="mount" d="M([\d.]+)', svg)
    named = re.findall(r'<text x="([\d.]+)"[^>]*>(left|right) WMS<', svg)
    assert {side for x, side in named if float(x) < sum(map(float, dots)) / len(dots)} == {"left"}


def test_the_end_view_turns_a_hole_forward_of_straight_up_by_its_clock_angle():
    svg = section().views[0].svg
    (angle,) = re.findall(r"lower L\+R: ([\d.]+) deg", svg)
    (cx, cy), *_ = re.findall(r'class="tube" cx="([\d.]+)" cy="([\d.]+)"', svg)
    ways = [tuple(map(float, m)) for m in re.findall(r'class="clock" d="M[\d. ]+L([\d.]+) ([\d.]+)"', svg)]
    # from the left with the front to the left: forward is to the left, clock counts toward it
    seen = {round(math.degrees(math.atan2(float(cx) - x, float(cy) - y)), 1) for x, y in ways}
    assert any(abs(s - float(angle)) < 0.1 for s in seen)


def test_words_of_stations_keep_apart_and_stay_inside():
    found = spread([100.0, 101.0, 102.0, 990.0, 995.0], 60.0, 30.0, 990.0)
    assert all(b - a >= 60.0 - 1e-9 for a, b in pairwise(found))
    assert found[0] >= 30.0 and found[-1] <= 990.0


def test_a_hull_is_the_outline_of_its_outermost_points():
    import numpy as np

    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0), (2.0, 2.0), (2.0, 0.0)]
    assert set(hull(np.array(square))) == {(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)}


def test_a_fail_about_steering_parts_holds_the_weld_list_on_paper_and_as_file():
    words = "the bracket of drag-link would be welded to the pitman arm; no such weld is made"
    fail = Finding(CODE, Level.FAIL, "nothing is welded there", words, "bolt it")
    (made,) = bracket_sections(rear(), {}, (fail,))
    welds = table(made, "Welds")
    assert "HELD" in welds.note and words in welds.note and len(welds.rows) == 1
    assert len(table(section(), "Welds").rows) > 4
    text = list_text("the weld list", (fail,)).decode()
    assert text.startswith("HELD: the weld list") and words in text and "bolt it" in text


def test_welds_of_held_parts_are_left_out_of_the_list():
    assemblies = [rear().assemblies["brackets"]]
    whole = list(csv.DictReader(io.StringIO(weld_list(assemblies).decode())))
    less = list(csv.DictReader(io.StringIO(weld_list(assemblies, {"lower-left-tab-left": "BRK-04"}).decode())))
    gone = [r for r in whole if "lower-left-tab-left" in (r["part"], r["to"])]
    assert gone and len(less) == len(whole) - len(gone)


def test_the_list_has_a_row_for_each_hole_and_each_point_to_scribe_in_both_units():
    facts = rear().brackets.facts.values()
    data = bracket_list(places_of(rear().axle, stance_of(rear().sheet, rear().axle), facts))
    rows = list(csv.DictReader(io.StringIO(data.decode("utf-8"))))
    assert len(rows) == 4 * (1 + 2 * 3)
    for row in rows:
        for name in ("from_centreline", "from_left_wms", "from_right_wms", "ahead", "above"):
            assert float(row[f"{name}_in"]) * INCH == pytest.approx(float(row[f"{name}_mm"]), abs=0.01)
    (hole,) = [r for r in rows if r["bracket"] == "lower-left" and r["what"] == "hole"]
    assert (hole["from_left_wms_mm"], hole["side"], hole["hand"]) == ("333", "left", "L")


def test_a_sheet_without_brackets_has_no_such_section():
    data = raw()
    del data["brackets"]
    assert bracket_sections(job_of(data), {}, ()) == ()
