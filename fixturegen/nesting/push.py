"""Parts pushed together exactly: towards the zero corner, as far as their spacing lets them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from fixturegen.nesting.figures import Floats, box_of, free_travel, moved
from fixturegen.nesting.measure import as_cut, faults_of, on_sheets, pieces_of
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet

ROUNDS = 3
ACROSS = [1, 0, 3, 2]  # x and y of a segment changed about: a push down is a push left of the mirror image


def pushed(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet], deviation: float) -> Layout:
    """The layout with every part moved left and down in turn; as it was, if that broke a distance.

    A part takes along what lies in its openings.

    Args:
        layout: What is to be pushed together.
        blanks: The parts.
        sheets: The sheets.
        deviation: Arcs as segments within this [mm].
    """
    by_name = {b.name: b for b in blanks}
    told = as_cut(layout, blanks, sheets)
    puts: list[Put] = []
    for here in on_sheets(told).values():
        puts += _pushed_on(here, by_name, layout, deviation)
    found = replace(layout, puts=tuple(puts))
    return layout if faults_of(found, blanks, sheets) else found


def _pushed_on(here: Sequence[Put], blanks: Mapping[str, Blank], layout: Layout, deviation: float) -> list[Put]:
    groups = _groups(here)
    pieces = [np.vstack([pieces_of(p, blanks, deviation) for p in group]) for group in groups]
    shifts = [(0.0, 0.0)] * len(groups)
    for _ in range(ROUNDS):
        for axis in (0, 1):
            starts = [(round(box_of(piece)[axis], 6), i) for i, piece in enumerate(pieces)]
            for _, i in sorted(starts):
                others = [pieces[k] for k in range(len(groups)) if k != i]
                step = _travel(pieces[i], others, axis, layout)
                if step > 0.0:
                    dx, dy = (-step, 0.0) if axis == 0 else (0.0, -step)
                    pieces[i] = moved(pieces[i], dx, dy)
                    shifts[i] = (shifts[i][0] + dx, shifts[i][1] + dy)
    return [replace(p, x=p.x + dx, y=p.y + dy) for group, (dx, dy) in zip(groups, shifts, strict=True) for p in group]


def _travel(mine: Floats, others: Sequence[Floats], axis: int, layout: Layout) -> float:
    limit = box_of(mine)[axis] - layout.edge
    if limit <= 0.0:
        return 0.0
    if not others:
        return limit
    fixed = np.vstack(others)
    if axis == 1:
        mine, fixed = mine[:, ACROSS], fixed[:, ACROSS]
    return free_travel(mine, fixed, limit, layout.spacing)


def _groups(here: Sequence[Put]) -> list[list[Put]]:
    """Copies with what lies in their openings; in the order of cutting that stands before them."""
    groups: list[list[Put]] = []
    waiting: list[Put] = []
    for put in here:
        waiting.append(put)
        if not put.inside:
            groups.append(waiting)
            waiting = []
    return groups + ([waiting] if waiting else [])
