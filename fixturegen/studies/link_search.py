"""A handful of different good geometries for the wishes, or which wish stands in the way.

Differential evolution (scipy) runs in rounds, all geometries of a generation on the exact model at once.
A later round is kept away from what earlier ones found, so that it finds something else; what is returned is
the best of all that was ever looked at, each far enough from the others. The same seed and the same number of
geometries give the same result; no clock is asked.

When no geometry meets everything, each wish (and each thing in the way) is dropped in turn: one without which
the rest can be had stands in the way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.linkage_faults import linkage_faults
from fixturegen.axle.travel import poses_at
from fixturegen.progress import Progress, silent
from fixturegen.studies.link_batch import POSES, batch_of, readings_of
from fixturegen.studies.link_joints import misalignments
from fixturegen.studies.link_judge import Judge, Judged
from fixturegen.studies.link_points import both_ends, points_of, with_ends
from fixturegen.studies.link_wishes import Wanted, Wish, refuse_wanted
from fixturegen.units import as_text

CROWDED = 10.0
"""Weight that keeps a later round away from what was found."""
FIRST = 0.5
"""Part of the geometries looked at that the first round has."""
DROPPED = 0.25
"""Geometries looked at without one wish, over those of the search."""
PLENTY, FEW = 80, 24
"""Most and least geometries in a generation."""
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
        in_the_way: Wishes (as `Wish.reading`) and bars (as `Bar.name`) without any one of which the rest can be
            had; empty when all is met, or when no single one stands in the way.
        verdict: One sentence.
    """

    geometries: tuple[Geometry, ...]
    looked_at: int
    in_the_way: tuple[str, ...]
    verdict: str

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
    budgets = [int(evaluations * FIRST)] + [int(evaluations * (1.0 - FIRST) / max(1, count - 1))] * (count - 1)
    done = 0
    for turn, budget in enumerate(budgets if judge.layout.count else ()):
        _evolve(judge, [seed, turn], budget, begin, picked)
        done += budget
        progress("search", done, sum(budgets))
        seen = judge.seen()
        best = _apart(seen, judge.score(seen), wanted.apart, turn + 1)
        picked = [seen.snapped[i] for i in best]
    seen = judge.seen()
    score = judge.score(seen)
    chosen = _spread_out(seen, score, wanted.apart, count)
    made = [_geometry(judge, seen, score, i) for i in chosen]
    geometries = tuple(sorted(made, key=lambda g: not g.met))  # stable: by score within
    in_the_way: tuple[str, ...] = ()
    if geometries[0].met:
        good = sum(g.met for g in geometries)
        verdict = f"All {len(wanted.wishes)} wishes are met by {good} of the {len(geometries)} geometries."
    else:
        in_the_way, verdict = _blamed(judge, seed, int(evaluations * DROPPED), geometries[0], progress)
    return Search(geometries, len(judge.seen().middle), in_the_way, verdict)


