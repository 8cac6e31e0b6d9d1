"""FIT-10: the jig fits the table and its holes. No kernel needed."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Placement, Purpose
from fixturegen.plate.profile import bounds

ON_GRID = 0.01  # how far a hole may lie off the table's grid [mm]
ON_TABLE = 0.01  # how far above the table a base may stand and still stand on it [mm]
Area = tuple[float, float, float, float]


@dataclass(frozen=True)
class TableFit:
    """Where the jig lies on the table.

    Attributes:
        area: (x from, x to, y from, y to) of all bases, the stand drawn back included [mm].
        table: The same of the table top, set so that the jig lies as far from its edges as it can.
        spare: Least distance from a base to the table's edge [mm]; negative when it stands over.
        off: (part, label, distance from the nearest hole) of every hole off the grid [mm].
        holes: Number of holes looked at.
        rows: Rows of holes from the table's edges to the first table pin, across and along.
    """

    area: Area
    table: Area
    spare: float
    off: tuple[tuple[str, str, float], ...]
    holes: int
    rows: tuple[int, int]


def bases(job: Job) -> list[tuple[Placement, Part, Area]]:
    """Plates that lie on the table, and where."""
    found = []
    for placement in job.assemblies["jig"].placements if "jig" in job.assemblies else ():
        part = job.parts[placement.part]
        flat = abs(placement.rotation[2][2]) > 1.0 - 1e-9
        if part.profile is None or not flat or abs(placement.origin[2]) > ON_TABLE:
            continue
        x0, y0, x1, y1 = bounds(part.profile.outer)
        turn = np.array(placement.rotation)[:2, :2]
        corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) @ turn.T
        corners = corners + np.array(placement.origin[:2])
        low, high = corners.min(axis=0), corners.max(axis=0)
        area = float(low[0]), float(high[0]), float(low[1]), float(high[1])
        found.append((placement, part, area))
    return found


def table_fit(job: Job) -> TableFit | None:
    """How the jig lies on the table; None when nothing of it stands there."""
    found = bases(job)
    if not found:
        return None
    areas = [a for _, _, a in found]
    back = job.plan.face_sign * job.plan.stand.draw_back
    areas += [(a[0] + back, a[1] + back, a[2], a[3]) for p, _, a in found if p.group == "stand"]
    area = (
        min(a[0] for a in areas),
        max(a[1] for a in areas),
        min(a[2] for a in areas),
        max(a[3] for a in areas),
    )
    off, count = _off_grid(job, found)
    x, spare_x, rows_x = _along(job, area[0], area[1], job.plan.grid[0], job.sheet.table.width)
    y, spare_y, rows_y = _along(job, area[2], area[3], job.plan.grid[1], job.sheet.table.length)
    return TableFit(area, (*x, *y), min(spare_x, spare_y), off, count, (rows_x, rows_y))


def _off_grid(job: Job, found: list[tuple[Placement, Part, Area]]) -> tuple[tuple[tuple[str, str, float], ...], int]:
    gx, gy, pitch = job.plan.grid
    places = [
        (part.name, hole.label, placement.origin[0] + dx, placement.origin[1] + dy)
        for placement, part, _ in found
        if part.profile is not None
        for hole in part.profile.holes
        if hole.purpose is Purpose.TABLE
        for dx, dy in [np.array(placement.rotation)[:2, :2] @ np.array([hole.x, hole.y])]
    ]
    stand = next((p.part for p, _, _ in found if p.group == "stand"), "")
    places += [(stand, f"table pin {i}", x, y) for i, (x, y) in enumerate(job.plan.stand.pins, 1)]
    off = []
    for part, label, x, y in places:
        miss = math.hypot((x - gx) - round((x - gx) / pitch) * pitch, (y - gy) - round((y - gy) / pitch) * pitch)
        if miss > ON_GRID:
            off.append((part, label, float(miss)))
    return tuple(off), len(places)


def _along(job: Job, low: float, high: float, pin: float, size: float) -> tuple[tuple[float, float], float, int]:
    """Table edges one way, the least spare and the rows to the pin, pin in the best row."""
    table = job.sheet.table
    best: tuple[tuple[float, float], float, int] | None = None
    rows = int((size - 2.0 * table.edge) / table.grid + 1e-9) + 1
    for row in range(max(1, rows)):
        start = pin - table.edge - row * table.grid
        spare = min(low - start, start + size - high)
        if best is None or spare > best[1] + 1e-9:
            best = (float(start), float(start + size)), float(spare), row
    if best is None:  # pragma: no cover - there is always one row
        raise ValueError("a table has a row of holes")
    return best


@claim("FIT-10", "The jig lies on the table and its holes are the table's.", holds="assembly")
def check_fits_table(claim: Claim, job: Job) -> list[Finding]:
    """A pass with the table row of the first pin, or what stands over or misses a hole."""
    fit = table_fit(job)
    if fit is None:
        return [claim.finding(Level.NOT_CHECKED, "nothing of the jig stands on the table", assembly="jig")]
    found = [
        claim.finding(
            Level.FAIL,
            f"{label} of {part} misses the table's holes by {inches(miss)}",
            remedy="measure table.grid over ten holes and correct it",
            parts=(part,),
            assembly="jig",
            value=miss,
            limit=ON_GRID,
            unit="mm",
        )
        for part, label, miss in fit.off
    ]
    if fit.spare < 0.0:
        found.append(_over(claim, job, fit))
    return found or [_lies(claim, fit)]


def _sizes(fit: TableFit) -> str:
    return f"{inches(fit.area[1] - fit.area[0])} across by {inches(fit.area[3] - fit.area[2])} along"


def _over(claim: Claim, job: Job, fit: TableFit) -> Finding:
    return claim.finding(
        Level.FAIL,
        f"the jig with its stand drawn back takes {_sizes(fit)}; it stands {inches(-fit.spare)} over the table",
        remedy="use a larger table, or put a plate of the table's height beside it",
        parts=tuple(dict.fromkeys(p.name for _, p, _ in bases(job))),
        assembly="jig",
        value=fit.spare,
        limit=0.0,
        unit="mm",
    )


def _lies(claim: Claim, fit: TableFit) -> Finding:
    return claim.finding(
        Level.PASS,
        f"{fit.holes} holes lie on the grid; the jig takes {_sizes(fit)}, {inches(fit.spare)} from the "
        f"edge with the first table pin {fit.rows[0]} holes in from the rear edge and {fit.rows[1]} in "
        "from the right edge",
        assembly="jig",
        value=fit.spare,
        limit=0.0,
        unit="mm",
        data={"rows_across": fit.rows[0], "rows_along": fit.rows[1]},
    )
