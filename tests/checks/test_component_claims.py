"""Claims about parts the person has, each to both sides of its limit; parts are balls and boxes of known size."""

import subprocess
import sys

import numpy as np
import pytest
import trimesh

from fixturegen.axle.frames import turn_about_y
from fixturegen.axle.model import axle_of
from fixturegen.checks import component_places, components, registry
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.sheet import read_text
from fixturegen.sheet.component_files import files_of
from fixturegen.studies.component_plan import stud_place
from fixturegen.studies.jig_plan import plan_of
from fixturegen.write.summary import inputs_of
from tests.sheet.altered import BALLJOINT

CLAIMS = {c.code: c for c in registry.claims() if c.code.startswith("CMP")}
INCH = 25.4
HEAD = '\n[[components]]\nname = "part"\nmoves_with = "axle"\nat = "axle"\naccuracy = "0.5 mm"\n'
AXLE = axle_of(read_text(BALLJOINT))
PLAN = plan_of(read_text(BALLJOINT), AXLE)


def job(tmp_path, lines, mesh=None):
    """A job with one part; its mesh is written as part.stl."""
    if mesh is not None:
        (tmp_path / "part.stl").write_bytes(mesh.export(file_type="stl"))
    sheet = read_text(BALLJOINT + HEAD + lines)
    return Job(sheet, AXLE, PLAN, store={component_places.FOLDER: tmp_path})


def findings(code, made):
    return CLAIMS[code].check(made)


def only(code, made):
    (found,) = findings(code, made)
    return found


def filed(kind="other", more="as_it_stands = true\n", unit="mm"):
    return f'kind = "{kind}"\nfile = "part.stl"\nunit = "{unit}"\n{more}'


def points(rows):
    """Named points: (own [mm], where it stands)."""
    each = []
    for n, (own, where) in enumerate(rows):
        texts = ", ".join(f'"{v:.6f} mm"' for v in own)
        each.append(f'{{ name = "p{n}", own = [{texts}], {where} }}')
    return "points = [\n  " + ",\n  ".join(each) + ",\n]\n"


def placed(own, place):
    texts = ", ".join(f'"{v:.6f} mm"' for v in place)
    return own, f"place = [{texts}]"


def ball(radius=100.0, fineness=3):
    return trimesh.creation.icosphere(subdivisions=fineness, radius=radius)


def test_cmp_01_a_whole_file_passes_an_open_one_warns_and_a_cut_off_one_fails(tmp_path):
    whole = only("CMP-01", job(tmp_path, filed(), ball()))
    assert whole.level is Level.PASS
    assert "1280 triangles, closed" in whole.words
    holed = ball()
    holed.update_faces(np.arange(1280) > 0)
    told = only("CMP-01", job(tmp_path, filed(), holed))
    assert told.level is Level.WARN
    assert "open: 1 hole" in told.words
    path = tmp_path / "part.stl"
    path.write_bytes(path.read_bytes()[:-1])
    told = only("CMP-01", job(tmp_path, filed()))
    assert (told.level, told.holds) == (Level.FAIL, "nothing")
    assert "1278 of the 1279 triangles" in told.words
    assert told.remedy


def test_cmp_01_noise_beyond_a_third_of_the_stated_accuracy_warns_with_what_to_state(tmp_path):
    """Accuracy of 0.5 mm holds three standard deviations of 1/6 mm (normal distribution)."""
    rng = np.random.default_rng(0)
    for sigma, level in ((0.14, Level.PASS), (0.2, Level.WARN)):
        rough = ball(100.0, 5)
        rough.vertices += rough.vertex_normals * rng.normal(0.0, sigma, len(rough.vertices))[:, None]
        assert only("CMP-01", job(tmp_path, filed(), rough)).level is level


def test_cmp_01_corners_that_are_no_numbers_warn_and_fail_beyond_one_in_a_hundred(tmp_path):
    for lost, level in ((1, Level.WARN), (14, Level.FAIL)):
        mesh = ball()
        corners = mesh.triangles.reshape(-1, 3).copy()
        corners[np.arange(lost) * 3] = np.nan
        soup = trimesh.Trimesh(corners, np.arange(3840).reshape(-1, 3), process=False)
        told = only("CMP-01", job(tmp_path, filed(), soup))
        assert told.level is level
        assert f"{lost} triangles left out" in told.words


