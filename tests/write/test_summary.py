"""summary.json against its schema, read by jsonschema and by json alone."""

import dataclasses
import json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from fixturegen.errors import ProgramFault
from fixturegen.findings import Finding, Level, Number, Trust
from fixturegen.plate import Part, Turned, TurnedStep
from fixturegen.plate.placed import CutSheet, Placed, SheetFigures
from fixturegen.studies.cut_costs import CutWork
from fixturegen.write import summary
from fixturegen.write.summary import Contents, Input, Measured, PaperFile
from tests.write.toys import OUTSIDE_AREA, SLOT_AREA, plate_part

PIN = Part("pin", "Pin", "toy", "turned", turned=Turned((TurnedStep(50.0, 20.0),)))
FAIL = Finding("FIT-01", Level.FAIL, "fits", "0.2 mm over", "open the slot", parts=("pin",), value=0.2, limit=0.0)


def contents(**more: Any) -> Contents:
    made = Contents(
        job="Toy °",
        revision="A",
        units="in",
        inputs=(Input("toy.toml", "sheet", "", "0" * 64),),
        parts=(plate_part(), PIN),
        held={"pin": "FIT-01: 0.2 mm over"},
        measured={"plate-a": Measured(1.4, ((0.0, 0.0, 0.0), (200.0, 100.0, 9.4)))},
        files={"plate-a": {"dxf": "cut/plate-a_in.dxf"}, "pin": {"held": "held/pin.txt"}},
        findings=(FAIL,),
        numbers={"axle.caster.bench": Number(17.0, "deg", "sheet", Trust.MEASURED)},
        assumptions=(("jig.tie_radius", "12 in", "tie above the axle line"),),
    )
    return dataclasses.replace(made, **more)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in ("cut/plate-a_in.dxf", "held/pin.txt"):
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_text("x")
    return tmp_path


def test_the_schema_is_itself_sound() -> None:
    jsonschema.Draft202012Validator.check_schema(summary.schema())


def test_a_summary_obeys_its_schema_and_names_what_the_contract_names() -> None:
    body = json.loads(summary.canonical(summary.summary_of(contents())))
    jsonschema.validate(body, summary.schema())
    assert {"schema", "inputs", "parts", "findings", "numbers"} <= set(body)
    plate, pin = body["parts"]
    assert (plate["status"], pin["status"]) == ("released", "held")
    assert pin["reason"] == "FIT-01: 0.2 mm over"
    assert plate["bbox_mm"] == [[0, 0, 0], [200, 100, 9.4]]
    assert [h["operation"] for h in plate["holes"]] == ["cut_under_and_drill", "pilot_mark", "cut"]
    assert plate["holes"][1]["cut_mm"] is None
    assert pin["thickness_mm"] is None
    assert body["numbers"]["axle.caster.bench"] == {
        "value": 17, "unit": "deg", "source": "sheet", "trust": "measured",
    }  # fmt: skip


def test_the_area_is_the_finished_one_worked_out_by_hand() -> None:
    (plate, pin) = summary.summary_of(contents())["parts"]
    holes = math.pi / 4.0 * (20.0**2 + 12.0**2 + 13.5**2)
    assert plate["area_mm2"] == pytest.approx(OUTSIDE_AREA - SLOT_AREA - holes, rel=1e-9)
    assert pin["area_mm2"] is None


def test_the_bytes_are_canonical() -> None:
    data = summary.canonical({"b": 1 / 3, "a": -0.0, "c": "°", "d": (1, True, None)})
    assert data == '{\n "b": 0.3333333333,\n "a": 0.0,\n "c": "°",\n "d": [\n  1,\n  true,\n  null\n ]\n}\n'.encode()


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_a_number_that_is_none_is_refused(value: float) -> None:
    with pytest.raises(ProgramFault):
        summary.canonical({"x": value})


def written(made: Contents) -> bytes:
    return summary.canonical(summary.summary_of(made))