def _evolve(
    judge: Judge, seed: list[int], evaluations: int, begin: Array, away: list[Array], without: int | None = None
) -> None:
    """One round of the global search; what it looked at stands with the judge.

    Source: Storn and Price, differential evolution (scipy's).
    """
    from scipy.optimize import differential_evolution
    from scipy.stats import qmc

    d = judge.layout.count
    many = min(PLENTY, max(FEW, 5 * d), max(5, evaluations // 2))
    rng = np.random.default_rng(seed)
    first = qmc.LatinHypercube(d, seed=rng).random(many)
    first[: min(len(begin), many)] = begin[:many]
    near = judge.wanted.apart

    def objective(share: Array) -> Array:
        judged = judge.judged(share.T)
        score = judge.score(judged, without)
        for place in away:
            gap = _distance(judged.snapped, place)
            score = score + CROWDED * np.maximum(0.0, 1.0 - gap / near) ** 2
        return score

    differential_evolution(
        objective,
        [(0.0, 1.0)] * d,
        strategy="best1bin",
        mutation=(0.4, 0.9),
        recombination=0.8,
        init=first,
        maxiter=max(1, evaluations // many - 1),
        tol=0.0,
        atol=-1.0,  # never done before its evaluations are used
        polish=False,
        seed=rng,
        vectorized=True,
        updating="deferred",
    )


def _distance(shares: Array, place: Array) -> Array:
    """Root mean square over the searched coordinates, shape (g,)."""
    return np.asarray(np.sqrt(((shares - place) ** 2).mean(axis=1)), dtype=np.float64)


def _apart(seen: Judged, score: Array, apart: float, count: int) -> list[int]:
    """Indices of the best geometries that are apart from one another, best first."""
    left = np.ones(score.size, dtype=np.bool_)
    chosen: list[int] = []
    while left.any() and len(chosen) < count:
        best = int(np.where(left, score, np.inf).argmin())
        chosen.append(best)
        left[best] = False
        if seen.snapped.shape[1]:
            left &= _distance(seen.snapped, seen.snapped[best]) >= apart
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
        gap = np.min([_distance(seen.snapped, seen.snapped[i]) for i in chosen], axis=0)
        farthest = int(np.where(half, gap, -1.0).argmax())
        if gap[farthest] < apart:
            break
        chosen.append(farthest)
    chosen.sort(key=lambda i: (order[i], i))
    left = np.full(score.size, True)
    for i in chosen:
        left &= _distance(seen.snapped, seen.snapped[i]) >= apart if seen.snapped.shape[1] else False
    more = _apart(seen, np.where(left, order, np.inf), apart, count - len(chosen))
    return chosen + [i for i in more if left[i]]


def _geometry(judge: Judge, seen: Judged, score: Array, index: int) -> Geometry:
    """A geometry with what it does; looked at once more on the model of a single linkage."""
    wanted = judge.wanted
    ends = judge.layout.made(seen.snapped[index : index + 1])[0]
    heave, roll = wanted.stroke.poses(wanted.linkage.stance.half_track)
    found = readings_of(batch_of(wanted.linkage, ends, heave, roll), wanted.vehicle)
    values = {f"{m}.{p}": float(v[0, i]) for m, v in found.items() for i, p in enumerate(POSES)}
    linkage = with_ends(wanted.linkage, ends[0])
    terms = seen.terms[index]
    wishes = len(wanted.wishes)
    short = [_short(w, values[w.reading]) for w, t in zip(wanted.wishes, terms, strict=False) if t > 0.0]
    short.sort(key=lambda s: -((s.by / s.wish.scale) ** 2) * s.wish.weight if math.isfinite(s.by) else -math.inf)
    barred = [judge.words[wishes + i].rstrip(",") for i, t in enumerate(terms[wishes:]) if t > 0.0]
    barred += [f"{f.key}: {f.given}" for f in linkage_faults(linkage)]
    if not terms[wishes:].any():
        for out in misalignments(poses_at(linkage, heave, roll)):
            barred += [f"the joint at the {end} end of {out.link} at {POSES[k]}" for end, k in out.beyond().items()]
    shift = ends[0] - both_ends(wanted.linkage)
    moved = []
    for point in points_of(wanted.linkage):
        i, e = point.members[0]
        if float(np.linalg.norm(shift[e, i])) >= MOVED:
            x, y, z = (float(c) for c in shift[e, i])
            moved.append((point.name, x, y, z))
    return Geometry(
        linkage=linkage,
        met=not short and not barred,
        score=float(score[index]),
        values={k: v for k, v in values.items() if math.isfinite(v)},
        short=tuple(short),
        barred=tuple(barred),
        moved=tuple(moved),
    )


def _short(wish: Wish, value: float) -> Short:
    by = max(wish.low - value, value - wish.high)
    if not math.isfinite(value):
        return Short(wish, value, math.inf, f"{wish.words} has no value there")
    side = "below" if value < wish.low else "above"
    return Short(wish, value, by, f"{wish.words}: {wish.said(value)} is {wish.said(by)} {side}")


def _blamed(
    judge: Judge, seed: int, evaluations: int, best: Geometry, progress: Progress
) -> tuple[tuple[str, ...], str]:
    """Names without any one of which the rest can be had, and the sentence that says so."""
    seen = judge.seen()
    ever = np.atleast_1d((seen.terms > 0.0).any(axis=0))
    # what was met by all that was looked at stands in nobody's way; the ends and the hold cannot be given up
    asked = [t for t, name in enumerate(judge.names) if ever[t] and name not in ("hold", "ends")]
    begin = seen.snapped[np.argsort(judge.score(seen), kind="stable")[:5]]
    rest: dict[int, float] = {}
    for k, t in enumerate(asked):
        rest[t] = _least_rest(judge, t)
        if rest[t] > 0.0 and judge.layout.count:
            _evolve(judge, [seed, 1000 + t], evaluations, begin, [], without=t)
            rest[t] = _least_rest(judge, t)
        progress("what stands in the way", k + 1, len(asked))
    guilty = [t for t in asked if rest[t] == 0.0]
    names = tuple(judge.names[t] for t in guilty)
    said = [judge.words[t].rstrip(",") for t in guilty]
    if len(guilty) == 1:
        short = next((s for s in best.short if s.wish.reading == names[0]), None)
        nearest = "" if short is None else f"; the nearest found has {short.wish.said(short.value)}"
        return names, f"{_capital(said[0])} stands in the way: without it everything else can be had{nearest}."
    if guilty:
        listed = ", ".join(said[:-1]) + " and " + said[-1]
        return names, f"{_capital(listed)} cannot be had together: without any one of them the rest can."
    if not rest:
        return (), "The wishes cannot be met: links of these rooms do not hold the axle; give the points other room."
    most = min(asked, key=lambda t: (rest[t], t))
    said_most = judge.words[most].rstrip(",")
    return (), f"No single wish stands in the way: without {said_most} the rest comes nearest, and is still not met."


def _least_rest(judge: Judge, without: int) -> float:
    """The least of what was ever seen, one term left out; 0 when the rest was met."""
    seen = judge.seen()
    weights = judge.weights.copy()
    weights[without] = 0.0
    return float((seen.terms**2 @ weights).min())


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def told(geometry: Geometry, wishes: tuple[Wish, ...]) -> tuple[str, ...]:
    """Lines on one geometry: each wish with what it gets, what is in the way, and where points go."""
    short = {s.wish.reading: s.sentence for s in geometry.short}
    lines = [
        f"short: {short[w.reading]}" if w.reading in short else f"met: {w.words}: {w.said(geometry.values[w.reading])}"
        for w in wishes
    ]
    lines += [f"in the way: {words}" for words in geometry.barred]
    for name, *shift in geometry.moved:
        parts = zip(("forward", "left", "up"), ("back", "right", "down"), shift, strict=True)
        steps = [f"{as_text(abs(s), 'length', 'in', 2)} {a if s > 0.0 else b}" for a, b, s in parts if abs(s) >= MOVED]
        lines.append(f"{name} moves {', '.join(steps)}")
    return tuple(lines)
