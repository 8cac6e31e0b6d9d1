"""Mesh files written by trimesh, whole and spoilt."""

import numpy as np
import pytest
import trimesh

from fixturegen.errors import GeometryFault
from fixturegen.shapes import mesh_files
from fixturegen.shapes.mesh_files import read_mesh

FORMS = {"binary.stl": "stl", "text.stl": "stl_ascii", "a.obj": "obj", "b.ply": "ply"}


def written(tmp_path, name, mesh=None):
    data = (mesh or trimesh.creation.icosphere(subdivisions=2, radius=50.0)).export(file_type=FORMS[name])
    path = tmp_path / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return path


def refused(path):
    with pytest.raises(GeometryFault) as told:
        read_mesh(path)
    assert told.value.remedy
    return told.value.words


@pytest.mark.parametrize("name", FORMS)
def test_every_triangle_of_a_whole_file_is_there(tmp_path, name):
    soup = read_mesh(written(tmp_path, name))
    assert len(soup.faces) == 320  # 20 faces, each parted in four twice
    far = np.linalg.norm(soup.points, axis=1)
    assert far == pytest.approx(50.0, abs=50.0 * 3.0**0.5 * soup.rounding + 1e-9)


@pytest.mark.parametrize("name", FORMS)
@pytest.mark.parametrize("share", [0.0, 0.01, 0.5, 0.98])
def test_a_file_cut_off_anywhere_is_refused(tmp_path, name, share):
    path = written(tmp_path, name)
    data = path.read_bytes()
    path.write_bytes(data[: int(share * len(data))])
    if name == "a.obj" and share > 0.9:  # an OBJ promises no number of faces: only the words of its last line tell
        assert any("no end" in n for n in read_mesh(path).notes) or len(read_mesh(path).faces) < 320
        return
    words = refused(path)
    assert "cut off" in words or "empty" in words or "no triangle" in words


@pytest.mark.parametrize("block", [64, 1000, 10**6])
def test_a_text_file_is_the_same_in_blocks_of_any_size(tmp_path, monkeypatch, block):
    """The library's own reader takes it whole."""
    path = written(tmp_path, "text.stl")
    monkeypatch.setattr(mesh_files, "BLOCK", block)
    soup = read_mesh(path)
    whole = trimesh.load(path, process=False)
    assert np.array_equal(soup.points[soup.faces], np.asarray(whole.triangles))


def test_a_corner_that_is_no_number_is_refused_and_not_a_number_is_read_as_that(tmp_path):
    path = written(tmp_path, "text.stl")
    text = path.read_text()
    first = next(line for line in text.splitlines() if "vertex" in line)
    path.write_text(text.replace(first, "vertex 1 2 x", 1))
    assert "not written as three numbers" in refused(path)
    path.write_text(text.replace(first, "vertex 1 2", 1))
    assert "not written as three numbers" in refused(path)
    path.write_text(text.replace(first, "vertex nan 2 3", 1).upper())
    assert np.isnan(read_mesh(path).points).sum() == 1


def test_a_binary_file_says_how_many_of_its_triangles_are_there(tmp_path):
    path = written(tmp_path, "binary.stl")
    path.write_bytes(path.read_bytes()[: 84 + 50 * 100 + 7])
    assert "100 of the 320 triangles" in refused(path)


def test_bytes_after_the_last_triangle_are_told_and_not_read(tmp_path):
    path = written(tmp_path, "binary.stl")
    path.write_bytes(path.read_bytes() + b"12345")
    soup = read_mesh(path)
    assert len(soup.faces) == 320
    assert "5 bytes" in soup.notes[0]


def test_a_binary_file_that_begins_like_text_is_read_as_what_it_is(tmp_path):
    path = written(tmp_path, "binary.stl")
    path.write_bytes(b"solid scan of a cover".ljust(80) + path.read_bytes()[80:])
    assert len(read_mesh(path).faces) == 320


def test_a_cloud_of_points_is_no_surface(tmp_path):
    path = tmp_path / "cloud.ply"
    path.write_bytes(trimesh.PointCloud(np.eye(3)).export(file_type="ply"))
    assert "no triangle, only 3 points" in refused(path)
    path = tmp_path / "cloud.obj"
    path.write_text("v 0 0 0\nv 1 0 0\n")
    assert "no triangle, only 2 points" in refused(path)


def test_polygons_are_parted_and_corners_that_are_not_there_refused(tmp_path):
    path = tmp_path / "a.obj"
    path.write_text("v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 4\n")
    assert len(read_mesh(path).faces) == 2
    path.write_text("v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 9\n")
    assert "cannot be read" in refused(path) or "names point" in refused(path)


def test_too_many_triangles_are_refused_before_they_are_read(tmp_path, monkeypatch):
    monkeypatch.setattr(mesh_files, "MOST_TRIANGLES", 319)
    for name in FORMS:
        assert "320 triangles, and 319" in refused(written(tmp_path, name)), name


def test_a_picture_is_no_mesh(tmp_path):
    for name in ("a.stl", "a.ply", "a.obj"):
        path = tmp_path / name
        path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(300))
        assert refused(path)
