"""A handful of different good geometries for the wishes, or which wish stands in the way.

Differential evolution (scipy) runs in rounds, all geometries of a generation on the exact model at once.
A later round is kept away from what earlier ones found, so that it finds something else; what is returned is
the best of all that was ever looked at, each far enough from the others. The same seed and the same number of
geometries give the same result; no clock is asked.

What is returned is rounded to what a tape reads before it is judged for the last time. When no geometry meets
everything, `link_blame` says what stands in the way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.linkage_faults import linkage_faults
from fixturegen.axle.travel import poses_at
from fixturegen.progress import Progress, silent
from fixturegen.studies.link_batch import POSES, batch_of, readings_of
from fixturegen.studies.link_blame import Blame, blamed
from fixturegen.studies.link_evolve import distance, evolve
from fixturegen.studies.link_joints import misalignments
from fixturegen.studies.link_judge import Judge, Judged
from fixturegen.studies.link_points import both_ends, points_of, with_ends
from fixturegen.studies.link_wishes import PLACES, Wanted, Wish, refuse_wanted
from fixturegen.studies.link_written import TAPES, as_written
from fixturegen.units import as_text

FIRST = 0.5
"""Part of the geometries looked at that the first round has."""
DROPPED = 0.25
"""Geometries looked at without one wish, over those of the search."""
LAST = 1e9
"""More than any score: what lacks more than is given up comes last."""
MOVED = 0.5
"""mm; a point moved less is told as left where it is."""


@dataclass(frozen=True)
class Short:
    """A wish a geometry does not meet.

    Attributes:
        wish: The wish.
        value: What the geometry has; not a number where the pose is not reached.
        by: How far outside the range, in the metric's unit.
        sentence: The same in words.
    """

    wish: Wish
    value: float
    by: float
    sentence: str


@dataclass(frozen=True, eq=False)
class Geometry:
    """One geometry found.

    Attributes:
        linkage: With its points.
        met: Whether all wishes are met and nothing is in the way.
        score: Less is better; for comparing geometries of one search.
        values: Every metric at every pose reached: anti_squat.ride ...
        short: Wishes it does not meet, the shortest first.
        barred: What else is in the way, in words.
        moved: (point, forward, left, up) of every point that moved from where the linkage had it [mm].
    """

    linkage: Linkage
    met: bool
    score: float
    values: dict[str, float]
    short: tuple[Short, ...]
    barred: tuple[str, ...]
    moved: tuple[tuple[str, float, float, float], ...]


@dataclass(frozen=True, eq=False)
class Search:
    """What a search found.

    Attributes:
        geometries: The best first, each apart from the others.
        looked_at: Geometries looked at in all.
        in_the_way: Wishes (as `Wish.reading`) and bars (as `Bar.name`) that `link_blame` names; empty when all
            is met.
        verdict: One or two sentences.
        measured: The linkage as it was given, judged the same way.
    """

    geometries: tuple[Geometry, ...]
    looked_at: int
    in_the_way: tuple[str, ...]
    verdict: str
    measured: Geometry

    @property
    def met(self) -> bool:
        """Whether some geometry meets everything."""
        return any(g.met for g in self.geometries)


def search(
    wanted: Wanted,
    seed: int,
    evaluations: int = 20000,
    count: int = 5,
    starts: tuple[Linkage, ...] = (),
    progress: Progress = silent,
) -> Search:
    """The best geometries for the wishes, each different from the others.

    Args:
        wanted: Room, wishes, keep-outs.
        seed: Of the search; the same seed gives the same result.
        evaluations: Geometries to look at; without a wish each, a quarter as many more when wishes are not met.
        count: Most geometries to return.
        starts: Geometries to begin with, beside that of the linkage itself (as far as the room allows); the
            result is never worse than they are.
        progress: Called as progress("search", done, total).

    Raises:
        InputFault: When it is asked for what makes no sense: every fault found.
    """
    refuse_wanted(wanted)
    judge = Judge(wanted)
    begin = np.stack([judge.layout.share_of(both_ends(k)) for k in (wanted.linkage, *starts)])
    picked: list[Array] = []
    if not judge.layout.count:  # single holes and fixed points: nothing to search
        judge.judged(begin)
    first = evaluations if count == 1 else int(evaluations * FIRST)
    budgets = [first] + [(evaluations - first) // max(1, count - 1)] * (count - 1)
    done = 0

    def tell(many: int) -> None:
        nonlocal done
        done += many
        progress("geometries looked at", min(done, sum(budgets)), sum(budgets))

    for turn, budget in enumerate(budgets if judge.layout.count else ()):
        evolve(judge, [seed, turn], budget, begin, picked, tell=tell)
        seen = judge.seen()
        best = _apart(seen, judge.score(seen), wanted.apart, turn + 1)
        picked = [seen.snapped[i] for i in best]
    seen = judge.seen()
    looked_at = len(seen.middle)
    chosen = _spread_out(seen, judge.score(seen), wanted.apart, count)
    made = [_found(judge, seen.snapped[i : i + 1], seen.terms[i]) for i in chosen]
    geometries = tuple(sorted(made, key=lambda g: (not g.met, g.score)))
    measured = _geometry(wanted, wanted.linkage, ())
    if geometries[0].met:
        return Search(geometries, looked_at, (), _praise(wanted, geometries), measured)
    blame = blamed(judge, seed, int(evaluations * DROPPED), progress)
    seen = judge.seen()
    chosen = _next_best(judge, seen, blame, count)
    geometries = tuple(_found(judge, seen.snapped[i : i + 1], seen.terms[i]) for i in chosen)
    verdict = f"The wishes cannot all be met. {blame.sentence}"
    return Search(geometries, len(seen.middle), blame.names, verdict, measured)


def _next_best(judge: Judge, seen: Judged, blame: Blame, count: int) -> list[int]:
    """Indices of geometries that have all but what is given up, a turn each for every way of giving up."""
    if not judge.layout.count:
        return [int(judge.score(seen).argmin())]
    chosen: list[int] = []
    for _ in range(count):
        for option in blame.options:
            short = (np.delete(seen.terms, list(option), axis=1) > 0.0).any(axis=1)
            order = judge.score(seen, option) + LAST * short
            for i in chosen:
                order = np.where(distance(seen.snapped, seen.snapped[i]) < judge.wanted.apart, np.inf, order)
            if len(chosen) < count and np.isfinite(order).any():
                chosen.append(int(order.argmin()))
    return chosen


def _praise(wanted: Wanted, geometries: tuple[Geometry, ...]) -> str:
    good, shown = sum(g.met for g in geometries), len(geometries)
    wishes = f"All {len(wanted.wishes)} wishes are" if len(wanted.wishes) > 1 else "The wish is"
    if shown == 1:
        return f"{wishes} met by the geometry shown."
    return f"{wishes} met by {f'all {shown}' if good == shown else f'{good} of the {shown}'} geometries shown."


def _apart(seen: Judged, score: Array, apart: float, count: int) -> list[int]:
    """Indices of the best geometries that are apart from one another, best first."""
    left = np.ones(score.size, dtype=np.bool_)
    chosen: list[int] = []
    while left.any() and len(chosen) < count:
        best = int(np.where(left, score, np.inf).argmin())
        chosen.append(best)
        left[best] = False
        if seen.snapped.shape[1]:
            left &= distance(seen.snapped, seen.snapped[best]) >= apart
        else:
            left[:] = False
    return chosen


def _spread_out(seen: Judged, score: Array, apart: float, count: int) -> list[int]:
    """Indices of the best geometry and of others: far from one another where many meet everything, else the best.

    Of those that meet everything the better half is taken, and of it always the one farthest from all chosen.
    """
    met = np.asarray(seen.terms <= 0.0).all(axis=1)
    # those that meet everything come first, whatever the middle of the ranges says
    order = np.where(met, score - 1.0, score)
    chosen = _apart(seen, order, apart, 1)
    half = met & (score <= (np.median(score[met]) if met.any() else 0.0))
    while half.any() and len(chosen) < count and seen.snapped.shape[1]:
        gap = np.min([distance(seen.snapped, seen.snapped[i]) for i in chosen], axis=0)
        farthest = int(np.where(half, gap, -1.0).argmax())
        if gap[farthest] < apart:
            break
        chosen.append(farthest)
    chosen.sort(key=lambda i: (order[i], i))
    left = np.full(score.size, True)
    for i in chosen:
        left &= distance(seen.snapped, seen.snapped[i]) >= apart if seen.snapped.shape[1] else False
    more = _apart(seen, np.where(left, order, np.inf), apart, count - len(chosen))
    return chosen + [i for i in more if left[i]]


def _found(judge: Judge, share: Array, terms: Array) -> Geometry:
    """The geometry of these shares, each coordinate rounded as coarsely as what it meets allows."""
    wanted = judge.wanted
    for tape in (*TAPES[wanted.unit], 0.0):
        judged = judge.looked(share, tape)
        if not tape or not np.asarray(judged.terms[0][terms <= 0.0]).any():
            break
    linkage = with_ends(wanted.linkage, judge.layout.made(share, tape)[0][0])
    words = dict(zip(judge.names, judge.words, strict=True))
    bars = [n for n, t in zip(judge.names, judged.terms[0], strict=True) if t > 0.0]
    barred = tuple(words[n].rstrip(",") for n in bars if n not in {w.reading for w in wanted.wishes})
    made = _geometry(wanted, as_written(linkage, wanted.linkage, wanted.unit), barred)
    return replace(made, score=float(judge.score(judged)[0]))


def _geometry(wanted: Wanted, linkage: Linkage, barred: tuple[str, ...]) -> Geometry:
    """A geometry with what it does, on the model of a single linkage; `barred` is what is known to be in the way."""
    ends = both_ends(linkage)
    heave, roll = wanted.stroke.poses(linkage.stance.half_track)
    found = readings_of(batch_of(linkage, ends[None], heave, roll), wanted.vehicle)
    values = {f"{m}.{p}": float(v[0, i]) for m, v in found.items() for i, p in enumerate(POSES)}
    short = [s for w in wanted.wishes if (s := _short(w, values[w.reading])) is not None]
    short.sort(key=lambda s: -((s.by / s.wish.scale) ** 2) * s.wish.weight if math.isfinite(s.by) else -math.inf)
    in_way = [*barred, *(f"{f.key}: {f.given}" for f in linkage_faults(linkage))]
    if not barred:
        for out in misalignments(poses_at(linkage, heave, roll)):
            in_way += [f"the joint at the {end} end of {out.link} at {POSES[k]}" for end, k in out.beyond().items()]
    shift = ends - both_ends(wanted.linkage)
    moved = []
    for point in points_of(wanted.linkage):
        i, e = point.members[0]
        if float(np.linalg.norm(shift[e, i])) >= MOVED:
            x, y, z = (float(c) for c in shift[e, i])
            moved.append((point.name, x, y, z))
    return Geometry(
        linkage=linkage,
        met=not short and not in_way,
        score=0.0,
        values={k: v for k, v in values.items() if math.isfinite(v)},
        short=tuple(short),
        barred=tuple(in_way),
        moved=tuple(moved),
    )


def _short(wish: Wish, value: float) -> Short | None:
    by = max(wish.low - value, value - wish.high)
    if math.isfinite(value) and by <= wish.close * wish.scale:
        return None
    if not math.isfinite(value):
        return Short(wish, value, math.inf, f"{wish.words} has no value there")
    side = "below" if value < wish.low else "above"
    return Short(wish, value, by, f"{wish.words}: {wish.said(value)} is {wish.said_off(by)} {side}")


def _told(length: float, unit: str) -> str:
    return as_text(length, "length", unit, PLACES[unit])


def told(geometry: Geometry, wishes: tuple[Wish, ...], unit: str = "in") -> tuple[str, ...]:
    """Lines on one geometry: each wish with what it gets, what is in the way, and where points go."""
    short = {s.wish.reading: s.sentence for s in geometry.short}
    lines = [
        f"short: {short[w.reading]}" if w.reading in short else f"met: {w.words}: {w.said(geometry.values[w.reading])}"
        for w in wishes
    ]
    lines += [f"in the way: {words}" for words in geometry.barred]
    for name, *shift in geometry.moved:
        parts = zip(("forward", "left", "up"), ("back", "right", "down"), shift, strict=True)
        steps = [f"{_told(abs(s), unit)} {a if s > 0.0 else b}" for a, b, s in parts if abs(s) >= MOVED]
        lines.append(f"{name} moves {', '.join(steps)}")
    return tuple(lines)
