"""The jig on the table: plan with the table's holes, elevation with stations and heights, end, lists, order."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from fixturegen.bodies.axle import bench_bodies, jig_solids
from fixturegen.checks.registry import Job
from fixturegen.drawings.assemblies import Marks, Scene, best_views, items_of, lists_of, lookings, seen_from, view_page
from fixturegen.drawings.ordinates import Ordinate
from fixturegen.drawings.record import Drawing, Page, Size
from fixturegen.drawings.sheets import Subject, Table, Words, finished, flowed
from fixturegen.drawings.written import TAPE, Writer
from fixturegen.studies.jig_records import JigPlan
from fixturegen.studies.table_room import room_of

Used = tuple[float, float, str, str]


def jig_drawing(job: Job, subject: Subject, held: Mapping[str, str]) -> Drawing:
    """The drawing of the jig on the table with the axle in it.

    Args:
        job: Parts, plan, solids.
        subject: What is said of it.
        held: Parts that are held; they are left out.
    """
    assembly = job.assemblies["jig"]
    items = items_of(assembly, held)
    solids = tuple((name, solid) for (_, name), solid in jig_solids(job).items() if name not in held)
    views = seen_from(Scene(solids, tuple(bench_bodies(job).values())), lookings(front=job.axle.front))
    named = best_views(views)
    way = 1.0 if job.axle.front else -1.0
    pages: list[Page] = []
    sizes: list[Size] = []
    for seen, marks in zip(
        views, (plan_marks(job, way), elevation_marks(job.plan, way), end_marks(job.plan)), strict=True
    ):
        page, found = view_page(seen, items, named, marks, subject)
        pages.append(page)
        sizes += found
    table, more = hole_table(job.plan, used_holes(job.plan), Writer(subject.units))
    lists = [table, _reading(job, Writer(subject.units)), *lists_of(assembly, job.parts, items, named)]
    pages += flowed(lists, subject.paper, wide=True, heading="holes, parts and order")
    return Drawing("assembly-jig", subject.label, finished(pages, subject), (*sizes, *more))


def used_holes(plan: JigPlan) -> list[Used]:
    """(x, y, short word, what goes in) of every table hole the jig uses, frame T [mm]."""
    found = [(x, y, f"P{n}", f"pin {n} of the stand") for n, (x, y) in enumerate(plan.stand.pins, 1)]
    found += [(x, y, f"B{n}", "bolt of the stand") for n, (x, y) in enumerate(plan.stand.bolts, 1)]
    for cradle in plan.cradles:
        letter = cradle.side[0].upper()
        found += [
            (x, y, f"C{letter}{n}", f"bolt of the {cradle.side} cradle") for n, (x, y) in enumerate(cradle.holes, 1)
        ]
    return found


def places_proved(job: Job, held: Mapping[str, str]) -> list[str]:
    """Table holes at whose told place no hole of a base as placed is, in words.

    Args:
        job: Plan and solids.
        held: Parts that are held.
    """
    from fixturegen.drawings.proof import bolt_faults

    bases = [solid for (_, name), solid in jig_solids(job).items() if name.endswith("base")]
    points = [(words, (x, y, 0.0)) for x, y, _, words in used_holes(job.plan)]
    return [] if held else bolt_faults(points, bases)


def plan_marks(job: Job, way: float) -> Marks:
    """Table, its holes, those that are used, counted from the first pin of the stand.

    Args:
        job: Plan and sheet.
        way: +1 where the vehicle's left lies to the right of the view.
    """
    plan, table = job.plan, job.sheet.table
    used = used_holes(plan)
    pitch, edge, hole = float(table.grid), float(table.edge), float(table.hole)
    (first_along, rows_along), (first_across, rows_across) = first_rows(job)
    y0 = min(y for _, y, _, _ in used) - (first_along - 1) * pitch - edge
    x0 = min(x for x, _, _, _ in used) - (first_across - 1) * pitch - edge
    dots = [(x0 + edge + i * pitch, y0 + edge + k * pitch) for i in range(rows_across) for k in range(rows_along)]

    def seen(x: float, y: float) -> tuple[float, float]:
        return way * y, -way * x

    corners = seen(x0, y0), seen(x0 + float(table.width), y0 + float(table.length))
    box = (
        min(c[0] for c in corners),
        min(c[1] for c in corners),
        max(c[0] for c in corners),
        max(c[1] for c in corners),
    )
    places = [(*seen(x, y), short, words) for x, y, short, words in used]
    return Marks(
        across=tuple(Ordinate(u, v, f"table hole {short}", 0) for u, v, short, _ in places),
        upward=tuple(Ordinate(v, u, f"table hole {short}", 0) for u, v, short, _ in places),
        zero=seen(*plan.stand.pins[0]),
        ways=(way, -way),
        frames=(box,),
        dots=tuple((*seen(x, y), hole) for x, y in dots),
        used=tuple((u, v, hole, short) for u, v, short, _ in places),
        words="middle of table hole P1",
    )


def first_rows(job: Job) -> tuple[tuple[int, int], tuple[int, int]]:
    """(row the jig's first row takes, rows there are) along the table's length and across: the jig in its middle.

    Args:
        job: Plan and sheet.
    """
    table, used = job.sheet.table, used_holes(job.plan)
    pitch, edge = float(table.grid), float(table.edge)
    found = []
    for room, size, axis in zip(room_of(job.sheet, job.plan), (table.length, table.width), (1, 0), strict=True):
        rows = math.floor((float(size) - 2.0 * edge) / pitch + 1e-6) + 1
        places = [(hole[0], hole[1])[axis] for hole in used]
        taken = round((max(places) - min(places)) / pitch) + 1
        found.append((max(room.first, (rows - taken) // 2 + 1), rows))
    return found[0], found[1]


def elevation_marks(plan: JigPlan, way: float) -> Marks:
    """Stations from the centreline and heights over the table.

    Args:
        plan: The jig.
        way: +1 where the vehicle's left lies to the right of the view.
    """
    stations: list[tuple[float, str]] = [(0.0, "centreline"), (plan.index.station, "index plate")]
    if plan.index.puck_station is not None:
        stations.append((plan.index.puck_station, "puck plate"))
    stations += [(c.station, f"cradle, {c.side}") for c in plan.cradles]
    if plan.clock is not None:
        stations += [(side * plan.clock.inner, "clock plate, inboard face") for side in (1.0, -1.0)]
    heights = [(0.0, "table"), (plan.height, "axle line")]
    if plan.tie is not None:
        heights.append((plan.height + plan.tie.radius, "tie"))
        stations.append((plan.tie.steady, "steady"))
    return Marks(
        across=tuple(Ordinate(way * y, 0.0, words, 0, words) for y, words in stations),
        upward=tuple(Ordinate(z, 0.0, words, 0, words) for z, words in heights),
        ways=(way, 1.0),
        centre=(0.0,),
        words="centreline, midway between the wheel mount surfaces, and the table top",
    )


def end_marks(plan: JigPlan) -> Marks:
    """Places ahead of and behind the axle line, and heights, seen from the left: front to the left.

    Args:
        plan: The jig.
    """
    face = plan.x(plan.index.face)
    places = [(0.0, "axle line"), (face, "machined face")]
    heights = [(0.0, "table"), (plan.height, "axle line")]
    return Marks(
        across=tuple(Ordinate(-x, 0.0, words, 0, words) for x, words in places),
        upward=tuple(Ordinate(z, 0.0, words, 0, words) for z, words in heights),
        ways=(-1.0, 1.0),
        words="axle line and the table top",
    )


def hole_table(plan: JigPlan, used: Sequence[Used], writer: Writer) -> tuple[Table, list[Size]]:
    """Table holes counted from the first pin of the stand, in lengths and in holes.

    Args:
        plan: The jig.
        used: Holes of the table.
        writer: Writes the sizes.
    """
    x0, y0 = plan.stand.pins[0]
    pitch = plan.grid[2]
    rows, sizes = [], []
    for x, y, short, words in used:
        forward, left = x - x0, y - y0
        rows.append(
            (
                short,
                words,
                writer.full(left, TAPE),
                f"{left / pitch:+.0f}",
                writer.full(forward, TAPE),
                f"{forward / pitch:+.0f}",
            )
        )
        sizes.append(Size("y", f"table hole {short}", left, rows[-1][2], (y,), y0))
        sizes.append(Size("x", f"table hole {short}", forward, rows[-1][4], (x,), x0))
    heads = ("hole", "takes", "to the left of P1", "holes", "forward of P1", "holes")
    return Table(
        "Holes of the table, counted from pin P1 of the stand", heads, tuple(rows), (0.8, 3.0, 4.0, 0.8, 4.0, 0.8)
    ), sizes


def _reading(job: Job, writer: Writer) -> Words:
    (along, rows_along), (across, rows_across) = first_rows(job)
    table = job.sheet.table
    lines: Sequence[str] = (
        f"Table {writer.full(float(table.length), TAPE)} by {writer.full(float(table.width), TAPE)}, holes "
        f"{writer.fine(float(table.hole))} every {writer.full(float(table.grid), TAPE)}; "
        f"pins {writer.fine(float(table.pin))}.",
        f"Drawn in the middle of the table: its rightmost row of holes takes row {along} of {rows_along} along the "
        f"table, its rearmost row {across} of {rows_across} across it. Any other row that leaves it room does as well.",
    )
    return Words("The table", tuple(lines))
