"""The flow with toy parts and planted findings: what is written, held, withdrawn, left alone."""

import csv
import dataclasses
import errno
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fixturegen import pipeline
from fixturegen.checks import registry
from fixturegen.errors import EXIT_HELD, EXIT_OK, InputFault, MachineFault
from fixturegen.findings import Finding, Level
from fixturegen.plate import Assembly, Part, Placement, Turned, TurnedStep
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.write import dxf, staging
from fixturegen.write.readback import contours, read_dxf
from tests.few_brackets import few_brackets
from tests.write.toys import plate_part

EXAMPLE = Path(__file__).parents[1] / "examples" / "front-dropout-kingpin.toml"

PLATE = plate_part()
PIN = Part("pin", "Pin", "pins", "turned", turned=Turned((TurnedStep(50.0, 20.0),)))
JIG = Assembly("jig", "T", (Placement("plate-a"), Placement("pin", (100.0, 50.0, 0.0))))
Plant = Callable[..., None]


def finding(level: Level = Level.FAIL, **more: Any) -> Finding:
    return Finding(**{"code": "FIT-01", "level": level, "claim": "fits", "words": "0.2 mm over", **more})


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "toy.toml"
    path.write_bytes(few_brackets(EXAMPLE.read_text("utf-8")).encode())
    return path


@pytest.fixture
def plant(monkeypatch: pytest.MonkeyPatch) -> Plant:
    """Plants findings and, when given, other parts."""

    def planted(*findings: Finding, parts: tuple[Part, ...] = (PLATE, PIN), papers: bool = False) -> None:
        monkeypatch.setattr("fixturegen.parts.registry.make_jig", lambda *_: (parts, (JIG,)))
        monkeypatch.setattr("fixturegen.brackets.registry.make_brackets", lambda *_: BracketSet())
        monkeypatch.setattr(registry, "run", lambda *_: findings)
        monkeypatch.setattr(staging, "bodies_in", lambda *_: {})
        if not papers:
            monkeypatch.setattr(pipeline, "_write_papers", lambda stage, *_: (stage / "report.html").write_text("x"))

    return planted


def files(out: Path) -> set[str]:
    return {p.relative_to(out).as_posix() for p in out.rglob("*") if p.is_file()}


LISTS = {
    f"lists/{n}.csv"
    for n in ("cut-list", "tube-list", "turned-parts", "hardware", "weld-list", "axle-shafts", "held-parts")
}
ALWAYS = {".fixturegen-job", "summary.json", "report.html"} | LISTS


