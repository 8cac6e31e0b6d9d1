"""Which holes of the table a locator's base takes, and how large the base is."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.jig_records import INCH, JigPlan
from fixturegen.studies.locator_records import Place
from fixturegen.studies.locator_room import ROOM, Flat, flats_meet

WRENCH = 28.0  # from a table bolt to the next plate [mm] (common practice, no source)
GROWTH = 150.0  # most a base grows to reach its holes [mm]
GROW_STEP = 10.0
APART = 2.5 * INCH  # least distance of the two table pins [mm] (common practice, no source)
SPREAD = 0.5  # two table bolts stand at least this share of the feet's length apart, where they can [1]
BESIDE = 1.5  # table holes between two holes of one base, in hole diameters [1]


def table_places(
    sheet: Sheet, plan: JigPlan, label: str, feet: Flat, kept_free: tuple[Array, ...], bases: tuple[Flat, ...]
) -> tuple[Flat, tuple[Place, Place], tuple[Place, ...]]:
    """(base, two pins, two bolts) in T [mm]: the smallest base with holes on the table's grid.

    Args:
        sheet: The build sheet.
        plan: The jig; the grid is counted from its first pin.
        label: What findings call the bracket.
        feet: Rectangle the base covers at least [mm].
        kept_free: Lines wrenches keep off, each of shape (n, 2) [mm].
        bases: Rectangles on the table that are taken [mm].

    Raises:
        GeometryFault: When there is no room on the table.
    """
    if any(flats_meet(feet, b, ROOM / 2.0) for b in bases):
        raise GeometryFault(label, "its base would stand on the jig's or another post's", "use an arm on the tube")
    edge = max(float(sheet.table.pin), thread_diameter(sheet.table.bolt)) / 2.0 + 1.0 + 1.5 * plan.stand_thickness
    places = _grid(plan, feet, kept_free)
    apart = SPREAD * max(feet[1] - feet[0], feet[3] - feet[2])
    # bolts well apart first, as long as the base does not grow too far for it
    tries = [(float(g), apart) for g in np.arange(0.0, GROWTH / 2.0, GROW_STEP)]
    tries += [(float(g), 0.0) for g in np.arange(0.0, GROWTH + GROW_STEP, GROW_STEP)]
    for grown, least in tries:
        near = [p for p in places if _growth(feet, p, edge) <= grown + 1e-9]
        found = _chosen(near, float(sheet.table.hole), least)
        if found is None:
            continue
        pins, bolts = found
        base = _round_them(feet, (*pins, *bolts), edge)
        if not any(flats_meet(base, b, ROOM / 2.0) for b in bases):
            return base, pins, bolts
    raise GeometryFault(label, "no four table holes are free round its post", "use an arm on the tube")


def _grid(plan: JigPlan, feet: Flat, kept_free: tuple[Array, ...]) -> list[Place]:
    x0, y0, pitch = plan.grid
    found = []
    for i in range(math.floor((feet[0] - GROWTH - x0) / pitch), math.ceil((feet[1] + GROWTH - x0) / pitch) + 1):
        for j in range(math.floor((feet[2] - GROWTH - y0) / pitch), math.ceil((feet[3] + GROWTH - y0) / pitch) + 1):
            p = (x0 + i * pitch, y0 + j * pitch)
            if all(float(np.min(np.hypot(line[:, 0] - p[0], line[:, 1] - p[1]))) >= WRENCH for line in kept_free):
                found.append(p)
    return found


def _growth(feet: Flat, p: Place, edge: float) -> float:
    """How far a base grows beyond its feet to hold a hole [mm]."""
    return max(feet[0] - (p[0] - edge), p[0] + edge - feet[1], feet[2] - (p[1] - edge), p[1] + edge - feet[3], 0.0)


def _chosen(places: list[Place], hole: float, least: float) -> tuple[tuple[Place, Place], tuple[Place, ...]] | None:
    """Two pins as far apart as they come, and two bolts among what is left."""
    pairs = sorted(combinations(sorted(places), 2), key=lambda q: (-round(math.dist(*q), 3), q))
    for pins in pairs:
        if math.dist(*pins) < APART:
            return None
        left = [p for p in places if all(math.dist(p, q) >= (1.0 + BESIDE) * hole for q in pins)]
        rest = sorted(combinations(sorted(left), 2), key=lambda q: (-round(math.dist(*q), 3), q))
        if rest and math.dist(*rest[0]) >= max(least, (1.0 + BESIDE) * hole):
            return pins, rest[0]
    return None


def _round_them(feet: Flat, holes: tuple[Place, ...], edge: float) -> Flat:
    xs, ys = [p[0] for p in holes], [p[1] for p in holes]
    return (
        min(feet[0], min(xs) - edge),
        max(feet[1], max(xs) + edge),
        min(feet[2], min(ys) - edge),
        max(feet[3], max(ys) + edge),
    )
