"""How far measuring may have the numbers of the links off, as text for a terminal and as JSON fields."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from fixturegen.cli._links_words import LABEL, METRICS, WIDTH, finite, label_text, number_text, words_of

if TYPE_CHECKING:
    from fixturegen.side_flows import SpreadOutcome
    from fixturegen.studies.link_spread import Drawn, Spread

AXIS_WORDS = {"x": "fore and aft", "y": "sideways", "z": "in height"}
MOST_NAMED = 2
FIRST_RANKED = 8
LEAST_PART = 0.005
"""Of a spread; less is told as nothing."""


def spread_text(outcome: SpreadOutcome) -> str:
    """How far measuring may have each number off, and which dimension matters."""
    units = outcome.units
    lines = [
        f"{outcome.name}: how far the numbers may be off because points are measured to a tolerance.",
        "Each coordinate may be anywhere within its tolerance with equal chance.",
        "  worst    every coordinate off by all its tolerance, each the worse way",
        "  likely   root of the sum of squares: what a chain of many such readings comes to",
        f"  95 %     of {outcome.samples} measurements drawn on the exact model lie between these; seed {outcome.seed}",
        "",
        f"{'':{LABEL}}{'now':>9}{'+/-worst':>9}{'+/-likely':>10}{'95 %':>14}",
    ]
    drawn = {d.reading: d for d in outcome.drawn}
    lines += [_spread_row(s, drawn[s.reading], units, outcome.front) for s in outcome.linear]
    lines += [
        f"  {label_text(d.reading, units, outcome.front)}: {d.missed} of {outcome.samples} drawn have no such number"
        for d in outcome.drawn
        if d.missed
    ]
    lines += ["", "which dimension matters: the part of each spread it makes, left and right together"]
    for s in outcome.linear:
        top = [(name, part) for name, part in _parts(s) if part >= LEAST_PART][:MOST_NAMED]
        if top and s.rss > 0.0:
            said = ", ".join(f"{name} {100 * part:.0f} %" for name, part in top)
            label = label_text(s.reading, units, outcome.front).partition(" [")[0]
            lines.append(f"  {label:{LABEL - 6}}{said}")
    return "\n".join([*lines, "", *_ranking(outcome)])


def _ranking(outcome: SpreadOutcome) -> list[str]:
    """The coordinates that matter most over all readings, and what was assumed."""
    units = outcome.units
    lines = []
    if outcome.ranking:
        lines.append(f"{'over all of these numbers together':{LABEL}}{'tolerance':>10}{'part':>7}   most of")
        together = _paired([(r.key, r.axis, r.part) for r in outcome.ranking])
        by_name = {_coordinate(r.key, r.axis): r for r in reversed(outcome.ranking)}
        for (name, part), first in zip(together[:FIRST_RANKED], _firsts(outcome), strict=False):
            rank = by_name[first]
            tolerance = f"{number_text(rank.tolerance, 'mm', units, 1 if units == 'in' else 0)} {units}"
            metric, _, pose = rank.most.partition(".")
            lines.append(
                f"  {name:{LABEL - 2}}{tolerance:>10}{100 * part:>5.0f} %   {words_of(metric, outcome.front)}, {pose}"
            )
        lines += ["", f"Measure {together[0][0]} again first: it matters most over all."]
    else:
        lines.append("No point has a tolerance: nothing spreads. Write tolerance of each link as it was measured.")
    if outcome.assumed:
        listed = f"Tolerance of 1/8 in assumed, since the sheet gives none: {', '.join(outcome.assumed)}."
        lines += textwrap.wrap(listed, WIDTH)
    return lines


def _firsts(outcome: SpreadOutcome) -> list[str]:
    """The first coordinate of each pair of left and right, in the order of their parts together."""
    firsts: dict[str, str] = {}
    for r in outcome.ranking:
        firsts.setdefault(_coordinate(_no_side(r.key), r.axis), _coordinate(r.key, r.axis))
    order = _summed([(r.key, r.axis, r.part) for r in outcome.ranking])
    return [firsts[name] for name in order]


def _no_side(key: str) -> str:
    return key.replace(".right", ".left")


def _summed(parts: Sequence[tuple[str, str, float]]) -> dict[str, float]:
    """Parts of left and right together, the largest first."""
    sums: dict[str, float] = {}
    for key, axis, part in parts:
        name = _coordinate(_no_side(key), axis)
        sums[name] = sums.get(name, 0.0) + part
    return dict(sorted(sums.items(), key=lambda item: (-round(item[1], 9), item[0])))


def _paired(parts: Sequence[tuple[str, str, float]]) -> list[tuple[str, float]]:
    """Coordinates in words with their parts, left and right together, the largest first."""
    keys = {key for key, _, _ in parts}
    both = {_no_side(k) for k in keys if ".right" in k and _no_side(k) in keys}
    names = {_coordinate(k, a): _coordinate(k.replace(".left", ".left/right"), a) for k, a, _ in parts if k in both}
    return [(names.get(name, name), part) for name, part in _summed(parts).items()]


def _parts(spread: Spread) -> list[tuple[str, float]]:
    """Coordinates in few words with their parts: lower.frame height."""
    found = _paired([(x.key, x.axis, x.part) for x in spread.shares])
    short = {"in height": "height", "fore and aft": "fore-aft"}
    out = []
    for name, part in found:
        key, _, axis = name.replace(".left/right", "").partition(" ")
        out.append((f"{key} {short.get(axis, axis)}", part))
    return out


def _coordinate(key: str, axis: str) -> str:
    """A coordinate of a point in words: upper.left.frame in height."""
    return f"{key.removeprefix('links.')} {AXIS_WORDS[axis]}"


def _spread_row(spread: Spread, drawn: Drawn, units: str, front: bool) -> str:
    unit = METRICS[spread.reading.partition(".")[0]][1]
    now, worst, likely = (number_text(v, unit, units) for v in (spread.value, spread.worst, spread.rss))
    low, high = (number_text(v, unit, units) for v in (drawn.low, drawn.high))
    return (
        f"  {label_text(spread.reading, units, front):{LABEL - 2}}{now:>9}{worst:>9}{likely:>10}{low:>10} to{high:>8}"
    )


def spread_fields(outcome: SpreadOutcome) -> dict[str, Any]:
    """The JSON fields of a spread; lengths in mm."""
    drawn = {d.reading: d for d in outcome.drawn}
    return {
        "spread": {
            "seed": outcome.seed,
            "samples": outcome.samples,
            "readings": [
                {
                    "reading": s.reading,
                    "unit": METRICS[s.reading.partition(".")[0]][1],
                    **_numbers(value=s.value, worst=s.worst, rss=s.rss, deviation=s.deviation),
                    "drawn": {
                        **_numbers(mean=d.mean, deviation=d.deviation, error=d.error, low=d.low, high=d.high),
                        "missed": d.missed,
                    },
                    "shares": [
                        {
                            "point": x.key,
                            "axis": x.axis,
                            "tolerance_mm": x.tolerance,
                            **_numbers(per_mm=x.change, part=x.part),
                        }
                        for x in s.shares
                    ],
                }
                for s in outcome.linear
                for d in (drawn[s.reading],)
            ],
            "ranking": [
                {"point": r.key, "axis": r.axis, "tolerance_mm": r.tolerance, "part": r.part, "most": r.most}
                for r in outcome.ranking
            ],
            "assumed_tolerances": list(outcome.assumed),
        }
    }


def _numbers(**values: float) -> dict[str, float | None]:
    return {name: finite(v) for name, v in values.items()}
