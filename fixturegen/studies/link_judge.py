"""Geometries judged by shares of the room: how far each wish and each thing in the way is from being met."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.studies.link_bars import Bar, bars_of
from fixturegen.studies.link_batch import POSES, batch_of, readings_of
from fixturegen.studies.link_layout import Layout
from fixturegen.studies.link_wishes import Wanted

BAR = 100.0
"""Weight of what is in the way against a wish of weight 1: it is given up for no wish."""
LOST = 3.0
"""Scales a wish counts as short of at a pose that is not reached."""
FAINT = 1e-4
"""Part of its weight that a wish keeps when it is given up: of what meets the rest, what comes nearest to it."""
MIDDLE = 1e-3
"""Weight of being in the middle of the wished ranges, where measuring errors do least: decides between equals."""


@dataclass(frozen=True, eq=False)
class Judged:
    """Geometries judged.

    Attributes:
        terms: How far each wish, then each bar, is from being met; 0 where it is, shape (g, t).
        aims: The same, from a little inside, as the search minimizes it, shape (g, t).
        middle: How far from the middle of the wished ranges, 0 to 1, shape (g,).
        snapped: Shares after snapping to holes, shape (g, d).
    """

    terms: Array
    aims: Array
    middle: Array
    snapped: Array


class Judge:
    """Judges geometries by their shares of the room, and remembers all it saw.

    Attributes:
        layout: From shares to geometries.
        names: Of the terms: readings of the wishes, then names of the bars.
        words: Of the terms, as subjects of a sentence.
        weights: Of the terms, shape (t,).
    """

    def __init__(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self.layout = Layout(wanted)
        self._heave, self._roll = wanted.stroke.poses(wanted.linkage.stance.half_track)
        self._seen: list[Judged] = []
        bars = self._look(self.layout.share_of(self.layout.ends)[None])[1]
        self.names = (*(w.reading for w in wanted.wishes), *(b.name for b in bars))
        self.words = (*(w.words for w in wanted.wishes), *(b.words for b in bars))
        self.weights = np.array([*(w.weight for w in wanted.wishes), *(BAR for _ in bars)])

    def _look(self, share: Array, tape: float = 0.0) -> tuple[dict[str, Array], list[Bar], Array]:
        ends, snapped, outside = self.layout.made(share, tape)
        batch = batch_of(self.wanted.linkage, ends, self._heave, self._roll)
        bars = bars_of(self.wanted, batch, outside, self.layout.planes)
        return readings_of(batch, self.wanted.vehicle), bars, snapped

    def judged(self, share: Array) -> Judged:
        """Geometries judged; they are remembered.

        Args:
            share: Of the room, shape (g, d).
        """
        made = self.looked(share)
        self._seen.append(made)
        return made

    def looked(self, share: Array, tape: float = 0.0) -> Judged:
        """Geometries judged; they are not remembered.

        Args:
            share: Of the room, shape (g, d).
            tape: Of which coordinates are whole multiples; 0 for any value [mm].
        """
        found, bars, snapped = self._look(share, tape)
        terms, aims, middles = [], [], []
        for wish in self.wanted.wishes:
            metric, _, pose = wish.reading.partition(".")
            value = found[metric][:, POSES.index(pose)]
            off = np.maximum(wish.low - value, value - wish.high) / wish.scale
            off = np.where(np.isfinite(value), off, LOST)
            terms.append(np.where(off > wish.close, off, 0.0))
            aims.append(np.maximum(0.0, off + wish.slack))
            width = (wish.high - wish.low) / wish.scale
            middles.append(np.clip(1.0 + off * 2.0 / width, 0.0, 1.0) if 0.0 < width < math.inf else 0.0 * off)
        for bar in bars:
            terms.append(np.maximum(0.0, bar.amount))
            aims.append(np.maximum(0.0, bar.amount + (0.02 if bar.name.startswith("joint") else 0.0)))
        return Judged(np.stack(terms, 1), np.stack(aims, 1), np.mean(np.square(middles), axis=0), snapped)

    def score(self, judged: Judged, without: tuple[int, ...] = ()) -> Array:
        """What the search minimizes, shape (g,).

        Args:
            judged: The geometries.
            without: Indices of terms that are given up.
        """
        weights = self.weights.copy()
        weights[list(without)] *= FAINT
        return np.asarray(judged.aims**2 @ weights + MIDDLE * judged.middle, dtype=np.float64)

    def seen(self) -> Judged:
        """All that was judged, in order."""
        parts = [(j.terms, j.aims, j.middle, j.snapped) for j in self._seen]
        return Judged(*(np.concatenate(p) for p in zip(*parts, strict=True)))
