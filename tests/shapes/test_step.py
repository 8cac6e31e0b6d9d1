"""STEP files: the same bytes each time, and what is read back from them."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from fixturegen.errors import GeometryFault
from fixturegen.plate import Placement
from fixturegen.shapes import meshes, solids, step

ROOT = Path(__file__).parents[2]
QUARTER = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
MAKE = """
import sys, hashlib
sys.path.insert(0, {root!r})
from tests.shapes.test_step import items
from fixturegen.shapes import step
for _ in range({times}):
    print(hashlib.sha256(step.step_bytes(items(), "jig")).hexdigest())
"""


def items():
    plate = solids.cut(solids.box(0, 0, 0, 60, 40, 6), solids.cylinder((20, 20, -1), (20, 20, 9), 12))
    pin = solids.cylinder((0, 0, 0), (0, 0, 30), 12)
    places = [
        Placement("plate"),
        Placement("pin", (20.0, 20.0, -5.0)),
        Placement("plate", (0.0, 100.0, 0.0), QUARTER),
    ]
    return step.assembly_items({"plate": plate, "pin": pin}, places, {"pin": (0.9, 0.5, 0.1)})


def test_the_same_shapes_give_the_same_bytes_in_one_process_and_in_two(tmp_path):
    prints = set()
    for times in (1, 3):
        code = MAKE.format(root=str(ROOT), times=times)
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path)
        prints |= set(done.stdout.split())
        # nothing of the translator's talk where JSON may be going
        assert len(done.stdout.split()) == times
    assert len(prints) == 1


def test_no_time_and_no_counter_of_the_process_is_left_in_the_text():
    text = step.step_bytes(items(), "jig").decode()
    assert "translator" not in text
    assert re.findall(r"'(\d{4}-\d\d-\d\dT[\d:]+)'", text) == [step.FIXED_TIME]
    assert re.findall(r"OCCURRENCE\('(\d+)','([^']*)'", text) == [
        ("1", "plate-1"), ("2", "plate-2"), ("3", "pin"),
    ]  # fmt: skip
    assert re.findall(r"= PRODUCT\('([^']*)'", text) == ["jig", "plate", "pin"]


def test_a_counter_planted_in_the_text_is_levelled():
    raw = b"FILE_NAME('a','2031-01-02T03:04:05',('x'))\n#7 = PRODUCT('Open CASCADE STEP translator 7.9 12'"
    again = raw.replace(b"2031", b"2032").replace(b"7.9 12", b"7.9 13")
    assert raw != again and step.normalised(raw) == step.normalised(again)
    assert step.normalised(b"(-0.,1.,-0.5,-0.)") == b"(0.,1.,-0.5,0.)"


def test_a_mesh_on_the_shape_changes_nothing():
    first = items()
    before = step.step_bytes(first, "jig")
    meshes.mesh_of(first[0].shape)
    assert step.step_bytes(first, "jig") == before


def test_an_assembly_read_back_has_every_solid_in_its_place(tmp_path):
    path = tmp_path / "jig.step"
    made = items()
    step.write_step(path, made, "jig")
    found = step.measure_step(path)
    there = step.placed_all(made)
    assert (found.solids, found.valid) == (3, True)
    assert found.volume == pytest.approx(sum(map(solids.volume, there)), rel=1e-9)
    assert found.box == pytest.approx(solids.bounding_box(solids.compound(there)), abs=1e-5)
    # both plates are told once: one product, two places
    assert path.read_text().count("CYLINDRICAL_SURFACE") == 2


def test_a_part_alone_is_written_where_it_was_drawn(tmp_path):
    path = tmp_path / "part.step"
    step.write_part_step(path, solids.moved(solids.box(0, 0, 0, 1, 2, 3), 10, 0, 0), "block")
    found = step.measure_step(path)
    assert found.volume == pytest.approx(6)
    assert found.box == pytest.approx((10, 0, 0, 11, 2, 3), abs=1e-6)


def test_the_file_is_in_millimetres_by_its_own_word():
    text = step.step_bytes([step.StepItem("block", solids.box(0, 0, 0, 1, 2, 3))]).decode()
    # Source: ISO 10303-41, si_unit: prefix and name
    assert "SI_UNIT(.MILLI.,.METRE.)" in text and "INCH" not in text


def test_files_that_hold_nothing_are_refused(tmp_path):
    path = tmp_path / "broken.step"
    path.write_text("no STEP at all")
    with pytest.raises(GeometryFault, match=r"broken\.step"):
        step.read_step(path)
    with pytest.raises(GeometryFault, match="nothing to write"):
        step.step_bytes([])
    with pytest.raises(GeometryFault, match="its name"):
        step.step_bytes([step.StepItem("it's", solids.box(0, 0, 0, 1, 1, 1))])
