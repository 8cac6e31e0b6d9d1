"""Packed meshes read back by other means: closed forms of boxes, holes and cylinders."""

import math
import zlib

import numpy as np
import pytest

from fixturegen.shapes import solids
from fixturegen.shapes.meshes import mesh_of
from fixturegen.shapes.rims import rims_of
from fixturegen.viewer.packing import Packed, packed_shape, sharp_edges
from tests.viewer.toy import BORE, HOLES, plate


def read_back(packed: Packed) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Corners [mm], facets, edges and rims of a blob, byte by byte."""
    raw = zlib.decompress(packed.blob)
    counts = [int.from_bytes(raw[4 * k : 4 * k + 4], "little") for k in range(4)]
    at = 16
    found = []
    for many in (3 * counts[0], 3 * counts[1], 2 * counts[2]):
        total, numbers = 0, []
        for i in range(many):
            folded = sum(raw[at + k * many + i] << (8 * k) for k in range(4))
            total += folded // 2 if folded % 2 == 0 else -(folded + 1) // 2
            numbers.append(total)
        at += 4 * many
        found.append(np.array(numbers))
    corners = found[0].reshape(3, -1).T * packed.step + np.array(packed.low)
    return corners, found[1].reshape(-1, 3), found[2].reshape(-1, 2), np.frombuffer(raw[at:], "<f4").reshape(-1, 7)


def test_a_packed_box_has_its_volume_its_corners_and_its_twelve_edges() -> None:
    low, high = (-5.0, 2.0, 1.0), (395.0, 22.0, 31.0)
    corners, facets, edges, rims = read_back(packed_shape(solids.box(*low, *high)))
    a, b, c = (corners[facets[:, k]] for k in range(3))
    # divergence theorem
    assert np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0 == pytest.approx(400.0 * 20.0 * 30.0, rel=1e-4)
    wanted = {(x, y, z) for x in (-5.0, 395.0) for y in (2.0, 22.0) for z in (1.0, 31.0)}
    step = 400.0 / 65535
    assert all(min(math.dist(p, w) for w in wanted) <= step for p in corners)
    assert len(edges) == 12
    assert len(rims) == 0


def test_a_hole_has_its_middle_on_both_faces() -> None:
    _, _, _, rims = read_back(packed_shape(plate()))
    wanted = sorted((x, y, z, 0.0, 0.0, 1.0, BORE / 2.0) for x, y in HOLES for z in (0.0, 10.0))
    assert np.allclose(sorted(map(tuple, rims)), wanted, atol=1e-4)


def test_a_cylinder_is_sharp_at_its_ends_alone() -> None:
    mesh = mesh_of(solids.cylinder((0.0, 0.0, 0.0), (0.0, 0.0, 50.0), 80.0), 0.1)
    ends = mesh.vertices[sharp_edges(mesh)]
    assert np.allclose(ends[:, 0, 2], ends[:, 1, 2])
    assert set(ends[:, 0, 2].round(6)) == {0.0, 50.0}


def test_where_a_shape_stands_does_not_enter() -> None:
    turned = solids.transformed(plate(), ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)), (7.0, 8.0, 9.0))
    assert packed_shape(turned) == packed_shape(plate())
    assert np.allclose(rims_of(turned), rims_of(plate()))