def test_released_parts_get_their_files(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant(finding(Level.WARN, parts=("plate-a",)))
    out = tmp_path / "job"
    outcome = pipeline.build(sheet, out)
    assert outcome.exit_code == EXIT_OK
    assert files(out) == ALWAYS | {
        "cut/plate-a_in.dxf", "step/plate-a.step", "step/pin.step", "step/assembly-jig.step",
    }  # fmt: skip
    assert {f.code for f in outcome.findings} == {"FIT-01", "GEO-01", "CUT-01", "STP-01", "JSN-01"}
    body = json.loads((out / "summary.json").read_text("utf-8"))
    assert [p["status"] for p in body["parts"]] == ["released", "released"]
    assert {f["code"] for f in body["findings"]} == {"FIT-01", "GEO-01", "CUT-01", "STP-01", "JSN-01"}


def test_mass_is_volume_times_density(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant()
    pipeline.build(sheet, tmp_path / "job")
    body = json.loads((tmp_path / "job" / "summary.json").read_text("utf-8"))
    pin = next(p for p in body["parts"] if p["name"] == "pin")
    # cylinder: pi/4 d^2 l; carbon steel 7850 kg/m3 (handbook value)
    assert pin["mass_kg"] == pytest.approx(3.141592653589793 / 4 * 20.0**2 * 50.0 * 7.85e-6, rel=1e-9)


def test_a_held_part_gets_a_reason_and_nothing_to_cut(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant(finding(parts=("plate-a",), remedy="open the slot"))
    out = tmp_path / "job"
    outcome = pipeline.build(sheet, out)
    assert outcome.exit_code == EXIT_HELD
    assert files(out) == ALWAYS | {
        "held/plate-a.txt", "held/plate-a.svg", "step/pin.step", "step/assembly-jig.step",
    }  # fmt: skip
    assert "open the slot" in (out / "held" / "plate-a.txt").read_text("utf-8")
    cut = list(csv.DictReader(io.StringIO((out / "lists" / "cut-list.csv").read_text("utf-8"))))
    assert cut == []
    named = list(csv.DictReader(io.StringIO((out / "lists" / "held-parts.csv").read_text("utf-8"))))
    assert [r["part"] for r in named] == ["plate-a"]


def test_a_job_held_whole_has_no_cut_file_and_no_model(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant(finding(holds="job"))
    pipeline.build(sheet, tmp_path / "job")
    assert not (tmp_path / "job" / "cut").exists()
    assert not (tmp_path / "job" / "step").exists()


def test_a_cut_file_that_reads_back_wrong_is_withdrawn(
    sheet: Path, plant: Plant, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant()
    real = dxf.dxf_bytes
    other = plate_part(profile=dataclasses.replace(PLATE.profile, holes=()))  # type: ignore[type-var]
    monkeypatch.setattr(dxf, "dxf_bytes", lambda part, units, kerf, rules: real(other, units, kerf, rules))
    outcome = pipeline.build(sheet, tmp_path / "job")
    assert outcome.exit_code == EXIT_HELD
    assert outcome.held["plate-a"].startswith("CUT-01")
    assert "cut/plate-a_in.dxf" not in files(tmp_path / "job")
    assert "step/plate-a.step" not in files(tmp_path / "job")


def test_a_part_that_cannot_be_made_is_held_and_the_rest_released(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    hollow = dataclasses.replace(PIN, turned=Turned((TurnedStep(-1.0, 20.0),)))
    plant(parts=(PLATE, hollow))
    outcome = pipeline.build(sheet, tmp_path / "job")
    assert set(outcome.held) == {"pin"}
    assert outcome.held["pin"].startswith("GEO-01")


def test_units_of_the_cut_files_can_be_chosen(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant()
    pipeline.build(sheet, tmp_path / "job", units="mm")
    assert "cut/plate-a_mm.dxf" in files(tmp_path / "job")


def test_a_kerf_allowed_for_in_the_file_moves_every_contour_into_the_scrap(
    sheet: Path, plant: Plant, tmp_path: Path
) -> None:
    plant()
    text = sheet.read_text("utf-8")
    sheet.write_text(text.replace('"controller"', '"file"'), encoding="utf-8")
    kerf = float(pipeline.read(sheet).process.kerf)
    outcome = pipeline.build(sheet, tmp_path / "job")
    assert outcome.exit_code == EXIT_OK
    content = read_dxf((tmp_path / "job" / "cut" / "plate-a_in.dxf").read_bytes())
    (outside,), _ = contours(content.pieces["CUT_OUT"])
    assert outside.box == pytest.approx((-kerf / 2, -kerf / 2, 200 + kerf / 2, 100 + kerf / 2), abs=1e-5)
    (slot,), _ = contours(content.pieces["CUT_IN"])
    assert slot.area == pytest.approx((40.0 - kerf) * (9.6 - kerf), abs=1e-3)
    assert sorted(d for _, _, d in content.rings["CUT_IN"]) == pytest.approx([13.5 - kerf, 17.0 - kerf], abs=1e-6)


def test_one_kind_goes_into_a_folder_of_its_own(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant()
    pipeline.build(sheet, tmp_path / "job")
    before = files(tmp_path / "job")
    outcome = pipeline.build(sheet, tmp_path / "job", only="pins")
    assert outcome.out == tmp_path / "job-pins"
    assert files(tmp_path / "job-pins") == ALWAYS | {"step/pin.step"}
    assert files(tmp_path / "job") == before


def test_a_kind_that_does_not_exist_is_refused_with_those_that_do(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant()
    with pytest.raises(InputFault, match="pins, toy"):
        pipeline.build(sheet, tmp_path / "job", only="trusses")
    assert not (tmp_path / "job-trusses").exists()


def test_without_out_the_folder_is_named_after_the_sheet(
    sheet: Path, plant: Plant, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant()
    monkeypatch.chdir(tmp_path)
    assert pipeline.build(sheet).out == Path("output/toy")
    assert (tmp_path / "output" / "toy" / "summary.json").is_file()


def test_the_same_sheet_gives_the_same_bytes(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant(papers=True)
    for name in ("one", "two"):
        pipeline.build(sheet, tmp_path / name)
    assert files(tmp_path / "one") == files(tmp_path / "two")
    for path in files(tmp_path / "one"):
        assert (tmp_path / "one" / path).read_bytes() == (tmp_path / "two" / path).read_bytes(), path


@pytest.mark.parametrize("stop", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("where", ["write_parts", "write_assemblies", "settle", "write_summary"])
def test_a_stop_at_any_step_leaves_the_earlier_folder_untouched(
    sheet: Path, plant: Plant, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: BaseException, where: str
) -> None:
    plant()
    out = tmp_path / "job"
    pipeline.build(sheet, out)
    before = {p: (out / p).read_bytes() for p in files(out)}

    def stopped(*_: object) -> None:
        raise stop

    monkeypatch.setattr(staging, where, stopped)
    with pytest.raises(MachineFault if isinstance(stop, OSError) else KeyboardInterrupt):
        pipeline.build(sheet, out)
    assert {p: (out / p).read_bytes() for p in files(out)} == before
    assert not (tmp_path / "job.part").exists()


def test_a_check_writes_nothing(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant(finding(parts=("pin",)))
    outcome = pipeline.check(sheet)
    assert outcome.exit_code == EXIT_HELD
    assert set(outcome.held) == {"pin"}
    assert {p.name for p in tmp_path.iterdir()} == {"toy.toml"}


def test_a_revision_is_kept_beside_the_sheet_and_changes_are_listed(sheet: Path, plant: Plant, tmp_path: Path) -> None:
    plant()
    pipeline.build(sheet, tmp_path / "job")
    text = sheet.read_text("utf-8")
    assert 'id = "A"' in text
    text = text.replace('id = "A"', 'id = "B"\nsince = "A"')
    old = next(line for line in text.splitlines() if line.startswith("caster ="))
    sheet.write_text(text.replace(old, 'caster = "6.5 deg"'), encoding="utf-8")
    outcome = pipeline.build(sheet, tmp_path / "job")
    assert [key for key, _, _ in outcome.changes] == ["axle.caster"]
    body = json.loads((tmp_path / "job" / "summary.json").read_text("utf-8"))
    assert [i["name"] for i in body["inputs"] if i["kind"] == "history"] == ["A.toml"]
