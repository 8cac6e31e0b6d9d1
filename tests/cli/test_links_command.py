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


def test_a_sheet_without_links_is_told_what_to_add(capsys):
    assert main(["links", str(EXAMPLES / "front-integral-balljoint.toml")]) == 2
    assert "[links]" in capsys.readouterr().err


def test_links_that_are_no_linkage_are_refused_in_a_sentence(sheet, capsys):
    text = sheet.read_text(encoding="utf-8")
    start = text.index("[links.track_bar]")
    sheet.write_text(text[:start] + text[text.index("[[links.struts]]") :], encoding="utf-8")
    assert main(["links", str(sheet)]) == 2
    assert "links.track_bar" in capsys.readouterr().err