@pytest.mark.parametrize(("off", "level"), [(3.95, Level.PASS), (3.97, Level.FAIL)])
def test_cmp_02_a_point_may_be_out_by_what_its_tolerance_allows(tmp_path, off, level):
    """An equilateral triangle grown about its middle: by symmetry no motion fits better, each corner is out alike.

    Accuracy 0.5 mm and three coordinates out by 2 mm each: 0.5 + 2 sqrt(3) = 3.964 mm.
    """
    corners = [np.array([200.0 * np.cos(a), 200.0 * np.sin(a), 0.0]) for a in np.radians([0.0, 120.0, 240.0])]
    more = 'tolerance = "2 mm"\n' + points([placed(c, c * (1.0 + off / 200.0)) for c in corners])
    told = only("CMP-02", job(tmp_path, filed(more=more)))
    assert told.code == "CMP-02"
    assert told.level is level
    assert told.value == pytest.approx(off, abs=1e-5)
    assert told.limit == pytest.approx(0.5 + 2.0 * 3.0**0.5)


def test_cmp_02_points_measured_in_another_unit_are_told_by_how_much(tmp_path):
    own = [(0.0, 0.0, 0.0), (300.0, 0.0, 0.0), (0.0, 200.0, 0.0)]
    more = points([placed(np.array(p), np.array(p) / INCH) for p in own])
    told = only("CMP-02", job(tmp_path, filed(more=more)))
    assert told.code == "CMP-02"
    assert told.level is Level.FAIL
    assert "0.0394 times as far apart" in told.words


def test_cmp_03_an_inch_file_taken_for_millimetres_is_told_with_the_ratio_and_the_unit(tmp_path):
    """A cover is no smaller than 0.8 of the opening, 8 3/4 in: 177.8 mm across."""
    low = 0.8 * 8.75 * INCH
    for across, level in ((low * 1.001, Level.PASS), (low * 0.999, Level.FAIL)):
        box = trimesh.creation.box((across, 100.0, 50.0))
        assert only("CMP-03", job(tmp_path, filed("cover"), box)).level is level
    inches = trimesh.creation.box((10.0, 9.0, 4.0))
    told = only("CMP-03", job(tmp_path, filed("cover"), inches))
    assert told.code == "CMP-03"
    assert "written in inches and taken for millimetres" in told.words
    assert "17.8 times too small" in told.words  # 177.8 mm / 10 mm
    assert 'unit = "in"' in told.remedy
    assert only("CMP-03", job(tmp_path, filed("cover", unit="in"), inches)).level is Level.PASS
    metric = trimesh.creation.box((254.0, 228.6, 101.6))
    told = only("CMP-03", job(tmp_path, filed("cover", unit="in"), metric))
    assert "written in millimetres and taken for inches" in told.words
    assert 'unit = "mm"' in told.remedy


def test_no_kind_but_other_lets_a_part_pass_in_the_wrong_unit():
    from fixturegen.sheet.specs.components import Component
    from fixturegen.studies.component_sizes import range_of

    kinds = Component.model_fields["kind"].annotation.__args__
    for kind in kinds:
        allowed = range_of(read_text(BALLJOINT), kind)
        assert (allowed.high < INCH * allowed.low) == (kind != "other"), kind


def test_cmp_04_points_off_the_box_of_what_was_read_are_told(tmp_path):
    """Half an inch and the stated accuracy beyond the box: 13.2 mm."""
    box = trimesh.creation.box((400.0, 300.0, 100.0))
    for out, level in ((13.1, Level.PASS), (13.3, Level.FAIL)):
        own = [(200.0 + out, 0.0, 0.0), (-200.0, 100.0, 0.0), (-200.0, -100.0, 0.0)]
        told = only("CMP-04", job(tmp_path, filed(more=points([placed(p, p) for p in own])), box))
        assert told.code == "CMP-04"
        assert told.level is level
        assert told.value == pytest.approx(out, abs=1e-3)


