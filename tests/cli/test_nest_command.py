"""`fixturegen nest`: what it keeps beside the sheet, and what it says."""

import json
import shutil

import jsonschema
import pytest

from fixturegen.checks import registry
from fixturegen.cli.main import main
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Profile
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.plate.profile import rectangle
from fixturegen.write.summary import schema
from tests.few_brackets import few_brackets
from tests.sheet.altered import EXAMPLES, KINGPIN

OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
THICK = 0.378 * 25.4


def plate(name, x=300.0, y=200.0):
    return Part(name, name, "toy", "plate", THICK, profile=Profile(rectangle(0.0, 0.0, x, y)))


@pytest.fixture
def sheet(tmp_path, monkeypatch):
    path = tmp_path / "axle.toml"
    path.write_text(few_brackets(KINGPIN), encoding="utf-8")
    monkeypatch.setattr("fixturegen.parts.registry.make_jig", lambda *_: ((plate("a"), plate("b", 150.0)), ()))
    monkeypatch.setattr("fixturegen.brackets.registry.make_brackets", lambda *_: BracketSet())
    monkeypatch.setattr(registry, "run", lambda *_: ())
    return path


def test_the_layout_is_kept_beside_the_sheet_and_nothing_else_is_written(sheet, capsys):
    assert main(["nest", str(sheet), "--seconds", "1"]) == 0
    out = capsys.readouterr().out
    assert "less than rectangles around the parts" in out
    assert "Kept:" in out
    assert sorted(p.name for p in sheet.parent.iterdir()) == ["axle.layout.json", "axle.toml"]


def test_json_is_one_object_that_obeys_the_schema(sheet, capsys):
    assert main(["nest", str(sheet), "--seconds", "1", "--json"]) == 0
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    assert body["layout"] == "axle.layout.json"
    assert {"nest.area_used", "nest.share", "nest.saved"} <= set(body["numbers"])


def test_a_held_part_is_not_nested_and_the_exit_code_says_so(sheet, capsys, monkeypatch):
    fail = Finding("FIT-01", Level.FAIL, "it fits", "0.2 mm over", "open it", parts=("b",), holds="part")
    monkeypatch.setattr(registry, "run", lambda *_: (fail,))
    assert main(["nest", str(sheet), "--seconds", "1"]) == 1
    assert "HELD b" in capsys.readouterr().out
    kept = json.loads((sheet.parent / "axle.layout.json").read_text())
    assert [p["blank"] for p in kept["plates"]["3/8 in"]["puts"]] == ["a"]


def test_without_sheets_it_says_what_to_list(sheet, capsys):
    text = KINGPIN[: KINGPIN.index("[[sheets]]")] + KINGPIN[KINGPIN.index("[nesting]") :]
    sheet.write_text(text, encoding="utf-8")
    assert main(["nest", str(sheet)]) == 2
    assert "[[sheets]]" in capsys.readouterr().err
    assert not (sheet.parent / "axle.layout.json").exists()


@pytest.mark.parametrize("seconds", ["0", "3601", "ten"])
def test_a_time_that_is_none_is_refused(sheet, capsys, seconds):
    assert main(["nest", str(sheet), "--seconds", seconds]) == 2
    assert "seconds" in capsys.readouterr().err


def test_a_folder_that_takes_no_file_is_a_fault_of_the_machine(sheet, capsys, monkeypatch):
    from pathlib import Path

    def refuse(self, target):
        raise OSError(28, "No space left on device")

    shutil.copy(EXAMPLES / "front-dropout-kingpin.toml", sheet.parent / "other.toml")
    monkeypatch.setattr(Path, "replace", refuse)
    assert main(["nest", str(sheet), "--seconds", "1", "--no-cache"]) == 3
    assert "cannot be written" in capsys.readouterr().err
    assert not (sheet.parent / "axle.layout.json").exists()
