"""`fixturegen links --search`, `--take` and `--spread`: tables, JSON, repeatability, refusals in a sentence."""

import json
import re

import jsonschema
import pytest

from fixturegen.cli.main import main
from fixturegen.sheet import read
from fixturegen.write.summary import schema
from tests.sheet.altered import KINGPIN, REAR, put
from tests.studies.test_link_written import with_tables

OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
# without struts and what holds them, which a search does not look at, a study is much shorter
NO_STRUTS = re.sub(r"(?ms)^\[\[?(links\.struts|brackets)[^\n]*\n.*?(?=^\[|\Z)", "", REAR)
FEW = put(NO_STRUTS, ("looked_at = 6000", "looked_at = 400\nshow = 3"))
WANT = FEW[FEW.index("[links.search.want]") : FEW.index("[[links.search.boxes]]")]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def sheet(folder, *changes, text=FEW):
    (folder / "axle.toml").write_text(put(text, *changes), encoding="utf-8")
    return "axle.toml"


def said(capsys):
    out = capsys.readouterr().out
    assert all(len(line) <= 100 for line in out.splitlines()), "fits a terminal of 100 columns"
    return out


def test_a_search_shows_what_is_wanted_what_else_changes_and_what_moves(folder, capsys):
    assert main(["links", sheet(folder), "--search"]) == 0
    out = said(capsys)
    for words in (
        "geometries looked at, seed 1",
        "wishes are met",
        "anti-squat, ride [%]",
        "50.0 to 90.0",
        "roll centre above ground, ride [mm]",
        "at most 725.0",
        "upper-left.frame, forward",
        "mirror image of the left",
        "what is paid for what",
        "stay within the limits the sheet gives",
        "--search --take A",
        "mock the brackets up, measure again, then weld",
    ):
        assert words in out, words
    # the pinion at full bump stands at 8.93 deg on the sheet and 9 or more is wanted
    assert "8.93*" in out
    assert [p.name for p in folder.iterdir()] == ["axle.toml"]


def test_the_same_seed_says_the_same_and_another_one_something_else(folder, capsys):
    name = sheet(folder)
    texts = []
    for seed in ("1", "1", "2"):
        assert main(["links", name, "--search", "--seed", seed]) == 0
        texts.append(said(capsys))
    assert texts[0] == texts[1]
    assert texts[0].replace("seed 1", "seed 2") != texts[2]


def test_a_search_as_json_is_one_object_with_all_of_it(folder, capsys):
    assert main(["links", sheet(folder), "--search", "--json"]) == 0
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    found = body["search"]
    assert 300 <= found["looked_at"] <= 400  # whole generations of a search in rounds
    assert found["in_the_way"] == []
    assert [g["name"] for g in found["geometries"]] == ["A", "B", "C"]
    for geometry in found["geometries"]:
        assert geometry["met"]
        for wish in found["wishes"]:
            value = geometry["values"][wish["reading"]]
            assert wish["least"] is None or value >= wish["least"]
            assert wish["most"] is None or value <= wish["most"]
        assert geometry["sheet_text"].startswith("[links.")
        assert geometry["points"]["lower-left.frame"]["mm"][0] == -1840.0


def test_points_taken_stand_on_the_sheet_with_the_same_numbers(folder, capsys):
    name = sheet(folder)
    assert main(["links", name, "--search", "--json"]) == 0
    second = json.loads(capsys.readouterr().out)["search"]["geometries"][1]
    assert main(["links", name, "--search", "--take", "b"]) == 0
    text = said(capsys)
    assert "Geometry B" in text
    assert "measure the points again" in text
    (folder / "taken.toml").write_text(with_tables(FEW, text), encoding="utf-8")
    read(folder / "taken.toml")
    assert main(["links", "taken.toml", "--json"]) in (0, 1)
    numbers = json.loads(capsys.readouterr().out)["numbers"]
    for reading, value in second["values"].items():
        number = numbers.get(f"links.{reading.lower()}")
        if number is not None:
            assert number["value"] == pytest.approx(value, rel=1e-9, abs=1e-8), reading


def test_a_wish_that_cannot_be_met_ends_with_1_and_is_named(folder, capsys):
    # the roll centre of this axle stands near 660 mm; half of that is out of every room here
    name = sheet(folder, ('most = "725 mm"', 'most = "330 mm"'))
    assert main(["links", name, "--search"]) == 1
    out = said(capsys)
    flat = " ".join(out.split())
    assert "The wishes cannot all be met. The roll centre's height at ride of at most 330 mm stands in the way" in flat
    assert "*" in out


def test_limits_that_a_search_does_not_steer_by_are_told_of_what_it_found(folder, capsys):
    name = sheet(folder, ('plunge = "45 mm"', 'plunge = "1 mm"'))
    assert main(["links", name, "--search"]) == 0
    out = said(capsys)
    assert "past a limit that a search does not steer by" in out
    assert re.search(r"  A  LNK-04 ", out)


