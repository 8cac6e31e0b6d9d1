"""Parts that cannot be made, or not with this torch, at their boundary: the findings GEO-01 and CUT-02."""

import dataclasses
from pathlib import Path

import pytest

from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.plate import Hole, Part, Profile, Purpose, Turned, TurnedStep
from fixturegen.plate.profile import rectangle, reversed_loop
from fixturegen.progress import silent
from fixturegen.write import staging
from tests.studies.study_jobs import case
from tests.write.toys import plate_part

INCH = 25.4
KERF = 0.062 * INCH  # [mm] as the sheet below says


def drafted(folder: Path, part: Part, kerf_allowed_by: str = "file") -> staging.Draft:
    """What writing one part into an empty folder comes to."""
    job = Job(*case(process__kerf="0.062 in", process__kerf_allowed_by=kerf_allowed_by), {part.name: part})
    return staging.write_parts(staging.Order(folder, job, (part.name,), "mm", silent), {})


def levels(draft: staging.Draft, code: str) -> set[Level]:
    return {f.level for f in draft.findings if f.code == code}


def slotted(width: float) -> Part:
    slot = reversed_loop(rectangle(20.0, 20.0, 60.0, 20.0 + width))
    return plate_part(profile=Profile(plate_part().profile.outer, (slot,)), marks=())


@pytest.mark.parametrize(("spare", "wanted"), [(0.03, False), (-0.03, True)])
def test_an_opening_narrower_than_the_kerf_fails_and_gets_no_file(tmp_path: Path, spare: float, wanted: bool) -> None:
    # geometry: the torch's path inside an opening is narrower than the opening by one kerf
    draft = drafted(tmp_path, slotted(KERF + spare))
    assert levels(draft, "CUT-02") == {Level.FAIL if wanted else Level.PASS}
    assert ((tmp_path / "cut" / "plate-a_mm.dxf").exists()) is not wanted
    assert (levels(draft, "CUT-01") == {Level.PASS}) is not wanted


def test_the_same_opening_passes_when_the_controller_allows_for_the_kerf(tmp_path: Path) -> None:
    draft = drafted(tmp_path, slotted(KERF - 0.02), "controller")
    assert levels(draft, "CUT-02") == set()
    assert levels(draft, "CUT-01") == {Level.PASS}


def test_the_finding_of_a_narrow_opening_says_what_to_do(tmp_path: Path) -> None:
    (found,) = [f for f in drafted(tmp_path, slotted(KERF - 0.02)).findings if f.code == "CUT-02"]
    assert found.parts == ("plate-a",)
    assert found.remedy.endswith("or let the controller allow for the kerf")


@pytest.mark.parametrize(("spare", "wanted"), [(0.01, False), (-0.01, True)])
def test_a_hole_over_the_edge_of_its_plate_cannot_be_made(tmp_path: Path, spare: float, wanted: bool) -> None:
    # geometry: a hole stands inside the plate when its middle is farther from the edge than its radius
    hole = Hole(5.0 + spare, 50.0, 10.0, Purpose.BOLT)
    part = plate_part(profile=Profile(plate_part().profile.outer, (), (hole,)), marks=())
    draft = drafted(tmp_path, part, "controller")
    assert levels(draft, "GEO-01") == {Level.FAIL if wanted else Level.PASS}
    assert ("plate-a" in draft.measured) is not wanted


def test_a_turned_part_bored_right_through_its_steel_cannot_be_made(tmp_path: Path) -> None:
    pin = Part("pin", "Pin", "pins", "turned", turned=Turned((TurnedStep(50.0, 20.0),)))
    assert levels(drafted(tmp_path, pin), "GEO-01") == {Level.PASS}
    bored = dataclasses.replace(pin, turned=Turned((TurnedStep(50.0, 20.0),), ((0.0, 50.0, 20.0, None, ""),)))
    again = tmp_path / "again"
    again.mkdir()
    assert levels(drafted(again, bored), "GEO-01") == {Level.FAIL}


def test_a_material_of_no_table_is_told_and_the_part_gets_no_file(tmp_path: Path) -> None:
    draft = drafted(tmp_path, dataclasses.replace(plate_part(), material="mild-steel"))
    (found,) = [f for f in draft.findings if f.code == "GEO-01"]
    assert found.level is Level.FAIL
    assert "'mild-steel' is in no table" in found.words
    assert draft.files == {}
