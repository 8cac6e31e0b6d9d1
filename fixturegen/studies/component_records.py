"""Records of the parts a person has: what each is, where it stands, and how far to trust its surface.

A component of the axle stands in frame A, one of the chassis in frame V at ride height: its `rotation`
and `origin` take its own frame there, p_there = rotation @ p_own + origin. Scale is never among them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from fixturegen.axle.model import Point

Turn = tuple[Point, Point, Point]
"""Rows of a rotation."""

Moves = Literal["axle", "frame", "left", "right"]
MOVES: dict[Moves, str] = {
    "axle": "the axle",
    "frame": "the frame",
    "left": "the left knuckle",
    "right": "the right knuckle",
}
"""What a part goes with, in words."""
Unit = Literal["mm", "in"]
UPRIGHT: Turn = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True)
class FileShape:
    """A surface in a file of its own.

    Attributes:
        path: STEP, STL, OBJ or PLY.
        unit: Of the numbers in the file, as the sheet states it.
    """

    path: Path
    unit: Unit


@dataclass(frozen=True)
class BoxShape:
    """A box along the axes of its own frame: low and high corner (3,) [mm]."""

    low: Point
    high: Point


@dataclass(frozen=True)
class PlaneShape:
    """Everything behind a plane without end: a point of it (3,) [mm] and the unit way out of the body (3,)."""

    point: Point
    way: Point


@dataclass(frozen=True)
class OutlineShape:
    """A traced outline, from Z = 0 of its own frame to `depth` up; the last corner joins the first.

    Attributes:
        depth: [mm].
        corners: (x, y) [mm]; empty where they stand in a file.
        file: DXF with one closed polyline and its unit; None where `corners` are given.
    """

    depth: float
    corners: tuple[tuple[float, float], ...] = ()
    file: FileShape | None = None


Shape = FileShape | BoxShape | PlaneShape | OutlineShape


@dataclass(frozen=True)
class Component:
    """One part the person has, as it stands on the sheet.

    Attributes:
        name: Slug, one of its kind on the sheet.
        label: What the person calls it.
        kind: cover, housing, oil-pan ...
        moves_with: axle, left or right knuckle (it stands in frame A, wheels straight ahead), or frame (it stands in
            V at ride height).
        shape: A file, a box, a plane or a traced outline.
        rotation: Rows of the rotation from its own frame to where it stands.
        origin: Of its own frame where it stands (3,) [mm].
        stated: Farthest its true surface may lie from the one given, as the sheet states it [mm].
        placing: Farthest any named point may be out against its place, as accuracy and tolerance allow [mm]; what the
            best fit may leave, root mean square; 0 without points.
        residual: Root mean square distance of the named points from their places after the best fit [mm]; None
            without points.
        residuals: Of every named point: (what it is called, [mm]).
        spread: How far the places lie apart over how far the points do [1]; 1 where nothing is wrong.
        points: Named points in its own frame (3,) [mm].
    """

    name: str
    label: str
    kind: str
    moves_with: Moves
    shape: Shape
    rotation: Turn
    origin: Point
    stated: float
    placing: float = 0.0
    residual: float | None = None
    residuals: tuple[tuple[str, float], ...] = ()
    spread: float = 1.0
    points: tuple[Point, ...] = ()

    @property
    def frame(self) -> str:
        """A or V."""
        return "V" if self.moves_with == "frame" else "A"


@dataclass(frozen=True)
class Reading:
    """What was found in a component, all in its own frame, in mm.

    Attributes:
        name: Of the component.
        low: Low corner of its box (3,) [mm].
        high: High corner (3,) [mm].
        triangles: As they were used.
        vertices: As they were used.
        area: [mm2].
        volume: [mm3]; None where the surface is open.
        pieces: Surfaces that hang together.
        inner: Pieces wholly inside another.
        open_edges: Edges with a triangle on one side only.
        holes: Closed runs of open edges.
        largest_hole: Length of the longest such run [mm].
        crowded_edges: Edges with more than two triangles.
        turned: Triangles that looked the wrong way and were turned.
        flat: Triangles of no area, left out.
        doubled: Triangles written twice, left out once.
        broken: Triangles left out for a corner that is no number.
        roughness: Standard deviation of the noise read off the surface [mm]; None where too coarse to tell.
        deflection: Farthest its triangles lie from the surface of the file [mm]; 0 for a file of triangles.
        rounding: Farthest the numbers of the file may be rounded [mm].
        stated: Accuracy the sheet states [mm].
        placing: Farthest an error of the named points can put any of it out [mm].
        accuracy: Farthest its true surface may lie from the one used: sum of the four [mm].
        notes: What was found and done, in sentences.
    """

    name: str
    low: Point
    high: Point
    triangles: int
    vertices: int
    area: float
    volume: float | None
    pieces: int = 1
    inner: int = 0
    open_edges: int = 0
    holes: int = 0
    largest_hole: float = 0.0
    crowded_edges: int = 0
    turned: int = 0
    flat: int = 0
    doubled: int = 0
    broken: int = 0
    roughness: float | None = None
    deflection: float = 0.0
    rounding: float = 0.0
    stated: float = 0.0
    placing: float = 0.0
    accuracy: float = 0.0
    notes: tuple[str, ...] = field(default=())

    @property
    def size(self) -> Point:
        """Sides of its box (3,) [mm]."""
        return self.high[0] - self.low[0], self.high[1] - self.low[1], self.high[2] - self.low[2]

    @property
    def closed(self) -> bool:
        """Whether the surface has no edge and holds a volume."""
        return self.volume is not None
