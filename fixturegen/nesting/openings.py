"""Small parts moved into the openings of larger ones that lie on the same sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fixturegen.nesting.faults import angle_on
from fixturegen.nesting.figures import turned_loop
from fixturegen.nesting.grid import Grid, Shape, cell_of
from fixturegen.nesting.measure import as_cut
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import Loop, bounds, rectangle, signed_area


def into_openings(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> Layout:
    """The layout with loose parts moved into openings that hold them and the spacing, largest parts first.

    Grain and turns are kept; an opening in which something lies already is left as it is.
    """
    by_name, of_sheet = {b.name: b for b in blanks}, {s.name: s for s in sheets}
    told = as_cut(layout, blanks, sheets)
    taken_up = {p.inside for p in told.puts if p.inside}
    hosts = [p for p in told.puts if by_name[p.blank].openings and not p.inside and p.blank not in taken_up]
    loose = sorted(
        (p for p in told.puts if not p.inside and not by_name[p.blank].openings),
        key=lambda p: (-round(abs(signed_area(by_name[p.blank].outer)), 3), p.blank, p.copy),
    )
    shapes: dict[tuple[str, float], Shape] = {}
    moved: dict[tuple[str, int], Put] = {}
    for host in hosts:
        x0, y0, x1, y1 = bounds(turned_loop(by_name[host.blank].outer, host.angle))
        frame = Blank("", rectangle(0.0, 0.0, x1 - x0, y1 - y0), _openings(host, by_name[host.blank], (x0, y0)))
        grid = Grid(x1 - x0, y1 - y0, cell_of(x1 - x0, y1 - y0), layout.spacing)
        grid.take(Shape(frame, 0.0), 0.0, 0.0)  # all but the openings, less the spacing
        for put in loose:
            if (put.blank, put.copy) in moved:
                continue
            for angle in (angle_on(of_sheet[host.sheet], turn) for turn in by_name[put.blank].turns):
                shape = shapes.setdefault((put.blank, angle), Shape(by_name[put.blank], angle))
                at = grid.first_place(shape)
                if at is not None:
                    grid.take(shape, *at)
                    low = shape.low
                    x, y = host.x + x0 + at[0] - low[0], host.y + y0 + at[1] - low[1]
                    there = replace(put, sheet=host.sheet, number=host.number, x=x, y=y, angle=angle)
                    moved[(put.blank, put.copy)] = there
                    break
    puts = tuple(moved.get((p.blank, p.copy), p) for p in told.puts)
    return as_cut(replace(told, puts=puts), blanks, sheets)


def _openings(host: Put, blank: Blank, low: tuple[float, float]) -> tuple[Loop, ...]:
    loops = (turned_loop(opening, host.angle) for opening in blank.openings)
    return tuple(tuple(replace(v, x=v.x - low[0], y=v.y - low[1]) for v in loop) for loop in loops)
