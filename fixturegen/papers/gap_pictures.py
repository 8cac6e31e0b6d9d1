"""Each pair that misses its gap at its worst pose: the whole scene with the two in colour, and the place itself."""

from __future__ import annotations

import base64
import re
from typing import TYPE_CHECKING

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array
from fixturegen.checks.clearance import where
from fixturegen.errors import GeometryFault
from fixturegen.keeping import key_of
from fixturegen.papers.cut_bodies import piece_in
from fixturegen.papers.gap_list import verdict
from fixturegen.papers.report import Picture
from fixturegen.progress import Progress, silent
from fixturegen.studies.clearance_records import ClearanceStudy, PairGap

if TYPE_CHECKING:
    from fixturegen.bodies.clearing import Scene
    from fixturegen.shapes.kernel import Shape
    from fixturegen.shapes.meshes import Mesh

Drawn = tuple["Shape | Mesh", tuple[float, float, float], float]
"""A shape, its colour and opacity."""
MOST = 12
"""Pairs drawn; each takes seconds, and the first ones must be mended before the others mean much."""
MET, MISSED, SECOND = (0.93, 0.60, 0.13), (0.70, 0.12, 0.12), (0.16, 0.42, 0.72)
"""Of the first of a pair by whether its gap is there, and of the second; told apart by lightness too."""
GHOST = (0.62, 0.65, 0.68)
DIM = 0.13  # opacity of what stands beside
ROOM = 160.0  # mm; half the side of the cube that is drawn round the nearest points
STEP = 20.0  # mm; the middle of that cube is taken to the nearest
POINT = 7.0  # mm; diameter of the ball at a nearest point
DOT = (0.05, 0.05, 0.05)
SIZE = (1200, 850)
COARSE = 0.8  # mm; sag of the meshes of what only stands beside
LONGEST = 60  # letters of a file's name
AWAY = (1.0, 0.8, 0.7)  # where the eye is, where the gap does not say
TIGHTEST = 3  # pairs shown where none misses its gap
ON_PAGE = (840, 600)


def gap_pictures(scene: Scene, study: ClearanceStudy, units: str, progress: Progress = silent) -> dict[str, bytes]:
    """PNG files by name: 01-<pair>.png the whole, 01-<pair>-close.png the place; of the worst pairs.

    Args:
        scene: The bodies and poses.
        study: Every pair, worst first.
        units: in or mm, for nothing but words beside the pictures.
        progress: Told which pair is drawn.
    """
    files: dict[str, bytes] = {}
    lines = []
    short = study.short[:MOST]
    for n, pair in enumerate(short, 1):
        progress(f"picture of {pair.labels[0]} and {pair.labels[1]}", n - 1, len(short))
        stem = f"{n:02d}-{_slug(f'{pair.first}-{pair.second}')}"
        files |= {f"{stem}{ending}.png": shot for ending, shot in _drawn(scene, pair).items()}
        lines.append(f"{stem}: {_caption(pair, units)}")
    if len(study.short) > MOST:
        lines.append(f"{len(study.short) - MOST} more pairs miss their gap; they stand in the list.")
    if lines:
        lines.insert(0, "The first of a pair in dark red, the second in blue, nearest points as balls.")
        files["about.txt"] = ("\n".join(lines) + "\n").encode("utf-8")
    return files


def pairs_shown(study: ClearanceStudy) -> tuple[PairGap, ...]:
    """Pairs that are drawn on a page: those that miss their gap, or the tightest where none does."""
    if study.short:
        return study.short[:MOST]
    shown: dict[frozenset[str], PairGap] = {}
    for pair in study.pairs:
        # the mirror image of a pair says nothing new
        shown.setdefault(frozenset(_sideless(label) for label in pair.labels), pair)
    return tuple(shown.values())[:TIGHTEST]


def _sideless(label: str) -> str:
    return re.sub(r"\b(left|right|other side)\b", "", label).strip(" ,")


def page_pictures(scene: Scene, study: ClearanceStudy, units: str) -> tuple[Picture, ...]:
    """The place itself of each pair shown, at its worst pose; before it the whole scene, of misses and the tightest.

    Args:
        scene: The bodies and poses.
        study: Every pair, worst first.
        units: in or mm.
    """
    shots = []
    for n, pair in enumerate(pairs_shown(study)):
        colour = "orange" if pair.met else "dark red"
        words = f"{_caption(pair, units)}: {verdict(pair)}. {pair.labels[0]} {colour}, {pair.labels[1]} blue"
        seen = {"": "the rest pale", "-close": "cut out round the nearest points, which are black balls"}
        shots += [
            Picture(base64.b64encode(shot).decode("ascii"), f"{words}; {seen[ending]}.")
            for ending, shot in _drawn(scene, pair, ON_PAGE, whole=n == 0 or not pair.met).items()
        ]
    return tuple(shots)