def test_a_true_summary_passes(folder: Path) -> None:
    made = contents()
    finding = summary.check_summary(written(made), made, folder)
    assert finding.level is Level.PASS, finding.words


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"numbers": {"Bad Name": Number(1.0, "mm", "x", Trust.MEASURED)}}, "numbers"),
        ({"inputs": ()}, "inputs"),
        ({"inputs": (Input("/home/x/toy.toml", "sheet", "", "0" * 64),)}, "name"),
        ({"files": {"pin": {"dxf": "cut/pin.dxf"}}}, "files"),
        ({"files": {"plate-a": {"dxf": "cut/other.dxf"}, "pin": {"held": "held/pin.txt"}}}, "is not there"),
        ({"files": {"plate-a": {"dxf": "cut/plate-a_in.dxf"}}}, "belongs to no part"),
    ],
)
def test_each_fault_of_a_summary_is_found(folder: Path, change: dict[str, Any], words: str) -> None:
    made = contents(**change)
    finding = summary.check_summary(written(made), made, folder)
    assert finding.level is Level.FAIL
    assert words in finding.words


def test_another_part_list_and_broken_text_are_found(folder: Path) -> None:
    made = contents()
    other = dataclasses.replace(made, held={})
    assert summary.check_summary(written(other), made, folder).level is Level.FAIL
    for data in (b"", b"{", b"\xff", written(made)[:-20]):
        assert summary.check_summary(data, made, folder).level is Level.FAIL


def test_inputs_name_every_file_by_its_bytes_and_no_place(tmp_path: Path) -> None:
    sheet = tmp_path / "toy.toml"
    sheet.write_bytes(b"schema = 1\n")
    table = tmp_path / "bolts.toml"
    table.write_bytes(b"abc")
    found = {i.name: i for i in summary.inputs_of(sheet, [table])}
    # FIPS 180-2, appendix B.1: SHA-256 of "abc"
    assert found["bolts.toml"].sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert {"toy.toml", "fixturegen", "cadquery", "ezdxf"} <= set(found)
    assert all("/" not in name and "\\" not in name for name in found)


def test_a_sheet_names_its_files_and_what_lies_on_it(folder: Path) -> None:
    sheet = CutSheet(
        1, "full", 500.0, 300.0, 9.4, "a36", "length", (Placed(plate_part(), 20.0, 20.0, 90.0),), 10.0, 12.0, 140.0
    )
    figures = SheetFigures(sheet, {"dxf": "cut/sheet-01_in.dxf"}, CutWork(4, 900.0, 10.0, 300.0), 60.0, 0.5, 1.4, None)
    made = contents(sheets=(figures,))
    data = summary.canonical(summary.summary_of(made))
    assert "cut/sheet-01_in.dxf is not there" in summary.check_summary(data, made, folder).words
    (folder / "cut" / "sheet-01_in.dxf").write_text("x")
    assert summary.check_summary(data, made, folder).level is Level.PASS
    assert (
        summary.check_summary(summary.canonical(summary.summary_of(contents())), contents(), folder).level is Level.FAIL
    )
    (body,) = json.loads(data)["sheets"]
    assert body["placed"] == [{"part": "plate-a", "copy": 1, "x_mm": 20, "y_mm": 20, "angle_deg": 90, "inside": ""}]
    assert body["cost"] is None


def test_papers_are_listed_with_their_digests_and_a_changed_or_strange_one_is_found(folder: Path) -> None:
    (folder / "papers" / "templates").mkdir(parents=True)
    path = folder / "papers" / "templates" / "a.pdf"
    path.write_bytes(b"paper")
    listed = contents(papers=(PaperFile("papers/templates/a.pdf", "A", summary.sha256(b"paper"), 2, ("plate-a",)),))
    data = summary.canonical(summary.summary_of(listed))
    assert json.loads(data)["papers"][0]["pages"] == 2
    assert summary.check_summary(data, listed, folder).level is Level.PASS
    path.write_bytes(b"other")
    assert "is another file" in summary.check_summary(data, listed, folder).words
    path.write_bytes(b"paper")
    (folder / "papers" / "stray.pdf").write_bytes(b"")
    assert "papers/stray.pdf belongs to no part" in summary.check_summary(data, listed, folder).words
