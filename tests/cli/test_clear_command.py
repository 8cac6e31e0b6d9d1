"""`fixturegen clear`: the example clears, a tank in the way of the drive shaft does not, bad input is told."""

import json

import jsonschema
import pytest

from fixturegen.cli.main import main
from fixturegen.write.summary import schema
from tests.few_brackets import few_brackets
from tests.sheet.altered import REAR, put

OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
TANK = 'y = ["-230 mm", "-100 mm"]\nz = ["760 mm", "900 mm"]'
QUICK = put(few_brackets(REAR, keep=0, leave=("clearance",)), ("[clearance]", "[clearance]\nsteps = 1"))
"""The example without brackets and truss, at ride and the ends of the travel."""


@pytest.fixture
def sheet(tmp_path):
    def written(text):
        path = tmp_path / "axle.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return written


def told(path, capsys, *more):
    code = main(["clear", str(path), "--json", "--no-cache", *more])
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    assert body["exit"] == code
    return code, body


def test_a_tank_that_hangs_in_the_way_of_the_drive_shaft_is_refused_for_that_and_drawn(sheet, capsys, tmp_path):
    # the shaft falls from 640 mm at the case to 500 mm at the pinion: about 575 mm under the middle of this tank
    wrong = put(QUICK, (TANK, 'y = ["-60 mm", "100 mm"]\nz = ["560 mm", "900 mm"]'))
    out = tmp_path / "gaps"
    code, body = told(sheet(wrong), capsys, "--out", str(out))
    assert code == 1
    short = [p for p in body["pairs"] if not p["met"]]
    assert [p["labels"] for p in short] == [["drive shaft", "fuel tank"]]
    assert short[0] == body["pairs"][0] and short[0]["state"] == "overlap" and short[0]["pose"]["name"] == "ride"
    assert short[0]["exact_mm"] == 0.0 and short[0]["told_by"] == "exact"  # solids that share steel
    assert {f["code"] for f in body["findings"] if f["level"] == "fail"} == {"CLR-02"}
    assert {f["code"] for f in body["findings"] if f["level"] == "pass"} >= {"CLR-06"}
    files = {p.name for p in out.iterdir()}
    stem = "01-drive-shaft-box-1-fuel-tank"
    assert {"gaps.svg", "gaps.png", "about.txt", f"{stem}.png", f"{stem}-close.png"} <= files
    assert set(body["files"]) <= files
    for name in files:
        if name.endswith(".png"):
            assert (out / name).read_bytes().startswith(b"\x89PNG")
    assert "drive shaft and fuel tank, overlap, at ride" in (out / "about.txt").read_text(encoding="utf-8")


def test_the_example_clears_and_the_table_has_the_worst_first(sheet, capsys):
    code, body = told(sheet(QUICK), capsys)
    assert code == 0 and all(p["met"] for p in body["pairs"])
    over = [p["gap_mm"] - p["wanted_mm"] for p in body["pairs"]]
    assert over == sorted(over)
    for pair in body["pairs"]:
        one, other = pair["points_mm"]
        apart = sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5
        # the points stand as far apart as the gap says, in the vehicle's frame; every body here has a solid
        assert pair["told_by"] == "exact" and pair["why_mesh"] is None
        assert pair["gap_mm"] == pytest.approx(pair["exact_mm"], abs=1e-6)
        assert apart == pytest.approx(pair["exact_mm"], abs=1e-4)
        # a round hole is met a little too near by its mesh, what bulges a little too far
        assert abs(pair["mesh_gap_mm"] - pair["exact_mm"]) <= pair["bound_mm"] + 5e-6
    ends = {m["at"]: m for m in body["smallest"]}
    assert list(ends) == ["ride", "bump", "droop", "crossed"] and ends["crossed"]["poses"] == 2
    for name, end in ends.items():
        # no smaller than the least over all poses, of a pair that moves, at a pose of its own
        least = min(p["gap_mm"] for p in body["pairs"] if p["kind"] != "static")
        assert end["pair"]["gap_mm"] >= least - 1e-6 and end["pair"]["kind"] != "static"
        assert end["pair"]["pose"]["name"].startswith("cross-" if name == "crossed" else name)
    shock = next(p for p in body["pairs"] if p["labels"] == ["tube, left", "shock, left"])
    assert shock["kind"] == "moving" and shock["first"] == "tube-left" and shock["second"] == "shock-left"


def test_a_sheet_without_clearance_is_told_what_to_add(sheet, capsys):
    start, end = REAR.index("[clearance]"), REAR.index("# What links, brackets and springs")
    assert main(["clear", str(sheet(REAR[:start] + REAR[end:]))]) == 2
    assert "clearance: given nothing" in capsys.readouterr().err


def test_a_folder_of_ones_own_is_not_replaced(sheet, capsys, tmp_path):
    own = tmp_path / "mine"
    own.mkdir()
    (own / "letter.txt").write_text("mine", encoding="utf-8")
    assert main(["clear", str(sheet(QUICK)), "--out", str(own), "--no-cache"]) == 2
    assert [p.name for p in own.iterdir()] == ["letter.txt"]
    assert "--out" in capsys.readouterr().err
