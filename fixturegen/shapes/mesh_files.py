"""Triangles as they stand in STL, OBJ and PLY files: read whole or refused in a sentence."""

from __future__ import annotations

import io
import re
import struct
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from fixturegen.errors import GeometryFault

Points = npt.NDArray[Any]
Faces = npt.NDArray[np.int64]

MOST_TRIANGLES = 4_000_000
"""Four times a large scan of one part; memory grows by less than 0.6 kB for each out of a binary STL."""

LARGEST = 1024  # [MiB] of a file that is opened: the text of as many triangles
WRITTEN = 5e-7  # [1] of the largest number: half a unit of the sixth figure, which text exports write
SINGLE = 2.0**-24  # [1] of the largest number: half a unit of the last place, IEEE 754 single precision
AGAIN = "export or copy it again"

_STL = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("count", "<u2")])
_HEAD = 84  # bytes before the first triangle of a binary STL: 80 of text and the number of triangles
BLOCK = 8 * 2**20  # bytes of a text STL taken at a time
_VERTEX = re.compile(rb"vertex([^\r\n]*)")
_ENDS = re.compile(rb"\bendsolid\b")
_ELEMENT = re.compile(rb"^element\s+(vertex|face)\s+(\d+)\s*$", re.MULTILINE)
_READERS = (ValueError, IndexError, KeyError, TypeError, AttributeError, OverflowError, EOFError, struct.error)
"""What the mesh library raises on a broken file, where it has no error of its own."""


@dataclass(frozen=True, eq=False)
class Soup:
    """Triangles of a file, in its own unit.

    Attributes:
        points: (n, 3), in the precision of the file.
        faces: Indices into `points` (m, 3).
        rounding: What a number may be rounded by, of the largest [1].
        notes: What was found, in sentences.
    """

    points: Points
    faces: Faces
    rounding: float
    notes: tuple[str, ...] = ()


def read_mesh(path: Path) -> Soup:
    """The triangles of a file, every one of them.

    Args:
        path: STL, OBJ or PLY.

    Raises:
        GeometryFault: When it is empty, cut off, too large, of another kind, or holds no triangle.
    """
    name, size = path.name, path.stat().st_size
    if size == 0:
        raise GeometryFault(name, "the file is empty", AGAIN)
    if size > LARGEST * 2**20:
        words = f"the file is {size / 2**20:.0f} MiB, and {LARGEST} MiB is the most that is opened"
        raise GeometryFault(name, words, "reduce the scan to the part alone, at the accuracy you need")
    kind = path.suffix.lower()
    if kind == ".stl":
        soup = _stl(path, size)
    elif kind == ".ply":
        soup = _ply(path)
    else:
        soup = _obj(path)
    if len(soup.faces) == 0:
        words = "it holds no triangle" + (f", only {len(soup.points)} points" if len(soup.points) else "")
        raise GeometryFault(name, words, "export it as a surface of triangles")
    return soup


def demand_few(name: str, count: int) -> None:
    """Nothing; raises a `GeometryFault` when there are more triangles than are taken."""
    if count > MOST_TRIANGLES:
        words = f"it holds {count} triangles, and {MOST_TRIANGLES} are the most that are taken"
        raise GeometryFault(name, words, "reduce the scan to the part alone, at the accuracy you need")


def _stl(path: Path, size: int) -> Soup:
    with path.open("rb") as file:
        head = file.read(_HEAD)
        start = head + file.read(1024)
    promised = struct.unpack("<I", head[80:84])[0] if len(head) == _HEAD else 0
    if size == _HEAD + promised * _STL.itemsize and len(head) == _HEAD:
        return _binary_stl(path, promised, ())
    if head.lstrip()[:5].lower() == b"solid" and b"\0" not in start:
        return _text_stl(path)
    there = (size - _HEAD) // _STL.itemsize if size > _HEAD else 0
    if len(head) < _HEAD or there < promised:
        words = f"it is cut off: {there} of the {promised} triangles it promises are there"
        raise GeometryFault(path.name, words if len(head) == _HEAD else "it is cut off in its first line", AGAIN)
    extra = size - _HEAD - promised * _STL.itemsize
    return _binary_stl(path, promised, (f"{extra} bytes stand after the last triangle it promises, not read",))


def _binary_stl(path: Path, count: int, notes: tuple[str, ...]) -> Soup:
    demand_few(path.name, count)
    raw = np.memmap(path, _STL, "r", _HEAD, (count,)) if count else np.zeros(0, _STL)
    points = np.array(raw["corners"], dtype=np.float32).reshape(-1, 3)
    return Soup(points, np.arange(3 * count, dtype=np.int64).reshape(-1, 3), SINGLE, notes)


