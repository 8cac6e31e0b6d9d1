"""Components read: closed forms of box, ball and cylinder; files by trimesh, ezdxf and cadquery; faults and noise."""

import math
import subprocess
import sys

import cadquery as cq
import ezdxf
import numpy as np
import pytest
import trimesh

from fixturegen import keeping
from fixturegen.errors import GeometryFault
from fixturegen.shapes.component_meshes import read_component
from fixturegen.shapes.mesh_health import healed
from fixturegen.studies.component_records import (
    UPRIGHT,
    BoxShape,
    Component,
    FileShape,
    OutlineShape,
    PlaneShape,
)

INCH = 25.4
FORMS = {"a.stl": "stl", "a.obj": "obj", "a.ply": "ply"}


def component(shape, stated=0.5, **more):
    return Component("part", "the part", "other", "axle", shape, UPRIGHT, (0.0, 0.0, 0.0), stated=stated, **more)


def saved(tmp_path, mesh, name="a.stl", unit="mm"):
    data = mesh.export(file_type=FORMS[name])
    (tmp_path / name).write_bytes(data if isinstance(data, bytes) else data.encode())
    return FileShape(tmp_path / name, unit)


def reading(shape, **more):
    return read_component(component(shape, **more))[0]


def refused(shape):
    with pytest.raises(GeometryFault) as told:
        read_component(component(shape))
    assert told.value.part == "the part"
    assert told.value.remedy
    return told.value.words


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize(("unit", "scale"), [("mm", 1.0), ("in", INCH)])
def test_a_box_out_of_a_file_has_the_sides_area_and_volume_of_a_box(tmp_path, name, unit, scale):
    found = reading(saved(tmp_path, trimesh.creation.box((4.0, 3.0, 2.0)), name, unit))
    assert found.size == pytest.approx((4.0 * scale, 3.0 * scale, 2.0 * scale), rel=1e-6)
    assert found.area == pytest.approx(52.0 * scale**2, rel=1e-6)
    assert found.volume == pytest.approx(24.0 * scale**3, rel=1e-6)
    assert (found.triangles, found.vertices, found.pieces, found.open_edges, found.holes) == (12, 8, 1, 0, 0)
    assert found.notes == ()


def test_a_ball_of_triangles_lies_within_its_sag_of_the_closed_form(tmp_path):
    """Volume 4/3 pi r^3 less the shell between the ball and the flattest triangle inside it."""
    mesh = trimesh.creation.icosphere(subdivisions=4, radius=100.0)
    found = reading(saved(tmp_path, mesh))
    sag = 100.0 - np.linalg.norm(mesh.triangles_center, axis=1).min()
    whole = 4.0 / 3.0 * math.pi * 100.0**3
    assert whole * (1.0 - sag / 100.0) ** 3 < found.volume < whole
    assert 4.0 * math.pi * (100.0 - sag) ** 2 < found.area < 4.0 * math.pi * 100.0**2


def test_step_files_give_the_closed_forms_of_cylinder_ball_and_box(tmp_path):
    solids = {
        "cylinder": (cq.Workplane().circle(30.0).extrude(80.0), math.pi * 900.0 * 80.0, 2 * math.pi * 30.0 * 110.0),
        "ball": (cq.Workplane().sphere(40.0), 4.0 / 3.0 * math.pi * 64000.0, 4 * math.pi * 1600.0),
        "box": (cq.Workplane().box(10.0, 20.0, 30.0), 6000.0, 2200.0),
    }
    for name, (work, volume, area) in solids.items():
        path = tmp_path / f"{name}.step"
        cq.exporters.export(work, str(path))
        found, mesh = read_component(component(FileShape(path, "mm"), stated=0.25))
        assert found.volume == pytest.approx(volume, rel=1e-6)
        assert found.area == pytest.approx(area, rel=1e-6)
        assert found.accuracy == pytest.approx(0.25 + found.deflection, abs=1e-6)
        assert mesh.deflection == found.accuracy
        if name == "ball":
            far = np.linalg.norm(mesh.triangles.mean(axis=1), axis=1)
            assert far.min() >= 40.0 - found.deflection


