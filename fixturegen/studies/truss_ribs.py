"""Ribs of a truss, the rooms between them, and what is cut out of its plates: lightening, drains, vents, lift holes."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import Mount
from fixturegen.studies.centre_shape import FLOOR
from fixturegen.studies.edge_lines import Ring, ring_round
from fixturegen.studies.truss_edges import JOINT_ROOM, Obstacle, grown, lower_edge, points_along, rib_floor
from fixturegen.studies.truss_records import Cell, Rib, SidePlate, TrussPlan

LEAST_RIB = 46.0  # a rib less tall than this is none [mm] (common practice, no source)
APART = 45.0  # from rib to rib at least, so that a torch gets between [mm] (common practice, no source)
SNIPE = 11.0  # radius of the corners of a rib that are cut away, so that water passes [mm]
DRAIN = 9.0  # radius of a drain in a lower edge: 3/4 in is not closed by scale and mud [mm] (common practice)
DRAIN_ROOM = 8.0  # level floor beside a drain [mm]
VENT = 12.7  # diameter of a vent [mm] (common practice, no source)
LIFT = 28.6  # diameter of a hole for a lifting bar: an inch bar goes in [mm]
LIFT_STEP = 5.0  # along the axle between places that are tried for one [mm]
LIFT_EDGE = 1.5  # steel round a lift hole, in its diameters (common practice, no source)
SHARE = 0.5  # of the height of a side plate that a lightening hole may take
LARGEST = 76.0  # diameter of a lightening hole at most [mm]
LEAST_LIGHT = 32.0  # and at least: smaller ones save nothing [mm]
RULE = 1.5  # least steel beside an opening, in thicknesses (common practice, no source)
RIB_ROOM = 22.0  # from a rib's middle to an opening beside it [mm]: tab, slot and steel


def with_ribs(sheet: Sheet, axle: AxleModel, plan: TrussPlan, on_top: tuple[Mount, ...]) -> TrussPlan:
    """The plan with ribs, rooms and openings.

    Args:
        sheet: The build sheet.
        axle: The axle.
        plan: Side plates and top.
        on_top: Brackets that stand on the truss: a rib stands under each of their plates.
    """
    asked = [_rib(sheet, axle, plan, y, under) for y, under in _stations(sheet, plan, on_top)]
    made = [r for r in asked if r is not None]
    plan = replace(plan, ribs=tuple(replace(r, name=f"truss-rib-{n}") for n, r in enumerate(made, 1)))
    lifts = _lifts(sheet, plan)
    cells, lights, drains, vents = [], [], [], []
    limits = [plan.ends[0], *(r.station for r in plan.ribs), plan.ends[1]]
    for k, (a, b) in enumerate(pairwise(limits)):
        first, last = k == 0, k == len(limits) - 2
        light = _light(sheet, plan, a, b, lifts)
        # over a bridged casting the air below is drain enough, and a notch in an edge that is not welded is none
        bridged = plan.bridged and b > axle.section[0] - JOINT_ROOM and a < axle.section[1] + JOINT_ROOM
        drain = [] if bridged else _drain(plan, a, b)
        lifted = [y for y, _, _ in lifts if a < y < b]
        own = [] if light is not None or lifted else _vent(plan, a, b)
        lights += [] if light is None else [light]
        vents += own
        drains += drain
        high = [*([light[0]] if light else []), *lifted, *(y for y, _ in own)]
        cells.append(Cell(a, b, tuple(drain), tuple(high), int(first) + int(last)))
    cells = _vented(cells)
    plates = tuple(_opened(p, drains, (*lights, *((y, z, VENT) for y, z in vents), *lifts)) for p in plan.plates)
    return replace(plan, plates=plates, cells=tuple(cells))


def _vented(cells: list[Cell]) -> list[Cell]:
    """Rooms without an opening of their own breathe through the cut corners of their ribs into the next ones."""
    high = [c.vents or ((c.right,) if c.open_ends else ()) for c in cells]
    for ways in (range(1, len(cells)), range(len(cells) - 2, -1, -1)):
        for i in ways:
            near = i - 1 if ways.step > 0 else i + 1
            if not high[i] and high[near]:
                high[i] = high[near]
    return [replace(c, vents=tuple(v)) for c, v in zip(cells, high, strict=True)]


def _stations(sheet: Sheet, plan: TrussPlan, on_top: tuple[Mount, ...]) -> list[tuple[float, str]]:
    """Middle planes of ribs, right to left, and the bracket each stands under."""
    t = plan.thickness
    asked = []
    for before, after in pairwise(plan.runs):
        # under the flatter of the two runs that meet there, so that it carries the seam between them
        way = 1.0 if abs(after.slope) < abs(before.slope) else -1.0
        asked.append((before.left[0] + way * (t / 2.0 + 2.0), ""))
    under = []
    for mount in on_top:
        half = (mount.inside + mount.thickness) / 2.0 if mount.joint else 0.0
        # a plate square to a bolt that is turned in plan crosses the truss between these
        under += [(mount.point[1] + s * half, mount.name) for s in (-1.0, 1.0)]
    kept = [u for u in under if plan.ends[0] < u[0] < plan.ends[1]]
    found: list[tuple[float, str]] = []
    for y, name in sorted(kept):
        if not found or y - found[-1][0] >= APART:
            found.append((y, name))
    found += [a for a in asked if all(abs(a[0] - y) >= APART for y, _ in found)]
    pitch = 203.2 if sheet.truss is None else float(sheet.truss.ribs)
    found.sort()
    limits = [plan.ends[0], *(y for y, _ in found), plan.ends[1]]
    more = []
    for a, b in pairwise(limits):
        n = math.ceil((b - a) / pitch)
        more += [(a + (b - a) * k / n, "") for k in range(1, n)]
    return sorted(found + more)


def _rib(sheet: Sheet, axle: AxleModel, plan: TrussPlan, station: float, under: str) -> Rib | None:
    """A rib at a station; None where the truss is too low for one."""
    from shapely.geometry import Point, box

    half = plan.thickness / 2.0
    y = (station - half, station + half)
    rear, front = plan.plates[0].x[1], plan.plates[1].x[0]
    top = min(plan.underside(v) for v in y)
    floor, _ = rib_floor(sheet, axle, *y, (rear, front), bridged=plan.bridged)
    blocked = grown(floor)
    whole = box(rear, FLOOR / 2.0, front, top).difference(blocked)
    corners = [(x, _floor_at(whole, x)) for x in (rear + 0.01, front - 0.01)]
    if top - max(z for _, z in corners) < LEAST_RIB:
        return None
    for x, z in corners:
        whole = whole.difference(Point(x, z).buffer(SNIPE, quad_segs=48))
    label = "Rib of the truss" + (f" under the {under} bracket" if under else "")
    return Rib("truss-rib", label, y, (rear, front), lower_edge(whole, label, plan.thickness), top, under)


def _floor_at(shape: object, x: float) -> float:
    from shapely.geometry import LineString

    cut = LineString([(x, FLOOR), (x, -FLOOR)]).intersection(shape)
    return float(cut.bounds[1]) if not cut.is_empty else -FLOOR


def _floor(plan: TrussPlan, y: float) -> float:
    """Highest lower edge of both side plates at a station [mm]."""
    found = [spans[0][0] for p in plan.plates if (spans := p.spans(y))]
    return max(found, default=plan.underside(y))


def _floors(plan: TrussPlan, a: float, b: float) -> tuple[Array, Array]:
    ys = np.linspace(a, b, max(3, math.ceil(b - a) // 2))
    return ys, np.array([_floor(plan, float(y)) for y in ys])


def _light(
    sheet: Sheet, plan: TrussPlan, a: float, b: float, lifts: tuple[tuple[float, float, float], ...]
) -> tuple[float, float, float] | None:
    """A lightening hole in the middle of a room: (station, height, diameter); None where there is no room for one."""
    if sheet.truss is None or not sheet.truss.lightening:
        return None
    y = (a + b) / 2.0
    steel = max(RULE * plan.thickness + float(sheet.truss.leg), 12.0)
    wide = b - a - 2.0 * RIB_ROOM
    if wide < LEAST_LIGHT:
        return None
    ys, floors = _floors(plan, y - min(wide, LARGEST) / 2.0, y + min(wide, LARGEST) / 2.0)
    low, high = float(floors.max()), min(plan.underside(float(v)) for v in ys)
    size = math.floor(min(SHARE * (high - low), high - low - 2.0 * steel, wide, LARGEST))
    if size < max(LEAST_LIGHT, 2.0 * plan.thickness):
        return None
    z = (low + high) / 2.0
    if any(math.dist((y, z), (p, q)) < (size + d) / 2.0 + 2.0 * steel for p, q, d in lifts):
        return None
    return y, z, float(size)


def _drain(plan: TrussPlan, a: float, b: float) -> list[float]:
    """Station of the drain of a room: where its floor is lowest, off the ribs."""
    low, high = a + RIB_ROOM, b - RIB_ROOM
    if high <= low:
        return [(a + b) / 2.0]
    ys, floors = _floors(plan, low, high)
    # the lowest place that is level beside it: no sliver of steel is left between drain and a wall of the housing
    reach = DRAIN + DRAIN_ROOM
    beside = np.array([floors[np.abs(ys - y) <= reach].max() for y in ys])
    inner = beside[(ys >= ys[0] + reach) & (ys <= ys[-1] - reach)]
    lowest = float(inner.min()) if len(inner) else float(beside.min())
    flat = ys[beside <= lowest + 0.1]
    # on a level floor in its middle, on a slope at its foot
    return [float(flat[len(flat) // 2])]


def _vent(plan: TrussPlan, a: float, b: float) -> list[tuple[float, float]]:
    """Middle of a vent under the top of a room; none where the plate is too low for it."""
    y, need = (a + b) / 2.0, RULE * plan.thickness + VENT / 2.0
    z = min(plan.underside(y + d) for d in (-VENT, VENT)) - need - 4.0
    return [(y, z)] if z - need - DRAIN > _floor(plan, y) else []


def _lifts(sheet: Sheet, plan: TrussPlan) -> tuple[tuple[float, float, float], ...]:
    """Holes for a lifting bar in both side plates, inboard of the knees: (station, height, diameter)."""
    if sheet.truss is None or not sheet.truss.lift:
        return ()
    found = []
    edge = LIFT_EDGE * LIFT
    # the outermost place on each side where the plate is high enough
    low, high = plan.ends
    middle = (low + high) / 2.0
    for side, end in ((1.0, low), (-1.0, high)):
        for k in range(math.ceil((high - low) / 2.0 / LIFT_STEP)):
            y = end + side * k * LIFT_STEP
            z = min(plan.underside(y + d) for d in (-edge, 0.0, edge)) - edge
            beside = min((abs(r.station - y) for r in plan.ribs), default=math.inf)
            floor = max(_floor(plan, y + d) for d in (-edge, 0.0, edge))
            if z - edge > floor and beside >= RIB_ROOM + LIFT / 2.0 and side * (middle - y) > 0.0:
                found.append((y, z, LIFT))
                break
    return tuple(found)


def _opened(plate: SidePlate, drains: list[float], holes: tuple[tuple[float, float, float], ...]) -> SidePlate:
    """The plate with drains in its lower edge and its round openings."""
    from shapely.geometry import Point, Polygon

    outline = Polygon([(float(y), float(z)) for y, z in points_along(plate.lower)] + list(reversed(plate.upper)))
    for y in drains:
        spans = plate.spans(y)
        if spans:
            outline = outline.difference(Point(y, spans[0][0]).buffer(DRAIN, quad_segs=48))
    openings: tuple[Ring, ...] = tuple(
        ring_round(y, z, d) for y, z, d in dict.fromkeys((round(y, 6), round(z, 6), d) for y, z, d in holes)
    )
    return replace(plate, lower=_lower(outline, plate), openings=openings)


def _lower(outline: object, plate: SidePlate) -> Ring:
    return lower_edge(outline, plate.label, plate.thickness)


__all__ = ["DRAIN", "LIFT", "VENT", "Obstacle", "with_ribs"]
