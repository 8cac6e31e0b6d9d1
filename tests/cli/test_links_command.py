"""`fixturegen links`: the table, the comparison, the findings; nothing is written."""

import json

import jsonschema
import pytest

from fixturegen.cli.main import main
from fixturegen.write.summary import schema
from tests.sheet.altered import EXAMPLES

OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
KINGPIN = EXAMPLES / "front-dropout-kingpin.toml"


@pytest.fixture
def sheet(tmp_path):
    path = tmp_path / "axle.toml"
    path.write_text(KINGPIN.read_text(encoding="utf-8"), encoding="utf-8")
    return path


def test_the_table_tells_every_pose_and_writes_nothing(sheet, capsys):
    assert main(["links", str(sheet)]) == 0
    out = capsys.readouterr().out
    for word in ("ride", "bump", "droop", "cross-L", "roll steer, to understeer", "LNK-01"):
        assert word in out
    assert [p.name for p in sheet.parent.iterdir()] == ["axle.toml"]


def test_two_geometries_stand_beside_each_other(sheet, capsys):
    other = sheet.with_name("other.toml")
    other.write_text(sheet.read_text(encoding="utf-8").replace('"20 1/4 in"]', '"19 in"]'), encoding="utf-8")
    assert main(["links", str(sheet), "--points", str(other), "--json"]) == 0
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    (second,) = body["compared"]
    assert second["sheet"] == "other.toml"
    assert second["numbers"]["links.anti_squat.ride"] != body["numbers"]["links.anti_squat.ride"]


def test_a_sheet_without_links_is_told_what_to_add(tmp_path, capsys):
    text = (EXAMPLES / "front-integral-balljoint.toml").read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text(text[: text.index("# What holds the axle")], encoding="utf-8")
    assert main(["links", str(bare)]) == 2
    assert "[links]" in capsys.readouterr().err


def test_links_that_are_no_linkage_are_refused_in_a_sentence(sheet, capsys):
    text = sheet.read_text(encoding="utf-8")
    start = text.index("[links.track_bar]")
    end = text.find("\n[[joints]]")  # brackets that hold the bar would be refused before
    rest = text[text.index("[[links.struts]]") : end if end > 0 else None]
    sheet.write_text(text[:start] + rest + "\n", encoding="utf-8")
    assert main(["links", str(sheet)]) == 2
    assert "links.track_bar" in capsys.readouterr().err


def folder_bytes(folder):
    return {p.name: p.read_bytes() for p in sorted(folder.iterdir())}


def test_out_writes_views_and_plots_the_same_each_time(sheet, tmp_path, capsys):
    out = tmp_path / "pictures"
    assert main(["links", str(sheet), "--out", str(out), "--png"]) == 0
    assert "files in" in capsys.readouterr().out
    first = folder_bytes(out)
    assert {"about.txt", "views.svg", "views.png", "pinion-angle-over-wheel-travel.svg"} <= set(first)
    drawn = {n.removesuffix(".svg") for n in first if n.endswith(".svg")}
    assert drawn == {n.removesuffix(".png") for n in first if n.endswith(".png")}
    assert all(data.startswith(b"\x89PNG\r\n\x1a\n") for n, data in first.items() if n.endswith(".png"))
    assert main(["links", str(sheet), "--out", str(out), "--png"]) == 0
    assert folder_bytes(out) == first
    assert main(["links", str(sheet), "--out", str(out)]) == 0
    assert not list(out.glob("*.png")), "replaced whole"
    assert sorted(p.name for p in tmp_path.iterdir() if p.suffix != ".lock") == ["axle.toml", "pictures"]


def test_points_put_every_geometry_into_the_same_pictures(sheet, tmp_path):
    other = sheet.with_name("other.toml")
    other.write_text(sheet.read_text(encoding="utf-8").replace('"20 1/4 in"]', '"19 in"]'), encoding="utf-8")
    out = tmp_path / "pictures"
    assert main(["links", str(sheet), "--points", str(other), "--out", str(out)]) == 0
    for name in ("views.svg", "anti-dive-on-the-brakes-over-wheel-travel.svg"):
        text = (out / name).read_text(encoding="utf-8")
        assert ">axle</t" in text
        assert ">other</t" in text


def test_out_is_told_in_json(sheet, tmp_path, capsys):
    assert main(["links", str(sheet), "--out", str(tmp_path / "p"), "--json"]) == 0
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    assert body["out"].endswith("/p")


@pytest.mark.parametrize(
    ("inside", "words"),
    [({"mine.txt": "x"}, "holds other files"), ({".fixturegen-job": "", "summary.json": "{}"}, "a build's folder")],
    ids=["of the person", "of a build"],
)
def test_a_folder_with_something_else_in_it_is_left_alone(sheet, tmp_path, capsys, inside, words):
    out = tmp_path / "kept"
    out.mkdir()
    for name, text in inside.items():
        (out / name).write_text(text, encoding="utf-8")
    before = folder_bytes(out)
    assert main(["links", str(sheet), "--out", str(out)]) == 2
    assert words in capsys.readouterr().err
    assert folder_bytes(out) == before


def test_a_comparison_that_cannot_be_drawn_leaves_the_earlier_pictures(sheet, tmp_path, capsys):
    out = tmp_path / "pictures"
    assert main(["links", str(sheet), "--out", str(out)]) == 0
    before = folder_bytes(out)
    (tmp_path / "elsewhere").mkdir()
    twin = tmp_path / "elsewhere" / "axle.toml"
    twin.write_text(sheet.read_text(encoding="utf-8"), encoding="utf-8")
    assert main(["links", str(sheet), "--points", str(twin), "--out", str(out)]) == 2
    assert "axle twice" in capsys.readouterr().err
    assert folder_bytes(out) == before


def test_png_without_out_is_refused(sheet, capsys):
    assert main(["links", str(sheet), "--png"]) == 2
    assert "--out FOLDER" in capsys.readouterr().err


def test_a_disk_that_is_full_leaves_the_earlier_pictures(sheet, tmp_path, monkeypatch, capsys):
    out = tmp_path / "pictures"
    assert main(["links", str(sheet), "--out", str(out)]) == 0
    before, kept, calls = folder_bytes(out), type(out).write_bytes, []

    def full(path, data):
        calls.append(path)
        if len(calls) > 5:
            raise OSError(28, "No space left on device", str(path))
        return kept(path, data)

    monkeypatch.setattr(type(out), "write_bytes", full)
    assert main(["links", str(sheet), "--out", str(out)]) == 3
    monkeypatch.undo()
    assert "no space left" in capsys.readouterr().err
    assert folder_bytes(out) == before


def test_a_stop_while_writing_leaves_nothing_half_written(sheet, tmp_path, monkeypatch):
    from fixturegen.papers import pixels

    def stop(_svg):
        raise KeyboardInterrupt

    monkeypatch.setattr(pixels, "png_bytes", stop)
    assert main(["links", str(sheet), "--out", str(tmp_path / "pictures"), "--png"]) == 130
    assert not (tmp_path / "pictures").exists()
