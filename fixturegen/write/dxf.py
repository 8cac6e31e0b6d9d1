"""The as-cut profile of a plate part as DXF that a plasma controller runs at once.

R2000 text in model space at 1:1, the unit in header and file name, nothing but LINE, ARC and
CIRCLE. Entities stand in travel order: marks, holes and cut-outs, then the outside, each contour
whole. The same part gives the same bytes.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, Literal

from fixturegen.errors import GeometryFault
from fixturegen.keeping import kept, key_of
from fixturegen.plate import Hole, Loop, Part, Profile
from fixturegen.plate.profile import Edge, Operation, bounds, circle, edges, reversed_loop
from fixturegen.write.strokes import strokes

Units = Literal["mm", "in"]

CUT_OUT = "CUT_OUT"
CUT_IN = "CUT_IN"
MARK = "MARK"
NOTE = "NOTE"
LAYERS = ((MARK, 3), (CUT_IN, 1), (CUT_OUT, 5), (NOTE, 8))

MM_PER_INCH = 25.4  # exact, international inch
INSUNITS = {"in": 1, "mm": 4}  # DXF reference, $INSUNITS
WITNESS = 25.4  # side of the witness square [mm]: 1.000 in
PILOT_ARM = 1.5  # half the length of a line of a pilot cross [mm]; 1/8 in cross, common practice
NOTE_GAP = 12.0  # clear of the part, so that no note reads as part of it [mm]
NOTE_HEIGHT = 5.0  # lettering on the note layer [mm]
DECIMALS = 9  # of a coordinate; far below the 0.001 mm a contour may gap
FULL = 1e-9  # a sweep this close to a full turn is a circle [rad]
SAME = 1e-9  # centres this close are one [mm]


def file_name(part: Part, units: Units) -> str:
    """Name of the part's DXF file; it carries the unit."""
    return f"{part.name}_{units}.dxf"


def cut_diameter(hole: Hole) -> float | None:
    """Diameter the cutter makes [mm]; None for a pilot mark."""
    if hole.operation is Operation.PILOT:
        return None
    return hole.finished if hole.cut is None else hole.cut


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


def in_travel_order(points: Sequence[tuple[float, float]], start: tuple[float, float]) -> list[int]:
    """Indices of the points (n, 2) [mm], each time the nearest one left; ties by index."""
    left, here, order = list(range(len(points))), start, []
    while left:
        nearest = min(left, key=lambda i: (round(math.dist(points[i], here), 6), i))
        left.remove(nearest)
        order.append(nearest)
        here = points[nearest]
    return order


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


class _Sheet:
    """The model space of one DXF file; takes mm, writes the file's unit."""

    def __init__(self, units: Units) -> None:
        import ezdxf

        with _fixed():
            self.document: Any = ezdxf.new("R2000")
        self.document.header["$INSUNITS"] = INSUNITS[units]
        self.document.header["$MEASUREMENT"] = 1 if units == "mm" else 0
        self.document.header["$LUNITS"] = 2
        for name, colour in LAYERS:
            self.document.layers.add(name, color=colour)
        self.space: Any = self.document.modelspace()
        self.scale = 1.0 if units == "mm" else 1.0 / MM_PER_INCH

    def _v(self, value: float) -> float:
        return round(value * self.scale, DECIMALS) + 0.0  # no negative zero in the file

    def line(self, layer: str, x0: float, y0: float, x1: float, y1: float) -> None:
        start, end = (self._v(x0), self._v(y0)), (self._v(x1), self._v(y1))
        self.space.add_line(start, end, dxfattribs={"layer": layer})

    def circle(self, layer: str, x: float, y: float, diameter: float) -> None:
        centre, radius = (self._v(x), self._v(y)), self._v(diameter / 2.0)
        self.space.add_circle(centre, radius, dxfattribs={"layer": layer})

    def edge(self, layer: str, e: Edge) -> None:
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
        ring = as_circle(loop)
        if ring is not None:
            self.circle(layer, *ring)
            return
        for e in edges(loop):
            self.edge(layer, e)

    def text(self, layer: str, text: str, x: float, y: float, height: float, angle: float) -> None:
        for stroke in strokes(text, x, y, height, angle):
            self.line(layer, *stroke)

    def bytes(self) -> bytes:
        out = io.StringIO(newline="\n")
        with _fixed():
            self.document.write(out)
        return out.getvalue().encode("ascii", "backslashreplace")


