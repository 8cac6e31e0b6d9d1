"""`fixturegen coupon`: readings of a cut coupon into the sheet, and nothing else into it."""

import difflib
import json
import os
import subprocess
import sys

import pytest

from fixturegen.cli.main import main
from fixturegen.sheet import history, read
from tests.sheet.altered import EXAMPLES, KINGPIN, REAR

# a torch of 0.085 in that was told 0.062 in leaves of a window drawn 1.500 in:
# opening 1.5 + 0.085 - 0.062, block 1.5 - 0.062 - 0.085
CUT = ("--plate", "3/8 in", "--window", "1.523 in", "--block", "1.353 in")
STRIP = ("--flat", "6.551 in", "--flange-a", "3.495 in", "--flange-b", "3.502 in", "--radius", "1/4 in")


@pytest.fixture
def sheet(tmp_path):
    path = tmp_path / "axle.toml"
    path.write_text(KINGPIN, encoding="utf-8")
    return path


def run(capsys, *words):
    code = main(["coupon", *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def put_in(before, after):
    found = list(difflib.ndiff(before.split("\n"), after.split("\n")))
    return [d[2:] for d in found if d[0] == "-"], [d[2:] for d in found if d[0] == "+"]


def test_without_readings_it_says_what_to_measure_and_where_and_writes_nothing(sheet, capsys):
    code, out, _ = run(capsys, sheet)
    assert code == 0
    for words in (
        "inside jaws",
        "outside jaws",
        "1.500 in is drawn",
        "H3 0.938 in",
        "3.498 in",
        "bent once",
        "3/16 in",
    ):
        assert words in out
    assert max(map(len, out.split("\n"))) <= 118
    assert sheet.read_text(encoding="utf-8") == KINGPIN
    assert not history.folder_of(sheet).exists()


def test_the_guide_of_a_metric_shop_speaks_of_millimetres(tmp_path, capsys):
    path = tmp_path / "axle.toml"
    path.write_text(REAR, encoding="utf-8")
    code, out, _ = run(capsys, path, "--plate", "10 mm")
    assert code == 0
    assert "42.00 mm is drawn" in out
    assert " in is drawn" not in out


def test_window_and_block_correct_the_kerf_and_nothing_else_of_the_sheet(sheet, capsys):
    code, out, _ = run(capsys, sheet, *CUT)
    assert code == 0
    assert "0.062 in" in out and "0.085 in" in out and "measured" in out
    gone, new = put_in(KINGPIN, sheet.read_text(encoding="utf-8"))
    assert (gone, new) == (['kerf = "0.062 in"'], ['kerf = "0.085 in"'])


def test_the_same_readings_again_change_nothing(sheet, capsys):
    every = (*CUT, "--slot", 2, "--saddle", 2, "--hole-3", "0.962 in", "--letters", "3/16 in", *STRIP)
    assert run(capsys, sheet, *every)[0] == 0
    once = sheet.read_bytes()
    code, out, _ = run(capsys, sheet, *every)
    assert code == 0
    assert "says all this already" in out
    assert sheet.read_bytes() == once


@pytest.mark.parametrize("alone", [("--window", "1.523 in"), ("--block", "1.353 in")])
def test_one_of_the_two_alone_needs_the_number_lettered_on_the_coupon(sheet, capsys, alone):
    code, _, err = run(capsys, sheet, "--plate", "3/8 in", *alone)
    assert code == 2
    assert "--kerf-set" in err
    assert run(capsys, sheet, "--plate", "3/8 in", *alone, "--kerf-set", "0.062 in")[0] == 0
    assert read(sheet).process.kerf.text == "0.085 in"
    # and again, the sheet now saying something else: still the same
    assert run(capsys, sheet, "--plate", "3/8 in", *alone, "--kerf-set", "0.062 in")[0] == 0
    assert read(sheet).process.kerf.text == "0.085 in"


def test_the_room_of_a_slot_is_cleared_of_the_kerf_error(sheet, capsys):
    # slot 2 is drawn with 0.006 in each side and came out 0.023 in wider: 0.006 + 0.0115 each side
    assert run(capsys, sheet, *CUT, "--slot", 2)[0] == 0
    assert read(sheet).process.slot_room / 25.4 == pytest.approx(0.0175, abs=0.0006)


def test_holes_are_taken_by_what_they_are_off_beyond_the_kerf_and_the_smallest_round_one_is_named(sheet, capsys):
    holes = ("--hole-1", "0.38 in", "--hole-1", "0.44 in")  # out of round
    holes += ("--hole-2", "0.5755 in", "--hole-2", "0.5755 in", "--hole-3", "0.9505 in", "--hole-3", "0.9505 in")
    assert run(capsys, sheet, *CUT, *holes)[0] == 0
    # 0.5755 - 0.5625 - 0.023 = -0.010 in, the other alike
    process = read(sheet).process
    assert process.hole_error.text == "-0.010 in"
    assert process.smallest_hole.text == "9/16 in"


def test_lettering_is_named_by_its_height(sheet, capsys):
    assert run(capsys, sheet, "--plate", "3/8 in", "--letters", "3/16 in")[0] == 0
    assert read(sheet).process.mark_height.text == "3/16 in"


def test_a_bent_strip_becomes_the_bend_test_of_its_plate_angle_and_radius(sheet, capsys):
    assert run(capsys, sheet, *STRIP)[0] == 0
    (test,) = read(sheet).brake.tests
    assert test.deduction / 25.4 == pytest.approx(3.495 + 3.502 - 6.551, abs=0.0006)
    gone, new = put_in(KINGPIN, sheet.read_text(encoding="utf-8"))
    assert (gone, new) == (['deduction = "0.431 in"'], ['deduction = "0.446 in"'])


def test_a_strip_of_another_radius_is_another_test(sheet, capsys):
    assert run(capsys, sheet, *STRIP[:-1], "5/16 in")[0] == 0
    assert len(read(sheet).brake.tests) == 2


def test_what_was_not_measured_on_the_strip_is_told(sheet, capsys):
    _, out, _ = run(capsys, sheet, "--flange-a", "3.495 in", "--flange-b", "3.502 in", "--dry-run")
    assert "--flat was not given" in out
    assert "--radius was not given" in out
    rows = {line.split()[0]: line for line in out.split("\n") if "brake.tests" in line}
    assert "assumed" in rows["brake.tests[1].deduction"]
    assert "measured" in rows["brake.tests[1].plate"]


def test_a_dry_run_shows_and_writes_nothing(sheet, capsys):
    code, out, _ = run(capsys, sheet, *CUT, "--dry-run")
    assert code == 0
    assert "0.085 in" in out
    assert "nothing was written" in out
    assert sheet.read_text(encoding="utf-8") == KINGPIN
    assert not history.folder_of(sheet).exists()


def test_the_old_revision_is_kept_and_the_person_is_told_to_raise_it(sheet, capsys):
    _, out, _ = run(capsys, sheet, *CUT)
    assert "new revision.id" in out
    assert (history.folder_of(sheet) / "A.toml").read_text(encoding="utf-8") == KINGPIN
    assert read(sheet).revision.id == "A"


def test_a_new_revision_is_given_when_asked_for_and_names_the_old_one(sheet, capsys):
    code, out, _ = run(capsys, sheet, *CUT, "--revision", "B")
    assert code == 0
    assert "still calls itself" not in out
    changed = read(sheet)
    assert (changed.revision.id, changed.revision.since) == ("B", "A")
    assert [c[0] for c in history.changes_since(sheet, changed)] == ["process.kerf"]


def test_a_revision_that_is_kept_already_is_refused(sheet, capsys):
    assert run(capsys, sheet, *CUT, "--revision", "B")[0] == 0
    code, _, err = run(capsys, sheet, *CUT, "--letters", "3/16 in", "--revision", "A")
    assert code == 2
    assert "in the history already" in err


def test_one_json_object_has_every_change(sheet, capsys):
    code, out, _ = run(capsys, sheet, *CUT, "--slot", 3, "--json")
    body = json.loads(out)
    assert code == body["exit"] == 0
    assert body["written"] is True
    assert [c["key"] for c in body["changes"]] == ["process.kerf", "process.slot_room"]
    assert body["changes"][0] | {"formula": ""} == {
        "key": "process.kerf",
        "before": "0.062 in",
        "after": "0.085 in",
        "formula": "",
        "trust": "measured",
    }


def test_the_json_of_the_guide_has_the_drawn_sizes(sheet, capsys):
    _, out, _ = run(capsys, sheet, "--json")
    body = json.loads(out)
    assert [c["name"] for c in body["coupons"]] == ["coupon-1-2", "coupon-3-8", "coupon-1-4"]
    assert body["coupons"][0]["window_mm"] == pytest.approx(38.1)
    assert body["strip"]["name"] == "bend-strip-1-4"


def test_a_controller_that_used_another_number_is_told(sheet, capsys):
    # cut with nothing allowed for: opening 1.5 + 0.085, block 1.5 - 0.085
    _, out, _ = run(capsys, sheet, "--plate", "3/8 in", "--window", "1.585 in", "--block", "1.415 in")
    assert "the cut allowed for a kerf of 0.000 in" in out
    _, out, _ = run(capsys, sheet, *CUT, "--kerf-set", "0.062 in", "--dry-run")
    assert "the cut allowed for" not in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--window", "1.523 in", "--block", "1.353 in"), "--plate: given nothing"),
        (("--plate", "5/8 in", *CUT[2:]), "allowed: 1/2 in, 3/8 in, 1/4 in"),
        (("--plate", "7/8 in"), "--plate: given 7/8 in"),
        ((*CUT[:4], "--block", "1.625 in"), "a kerf of -0.051 in"),
        ((*CUT[:4], "--block", "1.10 in"), "a kerf of 0.21"),
        ((*CUT[:2], "--window", "1.523 mm", "--block", "1.353 in"), "--window: given 0.060 in"),
        ((*CUT[:2], "--window", "1.523", "--block", "1.353 in"), "--window"),
        ((*CUT, "--slot", "7"), "allowed: 1 to 6"),
        ((*CUT, "--slot", "0"), "allowed: 1 to 6"),
        ((*CUT, "--saddle", "4"), "allowed: 1 to 3"),
        (("--plate", "3/8 in", "--slot", "2"), "measure the window first"),
        (("--plate", "3/8 in", "--hole-1", "0.4 in"), "measure the window first"),
        ((*CUT, "--hole-1", "0.6 in"), "--hole-1: given 0.600 in"),
        ((*CUT, "--letters", "1 in"), "--letters: given 1.000 in"),
        (("--plate", "3/8 in", "--kerf-set", "0.062 in"), "--kerf-set: given alone"),
        (("--revision", "C"), "--revision: given no reading"),
        ((*CUT, "--revision", "B/../x"), "revision.id"),
        (("--flange-a", "3.5 in"), "--flange-b: given nothing"),
        (("--flange-a", "3.5 in", "--flange-b", "4 in"), "--flange-b: given 4.000 in"),
        ((*STRIP, "--angle", "300 deg"), "--angle"),
        ((*STRIP[:2], "--flange-a", "3.7 in", "--flange-b", "3.7 in", *STRIP[6:]), "brake.tests"),
    ],
)
def test_what_cannot_be_right_is_one_sentence_and_changes_nothing(sheet, capsys, words, said):
    code, out, err = run(capsys, sheet, *words)
    assert code == 2
    assert said in err
    assert out == ""
    assert err.count("\n") == 1
    assert sheet.read_text(encoding="utf-8") == KINGPIN
    assert not history.folder_of(sheet).exists()


