"""Shop lists, read again with the csv module."""

import csv
import io

from fixturegen.plate import Assembly, Part, Turned, TurnedStep, Weld
from fixturegen.studies.tube_cuts import ShaftReading, TubeCut
from fixturegen.write import held, lists
from tests.write.toys import plate_part


def rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"))))


def test_lists_are_utf_8_with_line_feeds_and_no_mark_in_front() -> None:
    data = lists.csv_bytes(("a", "b"), [("7.5°", 'say "x", y'), ("two\r\nlines", 2.5)])
    assert data == 'a,b\n7.5°,"say ""x"", y"\ntwo  lines,2.5\n'.encode()


def test_a_text_that_a_spreadsheet_would_run_is_made_harmless_and_numbers_are_left_alone() -> None:
    assert lists.csv_bytes(("a",), [("=1+1",), ("-x",), (-1.5,), (-2,)]) == b"a\n'=1+1\n'-x\n-1.5\n-2\n"


def test_the_cut_list_has_both_units_and_the_pierces() -> None:
    (row,) = rows(lists.cut_list([plate_part(quantity=2)], {"plate-a": 0.45359237}, {"plate-a": {"dxf": "cut/x"}}))
    assert (row["width_in"], row["width_mm"]) == ("7.874", "200")
    assert (row["thickness_in"], row["thickness_mm"]) == ("0.3701", "9.4")
    assert row["mass_each_lb"] == "1"
    # one slot, two holes cut, one outside
    assert (row["pierces"], row["pilot_marks"], row["quantity"], row["file"]) == ("4", "1", "2", "cut/x")


def test_the_tube_list_names_the_long_and_the_short_side() -> None:
    cuts = (
        TubeCut("left", "long", 600.0, 50.8, 650.8, 76.2, 9.5, 30.0, 1.6),
        TubeCut("right", "short", 300.0, 50.8, 350.8, 76.2, 9.5, 30.0, 1.6),
    )
    own = Part("post", "Post", "toy", "tube", tube=(50.8, 3.0, 254.0, True))
    left, right, post = rows(lists.tube_list(cuts, [own, plate_part()]))
    assert (left["what"], left["side"], left["insertion_in"], left["bevel_deg"]) == (
        "axle tube, long",
        "left",
        "2",
        "30",
    )
    assert right["what"] == "axle tube, short"
    assert (post["section"], post["length_in"]) == ("square", "10")


def test_the_turned_list_runs_from_the_face_at_zero() -> None:
    pin = Part(
        "pin", "Pin", "toy", "turned",
        turned=Turned(
            (TurnedStep(25.4, 50.8), TurnedStep(12.7, 25.4, 20.0, (-0.0254, 0.0), "ground")),
            bores=((0.0, 38.1, 12.7, None, "drill through"),),
            cross_holes=((12.7, 6.35, 90.0, ""),),
        ),
    )  # fmt: skip
    found = rows(lists.turned_list([pin, plate_part()], {}))
    assert [r["feature"] for r in found] == ["whole", "outside", "outside", "bore", "cross hole"]
    assert found[0]["length_in"] == "1.5"
    assert (found[2]["from_face_in"], found[2]["lower_limit_in"], found[2]["upper_limit_in"]) == ("1", "-0.001", "0")
    assert found[2]["end_diameter_mm"] == "20"
    assert found[4]["note"] == "across, at 90.0 deg"


def test_hardware_welds_shafts_and_held_parts_have_their_lists() -> None:
    jig = Assembly("jig", "T", (), (Weld(("a", "b"), 6.35, 50.8, "one side"),), (("bolt", "1/2-13 x 2", 4, "base"),))
    assert rows(lists.hardware_list([jig]))[0]["quantity"] == "4"
    assert rows(lists.weld_list([jig]))[0]["leg_in"] == "0.25"
    (shaft,) = rows(lists.shaft_list([ShaftReading("left", "a to b", 254.0)]))
    assert shaft["measured"] == ""
    assert "finished housing" in shaft["note"]
    (row,) = rows(lists.held_list([plate_part()], {"plate-a": "FIT-01: over"}))
    assert row["reason"] == "FIT-01: over"


def test_a_held_part_says_why_and_its_picture_is_marked() -> None:
    from fixturegen.findings import Finding, Level

    fail = Finding("FIT-01", Level.FAIL, "it fits", "0.2 mm over", "open the slot", parts=("plate-a",))
    other = Finding("FIT-02", Level.PASS, "it stands", "does", parts=("plate-a",))
    text = held.held_text(plate_part(), "FIT-01: 0.2 mm over", [fail, other]).decode()
    assert text.startswith("HELD: Plate A (plate-a)\n")
    assert "Do: open the slot" in text
    assert "FIT-02" not in text
    assert b">HELD</text>" in held.marked_held("<svg></svg>")