def _caption(pair: PairGap, units: str) -> str:
    gap = f"{pair.gap / 25.4:.2f} in" if units == "in" else f"{pair.gap:.1f} mm"
    shown = gap if pair.state == "apart" or pair.gap < 0.0 else pair.state
    return f"{pair.labels[0]} and {pair.labels[1]}, {shown}, {where(pair, units)}"


def _slug(words: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")[:LONGEST].rstrip("-")


def _drawn(scene: Scene, pair: PairGap, size: tuple[int, int] = SIZE, *, whole: bool = True) -> dict[str, bytes]:
    from fixturegen.shapes.pictures import digest_of, picture_bytes

    own, others = _split(scene, pair, scene.tour.places.index(pair.place))
    colours = {pair.first: MET if pair.met else MISSED, pair.second: SECOND}
    items = [(shape, colours[name], 1.0) for name, shape in own]
    ghosts = [(shape, GHOST, DIM) for shape in others]
    eye, dots = _eye(pair), _dots(pair)
    found = {}
    if whole:
        found[""] = picture_bytes([*items, *dots, *ghosts], "iso" if eye[0] >= 0.0 else "iso-rear", size, COARSE)
    around = [item for item in (*items, *ghosts) if _is_near(item[0], pair)]
    # cutting takes longer than drawing: it is kept by what is cut, and what stands far off does not enter
    told = [(digest_of(shape), colour, opacity) for shape, colour, opacity in around]
    close = keeping.kept("gap", key_of(("gap", told, pair.point, pair.other, size)), lambda: _close(around, pair, size))
    return found | {"-close": close} if close else found


def _close(around: list[Drawn], pair: PairGap, size: tuple[int, int]) -> bytes:
    """The picture of the place itself; empty where nothing of it can be cut out."""
    from fixturegen.shapes.pictures import picture_bytes

    cut: list[Drawn] = [
        (piece, colour, opacity) for shape, colour, opacity in around if (piece := _cut_round(shape, pair)) is not None
    ]
    if not any(opacity == 1.0 for _, _, opacity in cut):
        return b""
    return picture_bytes([*cut, *_dots(pair)], _eye(pair), size)


def _dots(pair: PairGap) -> list[Drawn]:
    from fixturegen.shapes import solids

    return [(solids.sphere(p, POINT), DOT, 1.0) for p in (pair.point, pair.other)]


def _split(scene: Scene, pair: PairGap, pose: int) -> tuple[list[tuple[str, Shape | Mesh]], list[Shape | Mesh]]:
    """The two of the pair by name, and what stands beside them; planes are not drawn."""
    own: list[tuple[str, Shape | Mesh]] = []
    others: list[Shape | Mesh] = []
    for item in scene.items:
        shape = scene.placed(item, pose)
        if shape is None:
            continue
        if item.thing.whole in (pair.first, pair.second):
            own.append((item.thing.whole, shape))
        else:
            others.append(shape)
    return own, others


def _eye(pair: PairGap) -> tuple[float, float, float]:
    """Square to the gap, so that it is seen, and somewhat from above."""
    gap = np.array(pair.other) - np.array(pair.point)
    eye = np.array(AWAY)
    if float(np.linalg.norm(gap)) > 1e-3:
        way = gap / np.linalg.norm(gap)
        eye = eye - float(eye @ way) * way
    if float(np.linalg.norm(eye)) < 0.2:
        eye = np.array((0.0, 0.3, 1.0))
    x, y, z = (float(v) for v in eye / np.linalg.norm(eye))
    return x, y, z


def _cube(pair: PairGap) -> tuple[Array, Array]:
    middle = (np.array(pair.point) + np.array(pair.other)) / 2.0
    # in steps: what was cut before is cut the same again where the place has moved by little
    middle = np.round(middle / STEP) * STEP + 0.0
    return middle - ROOM, middle + ROOM


def _is_near(shape: Shape | Mesh, pair: PairGap) -> bool:
    """Whether the box of a shape meets a cube round the nearest points."""
    from fixturegen.shapes import solids
    from fixturegen.shapes.meshes import Mesh

    low, high = _cube(pair)
    box = shape.bounds if isinstance(shape, Mesh) else np.array(solids.bounding_box(shape)).reshape(2, 3)
    return bool((box[0] <= high).all() and (box[1] >= low).all())


def _cut_round(shape: Shape | Mesh, pair: PairGap) -> Shape | Mesh | None:
    """What of a shape lies in a cube round the nearest points; None where nothing does, or it cannot be cut."""
    from fixturegen.shapes.meshes import Mesh

    low, high = _cube(pair)
    if isinstance(shape, Mesh):
        corners = shape.triangles
        near = ((corners.max(axis=1) > low) & (corners.min(axis=1) < high)).all(axis=1)
        return Mesh(shape.vertices, shape.faces[near], shape.deflection) if near.any() else None
    try:
        return piece_in(shape, low, high)
    except GeometryFault:
        return None