def test_a_slot_that_entered_only_because_the_cut_was_wide_is_refused(sheet, capsys):
    # a kerf of 0.085 in that was told 0.125 in: everything 0.040 in narrow, slot 2 of 0.006 in a side cannot enter
    words = ("--plate", "3/8 in", "--window", "1.460 in", "--block", "1.290 in", "--slot", "2")
    code, _, err = run(capsys, sheet, *words)
    assert code == 2
    assert "cut another coupon" in err


def test_a_sheet_with_faults_is_told_as_ever(sheet, capsys):
    sheet.write_text(KINGPIN.replace('kerf = "0.062 in"', 'kerf = "much"'), encoding="utf-8")
    code, _, err = run(capsys, sheet, *CUT)
    assert code == 2
    assert "process.kerf" in err


def test_no_sheet_is_one_sentence(tmp_path, capsys):
    code, _, err = run(capsys, tmp_path / "no.toml", *CUT)
    assert code == 2
    assert "no such file" in err


def test_a_sheet_that_cannot_be_written_ends_with_3_and_stays(sheet, capsys, monkeypatch):
    monkeypatch.setattr(os, "access", lambda _, mode: mode != os.W_OK)
    code, _, err = run(capsys, sheet, *CUT)
    assert code == 3
    assert "write-protected" in err
    assert sheet.read_text(encoding="utf-8") == KINGPIN


@pytest.mark.parametrize("name", ["front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"])
def test_every_example_has_its_guide(name, capsys):
    code, out, _ = run(capsys, EXAMPLES / f"{name}.toml")
    assert code == 0
    assert out.count("--window") == 3  # two plates of the jig, and that of the truss
    assert out.count("--flange-a") == 1


def test_neither_guide_nor_change_loads_the_kernel(sheet):
    code = (
        "import sys; from fixturegen.cli.main import main; "
        f"a = main(['coupon', {str(sheet)!r}]); b = main(['coupon', {str(sheet)!r}, *{list(CUT)!r}]); "
        "bad = {'cadquery', 'OCP', 'trimesh', 'scipy', 'pint'} & set(sys.modules); sys.exit(a or b or bool(bad))"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode == 0
