"""Better layouts by a general library of irregular strip packing, for as long as the person waits.

The library knows one strip, simple outlines and a clock. Ours is the rest: several sheets, what lies
in openings (it stays with its host as one outline), distances measured again on the true outlines,
and the best so far at every moment. What is not better and true is thrown away.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from threading import Thread
from typing import Any

from fixturegen.nesting.faults import angle_on
from fixturegen.nesting.figures import cosine_and_sine, outside_points, rings
from fixturegen.nesting.measure import area_used, as_cut, faults_of, on_sheets, reach_of
from fixturegen.nesting.openings import into_openings
from fixturegen.nesting.push import pushed
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.nesting.steady import Copies, filled

SEED = 1
ROUNDS = 20  # seeds tried on the last sheet, at most
DEVIATION = 0.05  # arcs as tangents within this [mm]
MORE = 0.001  # asked of the library beyond the spacing: it works in single precision [mm]
OVER = 0.005  # a sheet is told to be higher by this, so that what fills it exactly has room for MORE [mm]
LEAST = 1.0  # no strip is begun in less time: the library counts whole seconds [s]
LATE = 1.0  # how long the library may take to end after its time [s]
LOOK = 0.2  # between two looks at the library's progress [s]
SHARE = 0.8  # of the time for sheets one by one; the rest for filling them up
EXACT = 0.01  # arcs as segments within this, when parts are pushed together [mm]

Told = Callable[[float, Layout], None]
"""Called with the share of the time that is over (0 to 1) and the best layout so far."""


def _silent(share: float, layout: Layout) -> None:
    """Says nothing."""


@dataclass(frozen=True)
class _Host:
    """A copy on the sheet itself, with the copies that lie in its openings where they lie."""

    put: Put
    inner: tuple[Put, ...]


def improved(
    start: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet], seconds: float, told: Told = _silent
) -> Layout:
    """A layout that uses no more sheet than `start`; on Ctrl-C the best so far.

    Args:
        start: A true layout of the same parts and sheets.
        blanks: The parts.
        sheets: What there is to cut them from.
        seconds: How long to look for one.
        told: Told of progress.
    """
    end = time.monotonic() + seconds
    best = start

    def look(found: Layout) -> None:
        nonlocal best
        if _better(found, best, blanks, sheets):
            best = found
        told(1.0 - max(0.0, end - time.monotonic()) / max(seconds, 1e-9), best)

    try:
        look(into_openings(best, blanks, sheets))
        keys = list(on_sheets(best))
        for i, key in enumerate(keys):
            share = max(LEAST, (seconds if len(keys) == 1 else SHARE * seconds) * _share(best, key))
            _strip(best, key, blanks, sheets, min(share, end - time.monotonic()), look)
            if len(keys) > 1 and i + 1 < len(keys):
                look(_moved_up(best, key, blanks, sheets))
        for seed in range(SEED + 1, SEED + ROUNDS):  # the library ends early when it finds nothing more
            _strip(best, keys[-1], blanks, sheets, end - time.monotonic(), look, seed)
    except KeyboardInterrupt:
        return best
    return best


def _share(layout: Layout, key: tuple[str, int]) -> float:
    """Share of the copies that lie on one sheet."""
    return sum((p.sheet, p.number) == key for p in layout.puts) / max(1, len(layout.puts))


def _worth(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> tuple[int, float, int]:
    """Parts without a place, area used up [mm2], then parts that take room of the sheet itself: less is better."""
    loose = sum(not p.inside for p in layout.puts)
    return len(layout.unplaced), round(area_used(layout, blanks, sheets), 3), loose


def _better(found: Layout, best: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> bool:
    before, after = _worth(best, blanks, sheets), _worth(found, blanks, sheets)
    return after < before and not faults_of(found, blanks, sheets)


def _strip(
    layout: Layout,
    key: tuple[str, int],
    blanks: Sequence[Blank],
    sheets: Sequence[StockSheet],
    seconds: float,
    look: Callable[[Layout], None],
    seed: int = SEED,
) -> None:
    """Let the library pack what lies on one sheet, and look at each strip that fits and is shorter."""
    import spyrrow

    of_sheet, by_name = {s.name: s for s in sheets}, {b.name: b for b in blanks}
    sheet = of_sheet[key[0]]
    hosts = _hosts(on_sheets(layout).get(key, ()))
    if seconds < LEAST or len(hosts) < 2:
        return
    items = [_item(i, host, by_name, sheet) for i, host in enumerate(hosts)]
    instance = spyrrow.StripPackingInstance("", sheet.height - 2.0 * layout.edge + OVER, items)
    config = spyrrow.StripPackingConfig(
        early_termination=True,
        min_items_separation=layout.spacing + MORE,
        total_computation_time=int(seconds),
        num_workers=1,
        seed=seed,
    )
    kinds = spyrrow.ReportType
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    shortest = reach_of(on_sheets(layout)[key], by_name) - layout.edge
    last_found: Any = None
    queue, last = spyrrow.ProgressQueue(), time.monotonic() + seconds + LATE
    # a thread that nobody waits for: Ctrl-C must not wait for the library
    thread = Thread(target=instance.solve, args=(config, queue), daemon=True)
    thread.start()
    while True:
        over = not thread.is_alive() or time.monotonic() > last
        # the library tells hundreds of strips, and to measure one takes longer than to find it: the shortest alone
        told = [solution for kind, solution in queue.drain() if kind in feasible and solution.width < shortest]
        if told:
            last_found = min(told, key=lambda s: s.width)
            shortest = last_found.width
            look(_layout_of(layout, key, hosts, last_found, blanks, sheets))
        if over:
            break
        thread.join(LOOK)
    if last_found is not None:
        found = _layout_of(layout, key, hosts, last_found, blanks, sheets)
        look(as_cut(pushed(found, blanks, sheets, EXACT), blanks, sheets))


def _hosts(puts: Sequence[Put]) -> list[_Host]:
    """Copies on the sheet itself; what lies in an opening stands before its host in the order of cutting."""
    hosts, waiting = [], []
    for put in puts:
        if put.inside:
            waiting.append(put)
        else:
            hosts.append(_Host(put, tuple(waiting)))
            waiting = []
    return hosts


def _item(number: int, host: _Host, blanks: Mapping[str, Blank], sheet: StockSheet) -> Any:
    import spyrrow

    blank = blanks[host.put.blank]
    points = [(float(x), float(y)) for x, y in outside_points(rings(blank)[0], DEVIATION)]
    turns = [angle_on(sheet, t) for t in blank.turns]
    if host.inner:  # what lies in its openings may be turned with it only as far as it may be itself
        turns = [t for t in turns if all(_may(p, t - host.put.angle, blanks, sheet) for p in host.inner)]
    return spyrrow.Item(str(number), points, 1, turns)


def _may(put: Put, turn: float, blanks: Mapping[str, Blank], sheet: StockSheet) -> bool:
    wanted = (put.angle + turn) % 360.0
    return any(abs((wanted - angle_on(sheet, t) + 180.0) % 360.0 - 180.0) < 1e-6 for t in blanks[put.blank].turns)


def _layout_of(
    layout: Layout,
    key: tuple[str, int],
    hosts: Sequence[_Host],
    solution: Any,
    blanks: Sequence[Blank],
    sheets: Sequence[StockSheet],
) -> Layout:
    """The layout with the strip of the library in place of what lay on that sheet."""
    puts = [p for p in layout.puts if (p.sheet, p.number) != key]
    for item in solution.placed_items:
        host = hosts[int(item.id)]
        x, y = item.translation
        angle = round(float(item.rotation) % 360.0, 6) % 360.0
        placed = replace(host.put, x=float(x) + layout.edge, y=float(y) + layout.edge, angle=angle)
        puts.append(placed)
        puts += [_carried(inner, host.put, placed) for inner in host.inner]
    return as_cut(replace(layout, puts=tuple(puts)), blanks, sheets)


def _carried(inner: Put, before: Put, after: Put) -> Put:
    """A copy that lies in an opening, where it is once its host is turned and moved."""
    turn = after.angle - before.angle
    c, s = cosine_and_sine(turn)
    x, y = inner.x - before.x, inner.y - before.y
    return replace(
        inner, x=after.x + c * x - s * y, y=after.y + s * x + c * y, angle=round((inner.angle + turn) % 360.0, 6)
    )


def _moved_up(layout: Layout, key: tuple[str, int], blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> Layout:
    """The layout with parts of later sheets moved to the room that is left on this one."""
    by_name = {b.name: b for b in blanks}
    keys = list(on_sheets(layout))
    later = [p for p in layout.puts if (p.sheet, p.number) in keys[keys.index(key) + 1 :]]
    hosts = {p.inside for p in layout.puts if p.inside}
    loose = [p for p in later if not p.inside and p.blank not in hosts]
    copies: Copies = tuple((by_name[p.blank], p.copy) for p in loose)
    stay = replace(layout, puts=tuple(p for p in layout.puts if (p.sheet, p.number) == key))
    more, _ = filled(stay, copies, blanks, sheets)
    taken = {(p.blank, p.copy) for p in more.puts}
    rest = tuple(p for p in layout.puts if (p.sheet, p.number) != key and (p.blank, p.copy) not in taken)
    return as_cut(replace(layout, puts=(*more.puts, *rest)), blanks, sheets)
