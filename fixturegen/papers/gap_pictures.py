"""Each pair that misses its gap at its worst pose: the whole scene with the two in colour, and the place itself."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from fixturegen.errors import GeometryFault
from fixturegen.papers.gap_list import heat
from fixturegen.progress import Progress, silent
from fixturegen.studies.clearance_records import ClearanceStudy, PairGap

if TYPE_CHECKING:
    from fixturegen.bodies.clearing import Scene
    from fixturegen.shapes.kernel import Shape

MOST = 12
"""Pairs drawn; each takes seconds, and the first ones must be mended before the others mean much."""
SECOND = (0.16, 0.42, 0.72)
GHOST = (0.62, 0.65, 0.68)
DIM = 0.13  # opacity of what stands beside
ROOM = 160.0  # mm; half the side of the cube that is drawn round the nearest points
POINT = 7.0  # mm; diameter of the ball at a nearest point
DOT = (0.05, 0.05, 0.05)
SIZE = (1200, 850)
COARSE = 0.8  # mm; sag of the meshes of what only stands beside
LONGEST = 60  # letters of a file's name
AWAY = (1.0, 0.8, 0.7)  # where the eye is, where the gap does not say


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
        lines.insert(0, "The first of a pair in the colour of the list, the second in blue, nearest points as balls.")
        files["about.txt"] = ("\n".join(lines) + "\n").encode("utf-8")
    return files


def _caption(pair: PairGap, units: str) -> str:
    gap = f"{pair.gap / 25.4:.2f} in" if units == "in" else f"{pair.gap:.1f} mm"
    shown = gap if pair.state == "apart" or pair.gap < 0.0 else pair.state
    place = pair.place
    at = f"heave {place.heave / 25.4:+.2f} in" if units == "in" else f"heave {place.heave:+.0f} mm"
    return (
        f"{pair.labels[0]} and {pair.labels[1]}, {shown}, at {place.name} ({at}, roll {place.roll:+.1f} deg, "
        f"steer {place.steer:+.0f} deg)"
    )


def _slug(words: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")[:LONGEST].rstrip("-")


def _drawn(scene: Scene, pair: PairGap) -> dict[str, bytes]:
    from fixturegen.shapes import solids
    from fixturegen.shapes.pictures import picture_bytes

    pose = scene.tour.places.index(pair.place)
    own, others = _split(scene, pair, pose)
    colours = {pair.first: heat(pair), pair.second: SECOND}
    balls = [solids.sphere(p, POINT) for p in (pair.point, pair.other)]
    dots = [(ball, DOT, 1.0) for ball in balls]
    items = [(shape, colours[name], 1.0) for name, shape in own]
    ghosts = [(shape, GHOST, DIM) for shape in others]
    eye = _eye(pair)
    found = {"": picture_bytes([*items, *dots, *ghosts], "iso" if eye[0] >= 0.0 else "iso-rear", SIZE, COARSE)}
    near = [(cut, colours[name], 1.0) for name, shape in own if (cut := _cut_round(shape, pair)) is not None]
    if near:
        beside = [(cut, GHOST, DIM) for shape in others if (cut := _cut_round(shape, pair)) is not None]
        found["-close"] = picture_bytes([*near, *dots, *beside], eye, SIZE)
    return found


def _split(scene: Scene, pair: PairGap, pose: int) -> tuple[list[tuple[str, Shape]], list[Shape]]:
    """The two of the pair by name, and what stands beside them; planes are not drawn."""
    own: list[tuple[str, Shape]] = []
    others: list[Shape] = []
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


def _cut_round(shape: Shape, pair: PairGap) -> Shape | None:
    """What of a shape lies in a cube round the nearest points; None where nothing does, or it cannot be cut."""
    from fixturegen.shapes import solids

    middle = (np.array(pair.point) + np.array(pair.other)) / 2.0
    low, high = middle - ROOM, middle + ROOM
    box = np.array(solids.bounding_box(shape)).reshape(2, 3)
    if bool((box[0] > high).any() or (box[1] < low).any()):
        return None
    try:
        piece = solids.common(shape, solids.box(*(float(v) for v in (*low, *high))))
    except GeometryFault:
        return None
    return piece if solids.solids_in(piece) else None
