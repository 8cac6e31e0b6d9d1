"""A sheet rewritten in place: nothing but the values asked for changes, or nothing at all."""

import difflib
import os
import tomllib

import pytest

from fixturegen.errors import InputFault, MachineFault
from fixturegen.sheet import read_text
from fixturegen.sheet.rewriting import changed_text, rewrite
from tests.sheet.altered import BALLJOINT, KINGPIN, REAR, put

KERF = ("process", "kerf")
ROOM = ("process", "slot_room")
TEST = {
    ("brake", "tests", 0, "plate"): "1/4 in",
    ("brake", "tests", 0, "inside_radius"): "1/4 in",
    ("brake", "tests", 0, "angle"): "90 deg",
    ("brake", "tests", 0, "deduction"): "0.431 in",
}
WITHOUT_TEST = KINGPIN.replace(KINGPIN[KINGPIN.index("[[brake.tests]]") : KINGPIN.index("[[sheets]]")], "")


def differing(before, after):
    """Lines taken away and lines put in."""
    found = list(difflib.ndiff(before.split("\n"), after.split("\n")))
    return [d[2:] for d in found if d[0] == "-"], [d[2:] for d in found if d[0] == "+"]


@pytest.mark.parametrize("text", [KINGPIN, BALLJOINT, REAR])
def test_one_line_changes_when_one_value_does(text):
    gone, new = differing(text, changed_text(text, {KERF: "0.085 in"}))
    assert len(gone) == len(new) == 1
    assert new == ['kerf = "0.085 in"']


def test_the_comment_and_the_blanks_behind_a_value_stay():
    text = put(KINGPIN, ('kerf = "0.062 in"', "  kerf   =  '0.062 in'   # by the last coupon"))
    _, new = differing(text, changed_text(text, {KERF: "0.085 in"}))
    assert new == ['  kerf   =  "0.085 in"   # by the last coupon']


def test_a_key_that_is_not_there_gets_a_line_below_the_last_of_its_section():
    text = put(KINGPIN, ('pads = "mill"\n', 'pads = "mill"   # both\n\n# about the brake\n'))
    after = changed_text(text, {ROOM: "0.012 in"})
    assert 'pads = "mill"   # both\nslot_room = "0.012 in"\n\n# about the brake\n' in after
    gone, new = differing(text, after)
    assert gone == []
    assert new == ['slot_room = "0.012 in"']


def test_a_section_that_is_not_there_is_put_at_the_end():
    after = changed_text(WITHOUT_TEST, TEST)
    assert after.startswith(WITHOUT_TEST)
    assert after.count("[[brake.tests]]") == 1
    assert read_text(after).brake.tests[0].deduction == pytest.approx(0.431 * 25.4)


def test_a_list_grows_behind_its_last_entry():
    second = {(*path[:2], 1, path[3]): value for path, value in TEST.items()}
    second["brake", "tests", 1, "angle"] = "60 deg"
    second["brake", "tests", 1, "deduction"] = "0.15 in"
    after = changed_text(KINGPIN, second)
    gone, new = differing(KINGPIN, after)
    assert gone == []
    assert next(line for line in new if line) == "[[brake.tests]]"
    assert after.index('deduction = "0.15 in"') < after.index("[[sheets]]")
    assert [t.angle for t in read_text(after).brake.tests] == [90.0, 60.0]


@pytest.mark.parametrize(
    "section",
    [
        'process = { kerf = "0.062 in", name = "plasma-air-45a" }',
        'process.kerf = "0.062 in"\nprocess.name = "plasma-air-45a"',
    ],
)
def test_sections_in_braces_or_with_dots_are_changed_too(section):
    start, end = WITHOUT_TEST.index("[process]"), WITHOUT_TEST.index("[[sheets]]")
    text = put(WITHOUT_TEST[:start] + WITHOUT_TEST[end:], ("schema = 1\n", f"schema = 1\n{section}\n"))
    sheet = read_text(changed_text(text, {KERF: "0.085 in", ROOM: "0.012 in", **TEST}))
    assert (sheet.process.kerf.text, sheet.process.slot_room.text) == ("0.085 in", "0.012 in")
    assert sheet.brake.tests[0].deduction.text == "0.431 in"