def _marks(sheet: _Sheet, part: Part, profile: Profile) -> None:
    pilots = [h for h in profile.holes if cut_diameter(h) is None]
    order = in_travel_order([(h.x, h.y) for h in pilots], (0.0, 0.0))
    for hole in (pilots[i] for i in order):
        sheet.line(MARK, hole.x - PILOT_ARM, hole.y, hole.x + PILOT_ARM, hole.y)
        sheet.line(MARK, hole.x, hole.y - PILOT_ARM, hole.x, hole.y + PILOT_ARM)
    for mark in part.marks:
        if mark.to is not None:
            sheet.line(MARK, mark.x, mark.y, *mark.to)
        if mark.text:
            sheet.text(MARK, mark.text, mark.x, mark.y, mark.height, mark.angle)


def _cuts(sheet: _Sheet, profile: Profile, corner: tuple[float, float]) -> None:
    # the usual swirl leaves the square edge on the torch's right: the outside is run clockwise,
    # openings counter-clockwise, so that the part has it everywhere (common practice, no source)
    cut = ((h.x, h.y, cut_diameter(h)) for h in profile.holes)
    inside = [circle(x, y, diameter) for x, y, diameter in cut if diameter is not None]
    inside += [reversed_loop(loop) for loop in profile.inner]
    for i in in_travel_order([(loop[0].x, loop[0].y) for loop in inside], corner):
        sheet.loop(CUT_IN, inside[i])
    sheet.loop(CUT_OUT, reversed_loop(profile.outer))


def note_lines(part: Part, units: Units, kerf: float = 0.0) -> tuple[str, ...]:
    """What the note layer says beside the part.

    Args:
        part: The part.
        units: Unit of the file.
        kerf: Allowed for in the contours [mm]; 0 when the controller does that.
    """
    added = f"KERF {kerf / MM_PER_INCH:.3f} IN IS ALLOWED FOR" if kerf else "KERF IS NOT ALLOWED FOR"
    unit = "MILLIMETRES" if units == "mm" else "INCHES"
    return (
        f"{part.name.upper()}  MAKE {part.quantity}",
        f"PLATE {part.thickness / MM_PER_INCH:.3f} IN ({part.thickness:.2f} MM)  FILE IN {unit}",
        _counted(part),
        f"SQUARE IS 1.000 IN = 25.4 MM. {added}.",
        "DO NOT CUT THIS LAYER",
    )


def _counted(part: Part) -> str:
    """Overall size and how many pierces and pilot marks, to be compared with what the controller shows."""
    profile = part.profile
    if profile is None:
        return ""
    x0, y0, x1, y1 = bounds(profile.outer)
    cut = sum(cut_diameter(h) is not None for h in profile.holes)
    return (
        f"{(x1 - x0) / MM_PER_INCH:.3f} X {(y1 - y0) / MM_PER_INCH:.3f} IN OVERALL  "
        f"PIERCES {1 + cut + len(profile.inner)}  PILOT MARKS {len(profile.holes) - cut}"
    )


def _notes(sheet: _Sheet, lines: Iterable[str], corner: tuple[float, float]) -> None:
    x, y = corner[0], corner[1] - NOTE_GAP - WITNESS
    ring = ((x, y), (x + WITNESS, y), (x + WITNESS, y + WITNESS), (x, y + WITNESS))
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        sheet.line(NOTE, *a, *b)
    for i, words in enumerate(lines):
        base = y + WITNESS - NOTE_HEIGHT - i * 1.35 * NOTE_HEIGHT
        sheet.text(NOTE, words, x + WITNESS + NOTE_HEIGHT, base, NOTE_HEIGHT, 0.0)


def dxf_bytes(part: Part, units: Units = "mm", kerf: float = 0.0) -> bytes:
    """The DXF file of a plate part, as cut.

    Args:
        part: A plate part; its holes carry what is done at the cutter.
        units: Unit of the file.
        kerf: What the contours allow for already [mm] (see `kerf.torch_part`); told in the note.

    Raises:
        GeometryFault: When the part has no flat profile.
    """
    if part.profile is None:
        raise GeometryFault(part.name, "has no flat profile to cut", "make it on the lathe or saw")
    profile = part.profile
    return kept("dxf", key_of(("dxf", part, units, kerf)), lambda: _drawn(part, profile, units, kerf))


def _drawn(part: Part, profile: Profile, units: Units, kerf: float) -> bytes:
    xmin, ymin, _, _ = bounds(profile.outer)
    sheet = _Sheet(units)
    _marks(sheet, part, profile)
    _cuts(sheet, profile, (xmin, ymin))
    _notes(sheet, note_lines(part, units, kerf), (xmin, ymin))
    return sheet.bytes()
