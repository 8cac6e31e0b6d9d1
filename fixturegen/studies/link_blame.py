"""Which wish, or which thing in the way, stands between what is asked for and what can be had."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.progress import Progress, silent
from fixturegen.studies.link_evolve import evolve
from fixturegen.studies.link_judge import Judge

GIVEN_UP = 3
"""Most wishes given up together before it is said that too much is asked."""
BEST = 5
"""Best geometries so far that a search without one wish begins with."""


@dataclass(frozen=True)
class Blame:
    """What must be given up.

    Attributes:
        all_of: Readings and names of bars that must all be given up.
        one_of: And one of these, any one, as well; the rest can be had then. Empty when even so it cannot.
        sentence: The same in words.
        options: Indices of terms, each set of which leaves a rest that can be had; one empty set when none does.
    """

    all_of: tuple[str, ...]
    one_of: tuple[str, ...]
    sentence: str
    options: tuple[tuple[int, ...], ...]

    @property
    def names(self) -> tuple[str, ...]:
        """All that is named."""
        return self.all_of + self.one_of


def blamed(judge: Judge, seed: int, evaluations: int, progress: Progress = silent) -> Blame:
    """What stands in the way, found by searching again with one term left out, then with two, then with three.

    Args:
        judge: With what it saw so far.
        seed: Of these searches.
        evaluations: Geometries to look at without each term.
        progress: Called as progress("what stands in the way", done, total).
    """
    ever = np.atleast_1d((judge.seen().terms > 0.0).any(axis=0))
    # what was met by all that was looked at stands in nobody's way; the ends and the hold cannot be given up
    asked = [t for t, name in enumerate(judge.names) if ever[t] and name not in ("hold", "ends")]
    dropped: list[int] = []
    for turn in range(GIVEN_UP):
        left = [t for t in asked if t not in dropped]
        rest: dict[int, float] = {}
        for k, t in enumerate(left):
            rest[t] = _rest_without(judge, [seed, 1000 * (turn + 1) + t], evaluations, (*dropped, t))
            progress("what stands in the way", k + 1, len(left))
        guilty = [t for t in left if rest[t] == 0.0]
        if guilty or not rest:
            return _told(judge, dropped, guilty)
        dropped.append(min(left, key=lambda t: (rest[t], t)))
    return _told(judge, dropped, [])


def _rest_without(judge: Judge, seed: list[int], evaluations: int, without: tuple[int, ...]) -> float:
    """The least of what is left to be met without some terms; 0 when all the rest can be had."""
    rest = _least_rest(judge, without)
    if rest > 0.0 and judge.layout.count:
        seen = judge.seen()
        begin = seen.snapped[np.argsort(judge.score(seen, without), kind="stable")[:BEST]]
        evolve(judge, seed, evaluations, begin, without=without)
        rest = _least_rest(judge, without)
    return rest


def _least_rest(judge: Judge, without: tuple[int, ...]) -> float:
    """The least of what was ever seen; 0 when the rest was met."""
    weights = judge.weights.copy()
    weights[list(without)] = 0.0
    return float((judge.seen().terms ** 2 @ weights).min())


def _told(judge: Judge, dropped: list[int], guilty: list[int]) -> Blame:
    every = [judge.words[t].rstrip(",") for t in dropped]
    one = [judge.words[t].rstrip(",") for t in guilty]
    if not guilty:
        if not every:
            sentence = "Links of these rooms do not hold the axle: give the points other room."
        else:
            sentence = f"Too much is asked: even without {_listed(every, 'and')} the rest is not met."
    elif not every and len(one) == 1:
        sentence = f"{_capital(one[0])} stands in the way: without it everything else can be had."
    elif not every:
        sentence = f"{_capital(_listed(one, 'and'))} cannot be had together: without any one of them the rest can."
    elif len(one) == 1:
        both = _listed([*every, *one], "and")
        sentence = f"{_capital(both)} stand in the way together: without them everything else can be had."
    else:
        sentence = (
            f"No single wish stands in the way. With {_listed(every, 'and')} given up and, as well, "
            f"{_listed(one, 'or')}, the rest can be had."
        )
    options = tuple((*dropped, t) for t in guilty) or ((),)
    return Blame(tuple(judge.names[t] for t in dropped), tuple(judge.names[t] for t in guilty), sentence, options)


def _listed(words: list[str], last: str) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
