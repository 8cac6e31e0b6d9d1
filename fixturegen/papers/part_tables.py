"""The tables beside the pictures of parts; row numbers are the numbers drawn in the picture."""

from __future__ import annotations

import math

from fixturegen.papers.words import INCH
from fixturegen.plate import Profile, Turned

PLATE_HEAD = ("No.", "Hole", "x", "y", "Finished", "At the cutter", "Then")
TURNED_HEAD = ("No.", "From the face", "Length", "Diameter", "Limits", "Note")

Row = tuple[str, ...]
Flats = tuple[float, float, float, tuple[float, ...]]


def plate_rows(profile: Profile) -> tuple[Row, ...]:
    """One row for each hole of a plate, in inches."""
    rows = []
    for n, h in enumerate(profile.holes, 1):
        cut = "pilot mark" if h.cut is None else f"{h.cut / INCH:.3f} in"
        place = (f"{round(v / INCH, 3) + 0.0:.3f}" for v in (h.x, h.y))
        rows.append((str(n), h.label or h.purpose.value, *place, f"{h.finished / INCH:.4f} in", cut, h.note))
    return tuple(rows)


def flats_of(turned: Turned) -> tuple[Flats, ...]:
    """Milled flats by place and depth: (from Z, to Z, distance from the axis [mm], directions [deg])."""
    found: dict[tuple[float, float, float], list[float]] = {}
    for z0, z1, distance, way in turned.flats:
        found.setdefault((z0, z1, distance), []).append(way)
    return tuple((*key, tuple(ways)) for key, ways in found.items())


def cross_of(turned: Turned) -> tuple[tuple[float, float, str, tuple[float, ...]], ...]:
    """Holes across the axis by place: (Z [mm], diameter [mm], note, directions [deg])."""
    found: dict[tuple[float, float, str], list[float]] = {}
    for z, d, way, note in turned.cross_holes:
        found.setdefault((z, d, note), []).append(way)
    return tuple((*key, tuple(ways)) for key, ways in found.items())


def axial_of(turned: Turned) -> tuple[tuple[float, float, str, tuple[tuple[float, float], ...]], ...]:
    """Holes along the axis by circle: (distance from the axis [mm], diameter [mm], note, places (x, y) [mm])."""
    found: dict[tuple[float, float, str], list[tuple[float, float]]] = {}
    for x, y, d, note in turned.axial_holes:
        found.setdefault((round(math.hypot(x, y), 6), d, note), []).append((x, y))
    return tuple((*key, tuple(places)) for key, places in found.items())


def turned_rows(turned: Turned) -> tuple[Row, ...]:
    """Outside, bores, cross holes, holes along the axis, flats and saw cut, in inches."""
    rows: list[Row] = []
    at = 0.0
    for s in turned.steps:
        limits = "" if s.tolerance is None else f"{s.tolerance[0] / INCH:+.4f} / {s.tolerance[1] / INCH:+.4f} in"
        rows.append((_n(at, 3), _n(s.length, 3), _diameter(s.diameter, s.end_diameter), limits, s.note))
        at += s.length
    for z0, z1, d0, d1, note in turned.bores:
        rows.append((_n(z0, 3), _n(z1 - z0, 3), f"bore {_diameter(d0, d1)}", "", note))
    for z, d, note, turns in cross_of(turned):
        rows.append((_n(z, 3), "cross hole", _n(d, 4), f"at {_turns(turns)} deg", note))
    for _, d, note, places in axial_of(turned):
        where = "; ".join(f"x {_n(x, 3)}, y {_n(y, 3)}" for x, y in places)
        rows.append(("along the axis", where, _n(d, 4), "", note))
    for z0, z1, distance, ways in flats_of(turned):
        many = "flat" if len(ways) == 1 else f"{len(ways)} flats"
        words = f"{many}, {_n(distance, 4)} from the axis"
        rows.append((_n(z0, 3), _n(z1 - z0, 3), words, f"at {_turns(ways)} deg", "mill"))
    if turned.saw_cut > 0.0:
        rows.append(("", "saw cut", _n(turned.saw_cut, 3), "", "one slot through the wall, after drilling and tapping"))
    return tuple((str(n), *row) for n, row in enumerate(rows, 1))


def _turns(ways: tuple[float, ...]) -> str:
    return ", ".join(f"{w:.0f}" for w in ways)


def _n(value: float, places: int) -> str:
    return f"{round(value / INCH, places) + 0.0:.{places}f}"


def _diameter(first: float, last: float | None) -> str:
    return _n(first, 4) if last is None or last == first else f"{_n(first, 4)} to {_n(last, 4)}"
