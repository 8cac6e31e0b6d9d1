"""What `check` and `build` print, and the objects of `--json`."""

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from fixturegen.cli.main import main
from fixturegen.findings import Finding, Level
from fixturegen.write.summary import schema

ROOT = Path(__file__).parents[2]
OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    return Path(shutil.copy(EXAMPLES[0], tmp_path / "toy.toml"))


@pytest.fixture
def planted(monkeypatch: pytest.MonkeyPatch) -> None:
    from fixturegen.checks import registry

    found = (
        Finding("FIT-02", Level.PASS, "it stands", "stands"),
        Finding("FIT-01", Level.FAIL, "it fits", "0.2 mm over", "open the slot", holds="job"),
        Finding("ANG-01", Level.WARN, "the bar is straight", "0.5° off", "look again"),
        Finding("TCH-01", Level.NOT_CHECKED, "the torch reaches", "no room given", "give it", needed=False),
    )
    monkeypatch.setattr(registry, "run", lambda *_: found)


def test_check_prints_assumptions_first_then_groups_in_order(
    planted: None, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--sheet", str(sheet)]) == 1
    text = capsys.readouterr().out
    order = ["ASSUMED", "FAILS", "Do: open the slot", "WARNINGS", "NOT CHECKED", "PASSES", "1 failed, 1 warnings"]
    assert [text.index(word) for word in order] == sorted(text.index(word) for word in order)


def test_check_json_is_one_object_that_obeys_the_schema(
    planted: None, sheet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--sheet", "--json", str(sheet)]) == 1
    body: dict[str, Any] = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    assert (body["command"], body["exit"]) == ("check", 1)
    assert [f["code"] for f in body["findings"]] == ["FIT-02", "FIT-01", "ANG-01", "TCH-01"]
    assert body["assumptions"]
    assert body["numbers"]["axle.caster.bench"]["unit"] == "deg"


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda p: p.stem)
def test_every_example_is_checked_without_a_fault_of_the_program(
    example: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = Path(shutil.copy(example, tmp_path))
    assert main(["check", "--sheet", "--json", str(copy)]) in (0, 1)
    jsonschema.validate(json.loads(capsys.readouterr().out), OUTPUT)
    assert {p.name for p in tmp_path.iterdir()} == {copy.name}


@pytest.mark.parametrize(
    ("name", "data", "code"),
    [
        ("empty.toml", b"", 2),
        ("binary.toml", bytes(range(256)), 2),
        ("syntax.toml", b"schema = = 1\n", 2),
        ("newer.toml", b"schema = 999\n", 2),
        ("unquoted.toml", b"schema = 1\n[axle]\ncaster = 7 deg\n", 2),
    ],
)
@pytest.mark.parametrize("command", ["check", "build"])
def test_a_bad_sheet_is_told_in_sentences_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, name: str, data: bytes, code: int
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    arguments = [command, str(path), *(["--out", str(tmp_path / "job")] if command == "build" else [])]
    assert main(arguments) == code
    told = capsys.readouterr()
    assert told.out == ""
    assert "Traceback" not in told.err
    assert {p.name for p in tmp_path.iterdir()} == {name}
    assert main([*arguments, "--json"]) == code
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    assert body["errors"]


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_sheet_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str) -> None:
    code = main([command, str(tmp_path / "none.toml")])
    assert code in (2, 3)
    assert "none.toml" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_ours_is_refused(sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    theirs = tmp_path / "photos"
    theirs.mkdir()
    (theirs / "axle.jpg").write_text("mine")
    assert main(["build", str(sheet), "--out", str(theirs)]) == 2
    assert "--out" in capsys.readouterr().err
    assert [p.name for p in theirs.iterdir()] == ["axle.jpg"]


def test_units_are_inches_or_millimetres(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", str(sheet), "--units", "furlong"]) == 2
    assert "in" in capsys.readouterr().err


def test_nothing_but_the_report_is_printed_in_a_pipe(sheet: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "fixturegen.cli.main", "check", "--sheet", str(sheet)],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8",
    )  # fmt: skip
    assert done.returncode in (0, 1)
    assert done.stderr == ""
    assert "\x1b" not in done.stdout