def _text_stl(path: Path) -> Soup:
    """A text STL, a block of lines at a time: the whole text as words would take ten times its triangles."""
    begun, count, ended, found = 0, 0, False, []
    with path.open("rb") as file:
        while block := file.read(BLOCK):
            text = (block + file.readline()).lower()
            begun, count = begun + text.count(b"facet normal"), count + text.count(b"endfacet")
            ended = _ENDS.search(text) is not None
            demand_few(path.name, count)
            found.append(_numbers(path.name, b" ".join(_VERTEX.findall(text))))
    if count < begun or not ended:
        raise GeometryFault(path.name, f"it is cut off after {count} triangles", AGAIN)
    points = np.concatenate(found).reshape(-1, 3)
    if len(points) != 3 * count:
        words = f"{count} triangles are written and {len(points)} corners can be read"
        raise GeometryFault(path.name, words, AGAIN)
    return Soup(points, np.arange(3 * count, dtype=np.int64).reshape(-1, 3), WRITTEN)


def _numbers(name: str, words: bytes) -> npt.NDArray[np.float64]:
    """The numbers of a text, three to a point."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # releases differ: a word that is no number raises, or ends the reading
            numbers = np.fromstring(words, sep=" ") if words.strip() else np.zeros(0)
    except ValueError:
        numbers = np.zeros(0)
    if len(numbers) != len(words.split()) or len(numbers) % 3:
        raise GeometryFault(name, "it is broken or cut off: a corner is not written as three numbers", AGAIN)
    return numbers


def _ply(path: Path) -> Soup:
    data = path.read_bytes()
    head, mark, _ = data.partition(b"end_header")
    if not data.startswith(b"ply") or not mark:
        raise GeometryFault(path.name, "it is no PLY, or cut off in its head", AGAIN)
    promised = {name.decode(): int(count) for name, count in _ELEMENT.findall(head.replace(b"\r", b""))}
    demand_few(path.name, promised.get("face", 0))
    if not promised.get("face"):
        words = f"it holds no triangle, only {promised.get('vertex', 0)} points"
        raise GeometryFault(path.name, words, "export it as a surface of triangles")
    mesh = _loaded(path, data, "ply")
    if len(mesh.vertices) != promised.get("vertex") or len(mesh.faces) < promised["face"]:
        words = f"it is cut off: {len(mesh.faces)} of the {promised['face']} faces it promises are there"
        raise GeometryFault(path.name, words, AGAIN)
    return _checked(path.name, mesh, WRITTEN if b"format ascii" in head else SINGLE)


def _obj(path: Path) -> Soup:
    data = path.read_bytes()
    if b"\0" in data:
        raise GeometryFault(path.name, "it is no OBJ text", AGAIN)
    corners, faces = len(re.findall(rb"(?m)^\s*v\s", data)), len(re.findall(rb"(?m)^\s*f\s", data))
    demand_few(path.name, faces)
    if not faces:
        raise GeometryFault(path.name, f"it holds no triangle, only {corners} points", "export it with its faces")
    last = data.rstrip(b"\0 \t\r\n").rpartition(b"\n")[2].split()
    if not data.endswith(b"\n") and last[:1] in ([b"f"], [b"v"]) and len(last) < 4:
        raise GeometryFault(path.name, f"it is cut off in its last line, after {faces} faces", AGAIN)
    mesh = _loaded(path, data, "obj")
    if len(mesh.faces) < faces:
        words = f"{faces} faces are written and {len(mesh.faces)} can be read"
        raise GeometryFault(path.name, words, AGAIN)
    notes = () if data.endswith(b"\n") else ("its last line has no end: look whether the file is whole",)
    return _checked(path.name, mesh, WRITTEN, notes)


def _checked(name: str, mesh: Any, rounding: float, notes: tuple[str, ...] = ()) -> Soup:
    """The library's mesh as ours, corners that are not there refused."""
    points, faces = np.asarray(mesh.vertices, float), np.asarray(mesh.faces, np.int64)
    demand_few(name, len(faces))
    if len(faces) and (faces.min() < 0 or faces.max() >= len(points)):
        words = f"a triangle names point {int(faces.max()) + 1}, and {len(points)} points are there"
        raise GeometryFault(name, words, AGAIN)
    return Soup(points, faces, rounding, notes)


def _loaded(path: Path, data: bytes, kind: str) -> Any:
    """What the mesh library makes of the bytes, nothing merged, mended or left out."""
    # most jobs read no mesh, and should not pay for it
    import trimesh

    try:
        found = trimesh.load(io.BytesIO(data), file_type=kind, process=False, force="mesh", skip_materials=True)
    except _READERS as fault:
        said = " ".join(str(fault).split())[:120] or type(fault).__name__
        raise GeometryFault(path.name, f"it cannot be read: broken or cut off ({said})", AGAIN) from fault
    if not isinstance(found, trimesh.Trimesh):
        raise GeometryFault(path.name, "it holds no surface of triangles", "export it as a surface of triangles")
    return found
