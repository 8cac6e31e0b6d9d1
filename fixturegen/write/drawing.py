"""The model space of one DXF file: lines, arcs, circles or closed polylines on four layers, and nothing else."""

from __future__ import annotations

import io
import logging
import math
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Literal

from fixturegen.plate import Loop
from fixturegen.plate.profile import Edge, edges
from fixturegen.write.file_rules import FileRules
from fixturegen.write.strokes import strokes

Units = Literal["mm", "in"]

CUT_OUT = "CUT_OUT"
CUT_IN = "CUT_IN"
MARK = "MARK"
NOTE = "NOTE"
LAYERS = ((MARK, 3), (CUT_IN, 1), (CUT_OUT, 5), (NOTE, 8))

MM_PER_INCH = 25.4  # exact, international inch
INSUNITS = {"in": 1, "mm": 4}  # DXF reference, $INSUNITS
DECIMALS = 9  # of a coordinate; far below the 0.001 mm a contour may gap
FULL = 1e-9  # a sweep this close to a full turn is a circle [rad]
SAME = 1e-9  # centres this close are one [mm]


def as_circle(loop: Loop) -> tuple[float, float, float] | None:
    """(x, y, diameter) [mm] of a loop that is one circle; None otherwise."""
    ring = edges(loop)
    first = ring[0].centre
    if first is None or abs(abs(sum(e.sweep_rad for e in ring)) - 2.0 * math.pi) > FULL:
        return None
    for e in ring:
        if e.centre is None or math.dist(e.centre, first) > SAME:
            return None
    return first[0], first[1], 2.0 * ring[0].radius


@contextmanager
def _fixed() -> Iterator[None]:
    """Times, GUIDs and version text of the library held still (its own switch), then put back."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


@contextmanager
def _quiet() -> Iterator[None]:
    """The library's word that R12 carries no unit left out: it would stand on the screen once a file."""
    log = logging.getLogger("ezdxf")
    before = log.level
    log.setLevel(logging.ERROR)
    try:
        yield
    finally:
        log.setLevel(before)


class Drawing:
    """The model space of one DXF file; takes mm, writes the file's unit.

    R12 has no place for the unit in its header: file name, note and witness square tell it there.
    """

    def __init__(self, units: Units, rules: FileRules) -> None:
        import ezdxf

        with _fixed(), _quiet():
            self.document: Any = ezdxf.new(rules.version)
        if rules.version != "R12":
            self.document.header["$INSUNITS"] = INSUNITS[units]
            self.document.header["$MEASUREMENT"] = 1 if units == "mm" else 0
            self.document.header["$LUNITS"] = 2
        for name, colour in LAYERS:
            self.document.layers.add(name, color=colour)
        self.space: Any = self.document.modelspace()
        self.rules = rules
        self.scale = 1.0 if units == "mm" else 1.0 / MM_PER_INCH

    def _v(self, value: float) -> float:
        return round(value * self.scale, DECIMALS) + 0.0  # no negative zero in the file

    def line(self, layer: str, x0: float, y0: float, x1: float, y1: float) -> None:
        """A line [mm]."""
        start, end = (self._v(x0), self._v(y0)), (self._v(x1), self._v(y1))
        self.space.add_line(start, end, dxfattribs={"layer": layer})

    def circle(self, layer: str, x: float, y: float, diameter: float) -> None:
        """A circle [mm]."""
        centre, radius = (self._v(x), self._v(y)), self._v(diameter / 2.0)
        self.space.add_circle(centre, radius, dxfattribs={"layer": layer})

    def edge(self, layer: str, e: Edge) -> None:
        """A line or an arc."""
        if e.centre is None:
            self.line(layer, e.x0, e.y0, e.x1, e.y1)
            return
        start = math.degrees(math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]))
        end = math.degrees(math.atan2(e.y1 - e.centre[1], e.x1 - e.centre[0]))
        if e.sweep_rad < 0.0:  # an ARC always runs counter-clockwise
            start, end = end, start
        self.space.add_arc(
            (self._v(e.centre[0]), self._v(e.centre[1])),
            self._v(e.radius),
            round(start % 360.0, DECIMALS),
            round(end % 360.0, DECIMALS),
            dxfattribs={"layer": layer},
        )

    def loop(self, layer: str, loop: Loop) -> None:
        """A contour in its own direction; one that is a circle as such."""
        ring = as_circle(loop)
        if ring is not None:
            self.circle(layer, *ring)
        elif self.rules.entities == "polyline":
            points = [(self._v(v.x), self._v(v.y), round(v.bulge, 12) + 0.0) for v in loop]
            add = self.space.add_polyline2d if self.rules.version == "R12" else self.space.add_lwpolyline
            add(points, format="xyb", close=True, dxfattribs={"layer": layer})
        else:
            for e in edges(loop):
                self.edge(layer, e)

    def text(self, layer: str, text: str, x: float, y: float, height: float, angle: float) -> None:
        """Lettering as single strokes."""
        for stroke in strokes(text, x, y, height, angle):
            self.line(layer, *stroke)

    def bytes(self) -> bytes:
        """The file."""
        out = io.StringIO(newline="\n")
        with _fixed():
            self.document.write(out)
        return out.getvalue().encode("ascii", "backslashreplace")
