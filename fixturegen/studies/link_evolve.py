"""One round of the global search for link points: differential evolution, a generation on the exact model at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.studies.link_judge import Judge

CROWDED = 10.0
"""Weight that keeps a later round away from what was found."""
PLENTY, FEW = 80, 24
"""Most and least geometries in a generation."""


def distance(shares: Array, place: Array) -> Array:
    """Root mean square over the searched coordinates, shape (g,)."""
    return np.asarray(np.sqrt(((shares - place) ** 2).mean(axis=1)), dtype=np.float64)


def evolve(
    judge: Judge,
    seed: list[int],
    evaluations: int,
    begin: Array,
    away: Sequence[Array] = (),
    without: tuple[int, ...] = (),
    tell: Callable[[int], None] | None = None,
) -> None:
    """One round of the global search; what it looked at stands with the judge.

    Args:
        judge: Of the geometries.
        seed: Of the round; the same seed gives the same result.
        evaluations: Geometries to look at.
        begin: Shares of geometries to begin with, shape (b, d).
        away: Shares of geometries to keep away from.
        without: Indices of terms that are given up.
        tell: Called with the number of geometries looked at, a generation each time.

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
            gap = distance(judged.snapped, place)
            score = score + CROWDED * np.maximum(0.0, 1.0 - gap / near) ** 2
        if tell is not None:
            tell(len(share.T))
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