def on_the_studs(order):
    """Points of a cover in its own frame (station, up, out of the face) on studs in that order."""
    turn = turn_about_y(AXLE.table_turn)
    rows = []
    for k, stud in order:
        x, y, z = turn @ stud_place(AXLE, k)
        rows.append(((AXLE.face_sign * y, z, AXLE.face_sign * x - AXLE.face_distance), f"stud = {stud}"))
    return points(rows)


def cover(depth):
    """A plate that lies on the face and reaches out by its depth [mm]."""
    box = trimesh.creation.box((260.0, 260.0, depth))
    box.apply_translation((AXLE.face_sign * AXLE.face_middle[0], AXLE.face_middle[1], depth / 2.0))
    return box


def test_cmp_05_a_cover_reaches_what_was_measured_or_is_told(tmp_path):
    """5 1/4 in from the bore axis, 1 1/8 in of it to the face: 104.8 mm out of the face."""
    right = 'tolerance = "0.1 mm"\n' + on_the_studs([(1, 1), (4, 4), (7, 7)])
    told = only("CMP-05", job(tmp_path, filed("cover", right), cover(4.125 * INCH)))
    assert told.code == "CMP-05"
    assert told.level is Level.PASS
    assert told.value == pytest.approx(0.0, abs=0.01)
    limit = told.limit
    for more, level in ((limit - 0.2, Level.PASS), (limit + 0.2, Level.WARN)):
        told = only("CMP-05", job(tmp_path, filed("cover", right), cover(4.125 * INCH + more)))
        assert told.level is level


def test_cmp_05_a_cover_fitted_inside_out_leaves_no_residual_and_is_found(tmp_path):
    """Two bolts taken for each other, the third between them: the mirror image fits as well as the cover itself."""
    own = [(-100.0, 60.0, 0.0), (100.0, 60.0, 0.0), (0.0, -90.0, 0.0)]
    there = [np.array([AXLE.face_sign * AXLE.face_distance, y, z]) for y, z, _ in own]
    turn = turn_about_y(-AXLE.table_turn)
    swapped = [there[1], there[0], there[2]] if AXLE.face_sign > 0 else there
    more = points([placed(o, turn @ t) for o, t in zip(own, swapped, strict=True)])
    box = trimesh.creation.box((260.0, 260.0, 100.0))
    box.apply_translation((0.0, 0.0, 50.0))
    made = job(tmp_path, filed("cover", more), box)
    assert only("CMP-02", made).value < 1e-3
    told = only("CMP-05", made)
    assert told.level is Level.FAIL
    assert "inside out" in told.words


def test_what_is_not_fit_for_distances_is_left_out_with_why(tmp_path):
    good, out = components.fit_in(job(tmp_path, filed("cover"), trimesh.creation.box((10.0, 9.0, 4.0))))
    assert good == ()
    assert out[0][0] == "part"
    good, out = components.fit_in(job(tmp_path, filed("cover"), trimesh.creation.box((254.0, 228.6, 101.6))))
    assert (len(good), out) == (1, ())


QUICK = """
import sys
from fixturegen.cli.main import main
code = main(["check", "--sheet", sys.argv[1]])
print(code, *sorted({name.partition(".")[0] for name in sys.modules}), file=sys.stderr)
"""


def test_a_check_of_the_sheet_places_components_and_loads_neither_kernel_nor_mesh_library(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(BALLJOINT + HEAD + filed(more=on_the_studs([(1, 1), (4, 4), (7, 7)])), encoding="utf-8")
    (tmp_path / "part.stl").write_bytes(b"never opened")
    done = subprocess.run([sys.executable, "-c", QUICK, str(path)], capture_output=True, text=True, check=True)
    names = set(done.stderr.strip().rsplit("\n", 1)[-1].split())
    assert names.isdisjoint({"cadquery", "OCP", "trimesh", "fcl", "vtkmodules"})
    assert "CMP-02" in done.stdout
    assert "CMP-01" not in done.stdout


def test_files_of_components_are_inputs_of_the_result(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(BALLJOINT + HEAD + filed(), encoding="utf-8")
    (tmp_path / "part.stl").write_bytes(b"abc")
    listed = inputs_of(path, [], components=[tmp_path / name for _, name in files_of(read_text(path.read_text()))])
    (found,) = [i for i in listed if i.kind == "component"]
    # sha256 of "abc", FIPS 180-4, the standard's own example
    assert found.sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert found.name == "part.stl"
