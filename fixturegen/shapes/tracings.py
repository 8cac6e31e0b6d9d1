"""A traced outline out of a DXF file."""

from __future__ import annotations

from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any

from fixturegen.errors import GeometryFault
from fixturegen.plate.profile import Loop, Vertex

LARGEST = 16  # [MiB] of a drawing of one line
JOINED = 0.01  # [mm] ends nearer than this are one
UNITS = {"mm": 1.0, "in": 25.4}
HEADER = {1: "in", 4: "mm"}
"""$INSUNITS of the DXF reference: 1 inches, 4 millimetres, 0 not said."""


def outline_in(path: Path, unit: str) -> Loop:
    """The one closed polyline of a drawing [mm].

    Args:
        path: DXF.
        unit: mm or in, as the sheet states it.

    Raises:
        GeometryFault: When there is none, more than one, or the file says another unit.
    """
    import ezdxf

    size = path.stat().st_size
    if size == 0:
        raise GeometryFault(path.name, "the file is empty", "export it again")
    if size > LARGEST * 2**20:
        raise GeometryFault(path.name, f"the file is {size / 2**20:.0f} MiB", "export the outline alone")
    try:
        drawing = ezdxf.readfile(path)
    except (ezdxf.DXFError, UnicodeDecodeError, ValueError, IndexError, KeyError) as fault:
        raise GeometryFault(path.name, "it cannot be read as DXF: broken or cut off", "export it again") from fault
    own = HEADER.get(int(drawing.header.get("$INSUNITS", 0)))
    if own is not None and own != unit:
        raise GeometryFault(path.name, f"its own head says {own}, and the sheet says {unit}", f'write unit = "{own}"')
    lines = list(drawing.modelspace().query("LWPOLYLINE POLYLINE"))
    if len(lines) != 1:
        words = f"it holds {len(lines)} polylines, and one is wanted"
        raise GeometryFault(path.name, words, "join the outline to one closed polyline, and leave out all else")
    return _loop(path.name, lines[0], UNITS[unit])


def _loop(name: str, line: Any, scale: float) -> Loop:
    """The corners of a polyline as a loop [mm]."""
    if line.dxftype() == "LWPOLYLINE":
        corners = [(float(x) * scale, float(y) * scale, float(b)) for x, y, b in line.get_points("xyb")]
        closed = bool(line.closed)
    else:
        corners = [
            (float(v.dxf.location.x) * scale, float(v.dxf.location.y) * scale, float(v.dxf.get("bulge", 0.0)))
            for v in line.vertices
        ]
        closed = bool(line.is_closed)
    if len(corners) > 1 and dist(corners[0][:2], corners[-1][:2]) <= JOINED:
        corners, closed = corners[:-1], True
    if not closed:
        gap = dist(corners[0][:2], corners[-1][:2]) if corners else 0.0
        words = f"its polyline is open: {gap:.2f} mm between its ends"
        raise GeometryFault(name, words, "close it")
    kept = [a for a, b in pairwise([*corners, corners[0]]) if dist(a[:2], b[:2]) > JOINED]
    if len(kept) < 2 or (len(kept) == 2 and not any(c[2] for c in kept)):
        raise GeometryFault(name, "its polyline holds no area", "trace it again")
    return tuple(Vertex(x, y, bulge) for x, y, bulge in kept)