@pytest.mark.parametrize(
    "brake",
    [
        'brake = { rule = "din" }',
        'brake = { rule = "din", tests = [] }',
        'brake = { tests = [{ plate = "1/4 in", inside_radius = "1/8 in", angle = "45 deg", deduction = "0.1 in" }] }',
    ],
)
def test_a_brake_in_braces_takes_a_test(brake):
    text = put(WITHOUT_TEST, ("schema = 1\n", f"schema = 1\n{brake}\n"))
    at = len(tomllib.loads(text)["brake"].get("tests", []))
    after = changed_text(text, {(*path[:2], at, path[3]): value for path, value in TEST.items()})
    assert read_text(after).brake.tests[at].deduction.text == "0.431 in"


def test_line_ends_and_a_byte_order_mark_stay():
    text = "\ufeff" + KINGPIN.replace("\n", "\r\n")
    after = changed_text(text, {KERF: "0.085 in", ROOM: "0.012 in", **TEST})
    assert after.startswith("\ufeff#")
    assert after.replace("\r\n", "").count("\n") == 0
    bare = after.removeprefix("\ufeff").replace("\r\n", "\n")
    assert bare == changed_text(KINGPIN, {KERF: "0.085 in", ROOM: "0.012 in", **TEST})


def test_a_last_line_without_an_end_is_no_trouble():
    text = WITHOUT_TEST.rstrip("\n")
    assert read_text(changed_text(text, TEST)).brake.tests


def test_a_value_the_sheet_does_not_take_is_refused_with_a_sentence_and_its_key():
    with pytest.raises(InputFault) as refused:
        changed_text(KINGPIN, {ROOM: "3 in"})
    (fault,) = refused.value.faults
    assert fault.key == "process.slot_room"
    assert "nothing was written" in fault.remedy


def test_a_value_that_contradicts_the_sheet_is_refused():
    with pytest.raises(InputFault, match=r"process\.smallest_hole"):
        changed_text(KINGPIN, {("process", "smallest_hole"): "0.055 in"})


def test_rewriting_replaces_the_file_whole_and_keeps_its_rights(tmp_path):
    path = tmp_path / "axle.toml"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    rewrite(path, b"old", "new \N{DEGREE SIGN}")
    assert path.read_bytes() == b"new \xc2\xb0"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["axle.toml"]


def test_a_link_is_followed_and_stays_a_link(tmp_path):
    real, link = tmp_path / "real.toml", tmp_path / "axle.toml"
    real.write_text("old", encoding="utf-8")
    link.symlink_to(real)
    rewrite(link, b"old", "new")
    assert link.is_symlink()
    assert real.read_text(encoding="utf-8") == "new"


def test_a_sheet_that_changed_meanwhile_is_left_alone(tmp_path):
    path = tmp_path / "axle.toml"
    path.write_text("by another hand", encoding="utf-8")
    with pytest.raises(MachineFault, match="changed meanwhile"):
        rewrite(path, b"old", "new")
    assert path.read_text(encoding="utf-8") == "by another hand"


@pytest.mark.parametrize("spoilt", ["access", "replace"])
def test_a_sheet_that_cannot_be_written_is_left_whole_and_nothing_beside_it(tmp_path, monkeypatch, spoilt):
    path = tmp_path / "axle.toml"
    path.write_text("old", encoding="utf-8")

    def no(*_):
        raise OSError(28, "No space left on device")

    if spoilt == "access":
        monkeypatch.setattr(os, "access", lambda *_: False)
    else:
        monkeypatch.setattr(type(path), "replace", no)
    with pytest.raises(MachineFault, match="cannot be written"):
        rewrite(path, b"old", "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["axle.toml"]
