"""STEP files of parts, measured again; every deviation trips."""

from pathlib import Path

import pytest

from fixturegen.findings import Level
from fixturegen.plate import Placement
from fixturegen.write import step
from tests.write.toys import plate_part

BOX = (0.0, 0.0, 0.0, 200.0, 100.0, 9.4)


@pytest.fixture(scope="module")
def plate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, float]:
    from fixturegen.shapes.solids import solid_of

    path = tmp_path_factory.mktemp("step") / "plate-a.step"
    step.write_part(path, solid_of(plate_part()), "plate-a")
    volume = step.flat_volume(plate_part())
    assert volume is not None
    return path, volume


def test_a_part_reads_back_with_the_volume_of_its_closed_form(plate: tuple[Path, float]) -> None:
    path, volume = plate
    finding = step.check_step(path, volume, BOX, ("plate-a",))
    assert finding.level is Level.PASS, finding.words
    assert finding.code == "STP-01"


@pytest.mark.parametrize(
    ("factor", "box", "solids", "words"),
    [
        (1.0 + 1.2e-6, BOX, 1, "volume"),
        (1.0, (*BOX[:5], 9.402), 1, "overall sizes"),
        (1.0, BOX, 2, "1 solids, not 2"),
    ],
)
def test_each_deviation_of_a_step_file_trips(
    plate: tuple[Path, float], factor: float, box: step.Box, solids: int, words: str
) -> None:
    path, volume = plate
    finding = step.check_step(path, volume * factor, box, ("plate-a",), solids)
    assert finding.level is Level.FAIL
    assert words in finding.words
    assert finding.holds == "part"


def test_just_inside_the_limits_passes(plate: tuple[Path, float]) -> None:
    path, volume = plate
    near = (*BOX[:5], 9.4009)
    assert step.check_step(path, volume * (1.0 + 0.8e-6), near, ("plate-a",)).level is Level.PASS


@pytest.mark.parametrize("data", [b"", b"ISO-10303-21;\n", b"\x00\x01"])
def test_a_file_that_is_no_step_fails(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "x.step"
    path.write_bytes(data)
    assert step.check_step(path, 1.0, None, ("x",)).level is Level.FAIL


def test_an_assembly_holds_every_placed_part_and_the_axle(tmp_path: Path) -> None:
    from fixturegen.shapes.solids import cylinder, solid_of

    path = tmp_path / "assembly-jig.step"
    solids = {"plate-a": solid_of(plate_part())}
    places = (Placement("plate-a"), Placement("plate-a", (0.0, 0.0, 50.0)))
    bar = cylinder((0.0, -100.0, 200.0), (0.0, 100.0, 200.0), 40.0)
    count, volume = step.write_assembly(path, solids, places, {"bar": bar}, "jig")
    assert count == 3
    finding = step.check_step(path, volume, None, (), count, "jig")
    assert finding.level is Level.PASS, finding.words
    short = step.check_step(path, volume, None, (), 2, "jig")
    assert (short.level, short.holds, short.assembly) == (Level.FAIL, "assembly", "jig")