def test_pictures_of_what_was_found_stand_beside_the_sheets_own_points(folder, capsys):
    name = sheet(folder, ("looked_at = 400\nshow = 3", "looked_at = 200\nshow = 6"))
    assert main(["links", name, "--search", "--out", "pictures"]) == 0
    assert "They show the sheet's own points and A, B, C, D." in said(capsys)
    views = (folder / "pictures" / "views.svg").read_text(encoding="utf-8")
    assert all(f">{letter}</t" in views for letter in ("axle", "A", "B", "C", "D"))
    assert ">E</t" not in views


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([("anti_squat = [", "anti_sqaut = [")], "did you mean anti_squat?"),
        ([('point = "lower-left.frame"', 'point = "lower-lft.frame"')], "did you mean lower-left.frame?"),
        ([('pose = "ride", least = "50"', 'pose = "rid", least = "50"')], "did you mean ride?"),
        ([('least = "50", most = "90"', 'least = "90", most = "50"')], "least not above most"),
        ([('z = ["640 mm", "690 mm"]', 'z = ["690 mm", "640 mm"]')], "the lower value first"),
        ([('z = ["640 mm", "690 mm"]', 'z = ["640 mm", "690 mm"]\npitch_z = "60 mm"')], "shorter than the range"),
        ([("count = 5", "count = 0")], "whole number from 1 to 40"),
        ([(WANT, "[links.search.want]\n")], "no wish"),
        ([("[links.search.want]", "[links.search.wishes]")], "links.search.want"),
    ],
    ids=["metric", "point", "pose", "reversed wish", "reversed range", "pitch", "no hole", "no wish", "section"],
)
def test_a_fault_is_one_sentence_with_what_to_do(folder, capsys, changes, words):
    assert main(["links", sheet(folder, *changes), "--search"]) == 2
    err = capsys.readouterr().err
    assert words in err
    assert "links.search" in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--take", "A"], "add --search"),
        (["--search", "--spread"], "run the command twice"),
        (["--spread", "--points", "axle.toml"], "one of the two"),
        (["--spread", "--out", "pictures"], "a spread has no picture"),
        (["--search", "--take", "Z"], "allowed: A, B, C"),
        (["--search", "--png"], "--out FOLDER"),
    ],
)
def test_options_that_do_not_go_together_are_refused(folder, capsys, options, words):
    assert main(["links", sheet(folder), *options]) == 2
    assert words in capsys.readouterr().err
    assert [p.name for p in folder.iterdir()] == ["axle.toml"]


def test_a_sheet_without_a_search_is_told_how_to_ask(folder, capsys):
    text = KINGPIN[: KINGPIN.index("[links.search")] if "[links.search" in KINGPIN else KINGPIN
    assert main(["links", sheet(folder, text=text), "--search"]) == 2
    assert "[[links.search.points]]" in capsys.readouterr().err


def test_a_spread_tells_both_ways_and_which_dimension_matters(folder, capsys):
    assert main(["links", sheet(folder), "--spread"]) == 0
    out = said(capsys)
    for words in ("+/-worst", "+/-likely", "95 %", "anti-squat, ride [%]", "which dimension matters", "again first"):
        assert words in out, words
    assert "Tolerance of 1/8 in assumed" in out
    assert [p.name for p in folder.iterdir()] == ["axle.toml"]


def test_a_spread_as_json_agrees_with_itself_both_ways(folder, capsys):
    name = sheet(folder)
    bodies = []
    for seed in ("3", "3", "4"):
        assert main(["links", name, "--spread", "--seed", seed, "--json"]) == 0
        bodies.append(json.loads(capsys.readouterr().out))
    jsonschema.validate(bodies[0], OUTPUT)
    assert bodies[0] == bodies[1]
    assert bodies[0]["spread"]["readings"] != bodies[2]["spread"]["readings"]
    spread = bodies[0]["spread"]
    assert sum(r["part"] for r in spread["ranking"]) == pytest.approx(1.0)
    assert [r["part"] for r in spread["ranking"]] == sorted((r["part"] for r in spread["ranking"]), reverse=True)
    for reading in spread["readings"]:
        if reading["reading"].startswith(("anti_squat", "roll_centre", "pinion")):
            # JCGM 101:2008 (from memory): both ways agree where the model is nearly straight over the tolerance
            assert reading["drawn"]["deviation"] == pytest.approx(reading["deviation"], rel=0.06)
            assert sum(s["part"] for s in reading["shares"]) == pytest.approx(1.0)


def test_twice_the_tolerance_is_twice_the_spread_to_first_order(folder, capsys):
    found = []
    for tolerance in ("1 mm", "2 mm"):
        changes = [('limit = "22 deg"\n', f'limit = "22 deg"\ntolerance = "{tolerance}"\n')]
        changes.append(('limit = "25 deg"\n\n', f'limit = "25 deg"\ntolerance = "{tolerance}"\n\n'))
        assert main(["links", sheet(folder, *changes), "--spread", "--json"]) == 0
        found.append(json.loads(capsys.readouterr().out)["spread"])
    for one, two in zip(found[0]["readings"], found[1]["readings"], strict=True):
        assert two["rss"] == pytest.approx(2.0 * one["rss"], rel=1e-9, abs=1e-12)
    assert found[0]["assumed_tolerances"] == []


def test_nothing_measured_loosely_spreads_nothing(folder, capsys):
    changes = [('limit = "22 deg"\n', 'limit = "22 deg"\ntolerance = "0 mm"\n')]
    changes.append(('limit = "25 deg"\n\n', 'limit = "25 deg"\ntolerance = "0 mm"\n\n'))
    assert main(["links", sheet(folder, *changes), "--spread"]) == 0
    assert "nothing spreads" in said(capsys)