def test_a_step_file_is_held_against_its_own_unit_and_its_end(tmp_path):
    path = tmp_path / "a.step"
    cq.exporters.export(cq.Workplane().box(10.0, 20.0, 30.0), str(path))
    assert "its own text says mm, and the sheet says in" in refused(FileShape(path, "in"))
    text = path.read_text()
    path.write_text(text[: len(text) // 2])
    assert "cut off" in refused(FileShape(path, "mm"))
    path.write_text(text[: len(text) // 2] + "\nEND-ISO-10303-21;\n")
    assert "cannot be read" in refused(FileShape(path, "mm"))
    path.write_text("solid")
    assert "no STEP" in refused(FileShape(path, "mm"))
    path.write_bytes(b"")
    assert "empty" in refused(FileShape(path, "mm"))


def test_a_step_file_in_inches_is_read_in_inches(tmp_path):
    path = tmp_path / "a.step"
    cq.exporters.export(cq.Workplane().box(10.0, 20.0, 30.0), str(path))
    inch = (
        "( CONVERSION_BASED_UNIT('INCH',#9001) LENGTH_UNIT() NAMED_UNIT(#9002) );\n"
        "#9001 = LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#9003);\n"
        "#9002 = DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n"
        "#9003 = ( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );"
    )
    metric = "( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );"
    text = path.read_text()
    assert metric in text
    path.write_text(text.replace(metric, inch, 1))
    assert reading(FileShape(path, "in")).size == pytest.approx((254.0, 508.0, 762.0))
    assert "its own text says in" in refused(FileShape(path, "mm"))


def test_a_hole_is_counted_and_measured_round_its_edge(tmp_path):
    """Two triangles of one side left out of a box of 40 x 30 x 20: 4 edges, 2 x (30 + 20) mm round."""
    mesh = trimesh.creation.box((40.0, 30.0, 20.0))
    side = np.abs(mesh.face_normals[:, 0] - 1.0) < 1e-9
    mesh.update_faces(~side)
    found = reading(saved(tmp_path, mesh))
    assert (found.open_edges, found.holes, found.closed) == (4, 1, False)
    assert found.largest_hole == pytest.approx(100.0, rel=1e-6)
    assert found.area == pytest.approx(5200.0 - 600.0, rel=1e-6)


@pytest.mark.parametrize("share", [1, 3, 2])
def test_triangles_that_look_inward_are_turned(tmp_path, share):
    """All, a third or half of them the wrong way round: the volume is the ball's own again."""
    mesh = trimesh.creation.icosphere(subdivisions=3, radius=10.0)
    faces = mesh.faces.copy()
    faces[::share] = faces[::share, ::-1]
    spoilt = trimesh.Trimesh(mesh.vertices, faces, process=False)
    found = reading(saved(tmp_path, spoilt))
    assert found.turned == len(faces[::share])
    assert found.volume == pytest.approx(mesh.volume, rel=1e-6)


def test_a_body_inside_another_is_told_and_counts_once_and_a_void_is_taken_off(tmp_path):
    box = trimesh.creation.box((100.0, 100.0, 100.0))
    inner = trimesh.creation.box((20.0, 20.0, 20.0))
    found = reading(saved(tmp_path, trimesh.util.concatenate([inner, box])))
    assert (found.pieces, found.inner) == (2, 1)
    assert found.volume == pytest.approx(1e6, rel=1e-6)
    inner.invert()
    hollow = trimesh.util.concatenate([inner, box])
    assert reading(saved(tmp_path, hollow)).volume == pytest.approx(1e6 - 8e3, rel=1e-6)
    hollow.invert()
    assert reading(saved(tmp_path, hollow)).volume == pytest.approx(1e6 - 8e3, rel=1e-6)
    beside = trimesh.creation.box((20.0, 20.0, 20.0))
    beside.apply_translation((200.0, 0.0, 0.0))
    found = reading(saved(tmp_path, trimesh.util.concatenate([beside, box])))
    assert (found.pieces, found.inner) == (2, 0)
    assert found.volume == pytest.approx(1e6 + 8e3, rel=1e-6)


def test_triangles_of_no_area_doubles_and_corners_that_are_no_numbers_are_left_out_and_counted():
    box = trimesh.creation.box((10.0, 10.0, 10.0))
    points = np.vstack([box.vertices, [[np.nan, 0.0, 0.0], box.vertices[:2].mean(axis=0)]])
    faces = np.vstack([box.faces, box.faces[:3], box.faces[3:5, ::-1], [[0, 1, 8], [0, 0, 1]]])
    found = healed("part", points, faces.astype(np.int64), 1.0)
    assert (found.doubled, found.broken, found.flat) == (5, 1, 1)
    assert found.volume == pytest.approx(1000.0)
    sliver = np.vstack([box.faces, [[0, 1, 9]]])
    assert healed("part", points, sliver.astype(np.int64), 1.0).flat == 1


def test_nothing_but_faults_is_refused():
    with pytest.raises(GeometryFault, match="numbers"):
        healed("part", np.full((3, 3), np.inf), np.array([[0, 1, 2]]), 1.0)
    with pytest.raises(GeometryFault, match="no area"):
        healed("part", np.array([[0.0, 0, 0], [1, 0, 0], [2, 0, 0]]), np.array([[0, 1, 2]]), 1.0)


def test_a_surface_with_one_side_only_is_told():
    """Moebius band of quads, textbook form: it cannot be laid to look one way."""
    n = 40
    along = np.linspace(0.0, 2.0 * np.pi, n, endpoint=False)
    rows = [(1.0 + w * np.cos(along / 2.0), w * np.sin(along / 2.0)) for w in (-0.3, 0.3)]
    points = np.vstack([np.c_[r * np.cos(along), r * np.sin(along), z] for r, z in rows]) * 100.0
    faces = []
    for i in range(n):
        a, b = i, n + i
        c, d = (i + 1, n + i + 1) if i < n - 1 else (n, 0)
        faces += [[a, c, b], [b, c, d]]
    found = healed("part", points, np.array(faces), 1.0)
    assert found.twisted
    assert found.volume is None


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("stated", [0.2, 0.6])
def test_the_gap_to_a_noisy_ball_lies_within_its_accuracy_and_the_noise_is_read_off_it(tmp_path, seed, stated):
    """A ball of 80 mm radius, 100 mm below a plane: 20 mm apart (closed form), its points out by up to the accuracy."""
    rng = np.random.default_rng(seed)
    mesh = trimesh.creation.icosphere(subdivisions=5, radius=80.0)
    noise = np.clip(rng.normal(0.0, stated / 4.0, len(mesh.vertices)), -0.9 * stated, 0.9 * stated)
    mesh.vertices += mesh.vertices / 80.0 * noise[:, None]
    found, read = read_component(component(saved(tmp_path, mesh), stated=stated))
    gap = 100.0 - read.vertices[:, 2].max()
    assert abs(gap - 20.0) <= found.accuracy
    assert gap - found.accuracy <= 20.0
    assert found.roughness == pytest.approx(stated / 4.0, rel=0.06)


def test_a_smooth_surface_shows_next_to_no_noise(tmp_path):
    found = reading(saved(tmp_path, trimesh.creation.icosphere(subdivisions=5, radius=80.0)))
    assert found.roughness < 0.01


def test_the_accuracy_is_the_sum_of_what_it_is_made_of(tmp_path):
    """Single precision of 2000 mm is half of 2^-13 mm in each coordinate at most (IEEE 754)."""
    mesh = trimesh.creation.box((10.0, 10.0, 10.0))
    mesh.apply_translation((2000.0, 0.0, 0.0))
    points = ((0.0, 0.0, 0.0), (90.0, 0.0, 0.0), (0.0, 90.0, 0.0))
    part = component(saved(tmp_path, mesh), placing=1.0, residual=0.1, points=points)
    found, _ = read_component(part)
    assert found.rounding == pytest.approx(2005.0 * 2.0**-24 * math.sqrt(3.0))
    assert found.accuracy == pytest.approx(0.5 + found.placing + found.rounding)
    # two metres off points 90 mm apart: far beyond the points' own error
    assert found.placing > 20.0


def test_planes_and_boxes_and_outlines_are_drawn_as_they_are_given(tmp_path):
    found, mesh = read_component(component(PlaneShape((0.0, 0.0, 1000.0), (0.0, 0.0, -1.0))))
    assert mesh.vertices[:, 2].min() == pytest.approx(1000.0)
    assert found.accuracy == pytest.approx(0.5, abs=1e-6)
    tilted = np.array([0.6, 0.0, 0.8])
    _, mesh = read_component(component(PlaneShape((1.0, 2.0, 3.0), tuple(tilted))))
    assert ((mesh.vertices - [1.0, 2.0, 3.0]) @ tilted).max() == pytest.approx(0.0, abs=1e-6)
    assert mesh.volume > 0.0
    assert reading(BoxShape((0.0, 0.0, 0.0), (2.0, 3.0, 4.0))).volume == pytest.approx(24.0)
    traced = reading(OutlineShape(5.0, ((0.0, 0.0), (30.0, 0.0), (0.0, 40.0))))
    assert traced.volume == pytest.approx(600.0 * 5.0)
    backward = reading(OutlineShape(5.0, ((0.0, 40.0), (30.0, 0.0), (0.0, 0.0))))
    assert backward.volume == pytest.approx(600.0 * 5.0)


def drawn(tmp_path, points, units=1, close=True, again=False):
    document = ezdxf.new(units=units)
    for _ in range(1 + again):
        document.modelspace().add_lwpolyline(points, format="xyb", close=close)
    document.saveas(tmp_path / "a.dxf")
    return tmp_path / "a.dxf"


def test_a_traced_outline_out_of_a_dxf_keeps_its_arcs(tmp_path):
    """A square of 4 in with a half circle on one side (bulge 1): area 16 + pi 2^2 / 2 sq in."""
    path = drawn(tmp_path, [(0, 0, 0), (4, 0, 1), (4, 4, 0), (0, 4, 0)])
    found = reading(OutlineShape(INCH, file=FileShape(path, "in")))
    assert found.volume == pytest.approx((16.0 + 2.0 * math.pi) * INCH**3, rel=1e-6)
    assert found.size == pytest.approx((6 * INCH, 4 * INCH, INCH))


def test_drawings_that_are_no_outline_are_refused(tmp_path):
    square = [(0, 0, 0), (4, 0, 0), (4, 4, 0), (0, 4, 0)]

    def words(path, unit="in"):
        return refused(OutlineShape(1.0, file=FileShape(path, unit)))

    assert "open: 101.60 mm" in words(drawn(tmp_path, square, close=False))
    assert "2 polylines" in words(drawn(tmp_path, square, again=True))
    assert "its own head says in, and the sheet says mm" in words(drawn(tmp_path, square), "mm")
    path = drawn(tmp_path, square)
    path.write_bytes(path.read_bytes()[:400])
    assert "polylines" in words(path) or "cannot be read" in words(path)
    path.write_bytes(b"")
    assert "empty" in words(path)


def test_a_file_nobody_may_read_is_one_sentence(tmp_path):
    assert refused(FileShape(tmp_path / "gone.stl", "mm"))


def test_a_file_read_again_gives_the_same_from_the_cache_and_another_file_does_not(tmp_path):
    shape = saved(tmp_path, trimesh.creation.icosphere(subdivisions=2, radius=10.0))
    with keeping.cache_used(False):
        first, mesh = read_component(component(shape))
    with keeping.cache_in(tmp_path / "kept"):
        made, _ = read_component(component(shape))
        again, kept = read_component(component(shape))
        assert len(list((tmp_path / "kept").iterdir())) == 1
        inches, _ = read_component(component(FileShape(shape.path, "in")))
        saved(tmp_path, trimesh.creation.icosphere(subdivisions=2, radius=11.0))
        other, _ = read_component(component(shape))
    assert first == made == again
    assert np.array_equal(mesh.vertices, kept.vertices)
    assert np.array_equal(mesh.faces, kept.faces)
    assert inches.size == pytest.approx([s * INCH for s in first.size])
    assert other.size == pytest.approx([s * 1.1 for s in first.size])


PEAK = """
import resource, sys
from pathlib import Path
from fixturegen.shapes.mesh_files import read_mesh
from fixturegen.shapes.mesh_health import healed
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
soup = read_mesh(Path(sys.argv[1]))
found = healed("part", soup.points, soup.faces, 1.0)
print(len(found.faces), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


def test_memory_grows_by_no_more_than_six_tenths_of_a_kilobyte_for_each_triangle(tmp_path):
    """The bound that MOST_TRIANGLES states, measured in a fresh process on 80 000 triangles, a seventh turned."""
    mesh = trimesh.creation.icosphere(subdivisions=6, radius=100.0)
    faces = mesh.faces.copy()
    faces[::7] = faces[::7, ::-1]
    shape = saved(tmp_path, trimesh.Trimesh(mesh.vertices, faces, process=False))
    done = subprocess.run([sys.executable, "-c", PEAK, str(shape.path)], capture_output=True, text=True, check=True)
    count, grown = (int(word) for word in done.stdout.split())
    assert count == 20 * 4**6
    assert grown * 1024 / count < 600.0
